"""What dashes show, by hand: points and wires, diodes and the way they point, returns, what is not wired, the bench.

The bike is made up, lengths are whole millimetres: tray - mid 300, mid - neck 500, neck - bars 200, tray - engine 400.
The unit sits at mid, the dash on the bars. What a dash needs by way of wires and diodes: common practice, no source.
"""

from functools import cache

import pytest

from laid_bikes import laid_random, laid_text
from outcomes import planned
from portloom.base.fuses import fuse_for
from portloom.documents.handover.bench_test import bench_test
from portloom.documents.warnings import unit_warnings
from portloom.documents.wiring.parts import diode_parts
from portloom.documents.wiring.pieces import wiring_of
from portloom.documents.wiring.wire import WireEnd, Wiring
from portloom.job.fixed import fed_drop
from portloom.job.laid import Laid
from slices import each_seed
from test_wiring import CHECKS

BIKE = """
bike: Harbour Trail trial
ignition: own
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame:
  legs:
    - {between: [tray, mid], length: 300 mm}
    - {between: [mid, neck], length: 500 mm}
    - {between: [neck, bars], length: 200 mm}
    - {between: [tray, engine], length: 400 mm}
  earth: [tray]
places: [{name: in the middle, front: mid}]
later: []
loads:
  - {part: dash, at: bars, current: 400 mA, shows: SHOWS}
  - {part: main beam, at: neck, lamp: H4 main}
  - {name: front left, part: left indicator, at: neck, power: 2 W, kind: led}
  - {name: rear left, part: left indicator, at: tray, power: 2 W, kind: led}
inputs:
  - {part: flash button, at: bars}
  - {part: left indicator button, at: bars}
  - {part: hazard switch, at: bars}
INPUTS
"""
UNIT = """
unit: trial way
feed: {limit: 40 A}
outputs: [{names: [out 1, out 2, out 3], limit: 10 A, peak: 90 A, switch_modes: [steady, flash, hold]}]
inputs:
  - {names: [in 1, in 2, in 3], accepts: earth}
  - {name: in 4, accepts: [earth, supply, pulse, coded]}
"""
NEUTRAL = "{part: neutral switch, at: engine}"
OIL = "{part: oil pressure switch, at: engine}"
HEAT = "{part: temperature switch, at: engine}"
BOX = "multiplexers: [{name: tray gatherer, at: [tray], ways: 5, takes: earth}]\n"


def bike(shows: str, *inputs: str) -> str:
    """Return the bike, with what its dash shows and more inputs."""
    return BIKE.replace("SHOWS", shows).replace("INPUTS", "\n".join(f"  - {line}" for line in inputs))


@cache
def laid(shows: str, *inputs: str, unit: str = UNIT, more: str = "") -> Laid:
    """Return the best plan."""
    return laid_text(bike(shows, *inputs) + more, unit)


def run_of(plan: Laid, name: str) -> float:
    """Return the run of the output that a load is on, or of the input that a switch is on, in millimetres."""
    wired = [
        *(one.run for one in plan.outputs if name in [load.name for load in one.circuit.members]),
        *(one.run for one in plan.inputs if name in [switch.name for switch in one.circuit.switches]),
    ]
    assert len(wired) == 1
    return wired[0].length / 1000


def own_wires(plan: Laid, name: str) -> dict[str, float]:
    """Return the wires that only the dash reads, each with its run in millimetres."""
    return {
        wire.kind: wire.run.length / 1000
        for wire in plan.site.fixed_wires
        if wire.kind.startswith("dash") and wire.name == name
    }


def diodes(wiring: Wiring) -> set[tuple[str, str]]:
    """Return where there are diodes, and where the ring is: towards the wire or towards what stands there."""
    ends = [end for wire in wiring.wires for end in wire.ends if end.diode]
    return {(_who(end), "wire" if end.leaves else "itself") for end in ends}


def _who(end: WireEnd) -> str:
    return f"{end.name} {end.terminal}".strip()


# --- loads


def test_a_load_that_is_shown_has_the_dash_as_a_further_point() -> None:
    """The main beam's wire goes on from the neck to the bars: 500 + 200 mm; nothing more is drawn."""
    alone, shown = laid("oil pressure switch", OIL), laid("main beam")
    assert [run_of(plan, "main beam") for plan in (alone, shown)] == [500, 700]
    currents = [
        next(one.circuit.current for one in plan.outputs if one.circuit.members[0].name == "main beam")
        for plan in (alone, shown)
    ]
    assert currents[0] == currents[1]


