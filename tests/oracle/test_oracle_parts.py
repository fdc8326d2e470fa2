"""What the second program takes from a part, read off files in the short form.

Kinds, modes, who may share and how a switch earths: common practice, no source. When lamps and
tell-tales are lit: UN R53, from memory.
"""

from fractions import Fraction

import pytest

from .cases import states_on
from .circuits import alike, may_join
from .guards import needs
from .job import Job
from .profiles import read_unit
from .reading import read_bike
from .things import Bike, Load

BIKE = """
supply: {running: 14.0 V, battery: {at: battery}}
frame: {legs: [{between: [battery, head], length: 500 mm}], earth: [battery]}
places: [{name: seat, front: battery}]
later: []
loads: [LOADS]
inputs: [INPUTS]
"""
NO_PORTS = "{feed: {limit: 20 A}, outputs: []}"


def _bike(loads: str, inputs: str = "", more: str = "") -> Bike:
    """Return a bike with these loads and switches, apart by semicolons, each at the head."""
    return read_bike(BIKE.replace("LOADS", _listed(loads)).replace("INPUTS", _listed(inputs)) + more)


def _listed(items: str) -> str:
    return ", ".join(f"{{at: head, {item}}}" for item in items.split("; ") if item)


def _load(bike: Bike, name: str) -> Load:
    return next(load for load in bike.loads if load.name == name)


@pytest.mark.parametrize(
    ("part", "kind", "mode", "states"),
    [
        ("part: tail lamp, lamp: P21/5W tail", "filament", "steady", {"key on", "day", "night"}),
        ("part: brake lamp, lamp: P21W", "filament", "hold", {"key on", "day", "night"}),
        ("part: left indicator, power: 2 W, kind: led", "led", "flash", {"key on", "day", "night"}),
        ("part: daytime lamp, power: 9 W", "led", "steady", {"day"}),
        ("part: horn, current: 4 A", "horn", "hold", {"key on", "day", "night"}),
        ("part: ignition box, current: 2 A", "electronics", "steady", {"key on", "cranking", "day", "night"}),
        ("part: fuel pump, current: 4 A", "motor", "engine-run", {"cranking", "day", "night"}),
        ("part: starter solenoid, current: 2 A", "relay coil", "start", {"cranking"}),
        ("part: fan, current: 4 A", "motor", "steady", {"run-on", "key on", "day", "night"}),
        ("part: heated grips, power: 36 W", "heater", "steady", {"day", "night"}),
        ("part: socket, current: 2 A", "electronics", "steady", {"key on", "day", "night"}),
    ],
)
def test_a_part_brings_kind_mode_and_when(part: str, kind: str, mode: str, states: set[str]) -> None:
    """A part and a figure are enough."""
    bike = _bike(part)
    (load,) = bike.loads
    assert (load.name, load.kind, *load.modes) == (load.part, kind, mode)
    assert states_on(bike)[load.name] == states


def test_an_alarm_is_on_in_every_state() -> None:
    assert len(states_on(_bike("part: alarm, current: 0.1 A"))["alarm"]) == 7


H4 = "part: dipped beam, lamp: H4 dipped; part: main beam, lamp: H4 main"


@pytest.mark.parametrize(
    ("switches", "dipped", "full"),
    [
        ("part: dip switch", "steady", "steady"),
        ("part: flash button", "steady", "hold"),
        ("part: flash button; part: dip switch", "steady", "steady"),
        ("name: b, action: push, operates: main beam; part: flash button", "steady", "toggle"),
        ("name: b, action: push, operates: [main beam, dipped beam]", "toggle", "toggle"),
        ("name: b, action: push, operates: [main beam, dipped beam]; part: light switch", "steady", "toggle"),
    ],
)
def test_beams_go_by_their_switches(switches: str, dipped: str, full: str) -> None:
    """A push button turns a beam on and off again, unless a latch works it; a flash button alone holds it."""
    bike = _bike(H4, switches)
    assert [load.modes for load in bike.loads] == [{dipped}, {full}]


