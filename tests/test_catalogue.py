"""What each part of the catalogue brings, row by row, as the trade has it and not as the program says.

Sources: UN R53 for which lamps and tell-tales a motorcycle has, when they are lit and that indicators flash (from
memory: par. 6.1 main beam, 6.2 dipped beam, 6.3 direction indicators, 6.4 stop lamp, 6.5 plate lamp, 6.6 and 6.7
position lamps, 6.8 rear fog lamp, 6.11 front fog lamp, 6.13 daytime lamp); all else is common practice, no source.
"""

from dataclasses import dataclass

import pytest

from portloom.base.assumptions import Assumptions
from portloom.base.bike import Bike, Load, Switch
from portloom.base.parts.loads import LOAD_PART
from portloom.base.parts.others import OTHER_WORDS
from portloom.base.parts.switches import SWITCH_PART
from portloom.base.parts.words import part_words
from portloom.inputs.files import bike_from_text
from portloom.inputs.problems import BadFile
from portloom.job.consumers import consumers_of
from small_bikes import OWN_SPARK, small_bike
from unasked import bike_from_text as unasked

RIDING = ("day", "night")
KEY = ("key on", "day", "night")
ENGINE = ("key on", "cranking", "day", "night")
PUMP = ("cranking", "day", "night")
ALWAYS = ("asleep", "parked", "run-on", "key on", "cranking", "day", "night")
LED = "power: 5 W, kind: led"
AMP = "current: 2 A"


@dataclass(frozen=True)
class LoadRow:
    """A load written with nothing but what it is, where it is, and what it draws."""

    part: str
    figure: str
    kind: str
    mode: str
    when: tuple[str, ...]
    group: str | None = None
    also: tuple[str, ...] = ()


