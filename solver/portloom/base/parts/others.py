"""What is no load of a unit and no input, and words that may be several things. Common practice, no source."""

from portloom.base.parts import loads, switches
from portloom.base.parts.shapes import Ambiguous, OtherWord

_OWN_WIRING = "it keeps its maker's own fuses and wiring"
STARTER_MOTOR = OtherWord(
    "starter motor", ("electric starter",),
    why="it draws a hundred amperes or more, through its own cable and solenoid",
)  # fmt: skip
ABS = OtherWord(
    "ABS", ("ABS unit", "ABS pump", "ABS module", "ABS modulator", "ABS controller", "ABS ECU"), why=_OWN_WIRING
)
AIRBAG = OtherWord("airbag", ("air bag", "airbag unit"), why=_OWN_WIRING)
REGULATOR = OtherWord(
    "regulator",
    ("rectifier", "regulator rectifier", "rectifier regulator", "voltage regulator", "reg rec", "reg rect", "R/R"),
    why="its lead goes to the battery side, through a fuse of its own",
)  # fmt: skip
ALTERNATOR = OtherWord(
    "alternator", ("generator", "stator", "field", "dynamo", "field coil", "stator coil", "charging coil"),
    why="it supplies current, through the regulator and a fuse of its own, and needs no output",
)  # fmt: skip
CHARGER_LEAD = OtherWord(
    "battery charger lead",
    ("charging lead", "charger lead", "battery charger", "charge lead", "charging wire", "charge wire",
     "battery tender"),
    why="it joins the battery by a fuse of its own",
)  # fmt: skip
IGNITION_PICK_UP = OtherWord(
    "ignition pick-up", ("pick-up coil", "pickup coil", "trigger coil", "ignition trigger", "pulser coil"),
    why="it belongs to the ignition box; tapping it can kill the spark",
)  # fmt: skip
FLASHER_RELAY = OtherWord(
    "flasher relay", ("indicator relay", "turn signal relay", "blinker relay", "flasher unit", "flasher can"),
    falls_away=True, why="the unit flashes the indicators itself",
)  # fmt: skip
SIDE_STAND_RELAY = OtherWord(
    "side stand relay", ("stand relay",), falls_away=True, why="the unit reads the side stand switch itself"
)
START_CUT_RELAY = OtherWord(
    "start cut relay",
    ("starter cut relay", "starting circuit cut-off relay", "starter cut-off relay", "start cut-off relay"),
    falls_away=True, why="the unit holds the starter back itself",
)  # fmt: skip

OTHER_WORDS: tuple[OtherWord, ...] = (
    STARTER_MOTOR, ABS, AIRBAG, REGULATOR, ALTERNATOR, CHARGER_LEAD, IGNITION_PICK_UP, FLASHER_RELAY,
    SIDE_STAND_RELAY, START_CUT_RELAY,
)  # fmt: skip
OTHER_WORD: dict[str, OtherWord] = {word.name: word for word in OTHER_WORDS}

