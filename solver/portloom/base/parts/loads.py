"""The loads of the catalogue, in the order in which they are listed.

Sources: UN R53 (from memory) for which lamps a motorcycle has and how indicators and tell-tales work; all else is
common practice, no source.
"""

from portloom.base.parts.shapes import ENGINE_ON, RIDING, FixedMode, LoadPart
from portloom.base.vocabulary import ENGINE_RUN, FLASH, HOLD, START, STEADY

POSITION_LAMPS = "position lamps"
MAIN_BEAM_ON = ("main beam", "flashing the main beam")
_BEAM = FixedMode(STEADY, "mode", "a headlamp that flashes or goes out by a timer leaves the rider in the dark")
_FLASHES = FixedMode(FLASH, "indicator-pair", "an indicator that does not flash tells nobody where the bike will turn")
_RUNS = FixedMode(STEADY, "run", "the engine must not be stopped or kept running by a button that is let go")

DIPPED_BEAM = LoadPart(
    "dipped beam", ("low beam", "lo beam", "dip beam", "dip", "dipped", "passing beam", "headlamp low",
                    "low headlamp"),
    beam=True, when=RIDING,
    other_filament=MAIN_BEAM_ON, drop_class="headlamp", concern="stopping and being seen", kept=True, fixed=_BEAM,
    filaments=("dipped",), sits="front", often_relayed=True, line="at: headlamp shell, lamp: H4 dipped",
)  # fmt: skip
MAIN_BEAM = LoadPart(
    "main beam", ("high beam", "full beam", "hi beam", "driving beam", "headlamp high", "high headlamp"),
    beam=True, when=MAIN_BEAM_ON,
    drop_class="headlamp", concern="stopping and being seen", kept=True, fixed=_BEAM, filaments=("main",),
    worked_by=("dip switch", "flash button"), sits="front", often_relayed=True,
    line="at: headlamp shell, lamp: H4 main",
)  # fmt: skip
DAYTIME_LAMP = LoadPart(
    "daytime lamp", ("daytime running lamp", "DRL"), kind="led", when=("day",),
    drop_class="headlamp", concern="stopping and being seen", kept=True, sits="front",
    line="at: headlamp shell, power: 8 W",
)  # fmt: skip
POSITION_LAMP = LoadPart(
    "position lamp", ("side lamp", "parking lamp", "city light", "front marker"), alone=("position",),
    group=POSITION_LAMPS, drop_class="position lamps", concern="stopping and being seen", kept=True,
    filaments=("position", "tail"), line="at: headlamp shell, lamp: W5W",
)  # fmt: skip
TAIL_LAMP = LoadPart(
    "tail lamp", ("rear position lamp",), alone=("tail",), group=POSITION_LAMPS,
    drop_class="position lamps", concern="stopping and being seen", kept=True, filaments=("tail",), sits="rear",
    line="at: tail, lamp: P21/5W tail",
)  # fmt: skip
PLATE_LAMP = LoadPart(
    "plate lamp",
    ("number plate lamp", "licence plate lamp"), alone=("number plate", "licence plate", "plate"),
    group=POSITION_LAMPS, drop_class="position lamps", concern="stopping and being seen", kept=True, sits="rear",
    line="at: tail, lamp: W5W",
)  # fmt: skip
INSTRUMENT_LAMPS = LoadPart(
    "instrument lamps",
    ("clock lights", "dash lights", "speedo light", "speedometer light", "tacho light", "gauge light", "backlight"),
    group=POSITION_LAMPS,
    line="at: headlamp shell, power: 3 W, kind: filament", shows=True,
)  # fmt: skip
BRAKE_LAMP = LoadPart(
    "brake lamp", ("stop lamp",), modes=(HOLD,), when=("braking",),
    drop_class="brake lamp", concern="stopping and being seen", kept=True, watched=True,
    fixed=FixedMode(HOLD, "brake-lamp", "a brake lamp is lit while a brake is used, and no longer"),
    filaments=("brake",), worked_by=("front brake switch", "rear brake switch"), sits="rear",
    line="at: tail, lamp: P21/5W brake",
)  # fmt: skip
LEFT_INDICATOR = LoadPart(
    "left indicator", ("left turn signal", "left blinker", "left winker"), modes=(FLASH,),
    when=("indicating left", "hazard"), group="left indicators", drop_class="indicators",
    concern="stopping and being seen", kept=True, watched=True, fixed=_FLASHES, filaments=("indicator",),
    worked_by=("left indicator button", "indicator switch"), line="at: tail, lamp: PY21W",
)  # fmt: skip
RIGHT_INDICATOR = LoadPart(
    "right indicator", ("right turn signal", "right blinker", "right winker"), modes=(FLASH,),
    when=("indicating right", "hazard"), group="right indicators", drop_class="indicators",
    concern="stopping and being seen", kept=True, watched=True, fixed=_FLASHES, filaments=("indicator",),
    worked_by=("right indicator button", "indicator switch"), line="at: tail, lamp: PY21W",
)  # fmt: skip
INDICATOR_TELL_TALE = LoadPart(
    "indicator tell-tale", ("turn warning lamp", "turn tell-tale"), kind="led",
    fed_from=(LEFT_INDICATOR.name, RIGHT_INDICATOR.name), line="at: headlamp shell, power: 1 W", shows=True,
)  # fmt: skip
MAIN_BEAM_TELL_TALE = LoadPart(
    "main beam tell-tale", ("beam indicator", "beam warning lamp", "beam tell-tale"), kind="led",
    fed_from=(MAIN_BEAM.name,), line="at: headlamp shell, power: 1 W", shows=True,
)  # fmt: skip
SPOT_LAMP = LoadPart(
    "spot lamp", ("auxiliary driving lamp", "spotlight"), alone=("spot",), beam=True,
    when=("main beam",), group="auxiliary lamps", worked_by=("a switch of its own",),
    line="at: headstock, power: 20 W, kind: led",
)  # fmt: skip
FRONT_FOG_LAMP = LoadPart(
    "front fog lamp", ("fog light front", "front fog"), beam=True, when=RIDING,
    concern="stopping and being seen", kept=True, worked_by=("a switch of its own",),
    line="at: headstock, power: 20 W, kind: led",
)  # fmt: skip
REAR_FOG_LAMP = LoadPart(
    "rear fog lamp", ("fog light rear", "rear fog"), beam=True, when=("night",),
    concern="stopping and being seen", kept=True, worked_by=("a switch of its own",),
    line="at: tail, power: 4 W, kind: led",
)  # fmt: skip
HORN = LoadPart(
    "horn", ("hooter",), kind="horn", modes=(HOLD,), when=("horn",), concern="stopping and being seen", kept=True,
    fixed=FixedMode(HOLD, "mode", "a horn sounds while its button is held, and no longer"),
    worked_by=("horn button",), often_relayed=True, line="at: headstock, current: 4 A",
)  # fmt: skip
COMPRESSOR_HORN = LoadPart(
    "compressor horn", ("air horn",), kind="horn", modes=(HOLD,), when=("horn",), concern="stopping and being seen",
    kept=True, fixed=HORN.fixed, worked_by=("horn button",),
    proposed="its compressor draws much: 'fed: relay' is usual", line="at: headstock, current: 18 A, fed: relay",
)  # fmt: skip
IGNITION_COIL = LoadPart(
    "ignition coil", ("coil", "coil pack"), kind="ignition coil", when=ENGINE_ON, group="ignition",
    drop_class="engine", concern="start and run", kept=True, watched=True, runs_engine=True, fixed=_RUNS,
    asks="switched_by: what takes its other end to earth", line="at: engine, current: 3 A, switched_by: ignition box",
)  # fmt: skip
IGNITION_BOX = LoadPart(
    "ignition box", ("ignition", "CDI", "CDI box", "CDI unit", "TCI", "igniter", "ignitor", "ignition module",
                     "ignition unit", "CDI module", "ignition control module"),
    kind="electronics", when=ENGINE_ON, group="ignition", drop_class="engine", concern="start and run", kept=True,
    watched=True, runs_engine=True, fixed=_RUNS, line="at: engine, current: 2 A",
)  # fmt: skip
ENGINE_CONTROLLER = LoadPart(
    "engine controller", ("ECU", "ECM", "engine computer", "engine control unit", "injection box", "engine ECU",
                          "engine control module", "injection computer"),
    kind="electronics", when=ENGINE_ON, group="controllers", drop_class="engine", concern="start and run", kept=True,
    watched=True, runs_engine=True, fixed=_RUNS, line="at: seat tray, current: 2 A",
)  # fmt: skip
INJECTORS = LoadPart(
    "injectors", ("fuel injector",), kind="electronics", when=ENGINE_ON, group="controllers", concern="start and run",
    line="at: engine, current: 2 A",
)  # fmt: skip
LAMBDA_HEATER = LoadPart(
    "lambda heater", ("lambda sensor heater", "O2 sensor heater", "oxygen sensor heater"),
    kind="heater", when=ENGINE_ON, concern="start and run", line="at: engine, current: 1.5 A",
)  # fmt: skip
QUICKSHIFTER = LoadPart(
    "quickshifter", ("quick shifter",),
    kind="electronics", when=ENGINE_ON, group="controllers", line="at: engine, current: 0.1 A",
)  # fmt: skip
FUEL_PUMP = LoadPart(
    "fuel pump", ("petrol pump", "gas pump", "fuel pump motor"), kind="motor", modes=(ENGINE_RUN,),
    when=("cranking", "day", "night"),
    drop_class="engine", concern="start and run", kept=True, watched=True, runs_engine=True, often_relayed=True,
    asks="pump_by: who runs it, where there is an engine controller", line="at: tank, current: 5 A",
)  # fmt: skip
FUEL_TAP_SOLENOID = LoadPart(
    "fuel tap solenoid", ("fuel solenoid", "fuel tap"), kind="relay coil", modes=(ENGINE_RUN,),
    when=("cranking", "day", "night"), concern="start and run", line="at: tank, current: 0.8 A",
)  # fmt: skip
STARTER_SOLENOID = LoadPart(
    "starter solenoid",
    ("starter relay", "start relay", "start solenoid", "starter magnetic switch", "starter motor relay",
     "starter motor solenoid"),
    kind="relay coil", modes=(START,), when=("cranking",), concern="start and run", kept=True, watched=True,
    fixed=FixedMode(START, "start", "a starter that is not held back cranks in gear"), worked_by=("starter button",),
    asks="pull_in: what it draws as it pulls in, above 8 A or where it sits on the starter motor",
    line="at: engine, current: 3 A",
)  # fmt: skip
FAN = LoadPart(
    "fan",
    ("cooling fan", "radiator fan", "rad fan", "engine fan", "electric fan", "fan motor", "cooling fan motor",
     "radiator fan motor", "rad fan motor"),
    kind="motor", when=("fan running",), concern="start and run",
    inrush="fan", worked_by=("temperature switch", "fan request"), often_relayed=True,
    line="at: radiator, current: 6 A",
)  # fmt: skip
DASH = LoadPart(
    "dash",
    ("dashboard", "speedometer", "speedo", "tacho", "tachometer", "rev counter", "instruments", "gauge", "clocks",
     "instrument cluster", "gauge cluster", "digital dash"),
    kind="electronics", when=ENGINE_ON, line="at: headlamp shell, current: 0.4 A", shows=True,
)  # fmt: skip
HEATED_GRIPS = LoadPart(
    "heated grips", ("grip heater", "hot grips", "grip warmers"), alone=("grips",),
    kind="heater", when=RIDING, worked_by=("a switch of its own",),
    line="at: left handlebar, power: 36 W",
)  # fmt: skip
HEATED_SEAT = LoadPart(
    "heated seat", ("seat heater", "seat warmer"), kind="heater", when=RIDING, worked_by=("a switch of its own",),
    line="at: seat tray, power: 30 W",
)  # fmt: skip
HEATED_VEST = LoadPart(
    "heated vest", ("vest heater", "heated jacket", "heated clothing"), kind="heater", when=RIDING,
    worked_by=("a switch of its own",), line="at: seat tray, power: 60 W",
)  # fmt: skip
SOCKET = LoadPart(
    "socket", ("charging socket", "USB socket", "USB charger", "phone charger", "power socket", "USB",
               "accessory socket", "lighter socket", "cigarette lighter socket", "USB port", "USB outlet",
               "power outlet"),
    kind="electronics", line="at: headstock, current: 2 A",
)  # fmt: skip
SATELLITE_NAVIGATION = LoadPart(
    "satellite navigation", ("sat-nav", "satnav", "navigation", "GPS"), kind="electronics",
    line="at: headstock, current: 1 A",
)  # fmt: skip
_AT_ALL_TIMES = ("asleep", "parked", "run-on", "key on", "cranking", "day", "night")
ALARM = LoadPart(
    "alarm", kind="electronics", when=_AT_ALL_TIMES, line="at: seat tray, current: 0.05 A",
)  # fmt: skip
TRACKER = LoadPart(
    "tracker", ("GPS tracker",), kind="electronics", when=_AT_ALL_TIMES, line="at: seat tray, current: 0.05 A",
)  # fmt: skip
IMMOBILISER = LoadPart(
    "immobiliser", ("immobilizer",), kind="electronics", when=_AT_ALL_TIMES, line="at: seat tray, current: 0.05 A",
)  # fmt: skip