@pytest.mark.parametrize("word", ["left indicators", "left indicator", "front left", "Left blinker"])
def test_a_group_stands_for_its_first_load(word: str) -> None:
    """Its group, its part in other words, or its own name: the dash hangs on the front left indicator's circuit."""
    plan = laid(word)
    assert plan.site.job.bike.loads[0].shows == (("front left",),)
    assert {load.name: [point.at for point in load.shown_by] for load in plan.site.job.loads.on_unit} == {
        "dash": [], "main beam": [], "front left": ["bars"], "rear left": [],
    }  # fmt: skip


def test_a_load_has_a_diode_at_the_dash_that_points_to_it() -> None:
    """Current may pass from the circuit to the dash's lamp, never back."""
    plan = laid("[main beam, left indicators]")
    wiring = wiring_of(plan)
    assert diodes(wiring) == {("dash for main beam", "itself"), ("dash for front left", "itself")}
    parts = {(part.what, part.note) for part in diode_parts(plan, wiring)}
    ports = {one.circuit.members[0].name: one.output.name for one in plan.outputs}
    assert {note for _, note in parts} == {f"from {ports[name]} to dash" for name in ("main beam", "front left")}
    assert all(what.endswith("ring towards dash") for what, _ in parts)


def test_a_tail_to_the_dash_is_protected_like_its_circuit() -> None:
    """The wire on to the dash is of the circuit's size, and its trip opens before it is too hot."""
    wires = wiring_of(laid("main beam")).wires
    to_dash = next(wire for wire in wires if wire.end.kind == "dash")
    same = [wire for wire in wires if wire.circuit == to_dash.circuit]
    assert {wire.size for wire in same} == {to_dash.size}
    assert {wire.protection for wire in same} == {"trip 10 A"}


@pytest.mark.parametrize("by", ["relay", "fuse, own_switch: tray"])
def test_a_load_that_is_fed_past_the_unit_has_the_dash_on_its_feed(by: str) -> None:
    """Tray - mid - neck is 800 mm, the dash on the bars 200 mm more, which changes no drop; its diode points to it."""
    text = bike("main beam").replace("lamp: H4 main}", f"lamp: H4 main, fed: {by}}}")
    plan, bare = laid_text(text, UNIT), laid_text(text.replace("shows: main beam", "shows: front left"), UNIT)
    feeds = [one.site.fixed_of("fed load")[0] for one in (plan, bare)]
    assert [wire.run.length / 1000 for wire in feeds] == [1000, 800]
    fuse = fuse_for(plan.site.job.loads.fed[0].consumer.current)
    assert fuse is not None
    reel = plan.site.job.reels[-1]
    assert fed_drop(plan.site, feeds[0], reel, fuse) == fed_drop(bare.site, feeds[1], reel, fuse)
    assert diodes(wiring_of(plan)) == {("dash for main beam", "itself")}
    line = next(line for line in planned(text, UNIT).shown if line.shown == "main beam")
    assert line.by == "the feed of main beam"


# --- what the unit reads too


def test_a_switch_that_the_unit_reads_has_the_dash_on_its_wire() -> None:
    """Mid - tray - engine is 700 mm; the dash on the bars adds mid - neck - bars, 700 mm."""
    assert run_of(laid("main beam", NEUTRAL), "neutral switch") == 700
    plan = laid("neutral switch", NEUTRAL)
    assert run_of(plan, "neutral switch") == 1400
    assert own_wires(plan, "neutral switch") == {}


def test_a_switch_to_earth_has_diodes_that_point_to_it_at_dash_and_unit() -> None:
    """Both lamp and input let current out to the switch; neither feeds the other."""
    plan = laid("neutral switch", NEUTRAL)
    port = next(one.port.name for one in plan.inputs if one.circuit.switches[0].name == "neutral switch")
    assert diodes(wiring_of(plan)) == {("dash for neutral switch", "wire"), (port, "wire")}
    assert any("must take 0.7 V for made" in line for line in unit_warnings(plan))


def test_a_switch_to_the_supply_has_diodes_that_point_away_from_it() -> None:
    """The switch feeds lamp and input, and nothing comes back."""
    plan = laid("gear", "{name: gear, at: engine, signal: supply, tells: neutral}")
    assert diodes(wiring_of(plan)) == {("dash for gear", "itself"), ("in 4", "itself")}
    assert not any("0.7 V" in line for line in unit_warnings(plan))


