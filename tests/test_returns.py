"""Joint returns: which loads of a frame point share a wire to earth, and how many such wires there are.

Source: common practice, no source, for 4 mm2 as the thickest that is usual and for who comes first; conductor
resistance IEC 60228 class 5 (2.5 mm2 7.98, 4 mm2 4.95, 6 mm2 3.30 mohm/m at 20 C), at 85 C x (234.5 + 85) / 254.5;
ampacity 33 CFR 183.425 Table 5, 105 C (12 AWG 45 A, taken for 4 mm2; 14 AWG 35 A, taken for 2.5 mm2).
"""

from collections.abc import Iterator

import pytest

from laid_bikes import EACH_FITTING, EACH_RANDOM, FITTING, RandomBikes, all_laid, laid_example
from oracle.random_bikes import random_case
from outcomes import EXAMPLES, best
from portloom.base.bike import Bike
from portloom.base.unit import Unit
from portloom.documents.document import Plan
from portloom.inputs.files import read_bike, unit_from_text
from portloom.inputs.problems import BadFile
from portloom.job.bulbs import bulbs_of
from portloom.job.fixed_wires import joint_returns
from portloom.job.job import Job
from portloom.planning.plan import Planned, plan
from portloom.rules.book import RULES
from portloom.verify.dealing import dealt_again
from portloom.verify.judge import judged
from unasked import bike_from_text

UNIT = unit_from_text(
    "unit: trial\nfeed: {limit: 40 A}\noutputs: [{name: out 1, limit: 15 A, trip: [10 A]}]\n"
    "inputs: [{name: in 1, accepts: [earth]}]\n",
    "unit",
)
PLAIN = unit_from_text(
    "unit: plain\nfeed: {limit: 40 A}\noutputs: [{names: [out 1, out 2], limit: 15 A, trip: [5 A, 10 A], "
    "switch_modes: [steady, hold]}]\ninputs: [{names: [in 1, in 2], accepts: [earth]}]\n",
    "unit",
)
BIKE = """
bike: Harbour Trail
supply: {{running: 14.0 V, battery: {{capacity: 10 Ah, at: tray}}}}
frame:
  legs:
    - {{between: [tray, tail], length: {length} mm}}
    - {{between: [tray, bar], length: 500 mm}}
  earth: tray
places: [{{name: under the seat, front: tray}}]
loads:
{loads}
later: []
inputs: [{{name: rear switch, at: [tail], signal: earth, operates: [{first}]}}]
ignition: own
{more}
"""


def job(*loads: str, length: int = 1000, more: str = "", unit: Unit = UNIT) -> Job:
    """Return a bike with these loads; most of them at the tail, whose way to earth is 1 m."""
    lines = "\n".join(f"  - {{{load}}}" for load in loads)
    first = loads[0].split("name: ")[1].split(",")[0]
    return Job(bike_from_text(BIKE.format(length=length, loads=lines, first=first, more=more), "bike"), unit)


def dealt(found: Job) -> list[list[str]]:
    """Return the loads of each joint return at the tail, in the order in which the returns are numbered."""
    return [
        [load.name for load in found.wired_loads if load.back == back]
        for back in joint_returns(found)
        if back.point == "tail"
    ]


def motor(name: str, amperes: str) -> str:
    """Return a load that is no lamp and has no part."""
    return f"name: {name}, at: tail, current: {amperes} A, kind: motor"


def test_a_return_is_filled_as_far_as_4_mm2_serves() -> None:
    """Over 1 m 4 mm2 loses 4.95 x 1.2554 = 6.21 mV/A: 70 mV for 11.26 A; 11.3 A are one too many."""
    assert dealt(job(motor("one", "6"), motor("two", "5.2"))) == [["one", "two"]]
    assert dealt(job(motor("one", "6"), motor("two", "5.3"))) == [["one"], ["two"]]


def test_none_goes_back_to_an_earlier_return() -> None:
    """6 A, 6 A, 2 A: the third would find room beside the first as well, and stays with the second."""
    assert dealt(job(motor("one", "6"), motor("two", "6"), motor("three", "2"))) == [["one"], ["two", "three"]]


def test_a_load_that_alone_needs_more_has_a_return_of_its_own() -> None:
    """14 A over 1 m lose 87 mV of 70 on 4 mm2 and 58 mV on 6 mm2: its own; the small one begins the next."""
    found = job(motor("one", "14"), motor("two", "0.1"), more="reels: [0.5 mm2, 4 mm2, 6 mm2]")
    assert dealt(found) == [["one"], ["two"]]


def test_loads_that_are_never_on_together_do_not_add_up() -> None:
    """The worst case counts: 8 A by day and 8 A by night are 8 A."""
    found = job(f"{motor('one', '8')}, when: [day]", f"{motor('two', '8')}, when: [night]")
    assert dealt(found) == [["one", "two"]]


