"""Two units instead of one: sums by hand, who is wired where, what the check tells, and what holds of any bike.

The bikes are made up, all lengths whole millimetres.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import islice

import pytest

import portloom
from oracle.random_bikes import random_case
from outcomes import EXAMPLES, PROFILES
from portloom.base.bike import Bike
from portloom.base.clock import Clock
from portloom.base.quantities import Micrometres, MilliAmps
from portloom.base.unit import Unit
from portloom.documents.document import Plan
from portloom.inputs.files import unit_from_text
from portloom.job.assignment import Assignment, Seat
from portloom.job.job import Job
from portloom.planning.plan import NothingFits, Planned, Unknown, plan
from portloom.rules.book import RULES
from portloom.rules.two_units import OnePlace
from portloom.search.pairs.search import best_pair
from portloom.verify.judge import check
from slices import each_seed, first_of, of_trials
from unasked import bike_from_text

BIKE = """
bike: long trial
ignition: own
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame:
  legs:
    - {name: backbone, between: [tray, neck], length: 1000 mm}
    - {name: loop, between: [tray, tail], length: 500 mm}
  earth: [neck, tail]
places: [{name: at the neck, front: neck}, {name: at the tail, front: tail}]
later: []
loads:
%s
inputs:
%s
"""
LOADS = """
  - {name: lamp, at: neck, power: 14 W, kind: led}
  - {name: marker, at: tail, power: 14 W, kind: led}
"""
SWITCHES = """
  - {name: lamp switch, at: neck, signal: earth, operates: lamp}
  - {name: marker switch, at: tail, signal: earth, operates: marker}
"""
UNIT = """
unit: trial way
feed: {limit: 40 A}
outputs: [{names: [out 1, out 2, out 3], limit: 5 A, peak: 40 A, trip: [2 A], switch_modes: [steady, flash]}]
inputs: [{names: [in 1, in 2, in 3, in 4, in 5], accepts: earth}]
"""


def paired(bike: str, unit: str = UNIT, other: str = UNIT) -> Plan:
    """Return the best plan of two units, which must be there and proven."""
    answer = plan(bike_from_text(bike, "bike"), unit_from_text(unit, "unit"), unit_from_text(other, "other"))
    assert isinstance(answer, Planned), answer
    assert answer.plan.proven
    return answer.plan


def switches(found: Plan) -> list[list[str]]:
    """Return the switches on each unit."""
    return [[name for line in unit.inputs for name in line.switches] for unit in found.units]


def loads(found: Plan) -> list[list[str]]:
    """Return the loads on each unit."""
    return [[name for line in unit.outputs for name in line.loads] for unit in found.units]


# --- sums by hand


def test_a_unit_at_each_end() -> None:
    """Feeds of 1000 and 500 mm, all else is there; 2 x 4 A at 50 mm and 2 x flashing at 100 mm are spare."""
    found = paired(BIKE % (LOADS, SWITCHES))
    assert loads(found) == [["lamp"], ["marker"]]
    assert switches(found) == [["lamp switch"], ["marker switch"]]
    assert (found.wire_run, found.spare_port_loss) == (1_500_000, 400_000 + 200_000)
    assert found.cost == found.bound == 2_100_000
    assert [unit.place for unit in found.units] == ["at the neck", "at the tail"]


def test_each_main_fuse_is_the_smallest_that_will_do() -> None:
    """1.25 x 1 A ask for 2 A, which is no more than the trip of 2 A: 3 A each; 1 A flows in each."""
    found = paired(BIKE % (LOADS, SWITCHES))
    assert [unit.feed.main_fuse for unit in found.units] == [3000, 3000]
    assert [unit.feed.worst for unit in found.units] == [1000, 1000]
    # on 1 m and 0.5 m of 0.5 mm2 (39 mohm a metre, 319.5 / 254.5 at 85 C) and on a fuse that loses 0.1 V at 3 A
    for unit, metres in zip(found.units, (1.0, 0.5), strict=True):
        assert float(unit.feed.drop) / 1e6 == pytest.approx(39e-3 * metres * 319.5 / 254.5 + 0.1 / 3, abs=1e-9)


def test_copper_of_both_feeds() -> None:
    """0.5 mm2 at 8.89 g a cm3 (IEC 60028), each wire with 10 % and with what its ends ask for (common practice).

    Each feed has 300 mm to its fuse, and 300 mm beyond the run on from it; each unit an earth wire of 1.5 mm2 (common
    practice) as far as the battery, with 300 mm; lamp, marker and their switches sit at a unit and at an earth point,
    with 230 mm to either.
    """
    found = paired(BIKE % (LOADS, SWITCHES))
    feeds, earths, others = 2 * 300 + (1100 + 300) + (550 + 300), (1100 + 300) + (550 + 300), 4 * 2 * 230
    assert found.copper_mg == pytest.approx(8.89 * (0.5 * (feeds + others) + 1.5 * earths), abs=1)


def test_while_cranking_all_that_the_bike_draws_counts() -> None:
    """Both LEDs draw 14 / 9 A at 9 V, 3.112 A together, more than the 2.4 A that a fuse of 3 A can carry continuously.

    With 0.15 V on the feed's wire and a fuse of 3 A that leaves 8.746 V, with one of 4 A 8.772 V; 8.76 V are wanted.
    """
    cranked = LOADS.replace("kind: led", "kind: led, when: [cranking, key on, day, night]")
    wary = UNIT.replace("limit: 40 A", "limit: 40 A, lowest: 8.76 V")
    found = paired(BIKE % (cranked, SWITCHES), wary, wary)
    assert [unit.feed.main_fuse for unit in found.units] == [4000, 4000]
    assert 9 - 0.15 - 3.112 * 0.1 / 3 < 8.76 <= 9 - 0.15 - 3.112 * 0.1 / 4
    assert 9 - 0.15 - 2.4 * 0.1 / 3 > 8.76


def test_a_switch_of_loads_on_both_is_wired_to_both() -> None:
    """From the tray 1000 mm and 500 mm; wires in each leg: feed, switch, the unit's earth, and at the tail a return."""
    both = "  - {name: light switch, at: tray, signal: earth, operates: [lamp, marker]}"
    found = paired(BIKE % (LOADS, both))
    assert switches(found) == [["light switch"], ["light switch"]]
    assert found.wire_run == 1_500_000 + 1_500_000 + 500_000  # and its return, once
    assert [(leg.name, leg.wires) for leg in found.legs] == [("backbone", 3), ("loop", 4)]


