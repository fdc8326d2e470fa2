"""Tiny bikes whose returns are dealt by hand beside each test: who comes back by which, and what it costs (mm, A).

4 mm2 carries 45 A and 509 mm of it are 3.1631 mohm at 85 C, so it serves up to 70 / 3.1631 = 22.13 A; 2.5 mm2 carries
35 A and 5.0992 mohm lose 70 mV at 13.727 A. 2 m of 4 mm2 are 12.4285 mohm: up to 5.632 A; of 10 mm2 4.795: 14.597 A.
"""

from collections.abc import Callable

import pytest

from . import brute, highs
from .job import Job
from .judge import Result
from .profiles import read_unit
from .reading import read_bike

Way = Callable[[str, str], Result]
BOTH = pytest.mark.parametrize("optimum", [brute.optimum, highs.optimum], ids=["brute", "highs"])

BIKE = """
supply: {running: 14.0 V, battery: {at: battery}}
frame: {legs: [{between: [battery, head], length: 2000 mm}], earth: [battery]}
places: [{name: seat, front: battery}]
later: []
reels: [0.5 mm2, 1 mm2, 2.5 mm2, 4 mm2, 6 mm2, 10 mm2]
inputs: []
loads:
"""
UNIT = "{feed: {limit: 60 A}, outputs: [{names: [a, b, c, d, e, f], limit: 25 A, peak: 300 A, trip: [20 A]}]}"


def returns(loads: str, more: str = "", bike: str = BIKE) -> list[list[str]]:
    """Return the loads of each return, sorted, by point and number."""
    made = bike + "".join(f"  - {{at: head, {load}}}\n" for load in loads.split("; ")) + more
    job = Job(read_bike(made), read_unit(UNIT))
    return [sorted(job.returns[key].names) for key in sorted(job.returns)]


def test_loads_fill_a_return_and_none_goes_back() -> None:
    """3 A and 2 A, then 3 A begin the next; the 0.5 A that the first had room for go with that."""
    loads = "name: a, current: 3 A, kind: motor; name: b, current: 2 A, kind: motor; "
    loads += "name: c, current: 3 A, kind: motor; name: d, current: 500 mA, kind: motor"
    assert returns(loads) == [["a", "b"], ["c", "d"]]


def test_what_leads_the_bike_comes_first_then_lamps_then_the_rest() -> None:
    """Each of 4 A has a return to itself; in order dash, then heater's turn after both lamps."""
    kinds = ("a, kind: heater", "b, kind: led", "c, part: dash", "d, kind: filament", "e, part: fan")
    assert returns("; ".join(f"name: {kind}, current: 4 A" for kind in kinds)) == [["c"], ["b"], ["d"], ["a"], ["e"]]


def test_a_load_with_a_part_is_no_lamp_for_its_kind() -> None:
    """A socket of kind led is none of the lamps, a horn that says filament neither; a tell-tale is."""
    kinds = ("a, part: socket, kind: led", "b, part: horn, kind: filament", "c, part: tail lamp", "d, kind: discharge")
    assert returns("; ".join(f"name: {kind}, current: 4 A" for kind in kinds)) == [["c"], ["d"], ["a"], ["b"]]


def test_what_needs_a_thicker_wire_has_a_return_of_its_own() -> None:
    """6 A lose more than 70 mV in 2 m of 4 mm2; what comes after does not join it, nor what came before."""
    loads = "name: a, current: 1 A; name: b, current: 6 A; name: c, current: 1 A; name: d, current: 1 A"
    assert returns(loads) == [["a"], ["b"], ["c", "d"]]


def test_loads_that_are_never_on_together_are_not_added_up() -> None:
    """4 A by day, 4 A in the night, and 1 A always: 5 A."""
    loads = "name: a, current: 4 A, when: [day]; name: b, current: 4 A, when: [night]; name: c, current: 1 A"
    assert returns(loads) == [["a", "b", "c"]]


@pytest.mark.parametrize(("limit", "count"), [("2.5 mm2", 2), ("4 mm2", 1), ("6 mm2", 1)])
def test_how_thick_a_shared_return_may_be_can_be_changed(limit: str, count: int) -> None:
    """2.5 mm2 serve 70 / 20.0362 = 3.494 A over 2 m, so 2 A and 2 A only by two."""
    more = f"assume: {{thickest return: {limit}}}\n"
    assert len(returns("name: a, current: 2 A; name: b, current: 2 A", more)) == count