LOADS = (
    # UN R53 par. 6.1 and 6.2 (from memory): beams burn steadily, dipped beam whenever the bike is ridden.
    LoadRow("dipped beam", "lamp: H7", "filament", "steady", RIDING, None,
            ("low beam", "lo beam", "dip beam", "dip", "dipped", "passing beam")),
    LoadRow("main beam", "lamp: H1", "filament", "steady", ("main beam", "flashing the main beam"), None,
            ("high beam", "full beam", "hi beam", "driving beam")),
    # UN R53 par. 6.13 (from memory): lit by day, out when the headlamp is lit.
    LoadRow("daytime lamp", "power: 8 W", "led", "steady", ("day",), None, ("daytime running lamp",)),
    # UN R53 par. 6.5 to 6.7 (from memory): position and plate lamps are lit together.
    LoadRow("position lamp", "lamp: W5W", "filament", "steady", KEY, "position lamps",
            ("side lamp", "parking lamp", "city light", "front marker")),
    LoadRow("tail lamp", "lamp: P21/5W tail", "filament", "steady", KEY, "position lamps", ("tail light",)),
    LoadRow("plate lamp", LED, "led", "steady", KEY, "position lamps",
            ("number plate lamp", "licence plate lamp")),
    LoadRow("instrument lamps", "power: 3 W, kind: filament", "filament", "steady", KEY, "position lamps",
            ("clock lights", "backlight")),
    # UN R53 par. 6.4 (from memory): lit by any service brake, and no longer.
    LoadRow("brake lamp", "lamp: P21W", "filament", "hold", ("braking",), None,
            ("stop lamp", "stop light", "brake light")),
    # UN R53 par. 6.3 (from memory): a side flashes as one, both sides with the hazard warning.
    LoadRow("left indicator", "lamp: PY21W", "filament", "flash", ("indicating left", "hazard"), "left indicators",
            ("left turn signal", "left blinker", "left winker", "rear blinker, left", "front l indicator")),
    LoadRow("right indicator", LED, "led", "flash", ("indicating right", "hazard"), "right indicators",
            ("right turn signal", "right blinker", "right winker", "turn signal r")),
    # Common practice, no source, from here on.
    LoadRow("spot lamp", LED, "led", "steady", ("main beam",), "auxiliary lamps", ("auxiliary driving lamp",)),
    LoadRow("front fog lamp", LED, "led", "steady", RIDING, None, ("fog light front",)),
    LoadRow("rear fog lamp", LED, "led", "steady", ("night",), None, ("fog light rear",)),
    LoadRow("horn", "current: 4 A", "horn", "hold", ("horn",), None, ("hooter",)),
    LoadRow("compressor horn", "current: 9 A", "horn", "hold", ("horn",), None, ("air horn",)),
    LoadRow("ignition coil", "current: 3 A", "ignition coil", "steady", ENGINE, "ignition", ("coil", "coil pack")),
    LoadRow("ignition box", AMP, "electronics", "steady", ENGINE, "ignition",
            ("ignition", "CDI", "igniter", "ignition module")),
    LoadRow("engine controller", AMP, "electronics", "steady", ENGINE, "controllers",
            ("ECU", "ECM", "engine computer", "injection box")),
    LoadRow("injectors", AMP, "electronics", "steady", ENGINE, "controllers"),
    LoadRow("lambda heater", AMP, "heater", "steady", ENGINE),
    LoadRow("quickshifter", "current: 0.1 A", "electronics", "steady", ENGINE, "controllers"),
    LoadRow("fuel pump", "current: 5 A", "motor", "engine-run", PUMP, None, ("petrol pump",)),
    LoadRow("fuel tap solenoid", "current: 1 A", "relay coil", "engine-run", PUMP, None, ("fuel solenoid",)),
    LoadRow("starter solenoid", "current: 3 A", "relay coil", "start", ("cranking",), None,
            ("starter relay", "start solenoid", "starter magnetic switch")),
    LoadRow("fan", "current: 6 A", "motor", "steady", ("fan running",), None, ("cooling fan", "radiator fan")),
    LoadRow("dash", "current: 0.4 A", "electronics", "steady", ENGINE, None,
            ("speedometer", "speedo", "tacho", "rev counter", "instruments", "gauge")),
    LoadRow("heated grips", "power: 36 W", "heater", "steady", RIDING, None, ("grip heater",)),
    LoadRow("heated seat", "power: 30 W", "heater", "steady", RIDING, None, ("seat heater",)),
    LoadRow("heated vest", "power: 60 W", "heater", "steady", RIDING, None, ("vest heater",)),
    LoadRow("socket", AMP, "electronics", "steady", KEY, None, ("charging socket", "USB socket", "power socket")),
    LoadRow("satellite navigation", "current: 1 A", "electronics", "steady", KEY, None, ("sat-nav",)),
    LoadRow("alarm", "current: 50 mA", "electronics", "steady", ALWAYS),
    LoadRow("tracker", "current: 50 mA", "electronics", "steady", ALWAYS),
    LoadRow("immobiliser", "current: 50 mA", "electronics", "steady", ALWAYS),
)  # fmt: skip
TELL_TALES = {
    "indicator tell-tale": ("turn warning lamp",),
    "main beam tell-tale": ("beam indicator", "beam warning lamp"),
}
NEVER_LEFT_OFF = {
    "dipped beam", "main beam", "daytime lamp", "position lamp", "tail lamp", "plate lamp", "brake lamp",
    "left indicator", "right indicator", "front fog lamp", "rear fog lamp", "horn", "compressor horn", "ignition coil",
    "ignition box", "engine controller", "fuel pump", "starter solenoid",
}  # fmt: skip
"""Lamps of the road, horns, and what the engine starts and runs by."""


def _one(bike: Bike, name: str) -> Load:
    return next(load for load in bike.loads if load.name == name)


def _alone(part: str, figure: str) -> Bike:
    return unasked(small_bike([f"{{part: {part}, at: engine, {figure}}}"]), "bike.yaml")


def test_every_load_has_its_row() -> None:
    """The rows here and the catalogue name the same loads, so a part more is a row more."""
    assert {row.part for row in LOADS} | set(TELL_TALES) == set(LOAD_PART)