AMBIGUOUS: tuple[Ambiguous, ...] = (
    Ambiguous(("stop switch", "stop button"), (switches.ENGINE_STOP_SWITCH.name, switches.FRONT_BRAKE_SWITCH.name,
                                 switches.REAR_BRAKE_SWITCH.name)),
    Ambiguous(("brake switch", "brake light switch", "stop light switch", "brake pressure switch", "brake sensor"),
              (switches.FRONT_BRAKE_SWITCH.name, switches.REAR_BRAKE_SWITCH.name)),
    Ambiguous(("indicator", "turn signal", "blinker", "winker", "flasher"), loads.SIDES),
    Ambiguous(("indicator button", "blinker button", "turn signal button"),
              (switches.LEFT_INDICATOR_BUTTON.name, switches.RIGHT_INDICATOR_BUTTON.name)),
    Ambiguous(("pilot lamp", "pilot light"), (loads.POSITION_LAMP.name, loads.INDICATOR_TELL_TALE.name)),
    Ambiguous(("rear light", "rear lamp"), (loads.TAIL_LAMP.name, loads.BRAKE_LAMP.name)),
    Ambiguous(("fog light", "fog lamp"), (loads.FRONT_FOG_LAMP.name, loads.REAR_FOG_LAMP.name)),
    Ambiguous(("headlight", "headlamp", "head light", "head lamp"), loads.BEAMS),
    Ambiguous(("idiot light", "warning light", "warning lamp"),
              (loads.INDICATOR_TELL_TALE.name, loads.MAIN_BEAM_TELL_TALE.name, loads.DASH.name)),
    Ambiguous(("brake",), (loads.BRAKE_LAMP.name, switches.FRONT_BRAKE_SWITCH.name, switches.REAR_BRAKE_SWITCH.name),
              alone=True),
    Ambiguous(("front brake",), (loads.BRAKE_LAMP.name, switches.FRONT_BRAKE_SWITCH.name), alone=True),
    Ambiguous(("rear brake",), (loads.BRAKE_LAMP.name, switches.REAR_BRAKE_SWITCH.name), alone=True),
    Ambiguous(("pilot",), (loads.POSITION_LAMP.name, loads.INDICATOR_TELL_TALE.name), alone=True),
    Ambiguous(("low", "lo"), (loads.DIPPED_BEAM.name,), alone=True),
    Ambiguous(("high", "hi", "full"), (loads.MAIN_BEAM.name,), alone=True),
    Ambiguous(("stop",), (loads.BRAKE_LAMP.name, switches.ENGINE_STOP_SWITCH.name), alone=True),
    Ambiguous(("hazard light", "hazard lamp"), loads.SIDES),
    Ambiguous(("hazard",), (switches.HAZARD_SWITCH.name, *loads.SIDES), alone=True),
    Ambiguous(("headlight switch", "headlamp switch"), (switches.LIGHT_SWITCH.name, switches.DIP_SWITCH.name)),
    Ambiguous(("high/low beam", "hi/lo beam", "high/low", "hi/lo"), loads.BEAMS),
    Ambiguous(("main beam light", "main beam lamp", "high beam light", "high beam lamp", "full beam light"),
              (loads.MAIN_BEAM.name, loads.MAIN_BEAM_TELL_TALE.name)),
    Ambiguous(("turn light", "turn lamp"), (*loads.SIDES, loads.INDICATOR_TELL_TALE.name)),
    Ambiguous(("auxiliary light", "auxiliary lamp", "aux light", "aux lamp"),
              (loads.SPOT_LAMP.name, loads.FRONT_FOG_LAMP.name)),
    Ambiguous(("fog",), (loads.FRONT_FOG_LAMP.name, loads.REAR_FOG_LAMP.name), alone=True),
    Ambiguous(("light", "lamp", "front light", "front lamp"),
              (loads.DIPPED_BEAM.name, loads.POSITION_LAMP.name, loads.TAIL_LAMP.name), alone=True),
    Ambiguous(("charger",), (loads.SOCKET.name, CHARGER_LEAD.name), alone=True),
    Ambiguous(("pump",), (loads.FUEL_PUMP.name,), alone=True),
    Ambiguous(("starter",), (loads.STARTER_SOLENOID.name, STARTER_MOTOR.name)),
    Ambiguous(("solenoid",), (loads.STARTER_SOLENOID.name, loads.FUEL_TAP_SOLENOID.name), alone=True),
    Ambiguous(("running light", "running lamp"), (loads.DAYTIME_LAMP.name, loads.POSITION_LAMP.name)),
    Ambiguous(("charge lamp", "charge light", "charging light", "charge warning lamp", "charge indicator"),
              (loads.DASH.name,)),
    Ambiguous(("compressor",), (loads.COMPRESSOR_HORN.name,), alone=True),
)  # fmt: skip


def why_kept_off(name: str) -> str:
    """Return why no output may feed what the catalogue has under this name; raise KeyError for anything else."""
    return OTHER_WORD[name].why
