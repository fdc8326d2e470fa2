"""The switches, sensors and senders of the catalogue. Common practice, no source."""

from types import MappingProxyType

from portloom.base.parts import loads
from portloom.base.parts.shapes import Made, SwitchPart
from portloom.base.vocabulary import Rest


def _made(usual: str | None = None, ask: str = "", *, rest_says_nothing: bool = False, **rest: Rest) -> Made:
    return Made(MappingProxyType(rest), usual, ask, rest_says_nothing)


_LAMPS_OF_LIGHT_SWITCH = (
    loads.DIPPED_BEAM.name, *(part.name for part in loads.LOAD_PARTS if part.group == loads.POSITION_LAMPS),
)  # fmt: skip
PULSE_RATE = "400 Hz"

KEY_SWITCH = SwitchPart(
    "key switch", ("key", "ignition switch", "ignition lock", "ignition key", "ignition barrel"), tells=("key",),
    action="latch", straight=True,
    line="at: headlamp shell",
)  # fmt: skip
ENGINE_STOP_SWITCH = SwitchPart(
    "engine stop switch",
    ("engine stop", "engine stop button", "kill switch", "kill button", "run switch", "stop engine switch",
     "engine kill switch", "engine cut-off switch"),
    alone=("kill",), tells=("engine stop",),
    action="latch", made=_made(ask="a wire that breaks must stop the engine", run="closed", stop="open"),
    straight=True, line="at: right handlebar, made: run",
)  # fmt: skip
STARTER_BUTTON = SwitchPart(
    "starter button", ("start button", "start switch", "starter switch"), alone=("start",),
    works=(loads.STARTER_SOLENOID.name,), action="push", straight=True, line="at: right handlebar",
)  # fmt: skip
NEUTRAL_SWITCH = SwitchPart(
    "neutral switch", ("gear switch", "neutral light switch", "neutral sensor"), alone=("neutral",),
    tells=("neutral",), action="latch",
    made=_made("neutral", neutral="open", gear="closed"), by_frame=True, straight=True, line="at: engine",
)  # fmt: skip
CLUTCH_SWITCH = SwitchPart(
    "clutch switch", ("clutch lever switch",), alone=("clutch", "clutch lever"),
    tells=("clutch",), action="push",
    made=_made(ask="a wrong guess cranks in gear", rest_says_nothing=True, pulled="open", released="closed"),
    straight=True, line="at: left handlebar, made: pulled",
)  # fmt: skip
SIDE_STAND_SWITCH = SwitchPart(
    "side stand switch", ("stand switch", "kickstand switch", "stand sensor", "kickstand sensor"),
    alone=("side stand", "kickstand"), tells=("side stand",), action="latch",
    made=_made(
        ask="a wrong guess lets the bike be ridden off on its stand", rest_says_nothing=True, up="closed", down="open"
    ),
    straight=True, line="at: engine, made: up",
)  # fmt: skip
FALL_SENSOR = SwitchPart(
    "fall sensor",
    ("tip-over sensor", "tip-over switch", "bank angle sensor", "bank angle switch", "lean angle sensor",
     "lean switch", "lean sensor", "tilt sensor", "tilt switch"),
    tells=("fallen",), action="latch", straight=True, asks="goes_to: whom it tells, unit or controller",
    line="at: seat tray, goes_to: unit",
)  # fmt: skip
_ON_BRAKES = ("brake switch", "brake light switch", "stop light switch", "brake pressure switch", "brake sensor")
FRONT_BRAKE_SWITCH = SwitchPart(
    "front brake switch",
    (*(f"{which} {words}" for words in _ON_BRAKES for which in ("front", "lever")), "brake lever switch"),
    tells=("front brake",), works=(loads.BRAKE_LAMP.name,), action="push", straight=True, line="at: right handlebar",
)  # fmt: skip
REAR_BRAKE_SWITCH = SwitchPart(
    "rear brake switch",
    (*(f"{which} {words}" for words in _ON_BRAKES for which in ("rear", "pedal")), "brake pedal switch"),
    tells=("rear brake",), works=(loads.BRAKE_LAMP.name,), action="push", straight=True, line="at: engine",
)  # fmt: skip
LEFT_INDICATOR_BUTTON = SwitchPart(
    "left indicator button", ("left blinker button", "left turn signal button", "left indicator switch"),
    works=(loads.LEFT_INDICATOR.name,), action="push", line="at: left handlebar",
)  # fmt: skip
RIGHT_INDICATOR_BUTTON = SwitchPart(
    "right indicator button", ("right blinker button", "right turn signal button", "right indicator switch"),
    works=(loads.RIGHT_INDICATOR.name,), action="push", line="at: left handlebar",
)  # fmt: skip
INDICATOR_SWITCH = SwitchPart(
    "indicator switch", ("turn switch", "turn signal switch", "blinker switch"), works=loads.SIDES, action="latch",
    line="at: left handlebar",
)  # fmt: skip
HAZARD_SWITCH = SwitchPart(
    "hazard switch", ("warning switch",), works=loads.SIDES, action="latch", line="at: left handlebar",
)  # fmt: skip
DIP_SWITCH = SwitchPart(
    "dip switch", ("high/low switch", "hi/lo switch", "beam switch"), works=loads.BEAMS, action="latch",
    line="at: left handlebar",
)  # fmt: skip
FLASH_BUTTON = SwitchPart(
    "flash button",
    ("passing button", "pass button", "passing switch", "pass switch", "flash to pass", "headlamp flasher"),
    alone=("pass",), works=loads.BEAMS, action="push", line="at: left handlebar",
)  # fmt: skip
LIGHT_SWITCH = SwitchPart(
    "light switch", ("lighting switch",), works=_LAMPS_OF_LIGHT_SWITCH, action="latch", line="at: left handlebar",
)  # fmt: skip
HORN_BUTTON = SwitchPart(
    "horn button", ("hooter button", "horn push", "horn switch"), works=(loads.HORN.name, loads.COMPRESSOR_HORN.name),
    action="push", line="at: left handlebar",
)  # fmt: skip
OIL_PRESSURE_SWITCH = SwitchPart(
    "oil pressure switch", ("oil switch",), action="latch",
    made=Made(MappingProxyType({"no pressure": "closed", "pressure": "open"}), "no pressure"), by_frame=True,
    shown=True, line="at: engine",
)  # fmt: skip
TEMPERATURE_SWITCH = SwitchPart(
    "temperature switch", ("thermo switch", "temp switch", "fan switch", "coolant temperature switch"),
    action="latch", by_frame=True, shown=True,
    line="at: radiator",
)  # fmt: skip
FUEL_LEVEL_SENDER = SwitchPart(
    "fuel level sender", ("fuel sender", "fuel level sensor", "fuel gauge sender"),
    signal="sender", shown=True,
    line="at: tank",
)  # fmt: skip
SPEED_SENSOR = SwitchPart(
    "speed sensor", ("wheel speed sensor",), signal="pulse", shown=True, line="at: engine, wires: 3",
)  # fmt: skip
ENGINE_SPEED_SIGNAL = SwitchPart(
    "engine speed signal",
    ("tacho lead", "coil primary", "stator phase", "tacho signal", "rev signal", "rpm signal"),
    tells=("engine turning",),
    signal="pulse", sources=MappingProxyType({"tacho": "12 V", "coil": "400 V", "stator": "80 V"}),
    line="at: engine, from: tacho",
)  # fmt: skip
PUMP_REQUEST = SwitchPart(
    "pump request", ("pump relay wire", "controller's pump relay wire"), works=(loads.FUEL_PUMP.name,), action="hold",
    line="at: seat tray",
)  # fmt: skip
FAN_REQUEST = SwitchPart(
    "fan request", ("fan relay wire", "controller's fan relay wire"), works=(loads.FAN.name,), action="hold",
    line="at: seat tray",
)  # fmt: skip

SWITCH_PARTS: tuple[SwitchPart, ...] = (
    KEY_SWITCH, ENGINE_STOP_SWITCH, STARTER_BUTTON, NEUTRAL_SWITCH, CLUTCH_SWITCH, SIDE_STAND_SWITCH, FALL_SENSOR,
    FRONT_BRAKE_SWITCH, REAR_BRAKE_SWITCH, LEFT_INDICATOR_BUTTON, RIGHT_INDICATOR_BUTTON, INDICATOR_SWITCH,
    HAZARD_SWITCH, DIP_SWITCH, FLASH_BUTTON, LIGHT_SWITCH, HORN_BUTTON, OIL_PRESSURE_SWITCH, TEMPERATURE_SWITCH,
    FUEL_LEVEL_SENDER, SPEED_SENSOR, ENGINE_SPEED_SIGNAL, PUMP_REQUEST, FAN_REQUEST,
)  # fmt: skip
SWITCH_PART: dict[str, SwitchPart] = {part.name: part for part in SWITCH_PARTS}


def switch_part(name: str | None) -> SwitchPart | None:
    """Return what the catalogue says of a switch by the name of its part, or None where it has none."""
    return None if name is None else SWITCH_PART.get(name)