@pytest.mark.parametrize("row", LOADS, ids=lambda row: row.part)
def test_a_load_alone(row: LoadRow) -> None:
    """A load with nothing but its part, a point and a figure is what the trade makes of it."""
    bike = _alone(row.part, row.figure)
    load = _one(bike, row.part)
    known = consumers_of(bike, Assumptions(bike.assume)).on_unit[0]
    assert (known.kind, load.mode, load.when, load.except_) == (row.kind, (row.mode,), row.when, ())
    assert (load.share, load.return_, load.from_) == (row.group, "wire", ())


@pytest.mark.parametrize("row", LOADS, ids=lambda row: row.part)
def test_other_words_for_a_load(row: LoadRow) -> None:
    """What else people call it, in capitals too, is that part; how it was read is told."""
    for word in row.also:
        bike = _alone(f"'{word.upper()}'", row.figure)
        assert bike.loads[0].part == row.part, word
        assert [line for line in bike.as_read.words if f"is read as '{row.part}'" in line], word


@pytest.mark.parametrize("part", TELL_TALES)
def test_other_words_for_a_tell_tale(part: str) -> None:
    """A warning lamp of the indicators, or of the main beam, is a tell-tale."""
    assert {meant.name for word in TELL_TALES[part] if (meant := part_words(word))} == {part}


@pytest.mark.parametrize("row", LOADS, ids=lambda row: row.part)
def test_what_is_written_stands(row: LoadRow) -> None:
    """When it is on and its group are changed by writing them; 'share: none' parts it from its group."""
    figure = f"{row.figure}, when: [parked, night], share: mine"
    load = _one(_alone(row.part, figure), row.part)
    assert (load.when, load.share) == (("parked", "night"), "mine")
    assert _one(_alone(row.part, f"{row.figure}, share: none"), row.part).share is None


@pytest.mark.parametrize("row", LOADS, ids=lambda row: row.part)
def test_never_left_off(row: LoadRow) -> None:
    """Lamps of the road, horns and what the engine needs are never left off to make a plan fit."""
    assert LOAD_PART[row.part].kept == (row.part in NEVER_LEFT_OFF)


# --- two filaments, beams and their switches, tell-tales


@pytest.mark.parametrize(
    ("dipped", "main", "off_in"),
    [
        ("lamp: H4 dipped", "lamp: H4 main", ("main beam", "flashing the main beam")),
        ("lamp: HS1 dipped", "lamp: HS1 main", ("main beam", "flashing the main beam")),
        ("power: 20 W, kind: led, bulb: head", "power: 20 W, kind: led, bulb: head",
         ("main beam", "flashing the main beam")),
        ("lamp: H7", "lamp: H1", ()),
        ("power: 20 W, kind: led", "power: 20 W, kind: led", ()),
    ],
)  # fmt: skip
def test_two_filaments_of_one_bulb_never_burn_together(dipped: str, main: str, off_in: tuple[str, ...]) -> None:
    """The dipped filament of a bulb with two is off with the main beam (UN R37 H4, from memory); others stay on."""
    loads = [f"{{part: dipped beam, at: headstock, {dipped}}}", f"{{part: main beam, at: headstock, {main}}}"]
    assert _one(unasked(small_bike(loads), "bike.yaml"), "dipped beam").except_ == off_in


@pytest.mark.parametrize(
    ("switches", "dipped", "main"),
    [
        (["{part: dip switch, at: left handlebar}"], "steady", "steady"),
        (["{part: dip switch, at: left handlebar, action: push}"], "toggle", "toggle"),
        (["{part: flash button, at: left handlebar}"], "steady", "hold"),
        (["{part: dip switch, at: left handlebar}", "{part: flash button, at: left handlebar}"], "steady", "steady"),
        (["{part: dip switch, at: left handlebar, action: push}", "{part: flash button, at: left handlebar}"],
         "toggle", "toggle"),
        (["{part: dip switch, at: left handlebar, action: push}", "{part: light switch, at: left handlebar}"],
         "steady", "toggle"),
    ],
)  # fmt: skip
def test_beams_are_driven_as_their_switches_work(switches: list[str], dipped: str, main: str) -> None:
    """A push button toggles a beam unless a latching switch works it too; flash buttons alone hold the main beam."""
    loads = ["{part: dipped beam, at: headstock, lamp: H7}", "{part: main beam, at: headstock, lamp: H1}"]
    bike = unasked(small_bike(loads, switches), "bike.yaml")
    assert (_one(bike, "dipped beam").mode, _one(bike, "main beam").mode) == ((dipped,), (main,))