def test_a_switch_that_nothing_asks_for_is_wired_to_the_nearer() -> None:
    """No load needs the clutch's switch at the tray: 500 mm to the tail, not 1000 mm to the neck."""
    clutch = "  - {name: clutch switch, at: tray, signal: earth, tells: clutch}"
    found = paired(BIKE % (LOADS, SWITCHES + clutch))
    assert switches(found) == [["lamp switch"], ["marker switch", "clutch switch"]]


INDICATORS = "\n".join(
    f"  - {{name: {end} {side}, part: {side} indicator, at: {at}, power: 14 W, kind: led, mode: flash}}"
    for side in ("left", "right")
    for end, at in (("front", "neck"), ("rear", "tail"))
)
TURN = "\n".join(
    f"  - {{name: {side} button, at: neck, signal: earth, operates: [front {side}, rear {side}]}}"
    for side in ("left", "right")
)


def test_indicators_keep_together() -> None:
    """Four on one unit, though two of them sit beside the other; with three outputs a unit they fit nowhere."""
    four = UNIT.replace("out 3]", "out 3, out 4]")
    found = paired(BIKE % (INDICATORS, TURN), four, four)
    assert sorted(len(names) for names in loads(found)) == [0, 4]
    bike, unit = bike_from_text(BIKE % (INDICATORS, TURN), "bike"), unit_from_text(UNIT, "unit")
    assert plan(bike, unit, unit) == NothingFits("long trial", ("trial way", "trial way"), ())


ENGINE = """
  - {name: coil, part: ignition, at: neck, power: 14 W, kind: ignition coil}
  - {name: pump, part: fuel pump, at: tail, power: 14 W, kind: motor}
"""
GUARDS = "\n".join(
    f"  - {{name: {told} switch, at: tail, signal: earth, tells: {told}}}"
    for told in ("engine stop", "side stand", "neutral", "engine turning")
)


def test_what_runs_the_engine_keeps_together() -> None:
    """Coil and pump on the unit at the tail, where the four switches are that they need."""
    unit = UNIT.replace("[steady, flash]", "[steady, flash, engine-run]")
    found = paired(BIKE % (LOADS + ENGINE, SWITCHES + GUARDS), unit, unit)
    assert [sorted(names) for names in loads(found)] == [["lamp"], ["coil", "marker", "pump"]]
    assert switches(found) == [
        ["lamp switch"],
        ["marker switch", "engine stop switch", "side stand switch", "neutral switch", "engine turning switch"],
    ]