@pytest.mark.parametrize(
    ("dipped", "off"),
    [
        ("lamp: H4 dipped", True),
        ("lamp: H7", False),
        ("power: 30 W, kind: led, bulb: front", True),
        ("power: 30 W, kind: led", False),
    ],
)
def test_one_filament_of_two_is_off_with_the_other(dipped: str, *, off: bool) -> None:
    """In a bulb with two filaments the dipped beam is off while the main beam is on or flashed."""
    bike = _bike(f"part: dipped beam, {dipped}; part: main beam, power: 30 W, kind: led, bulb: front")
    assert _load(bike, "dipped beam").barred == ({"main beam", "flashing the main beam"} if off else set())


def test_tell_tales_are_lit_with_what_they_tell() -> None:
    """One of each side; the main beam."""
    sides = "; ".join(
        f"part: {side} indicator, name: {side} {n}, lamp: P21W" for n in (1, 2) for side in ("right", "left")
    )
    bike = _bike(f"{sides}; {H4}; part: indicator tell-tale, power: 1 W; part: main beam tell-tale, power: 1 W")
    assert _load(bike, "indicator tell-tale").feeders == {"left 1", "right 1"}
    assert _load(bike, "main beam tell-tale").feeders == {"main beam"}


def test_inrush_of_a_pull_in_and_of_a_discharge_lamp() -> None:
    """A solenoid pulls in for 200 ms; a discharge lamp takes four times its current for five seconds."""
    bike = _bike("part: starter solenoid, current: 2 A, pull_in: 30 A; part: dipped beam, power: 35 W, kind: discharge")
    assert [(load.inrush_ma, load.inrush_ms) for load in bike.loads] == [
        (Fraction(30000), Fraction(200)),
        (Fraction(10000), Fraction(5000)),
    ]


@pytest.mark.parametrize(
    ("one", "other", "may"),
    [
        ("part: ignition coil, current: 3 A", "part: ignition box, current: 1 A", True),
        ("part: ignition, kind: ignition coil, current: 3 A", "part: ignition coil, current: 3 A", True),
        ("part: ignition box, current: 1 A", "part: dash, share: ignition, current: 1 A", False),
        ("part: engine controller, current: 1 A", "part: injectors, current: 1 A", True),
        ("part: brake lamp, lamp: P21W", "part: brake lamp, lamp: P21W", False),
        ("part: dipped beam, lamp: H7, share: f", "part: main beam, lamp: H1, when: [day, night], share: f", False),
        ("part: tail lamp, lamp: W5W", "part: plate lamp, lamp: W5W", True),
    ],
)
def test_rules_keep_parts_apart(one: str, other: str, *, may: bool) -> None:
    """A brake lamp is alone, coils and boxes are among themselves, and a beam is never with the other."""
    bike = _bike(f"{one}, name: one; {other}, name: other")
    assert alike(bike, *bike.loads) is may


def test_groups_by_part_and_apart_by_word() -> None:
    bike = _bike("part: tail lamp, lamp: W5W; part: plate lamp, lamp: W5W, share: none; part: horn, current: 4 A")
    assert [load.share for load in bike.loads] == ["position lamps", "", ""]


def test_switches_work_every_load_of_their_part() -> None:
    """An indicator switch is two, a relay's coil is worked with its load, and what falls away is not there."""
    loads = "part: left indicator, name: l, lamp: P21W; part: right indicator, name: r, lamp: P21W"
    more = "part: horn, current: 4 A, fed: relay; part: flasher relay"
    bike = _bike(f"{loads}; {more}", "part: indicator switch; part: horn button; part: hazard switch")
    worked = {switch.name: switch.operates for switch in bike.switches}
    assert worked["indicator switch left"] == {"l"}
    assert worked["indicator switch right"] == {"r"}
    assert worked["hazard switch"] == {"l", "r"}
    assert worked["horn button"] == {"horn", "horn relay"}
    assert [load.name for load in bike.loads] == ["l", "r", "horn", "horn relay"]