def test_tell_tales_are_fed_from_what_they_tell() -> None:
    """The first indicator of each side feeds the indicator tell-tale, the main beam its own (UN R53, from memory)."""
    loads = [
        "{name: front left, part: left indicator, at: headstock, lamp: PY21W}",
        "{name: rear left, part: left indicator, at: tail, lamp: PY21W}",
        "{name: front right, part: right indicator, at: headstock, lamp: PY21W}",
        "{part: main beam, at: headstock, lamp: H1}",
        "{part: indicator tell-tale, at: headlamp shell, power: 1 W}",
        "{part: main beam tell-tale, at: headlamp shell, power: 1 W}",
    ]
    bike = unasked(small_bike(loads), "bike.yaml")
    told, beam = _one(bike, "indicator tell-tale"), _one(bike, "main beam tell-tale")
    assert (told.from_, told.kind, told.when) == (("front left", "front right"), "led", None)
    assert (beam.from_, beam.kind) == (("main beam",), "led")


# --- the pump, and an ignition that is a coil


def test_a_pump_that_the_controller_runs_is_held() -> None:
    """Where the controller asks for the pump by a wire, the pump runs while that asks."""
    loads = ["{part: fuel pump, at: tank, current: 5 A}", "{part: ECU, at: seat tray, current: 2 A}"]
    bike = unasked(small_bike(loads, ["{part: pump request, at: seat tray}"], "pump_by: controller"), "bike.yaml")
    assert _one(bike, "fuel pump").mode == ("hold",)
    assert bike.inputs[0].operates == ("fuel pump",)


def test_an_ignition_of_kind_coil_is_the_coil() -> None:
    """``part: ignition`` with ``kind: ignition coil`` is the coil, not the box."""
    bike = _alone("ignition", "current: 3 A, kind: ignition coil")
    assert bike.loads[0].part == "ignition coil"


# --- switches


@dataclass(frozen=True)
class SwitchRow:
    """A switch written with its part, its point, and what is asked."""

    part: str
    more: str = ""
    tells: tuple[str, ...] = ()
    works: tuple[str, ...] = ()
    action: str | None = None
    signal: str = "earth"
    made: str | None = None
    normally: str = "open"
    by_frame: bool = False
    also: tuple[str, ...] = ()