def test_the_filaments_of_a_bulb_stay_together() -> None:
    """5.152 and 5.682 A of H4 at one point, the main one first after 1 A: together more than 4 mm2 serve.

    Two bulbs: the first words of either kind are one, the second ones the other.
    """
    beams = "lamp: H4 dipped, name: d1; lamp: H4 main, name: m1; lamp: H4 dipped, name: d2; lamp: H4 main, name: m2"
    assert returns(f"name: a, kind: led, current: 1 A; {beams}") == [["a"], ["d1", "m1"], ["d2", "m2"]]


def test_a_bulb_that_is_named_is_one() -> None:
    """Without the name 3 A of led join 2 A; of one bulb with another 3 A, they do not."""
    loads = "name: a, kind: led, current: 2 A; name: b, kind: led, current: 3 A{}; name: c, kind: led, current: 3 A{}"
    assert returns(loads.format("", "")) == [["a", "b"], ["c"]]
    assert returns(loads.format(", bulb: x", ", bulb: x")) == [["a"], ["b", "c"]]


def test_a_coil_comes_back_by_what_switches_it() -> None:
    """Coil of 4 A and box of 1 A are 5 A by one pin; a motor of 1 A finds no room beside them."""
    loads = "name: m, current: 1 A, kind: motor; name: b, part: ignition box, current: 1 A; "
    loads += "name: c, part: ignition coil, switched_by: ignition box, current: 4 A"
    assert returns(loads) == [["b", "c"], ["m"]]


@BOTH
def test_each_return_is_paid(optimum: Way) -> None:
    """Feed 300; three motors of 4 A with runs and returns of 2000 each, and a switch on the first: 12300 and its run.

    The loss: 25 - 4 A thrice at 50 mm.
    """
    loads = "".join(f"  - {{name: {name}, at: head, current: 4 A, kind: motor}}\n" for name in "abc")
    bike = (BIKE + loads).replace(
        "inputs: []", "inputs: [{name: button, at: head, signal: earth, operates: a, normally: open}]"
    )
    unit = UNIT.replace("]}]}", "]}], inputs: [{name: in 1, accepts: [earth]}]}")
    assert optimum(bike, unit).cost_um == (300 + 3 * 4000 + 2000 + 3 * 21 * 50) * 1000


@BOTH
@pytest.mark.parametrize(("opening", "fits"), [("9.43 mm", True), ("9.42 mm", False)])
def test_each_return_carries_the_trips_of_its_own_loads(optimum: Way, opening: str, *, fits: bool) -> None:
    """Two of 4 A, trip 20 A: four loaded wires, so 60 %. Runs 2.5 mm2 (21 A), returns 4 mm2 for the drop (27 A).

    Together they would come back by 24 A. 1.25 x sqrt(2 x 3^2 + 2 x 3.7^2) = 8.421 mm, and the sleeve.
    """
    loads = "".join(f"  - {{name: {name}, at: head, current: 4 A, kind: motor}}\n" for name in "ab")
    bike = (BIKE + loads).replace("2000 mm", f"2000 mm, opening: {opening}")
    assert optimum(bike, UNIT).feasible is fits


STARTED = BIKE.replace("earth: [battery]", "earth: [engine, battery]").replace(
    "length: 2000 mm}", "length: 2000 mm}, {between: [head, engine], length: 100 mm}"
)


def test_an_earth_point_where_the_starter_sits_takes_only_what_sits_there() -> None:
    """The head is nearer to the engine; with the starter there it takes the battery's point, the engine its own."""
    loads = "  - {name: lamp, at: head, current: 1 A}\n  - {name: fan, at: engine, current: 1 A}\n"
    plain = Job(read_bike(STARTED + loads), read_unit(UNIT))
    assert [plain.returns[point, 0].earth for point in ("head", "engine")] == ["engine", "engine"]
    said = STARTED.replace("supply: {", "supply: {starter: {draws: 120 A, at: engine}, ")
    started = Job(read_bike(said + loads), read_unit(UNIT))
    assert [started.returns[point, 0].earth for point in ("head", "engine")] == ["battery", "engine"]
    alone = Job(read_bike(said.replace("earth: [engine, battery]", "earth: [engine]") + loads), read_unit(UNIT))
    assert [alone.returns[point, 0].earth for point in ("head", "engine")] == ["engine", "engine"]