def test_what_a_lifted_earth_disturbs_comes_first_then_lamps_then_the_rest() -> None:
    """A controller at the end of the file is on the first return with the switches; a lamp is before a motor."""
    found = job(
        motor("one", "9"),
        "name: lamp, at: tail, power: 28 W, kind: filament",
        "name: unit, part: engine controller, at: tail, current: 9 A",
    )
    assert dealt(found) == [["lamp", "unit"], ["one"]]


NINE = """
unit: nine way
feed: {limit: 40 A}
outputs: [{names: [one, two, three, four, five, six, seven, eight, nine], limit: 5 A, peak: 40 A, trip: [1.25 A]}]
inputs: [{name: in 1, accepts: [earth]}]
"""


@pytest.mark.parametrize(("each", "size"), [("684 mA", "0.5 mm2"), ("685 mA", "0.75 mm2")])
def test_a_return_in_company_carries_a_quarter_more_than_its_sum(each: str, size: str) -> None:
    """Among three loaded wires 0.5 mm2 carries 70 % of 11 A, 7.7 A: 1.25 x 9 x 684 mA = 7.695 A; 685 mA are too much.

    A trip of 1.25 A with eight others is less, 6.73 A. On its 50 mm next to nothing is lost.
    """
    loads = "\n".join(f"  - {{name: {n}, at: tail, current: {each}, kind: motor, when: [day]}}" for n in "abcdefghi")
    beside = "alongside: [{name: charger, from: tray, to: tail, size: 1 mm2, current: 5 A, count: 2}]"
    _, found = best(BIKE.format(length=50, loads=loads, first="a", more=beside), NINE)
    assert found is not None
    assert dict(found.fixed_sizes)["return", "tail", 1].label == size


def test_a_return_is_judged_by_the_thickest_reel() -> None:
    """Nine times 977 mA over 1 m: cut to lose 70 mV, it leaves enough of 300 mV; 0.75 mm2 would lose 287 mV of them.

    8.793 A x 26 mohm x 1.2554 (85 C) = 287 mV; 4 mm2 at 4.95 mohm loses 54.6 mV.
    """
    loads = "\n".join(f"  - {{name: {n}, at: tail, current: 977 mA, kind: motor, when: [day]}}" for n in "abcdefghi")
    few = "limits: {drop: {other: 300 mV}}"
    on, found = best(BIKE.format(length=1000, loads=loads, first="a", more=few), NINE)
    assert found is not None
    assert dict(found.fixed_sizes)["return", "tail", 1].label == "4 mm2"
    assert judged((on,), RULES, found) == ()


def test_without_a_part_the_kind_says_whether_it_is_a_lamp() -> None:
    """8 A of an LED come before 8 A of a heater that stands first in the file."""
    assert dealt(
        job("name: pad, at: tail, current: 8 A, kind: heater", "name: bar, at: tail, current: 8 A, kind: led")
    ) == [
        ["bar"],
        ["pad"],
    ]


def test_a_controller_comes_before_a_lamp_without_a_part() -> None:
    """8 A each are too much for one return; the first is the controller's, though the lamp stands first in the file."""
    lamp = "name: bar, at: tail, current: 8 A, kind: led"
    controller = "name: unit, part: engine controller, at: tail, current: 8 A"
    assert dealt(job(lamp, controller)) == [["unit"], ["bar"]]


def test_a_bulbs_filaments_stay_together() -> None:
    """Tail and brake filament of one P21/5W have one pin: 1.964 + 0.489 A beside 9 A of lamps are too much at once."""
    lamps = "name: bank, at: tail, current: 9 A, kind: led"
    tail, brake = "name: tail, at: tail, lamp: P21/5W tail", "name: brake, at: tail, lamp: P21/5W brake"
    assert dealt(job(lamps, tail, brake)) == [["bank"], ["tail", "brake"]]
    assert dealt(job(lamps, tail, brake.replace("brake,", "brake, bulb: other,", 1))) == [["bank", "tail"], ["brake"]]


def test_loads_that_name_one_bulb_stay_together() -> None:
    """As in a lamp unit with one earth for both its lamps."""
    one, two = ("name: one, at: tail, current: 3 A, kind: led", "name: two, at: tail, current: 9 A, kind: led")
    assert dealt(job(one, "name: bank, at: tail, current: 6 A, kind: led", two)) == [["one", "bank"], ["two"]]
    named = [f"{load}, bulb: rear" for load in (one, two)]
    assert dealt(job(named[0], "name: bank, at: tail, current: 6 A, kind: led", named[1])) == [["one", "two"], ["bank"]]


def test_filaments_are_paired_in_the_order_of_the_file() -> None:
    """Two bulbs: the first tail filament goes with the first brake filament, whatever stands between."""
    lamps = [f"name: {what} {n}, at: tail, lamp: P21/5W {what}" for what in ("tail", "brake") for n in (1, 2)]
    found = job("name: bank, at: tail, current: 8 A, kind: led", *lamps)
    assert dealt(found) == [["bank", "tail 1", "brake 1"], ["tail 2", "brake 2"]]