def test_a_later_load_is_lost_only_if_neither_has_room() -> None:
    """One output of the second unit is free and is worth 2 m; with none free the 2 m are lost."""
    later = BIKE.replace("later: []", "later: [{name: socket, current: 1 A, kind: electronics}]") % (LOADS, SWITCHES)
    one = UNIT.replace("[out 1, out 2, out 3]", "[out 1]")
    two = UNIT.replace("[out 1, out 2, out 3]", "[out 1, out 2]")
    with_room = paired(later, one, two)
    assert [room.load for room in with_room.room_for] == ["socket"]
    without = paired(later, one, one)
    assert (without.room_for, without.no_room_for) == ((), ("socket",))
    assert without.cost - with_room.cost == 2_000_000


# --- answers that are no plan


def test_a_bike_of_one_place_is_refused() -> None:
    """One clear error, with what would be right."""
    one = (BIKE % (LOADS, SWITCHES)).replace(", {name: at the tail, front: tail}", "")
    unit = unit_from_text(UNIT, "unit")
    with pytest.raises(OnePlace, match="the bike has one place, 'at the neck'; list a second one under 'places'"):
        plan(bike_from_text(one, "bike"), unit, unit)


def test_a_limit_that_is_reached_is_not_called_impossible() -> None:
    """Nothing is known but what every plan costs: the feeds at least."""
    unit = unit_from_text(UNIT, "unit")
    answer = plan(bike_from_text(BIKE % (LOADS, SWITCHES), "bike"), unit, unit, time_limit=0)
    assert isinstance(answer, Unknown)
    assert 0 <= answer.bound <= 2_100_000


@first_of(("bike", "unit"), [("bare-single", "six-way"), ("harbour-trail", "eight-way")], 1)
def test_a_plan_is_the_same_each_time(bike: str, unit: str) -> None:
    """Threads settle nothing but which places are best."""
    bike, unit = (EXAMPLES / f"{bike}.yaml").read_text("utf-8"), (PROFILES / f"{unit}.yaml").read_text("utf-8")
    assert paired(bike, unit, unit) == paired(bike, unit, unit)


def test_the_library_takes_one_unit_or_two() -> None:
    """None, three, or two with a place for the only one are refused; two are planned by the very name of one."""
    bike, unit = bike_from_text(BIKE % (LOADS, SWITCHES), "bike"), unit_from_text(UNIT, "unit")
    answer = portloom.plan(bike, unit, unit)
    assert isinstance(answer, Planned)
    assert len(answer.plan.units) == 2
    with pytest.raises(ValueError, match="unpack"):
        _ = answer.plan.only
    for units in ((), (unit, unit, unit)):
        with pytest.raises(ValueError, match=f"on one unit or on two, not on {len(units)}"):
            portloom.plan(bike, *units)
    with pytest.raises(ValueError, match="two units sit at two places"):
        portloom.plan(bike, unit, unit, place="at the neck")


# --- the check


def found_pair() -> tuple[tuple[Job, Job], Assignment]:
    """Return the plan of the long trial with a switch for both lamps, unchecked."""
    both = "  - {name: light switch, at: tray, signal: earth, operates: [lamp, marker]}"
    bike, unit = bike_from_text(BIKE % (LOADS, both), "bike"), unit_from_text(UNIT, "unit")
    jobs = (Job(bike, unit), Job(bike, unit))
    found = best_pair(*jobs, RULES, Clock(None))
    assert isinstance(found, Assignment)
    return jobs, found


def seat(number: int, change: Callable[[Seat], Seat]) -> Callable[[Assignment], Assignment]:
    """Change what is on one unit."""

    def changed(found: Assignment) -> Assignment:
        one, other = found.seats
        return replace(found, seats=(change(one), other) if number == 0 else (one, change(other)))

    return changed