SIDES = ("left indicator", "right indicator")
BEAMS = ("dipped beam", "main beam")
LIT = ("dipped beam", "position lamp", "tail lamp", "plate lamp", "instrument lamps")
SWITCHES = (
    # Common practice, no source.
    SwitchRow("key switch", tells=("key",), action="latch", also=("key", "ignition switch", "ignition lock")),
    SwitchRow("engine stop switch", "made: run", ("engine stop",), action="latch", made="run", normally="closed",
              also=("kill switch", "run switch")),
    SwitchRow("starter button", works=("starter solenoid",), action="push", also=("start button",)),
    SwitchRow("neutral switch", tells=("neutral",), action="latch", made="neutral", by_frame=True,
              also=("gear switch", "neutral light switch")),
    SwitchRow("clutch switch", "made: pulled", ("clutch",), action="push", made="pulled",
              also=("clutch lever switch",)),
    SwitchRow("side stand switch", "made: up", ("side stand",), action="latch", made="up", normally="closed",
              also=("stand switch",)),
    SwitchRow("fall sensor", "goes_to: unit", ("fallen",), action="latch",
              also=("tip-over sensor", "bank angle sensor", "lean switch")),
    SwitchRow("front brake switch", "", ("front brake",), ("brake lamp",), "push",
              also=("front brake light switch", "lever stop light switch", "front brake pressure switch")),
    SwitchRow("rear brake switch", "", ("rear brake",), ("brake lamp",), "push",
              also=("rear brake light switch", "pedal brake switch", "rear stop light switch")),
    SwitchRow("left indicator button", works=("left indicator",), action="push", also=("left blinker button",)),
    SwitchRow("right indicator button", works=("right indicator",), action="push", also=("right blinker button",)),
    SwitchRow("hazard switch", works=SIDES, action="latch", also=("warning switch",)),
    SwitchRow("dip switch", works=BEAMS, action="latch", also=("high/low switch",)),
    SwitchRow("flash button", works=BEAMS, action="push", also=("passing button", "pass")),
    SwitchRow("light switch", works=LIT, action="latch", also=("lighting switch",)),
    SwitchRow("horn button", works=("horn",), action="push", also=("hooter button",)),
    SwitchRow("oil pressure switch", action="latch", made="no pressure", normally="closed", by_frame=True),
    SwitchRow("temperature switch", action="latch", by_frame=True, also=("thermo switch",)),
    SwitchRow("fuel level sender", signal="sender"),
    SwitchRow("speed sensor", "wires: 3", signal="pulse"),
    SwitchRow("engine speed signal", "from: tacho", ("engine turning",), signal="pulse",
              also=("tacho lead", "coil primary", "stator phase")),
    SwitchRow("pump request", works=("fuel pump",), action="hold"),
    SwitchRow("fan request", works=("fan",), action="hold"),
)  # fmt: skip
STRAIGHT = {
    "key switch", "engine stop switch", "side stand switch", "fall sensor", "clutch switch", "neutral switch",
    "front brake switch", "rear brake switch", "starter button",
}  # fmt: skip
"""What a box that fails must not take along."""
FIGURES = {row.part: row.figure for row in LOADS}


def _with(row: SwitchRow, part: str | None = None, more: str = "") -> Switch:
    """Return a switch on a bike that has every load that it could work, and a load that it could not."""
    worked = [f"{{part: {name}, at: tail, {FIGURES[name]}}}" for name in (*row.works, "socket")]
    keys = ", ".join(filter(None, (f"part: {part or row.part}", "at: engine", row.more, more)))
    bike = unasked(small_bike(worked, [f"{{{keys}}}"]), "bike.yaml")
    return bike.inputs[0]


def test_every_switch_has_its_row() -> None:
    """The rows here and the catalogue name the same switches; the indicator switch is two, below."""
    assert {row.part for row in SWITCHES} | {"indicator switch"} == set(SWITCH_PART)


@pytest.mark.parametrize("row", SWITCHES, ids=lambda row: row.part)
def test_a_switch_alone(row: SwitchRow) -> None:
    """A switch with its part and its point works every load that it is for, and tells what it is."""
    switch = _with(row)
    assert (switch.name, switch.tells, switch.operates) == (row.part, row.tells, row.works)
    assert (switch.action, switch.signal, switch.return_) == (
        row.action,
        row.signal,
        "frame" if row.by_frame else "wire",
    )
    assert (switch.made, switch.normally) == (row.made, row.normally)


@pytest.mark.parametrize("row", SWITCHES, ids=lambda row: row.part)
def test_other_words_for_a_switch(row: SwitchRow) -> None:
    """What else people call it is that part."""
    assert {word: meant.name if (meant := part_words(word)) else None for word in row.also} == dict.fromkeys(
        row.also, row.part
    )


@pytest.mark.parametrize("row", SWITCHES, ids=lambda row: row.part)
def test_what_is_written_of_a_switch_stands(row: SwitchRow) -> None:
    """What it works, its signal and how it finds earth are changed by writing them."""
    more = "operates: [socket], return: wire" + (", action: push" if row.action else "")
    switch = _with(row, more=more)
    assert (switch.operates, switch.return_) == (("socket",), "wire")
    assert switch.action == ("push" if row.action else None)


@pytest.mark.parametrize("row", SWITCHES, ids=lambda row: row.part)
def test_never_through_a_multiplexer(row: SwitchRow) -> None:
    """Key, stop, stand, fall, clutch, neutral, brakes and starter go straight to the unit."""
    assert SWITCH_PART[row.part].straight == (row.part in STRAIGHT)


