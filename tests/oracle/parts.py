"""What each part of a motorcycle is, by its name; common practice, no source.

The modes and events of lamps follow UN R53 (from memory). Told from the trade, in a table of this
program's own: nothing of it comes from the program under test.
"""

from dataclasses import dataclass

ENGINE_ON = ("key on", "cranking", "day", "night")
ANY_STATE = ("asleep", "parked", "run-on", *ENGINE_ON)
RIDDEN = ("day", "night")
KEY_ON = ("key on", "day", "night")
FULL_BEAM = ("main beam", "flashing the main beam")


@dataclass(frozen=True)
class LoadPart:
    """A load's part: its kind ('' as its lamp is), switch mode, when it is on, who may share, its class of drop."""

    kind: str = ""
    mode: str = "steady"
    when: tuple[str, ...] = KEY_ON
    group: str = ""
    drop: str = "other"


@dataclass(frozen=True)
class SwitchPart:
    """A switch's part: what it tells, the parts that it works, its action; `signal` where it is no earth.

    `rest` is the word of `made` with which its contact is closed at rest. `framed`: it earths through its body.
    """

    tells: str = ""
    works: tuple[str, ...] = ()
    action: str = "push"
    signal: str = "earth"
    rest: str = ""
    framed: bool = False


_POSITION = LoadPart(group="position lamps", drop="position lamps")
_HEATER = LoadPart("heater", when=RIDDEN)
_ALIVE = LoadPart("electronics", when=ANY_STATE)
_CONTROL = LoadPart("electronics", when=ENGINE_ON, group="controllers")
LOADS = {
    "dipped beam": LoadPart(when=RIDDEN, drop="headlamp"),
    "main beam": LoadPart(when=FULL_BEAM, drop="headlamp"),
    "daytime lamp": LoadPart("led", when=("day",), drop="headlamp"),
    "position lamp": _POSITION,
    "tail lamp": _POSITION,
    "plate lamp": _POSITION,
    "instrument lamps": LoadPart(group="position lamps"),
    "brake lamp": LoadPart(mode="hold", when=("braking",), drop="brake lamp"),
    "left indicator": LoadPart(
        mode="flash", when=("indicating left", "hazard"), group="left indicators", drop="indicators"
    ),
    "right indicator": LoadPart(
        mode="flash", when=("indicating right", "hazard"), group="right indicators", drop="indicators"
    ),
    "indicator tell-tale": LoadPart("led"),
    "main beam tell-tale": LoadPart("led"),
    "spot lamp": LoadPart(when=("main beam",), group="auxiliary lamps"),
    "front fog lamp": LoadPart(when=RIDDEN),
    "rear fog lamp": LoadPart(when=("night",)),
    "horn": LoadPart("horn", "hold", ("horn",)),
    "compressor horn": LoadPart("horn", "hold", ("horn",)),
    "ignition coil": LoadPart("ignition coil", when=ENGINE_ON, group="ignition", drop="engine"),
    "ignition box": LoadPart("electronics", when=ENGINE_ON, group="ignition", drop="engine"),
    "engine controller": LoadPart("electronics", when=ENGINE_ON, group="controllers", drop="engine"),
    "injectors": _CONTROL,
    "lambda heater": LoadPart("heater", when=ENGINE_ON),
    "quickshifter": _CONTROL,
    "fuel pump": LoadPart("motor", "engine-run", ("cranking", "day", "night"), drop="engine"),
    "fuel tap solenoid": LoadPart("relay coil", "engine-run", ("cranking", "day", "night")),
    "starter solenoid": LoadPart("relay coil", "start", ("cranking",)),
    "fan": LoadPart("motor", when=("fan running",)),
    "dash": LoadPart("electronics", when=ENGINE_ON),
    "heated grips": _HEATER,
    "heated seat": _HEATER,
    "heated vest": _HEATER,
    "socket": LoadPart("electronics"),
    "satellite navigation": LoadPart("electronics"),
    "alarm": _ALIVE,
    "tracker": _ALIVE,
    "immobiliser": _ALIVE,
}
LOOSE = LoadPart()
"""A load that says no part."""
COILS_OR_BOXES = frozenset({"ignition coil", "ignition box"})
ENGINE = COILS_OR_BOXES | {"engine controller", "fuel pump"}
INDICATORS = frozenset({"left indicator", "right indicator"})
BEAMS = ("dipped beam", "main beam")
POSITION_LAMPS = ("position lamp", "tail lamp", "plate lamp", "instrument lamps")
PUSHED_ON_AND_OFF = frozenset({*BEAMS, "spot lamp", "front fog lamp", "rear fog lamp"})
"""What a push button turns on and off again where no latch works it."""
DIPPED_OF_TWO = frozenset({"H4 dipped", "HS1 dipped", "H17 dipped"})
"""A filament beside the main beam's in one bulb: never on with it."""
LAMP_PARTS = frozenset(name for name in LOADS if name.endswith(("lamp", "lamps", "beam", "indicator", "tell-tale")))
"""What lights."""
LEADING = frozenset({"engine controller", "ignition box", "dash"})
"""What the bike runs by: a return is theirs first."""
FALLS_AWAY = frozenset({"flasher relay", "side stand relay", "start cut relay"})
"""The unit does it."""
SWITCHES = {
    "key switch": SwitchPart("key", action="latch"),
    "engine stop switch": SwitchPart("engine stop", action="latch", rest="run"),
    "starter button": SwitchPart(works=("starter solenoid",)),
    "neutral switch": SwitchPart("neutral", action="latch", framed=True),
    "clutch switch": SwitchPart("clutch", rest="released"),
    "side stand switch": SwitchPart("side stand", action="latch", rest="up"),
    "fall sensor": SwitchPart("fallen", action="latch"),
    "front brake switch": SwitchPart("front brake", ("brake lamp",)),
    "rear brake switch": SwitchPart("rear brake", ("brake lamp",)),
    "left indicator button": SwitchPart(works=("left indicator",)),
    "right indicator button": SwitchPart(works=("right indicator",)),
    "hazard switch": SwitchPart(works=("left indicator", "right indicator"), action="latch"),
    "dip switch": SwitchPart(works=BEAMS, action="latch"),
    "flash button": SwitchPart(works=BEAMS),
    "light switch": SwitchPart(works=("dipped beam", *POSITION_LAMPS), action="latch"),
    "horn button": SwitchPart(works=("horn", "compressor horn")),
    "oil pressure switch": SwitchPart(action="latch", framed=True),
    "temperature switch": SwitchPart(action="latch", framed=True),
    "fuel level sender": SwitchPart(action="", signal="sender"),
    "speed sensor": SwitchPart(action="", signal="pulse"),
    "engine speed signal": SwitchPart("engine turning", action="", signal="pulse"),
    "pump request": SwitchPart(works=("fuel pump",), action="hold"),
    "fan request": SwitchPart(works=("fan",), action="hold"),
}
UNNAMED = SwitchPart(action="")
"""A switch that says no part."""
SIDES = {"left": "left indicator button", "right": "right indicator button"}
"""An indicator switch is read as two, a latch for each side."""
PULSES = {"tacho": "12 V", "coil": "400 V", "stator": "80 V"}
PULSE_RATE = "400 Hz"
STRAIGHT = frozenset({"key", "engine stop", "side stand", "fallen", "clutch", "neutral", "front brake", "rear brake"})
"""What tells one of these goes straight to the unit."""
TOLD_BY = {part.tells: name for name, part in SWITCHES.items() if part.tells}


def drop_class(part: str) -> str:
    """Return the class of drop of a load's part."""
    return LOADS.get(part, LOOSE).drop