LOAD_PARTS: tuple[LoadPart, ...] = (
    DIPPED_BEAM, MAIN_BEAM, DAYTIME_LAMP, POSITION_LAMP, TAIL_LAMP, PLATE_LAMP, INSTRUMENT_LAMPS, BRAKE_LAMP,
    LEFT_INDICATOR, RIGHT_INDICATOR, INDICATOR_TELL_TALE, MAIN_BEAM_TELL_TALE, SPOT_LAMP, FRONT_FOG_LAMP,
    REAR_FOG_LAMP, HORN, COMPRESSOR_HORN, IGNITION_COIL, IGNITION_BOX, ENGINE_CONTROLLER, INJECTORS, LAMBDA_HEATER,
    QUICKSHIFTER, FUEL_PUMP, FUEL_TAP_SOLENOID, STARTER_SOLENOID, FAN, DASH, HEATED_GRIPS, HEATED_SEAT, HEATED_VEST,
    SOCKET, SATELLITE_NAVIGATION, ALARM, TRACKER, IMMOBILISER,
)  # fmt: skip
LOAD_PART: dict[str, LoadPart] = {part.name: part for part in LOAD_PARTS}

BEAMS = (DIPPED_BEAM.name, MAIN_BEAM.name)
SIDES = (LEFT_INDICATOR.name, RIGHT_INDICATOR.name)
IGNITIONS = (IGNITION_COIL.name, IGNITION_BOX.name)
RUNNING_ENGINE = tuple(part.name for part in LOAD_PARTS if part.runs_engine)
"""What keeps the engine running."""
DISPLAYS = (DASH.name, INSTRUMENT_LAMPS.name)
"""Parts with a terminal for each thing that they show."""
SPARKING = (*IGNITIONS, ENGINE_CONTROLLER.name)
"""What stops the engine when the unit takes its current away."""


def is_kept(name: str | None) -> bool:
    """Tell whether a load of this part is never left off to make a plan fit: no bike runs, or may be ridden, so."""
    return name in LOAD_PART and LOAD_PART[name].kept


def is_watched(name: str | None) -> bool:
    """Tell whether rules judge a load of this part on an output, where past the unit nobody would."""
    return name in LOAD_PART and LOAD_PART[name].watched


def load_part(name: str | None) -> LoadPart | None:
    """Return what the catalogue says of a load by the name of its part, or None where it has none."""
    return None if name is None else LOAD_PART.get(name)


def is_comfort(name: str | None) -> bool:
    """Tell whether a load of this part is one of comfort; what has no part counts as one."""
    part = load_part(name)
    return part is None or (part.concern == "comfort" and not part.kept)


def never_together(one: str | None, other: str | None) -> bool:
    """Tell whether it is never proposed that two parts share: one is never left off, and the other is of comfort.

    What the catalogue has in one group may be proposed: the lamps of the instruments with those of the road.
    """
    first, second = load_part(one), load_part(other)
    if first and second and first.group is not None and first.group == second.group:
        return False
    return (is_kept(one) and is_comfort(other)) or (is_kept(other) and is_comfort(one))