@pytest.mark.parametrize(("source", "volts"), [("tacho", 12_000), ("coil", 400_000), ("stator", 80_000)])
def test_pulses_are_as_high_as_where_they_are_taken(source: str, volts: int) -> None:
    """A tacho wire has 12 V, a coil's switched side 400 V, a phase 80 V, each 400 Hz; what is measured overrides it."""
    row = SwitchRow("engine speed signal", f"from: {source}")
    assert (_with(row).level, _with(row).rate) == (volts, 400_000)
    assert _with(row, more="level: 20 V, rate: 1 kHz").level == 20_000


@pytest.mark.parametrize(
    ("part", "made", "normally"),
    [
        ("engine stop switch", "run", "closed"), ("engine stop switch", "stop", "open"),
        ("clutch switch", "pulled", "open"), ("clutch switch", "released", "closed"),
        ("side stand switch", "up", "closed"), ("side stand switch", "down", "open"),
        ("neutral switch", "neutral", "open"), ("neutral switch", "gear", "closed"),
        ("oil pressure switch", "no pressure", "closed"), ("oil pressure switch", "pressure", "open"),
    ],
)  # fmt: skip
def test_where_it_is_made_says_how_it_rests(part: str, made: str, normally: str) -> None:
    """At rest the engine stop stands at run, the clutch is released, the stand up, a gear in, the engine off."""
    switch = _with(SwitchRow(part, f"made: {made}"))
    assert (switch.made, switch.normally) == (made, normally)


def test_an_indicator_switch_is_two_inputs() -> None:
    """Left and right have a wire and a port each, and stay where they are put."""
    loads = [f"{{part: {side}, at: tail, lamp: PY21W}}" for side in SIDES]
    bike = unasked(small_bike(loads, ["{part: turn switch, at: left handlebar}"]), "bike.yaml")
    assert [(one.name, one.part, one.operates, one.action) for one in bike.inputs] == [
        ("indicator switch left", "left indicator button", ("left indicator",), "latch"),
        ("indicator switch right", "right indicator button", ("right indicator",), "latch"),
    ]


# --- what belongs on no unit

REFUSED = {
    "starter motor": (), "ABS": (), "airbag": (), "regulator": ("rectifier",), "alternator": ("stator", "field"),
    "battery charger lead": ("charging lead",), "ignition pick-up": ("trigger coil",),
}  # fmt: skip
FALLS_AWAY = ("flasher relay", "side stand relay", "start cut relay")


def test_every_other_word_has_its_row() -> None:
    """The rows here and the catalogue refuse the same, and let the same fall away."""
    assert {*REFUSED, *FALLS_AWAY} == {word.name for word in OTHER_WORDS}


@pytest.mark.parametrize("said", [word for name, also in REFUSED.items() for word in (name, *also)])
def test_what_keeps_its_own_wiring_is_refused(said: str) -> None:
    """As a load and as an input, with the reason."""
    as_load = small_bike([f"{{name: it, part: {said}, at: engine, current: 2 A}}"], (), OWN_SPARK)
    as_input = small_bike(
        ["{part: socket, at: tail, current: 2 A}"], [f"{{name: it, part: {said}, at: engine}}"], OWN_SPARK
    )
    for text in (as_load, as_input):
        with pytest.raises(BadFile, match=r"leave it out: it .+|leave it out: its .+"):
            bike_from_text(text, "bike.yaml")


@pytest.mark.parametrize("said", FALLS_AWAY)
def test_what_the_unit_replaces_falls_away(said: str) -> None:
    """A relay whose work the unit does is no load, and is listed as what comes out."""
    loads = [f"{{part: {said}, at: engine, current: 0.2 A}}", "{part: socket, at: tail, current: 2 A}"]
    bike = bike_from_text(small_bike(loads, (), OWN_SPARK), "bike.yaml")
    assert [load.name for load in bike.loads] == ["socket"]
    assert [line for line in bike.as_read.falls_away if line.startswith(f"{said}: the unit ")]