SPOILT: dict[str, tuple[str, Callable[[Assignment], Assignment]]] = {
    "a switch that a unit wants is not on it": ("cover", seat(0, lambda one: replace(one, inputs=()))),
    "a load is on neither": ("cover", seat(1, lambda one: replace(one, outputs=()))),
    "a fuse below a trip": ("main-fuse", seat(0, lambda one: replace(one, main_fuse=MilliAmps(2000)))),
    "a fuse that there is not": ("main-fuse", seat(0, lambda one: replace(one, main_fuse=MilliAmps(3100)))),
    "both at one place": ("cover", seat(1, lambda one: replace(one, place="at the neck"))),
    "one feed": ("cover", lambda found: replace(found, fixed_wires=found.fixed_wires[1:])),
    "another cost": ("goal", lambda found: replace(found, cost=Micrometres(found.cost - 1))),
    "a port used twice": ("outputs", seat(0, lambda one: replace(one, outputs=one.outputs * 2))),
}


@pytest.mark.parametrize("about", SPOILT)
def test_a_plan_that_is_spoilt_is_told(about: str) -> None:
    """The check passes the plan as found, and tells what is done to it."""
    jobs, found = found_pair()
    assert check(jobs, RULES, found).clashes == ()
    rule, change = SPOILT[about]
    assert rule in {clash.rule for clash in check(jobs, RULES, change(found)).clashes}


def test_a_switch_on_a_unit_that_does_not_want_it_is_told() -> None:
    """It would be wire for nothing."""
    bike, unit = bike_from_text(BIKE % (LOADS, SWITCHES), "bike"), unit_from_text(UNIT, "unit")
    jobs = (Job(bike, unit), Job(bike, unit))
    found = best_pair(*jobs, RULES, Clock(None))
    assert isinstance(found, Assignment)
    one, other = found.seats
    swapped = replace(found, seats=(replace(one, inputs=other.inputs), replace(other, inputs=one.inputs)))
    assert {clash.rule for clash in check(jobs, RULES, swapped).clashes} == {"cover"}


def test_a_fixed_wire_that_is_laid_twice_is_told() -> None:
    """Feeds, earths and returns alike, whichever unit's they are; no wire is there that nothing asks for."""
    jobs, found = found_pair()
    assert len(found.fixed_wires) == 7  # two feeds, two earths, returns from tray, neck and tail
    for wire in found.fixed_wires:
        twice = replace(found, fixed_wires=(*found.fixed_wires, wire))
        (clash,) = check(jobs, RULES, twice).clashes
        assert clash.sentence == "a wire that no assignment changes is laid twice"
        other = replace(found, fixed_wires=(*found.fixed_wires, replace(wire, name="nobody's")))
        (clash,) = check(jobs, RULES, other).clashes
        assert clash.sentence == f"nobody's: a {wire.kind} wire that nothing asks for"


# --- what holds of any bike


def cost_of(bike: str, unit: str, other: str) -> int | None:
    """Return the least cost of two units, None where nothing fits."""
    answer = plan(bike_from_text(bike, "bike"), unit_from_text(unit, "unit"), unit_from_text(other, "other"))
    assert not isinstance(answer, Unknown)
    return answer.plan.cost if isinstance(answer, Planned) else None


@each_seed([4000], [4001, 4003, 4004, 4005, 4008])
def test_the_order_of_the_units_costs_nothing(seed: int) -> None:
    """Both orders of places are tried, so it is the same which unit is named first."""
    bike, unit = random_case(seed, "openings")
    _, other = random_case(seed + 1, "openings")
    assert len(bike_from_text(bike, "bike").places) > 1
    assert cost_of(bike, unit, other) == cost_of(bike, other, unit)


def fitting(seeds: range) -> Iterator[tuple[Bike, Unit, int]]:
    """Return the random bikes of two places or more that fit on one unit, and what the best plan costs."""
    for seed in seeds:
        text, unit_text = random_case(seed, "plain")
        bike, unit = bike_from_text(text, "bike"), unit_from_text(unit_text, "unit")
        alone = plan(bike, unit)
        if len(bike.places) > 1 and isinstance(alone, Planned):
            yield bike, unit, alone.plan.cost


@of_trials(1, 10)
def test_a_second_unit_may_stand_idle(count: int) -> None:
    """No two units cost more than the best plan of one and the longest feed of another, where no opening is tight."""
    tried = list(islice(fitting(range(4100, 4160)), count))
    assert len(tried) == count
    for bike, unit, cost in tried:
        network = Job(bike, unit).network
        faces = [point for place in bike.places for point in (place.front, place.rear) if point]
        feeds = [wire.length for at in faces if (wire := network.wire(bike.supply.battery.at, at))]
        together = plan(bike, unit, unit)
        assert isinstance(together, Planned)
        assert together.plan.cost <= cost + max(feeds)