def test_at_an_earth_point_nothing_is_split() -> None:
    """There each thing has a short wire of its own to the point: no joint return is there to be too thick."""
    found = job(*(f"name: heater {n}, at: tray, current: 12 A, kind: heater" for n in range(3)))
    assert {load.back for load in found.wired_loads} == {("tray", 1)}


def test_the_usual_size_may_be_changed() -> None:
    """With 6 mm2 as the usual size 14 A and 0.1 A are served by one."""
    more = "reels: [0.5 mm2, 4 mm2, 6 mm2]\nassume: {thickest return: 6 mm2}"
    assert dealt(job(motor("one", "14"), motor("two", "0.1"), more=more)) == [["one", "two"]]


def test_loads_that_differ_only_in_their_return_are_told_apart() -> None:
    """Two heaters of 8 A are identical but for the wire that leads their current back."""
    found = job(motor("one", "8"), motor("two", "8"))
    assert len(set(found.alike.values())) == 2


def planned_by(bike: Bike, unit: Unit) -> Plan:
    """Return the best plan of a bike, which must be there."""
    answer = plan(bike, unit)
    assert isinstance(answer, Planned)
    return answer.plan


# --- whatever the bike


def jobs(random_bikes: RandomBikes) -> Iterator[Job]:
    """Return the examples, and random bikes."""
    for bike, _ in FITTING:
        yield Job(read_bike(EXAMPLES / f"{bike}.yaml"), UNIT)
    for family, seed in random_bikes:
        bike_text, unit_text = random_case(seed, family)
        try:
            yield Job(bike_from_text(bike_text, "bike"), unit_from_text(unit_text, "unit"))
        except BadFile:
            continue


@EACH_RANDOM
def test_each_wired_load_is_on_exactly_one_return(random_bikes: RandomBikes) -> None:
    """And so the checker, which deals by itself, says."""
    for found in jobs(random_bikes):
        assert {load.name: load.back for load in found.wired_loads} == dealt_again(found)


@EACH_RANDOM
def test_no_return_of_several_needs_more_than_is_usual(random_bikes: RandomBikes) -> None:
    """Where one does, a single load alone needs it, or one bulb's filaments."""
    for found in jobs(random_bikes):
        usual = [reel for reel in found.reels if reel.size.area <= found.assume["thickest return"]]
        for back in joint_returns(found):
            _, run = found.way_to_earth(back.point)
            worst = max(found.returned(back, case) for case in found.cases)
            first = {name: names[0] for names in bulbs_of(found.bike) for name in names}
            here = [load for load in found.returning(back) if not load.switched_by]
            pins = {first.get(load.name, load.name) for load in here}
            assert not run.legs or len(pins) < 2 or found.return_reel(usual, worst, run)


@EACH_FITTING
def test_every_return_counts_in_the_wire_run(bike: str, unit: str) -> None:
    """A plan has each of them once, along the shortest way to earth."""
    laid = laid_example(bike, unit)
    wires = {wire.back: wire.run.length for wire in laid.site.fixed_of("return")}
    assert len(wires) == len(laid.site.fixed_of("return"))
    for back in joint_returns(laid.site.job):
        assert wires[back] == laid.site.job.way_to_earth(back.point)[1].length


@EACH_RANDOM
def test_random_plans_have_several_returns_from_a_point(random_bikes: RandomBikes) -> None:
    """They are laid again and judged like any other; else there would be no plan."""
    assert any(wire.number > 1 for laid in all_laid(random_bikes) for wire in laid.site.fixed_of("return"))


# --- the starter motor


def started(earth: str, at: str) -> Job:
    """Return a bike whose starter sits at a point, with these earth points and a lamp at the tail."""
    text = BIKE.format(length=300, loads="  - {name: lamp, at: tail, current: 1 A, kind: led}", first="lamp", more="")
    text = text.replace("running: 14.0 V,", f"running: 14.0 V, starter: {{at: {at}}},").replace("earth: tray", earth)
    return Job(bike_from_text(text, "bike"), UNIT)


def test_an_earth_point_where_the_starter_sits_takes_only_what_sits_there() -> None:
    """The tray is 300 mm away, the bar 800 mm: with the starter at the tray the lamp's return leads to the bar."""
    assert started("earth: [tray, bar]", "bar").way_to_earth("tail")[0] == "tray"
    found = started("earth: [tray, bar]", "tray")
    assert found.way_to_earth("tail")[0] == "bar"
    assert found.way_to_earth("tail")[1].length == 800_000
    assert found.way_to_earth("tray")[0] == "tray"


@pytest.mark.parametrize(("earth", "warned"), [("tray", True), ("[tray, bar]", False)])
def test_the_starters_earth_point_serves_with_a_warning_where_there_is_no_other(earth: str, *, warned: bool) -> None:
    """With the starter at the tray and nothing else to end at, the lamp's return ends there."""
    found = started(f"earth: {earth}", "tray")
    assert (found.way_to_earth("tail")[0] == "tray") == warned
    said = planned_by(found.bike, PLAIN).bike_warnings
    assert any("starter motor" in line for line in said) == warned