@pytest.mark.parametrize(
    ("item", "framed", "straight"),
    [
        ("part: neutral switch", True, True),
        ("name: n, signal: earth, tells: neutral", True, True),
        ("name: n, signal: earth, tells: [neutral, clutch]", False, True),  # two in line: the lever's has a wire
        ("part: neutral switch, return: wire", False, True),
        ("part: temperature switch, operates: fan", True, False),
        ("part: side stand switch, made: up", False, True),
        ("part: key switch", False, True),
        ("part: fall sensor, goes_to: unit", False, True),
        ("part: starter button", False, True),
        ("name: s, signal: earth, operates: starter solenoid", False, True),
        ("part: horn button", False, False),
    ],
)
def test_how_a_switch_earths_and_whether_it_goes_straight(item: str, *, framed: bool, straight: bool) -> None:
    """A switch with one terminal earths through its body; safety goes by a wire of its own."""
    loads = "part: fan, current: 4 A; part: starter solenoid, current: 2 A, fed: relay; part: horn, current: 4 A"
    (switch,) = _bike(loads, item).switches
    assert (switch.framed, switch.straight) == (framed, straight)


@pytest.mark.parametrize(("item", "length"), [("part: neutral switch", 0), ("part: clutch switch, made: pulled", 500)])
def test_a_switch_that_earths_by_its_body_has_no_return(item: str, length: int) -> None:
    """The clutch's switch has 500 mm of return to the battery, the neutral switch none."""
    job = Job(_bike("", item), read_unit(NO_PORTS))
    assert job.fixed_um == length * 1000


def test_a_fall_sensor_of_the_controller_is_no_input() -> None:
    assert _bike("", "part: fall sensor, goes_to: controller").switches == ()


@pytest.mark.parametrize(
    ("item", "volts", "hertz"),
    [
        ("from: tacho", 12, 400),
        ("from: coil", 400, 400),
        ("from: stator", 80, 400),
        ("from: coil, level: 300 V", 300, 400),
    ],
)
def test_an_engine_speed_signal_by_where_it_is_taken(item: str, volts: int, hertz: int) -> None:
    (signal,) = _bike("", f"part: engine speed signal, {item}").switches
    assert (signal.signal, *signal.tells) == ("pulse", "engine turning")
    assert (signal.level_mv, signal.rate_hz) == (Fraction(1000 * volts), Fraction(hertz))


@pytest.mark.parametrize(("word", "mode"), [("unit", "engine-run"), ("controller", "hold")])
def test_who_runs_the_pump(word: str, mode: str) -> None:
    """A controller's request holds the pump on."""
    bike = _bike("part: fuel pump, current: 4 A", "part: pump request", more=f"pump_by: {word}\n")
    assert [load.modes for load in bike.loads] == [{mode}]


def test_both_brakes_may_share_an_input() -> None:
    """Either tells of a brake, and lights the one lamp."""
    switches = "; ".join(f"part: {which} brake switch, share: brakes" for which in ("front", "rear"))
    assert may_join(*_bike("part: brake lamp, lamp: P21W", switches).switches)


def test_clutch_and_stand_share_no_input() -> None:
    bike = _bike("", "part: clutch switch, made: pulled, share: s; part: side stand switch, made: down, share: s")
    assert not may_join(*bike.switches)


@pytest.mark.parametrize(
    ("switches", "more", "start", "run"),
    [
        ("neutral; clutch; side stand", "", {"neutral", "clutch", "side stand"}, {"side stand", "neutral"}),
        ("neutral", "", {"neutral"}, set()),
        ("clutch; side stand", "", {"clutch", "side stand"}, {"side stand"}),
        ("neutral; clutch; side stand", "stand: none", {"neutral", "clutch"}, set()),
        ("neutral; clutch", "clutch: automatic", {"neutral"}, set()),
        ("front brake", "clutch: automatic", {"front brake or rear brake"}, set()),
        ("key", "", {"neutral or clutch"}, set()),
    ],
)
def test_what_starting_and_running_ask_for(switches: str, more: str, start: set[str], run: set[str]) -> None:
    """Each of neutral, clutch and stand for which there is a switch."""
    told = "; ".join(f"name: {word} s, signal: earth, tells: {word}" for word in switches.split("; "))
    bike = _bike(
        "part: starter solenoid, current: 2 A, fed: relay; part: ignition box, current: 1 A", told, f"{more}\n"
    )
    asked = {load.name: needs(bike, load) for load in bike.loads}
    assert asked["starter solenoid relay"] == {("start", word) for word in start}
    assert asked["ignition box"] == {("engine-stop", "engine stop")} | {("run", word) for word in run}