@pytest.mark.parametrize(("up_to", "at_unit"), [("16 V", False), ("14 V", False), ("12 V", True)])
def test_an_input_that_takes_the_lamps_voltage_needs_no_diode(up_to: str, *, at_unit: bool) -> None:
    """The lamp has the running voltage, 14 V here."""
    unit = UNIT.replace("accepts: earth}", f"accepts: earth, up_to: {up_to}}}").replace(
        "accepts: [earth, ", "accepts: ["
    )
    found = diodes(wiring_of(laid("neutral switch", NEUTRAL, unit=unit.replace("in 3]", "in 3, in 5]"))))
    assert ("dash for neutral switch", "wire") in found
    assert (len(found) == 2) is at_unit


def test_a_pulse_is_tapped_without_a_diode() -> None:
    """The tacho has its point on the engine speed signal's wire: mid - tray - engine, mid - bars."""
    plan = laid("engine speed signal", "{part: engine speed signal, at: engine, from: tacho}")
    assert run_of(plan, "engine speed signal") == 1400
    assert diodes(wiring_of(plan)) == set()


def test_a_switch_on_a_multiplexer_has_the_dash_on_its_way() -> None:
    """One switch more than there are inputs: what goes through the box at the tray, shown, has both diodes."""
    seat = "{name: seat button, at: tray, operates: main beam}"
    stand = "{name: stand button, at: engine, operates: main beam}"
    plan = laid("[seat button, stand button]", seat, stand, more=BOX)
    through = {wired.switch.name: wired.run.length / 1000 for wired in plan.switches}
    assert {"seat button": 1000, "stand button": 1400}.items() <= through.items()
    box = {f"tray gatherer way {way}" for way, wired in enumerate(plan.switches, 1) if wired.switch.shown_by}
    dash = {"dash for seat button", "dash for stand button"}
    assert diodes(wiring_of(plan)) == {(name, "wire") for name in box | dash}


# --- what only a dash reads


def test_what_only_a_dash_reads_takes_no_port() -> None:
    """Four inputs, three buttons and a neutral switch: the oil pressure switch and the sender have none to go on."""
    plan = laid("[oil pressure switch, fuel level sender]", NEUTRAL, OIL, "{part: fuel level sender, at: neck}")
    read = {switch.name for one in plan.inputs for switch in one.circuit.switches}
    assert read == {"flash button", "left indicator button", "hazard switch", "neutral switch"}


def test_a_contact_that_only_a_dash_reads_has_one_wire() -> None:
    """Bars - neck - mid - tray - engine: 1400 mm; no diode, and no return where it earths through its body."""
    plan = laid("oil pressure switch", OIL)
    assert own_wires(plan, "oil pressure switch") == {"dash signal": 1400}
    assert diodes(wiring_of(plan)) == set()
    assert "engine" not in {wire.name for wire in plan.site.fixed_of("return")}


def test_a_contact_with_an_earth_wire_joins_the_return_of_its_point() -> None:
    """A switch that earths by a wire does so like any other, never by the dash."""
    plan = laid("warmth", "{name: warmth, at: engine}")
    assert own_wires(plan, "warmth") == {"dash signal": 1400}
    assert "engine" in {wire.name for wire in plan.site.fixed_of("return")}


@pytest.mark.parametrize(
    ("sensor", "wires"),
    [
        ("{name: it, part: fuel level sender, at: neck}", {"dash signal": 200, "dash return": 200}),
        ("{name: it, part: fuel level sender, at: neck, wires: 1}", {"dash signal": 200}),
        ("{name: it, part: fuel level sender, at: neck, return: frame}", {"dash signal": 200}),
        ("{name: it, part: speed sensor, at: tray, wires: 2}", {"dash signal": 1000, "dash return": 1000}),
        (
            "{name: it, part: speed sensor, at: tray, wires: 3}",
            {"dash signal": 1000, "dash return": 1000, "dash supply": 1000},
        ),
    ],
)
def test_a_sensor_has_its_return_and_third_wire_at_the_dash(sensor: str, wires: dict[str, float]) -> None:
    """Each along the shortest way, each counted; never on a joint return."""
    plan = laid("it", sensor)
    assert own_wires(plan, "it") == wires
    bare = planned(bike("main beam"), UNIT)
    shown = planned(bike("[main beam, it]", sensor), UNIT)
    assert (shown.wire_run - bare.wire_run) / 1000 == sum(wires.values())
    ends = {(wire.kind, wire.start.kind) for wire in wiring_of(plan).wires if "it" in (wire.start.name, wire.end.name)}
    assert ends == {(kind, "dash") for kind in wires}


def test_a_second_dash_is_one_more_point_of_the_same_wire() -> None:
    """A lamp at the tray shows the sender as well: bars - neck 200 mm, neck - mid - tray 800 mm; one return."""
    second = "{name: warning lamp, at: tray, power: 1 W, kind: led, shows: fuel level sender}"
    text = bike("fuel level sender", "{part: fuel level sender, at: neck}").replace(
        "inputs:", f"  - {second}\ninputs:", 1
    )
    plan = laid_text(text, UNIT.replace("out 3]", "out 3, out 4]"))
    assert own_wires(plan, "fuel level sender") == {"dash signal": 1000, "dash return": 200}


# --- two on one lamp


def test_two_on_one_lamp_that_nothing_else_reads_need_no_diode() -> None:
    """Oil pressure and temperature switch light one lamp, each by its own wire."""
    plan = laid("[[oil pressure switch, temperature switch]]", OIL, HEAT)
    assert own_wires(plan, "oil pressure switch") == own_wires(plan, "temperature switch") == {"dash signal": 1400}
    assert diodes(wiring_of(plan)) == set()


def test_two_on_one_lamp_of_which_the_unit_reads_one_have_a_diode_each() -> None:
    """Else the oil pressure switch would tell the unit 'neutral'."""
    plan = laid("[[oil pressure switch, neutral switch]]", OIL, NEUTRAL)
    port = next(one.port.name for one in plan.inputs if one.circuit.switches[0].name == "neutral switch")
    wanted = {"dash for oil pressure switch", "dash for neutral switch", port}
    assert diodes(wiring_of(plan)) == {(name, "wire") for name in wanted}


def test_two_loads_on_one_lamp_have_a_diode_each() -> None:
    """One lamp for two circuits: neither feeds the other."""
    assert diodes(wiring_of(laid("[[main beam, left indicators]]"))) == {
        ("dash for main beam", "itself"), ("dash for front left", "itself"),
    }  # fmt: skip


# --- what nothing reads


def test_a_switch_that_nothing_reads_is_not_wired() -> None:
    """The temperature switch takes neither port nor wire, and is noted; lost oil pressure warns."""
    plan = planned(bike("main beam", HEAT, OIL), UNIT)
    assert plan.wire_run == planned(bike("main beam"), UNIT).wire_run
    note = "not wired, for nothing reads it: temperature switch and oil pressure switch"
    assert any(line.startswith(note) for line in plan.assumed)
    assert any(line.startswith("oil pressure switch is not wired") for line in plan.warnings)
    names = {end.name for wire in wiring_of(laid("main beam", HEAT, OIL)).wires for end in wire.ends}
    assert not {"temperature switch", "oil pressure switch"} & names


def test_oil_pressure_that_is_shown_does_not_warn() -> None:
    """A dash that shows it is what warns."""
    warned = planned(bike("oil pressure switch", OIL), UNIT).warnings
    assert not any(line.startswith("oil pressure switch") for line in warned)


def test_a_plain_lamp_has_no_terminal_for_what_it_shows() -> None:
    """An LED that is fed and earthed by two ends can't be lit by a switch as well; a dash can."""
    lamp = "{name: oil lamp, at: bars, power: 1 W, kind: led, shows: oil pressure switch}"
    text = bike("main beam", OIL).replace("inputs:", f"  - {lamp}\ninputs:", 1)
    warned = planned(text, UNIT.replace("out 3]", "out 3, out 4]")).warnings
    assert [line.split(" is fed")[0] for line in warned if "a plain lamp has none" in line] == ["oil lamp"]


# --- on the bench


def test_the_bench_looks_at_all_that_a_dash_shows() -> None:
    """Each once; a sender's own step is between the dash's two terminals for it, not to the battery."""
    sensors = (OIL, NEUTRAL, "{part: fuel level sender, at: neck}")
    shows = "[main beam, neutral switch, oil pressure switch, fuel level sender]"
    steps = {step.title: step for step in bench_test(laid(shows, *sensors)).steps}
    for name in ("main beam", "neutral switch", "oil pressure switch", "fuel level sender"):
        assert f"dash shows {name}" in steps
    assert "'no pressure'" in steps["dash shows oil pressure switch"].expect
    assert "From dash for fuel level sender to dash - for fuel level sender" in steps["fuel level sender"].do
    assert any(title.endswith("reads neutral switch") and "0.50 V to 0.90 V" in steps[title].expect for title in steps)


@each_seed(range(1000, 1003), range(1003, 1012))
def test_lists_of_random_bikes_with_dashes_are_whole(seed: int) -> None:
    """Wires cover their runs, join their ends and reach all that is there, as on any bike."""
    plan = laid_random("shown", seed)
    if plan is not None:
        for check in CHECKS:
            check(plan, wiring_of(plan))
