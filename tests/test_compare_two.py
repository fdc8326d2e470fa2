"""Two units instead of one beside single units: rows are those of plans, reasons hold, and the order is as promised.

Bikes and units are made up, all lengths whole millimetres.
"""

from decimal import Decimal

import pytest

import portloom
from oracle.random_bikes import random_case
from portloom.base.bike import Bike
from portloom.base.unit import Unit
from portloom.comparing.prepared import PreparedBike
from portloom.comparing.reason_of_two import reason_by_count
from portloom.comparing.row import Fit, FitUnknown, NoFit
from portloom.comparing.tables import BikeTable, names_of, price_of, singles, twos
from portloom.comparing.trial import UNTOLD_OF_TWO
from portloom.inputs.files import unit_from_text
from portloom.margins.misses import margins
from portloom.planning.plan import NothingFits, Planned, plan
from portloom.rules.two_units import OnePlace
from slices import first_of
from test_pairs import BIKE, INDICATORS, LOADS, SWITCHES, TURN, UNIT
from unasked import bike_from_text

LONG = bike_from_text(BIKE % (LOADS, SWITCHES), "bike")


def unit(name: str, outputs: int = 3, more: str = "", changes: tuple[str, str] = ("", "")) -> Unit:
    """Return the trial's unit under a name, with so many outputs."""
    names = ", ".join(f"out {number}" for number in range(1, outputs + 1))
    text = UNIT.replace("trial way", name).replace("out 1, out 2, out 3", names).replace(*changes)
    return unit_from_text(text + more, "unit")


ONE, TWO, SIX = (unit(name, outputs, f"price: {price}\n") for name, outputs, price in
                 (("one", 1, "9.50"), ("two", 2, "20"), ("six", 6, "31")))  # fmt: skip


def compared(bike: Bike, *units: Unit, by: str = "cost") -> BikeTable:
    """Compare units and every pair of them for one bike."""
    return portloom.compare([bike], units, by=by, two_units=True).bikes[0]


def figures(found: Planned) -> tuple[object, ...]:
    """Return what a row tells, as the plan has it."""
    plan = found.plan
    left = [tuple(o for o in each.free_outputs) for each in plan.units]
    feeds = [(each.feed.worst, each.feed.worst_case, each.feed.limit) for each in plan.units]
    seats = [(each.place, each.turned, each.free_inputs) for each in plan.units]
    room = tuple(line.load for line in plan.room_for)
    return plan.cost, plan.wire_run, plan.copper_mg, room, plan.no_room_for, left, feeds, seats


def told(fit: Fit) -> tuple[object, ...]:
    """Return the same of a row."""
    left = [each.outputs_left for each in fit.units]
    feeds = [(each.worst, each.worst_case, each.limit) for each in fit.units]
    seats = [(each.place, each.turned, each.inputs_left) for each in fit.units]
    return fit.cost, fit.wire_run, fit.copper_mg, fit.room_for, fit.no_room_for, left, feeds, seats


# --- rows


def test_rows_are_those_of_the_plans() -> None:
    """Every pair has a row, with the very figures of the plan that ``portloom.plan`` gives, if any."""
    units = [ONE, TWO, SIX]
    table = compared(LONG, *units)
    for choice in twos(range(3)):
        one, other = (units[number] for number in choice)
        row, answer = table.of_unit(f"{one.unit} + {other.unit}"), plan(LONG, one, other)
        assert isinstance(answer, Planned)
        assert row.fit is not None
        assert told(row.fit) == figures(answer)
        assert (row.of_two, row.headroom) == (True, None)
    assert [one.row.unit for one in table.rows if not one.row.of_two] == ["two", "six", "one"]


def test_single_rows_are_the_same_with_pairs_and_without() -> None:
    """What is tried beside a unit changes nothing of its row."""
    alone = portloom.compare([LONG], [ONE, TWO, SIX]).bikes[0]
    both = compared(LONG, ONE, TWO, SIX)
    assert [one.row for one in both.rows if not one.row.of_two] == [one.row for one in alone.rows]


def test_the_price_of_two_is_their_sum() -> None:
    """9.50 + 20 = 29.50, twice 9.50 are 19.00; where one has none, two have none."""
    table = compared(LONG, ONE, TWO)
    prices = {one.row.unit: one.row.price for one in table.rows}
    assert prices == {"one": "9.50", "two": "20", "one + one": "19.00", "one + two": "29.50", "two + two": "40"}
    assert price_of([ONE, unit("free")]) is None


def test_all_are_ranked_together() -> None:
    """By price: 19.00 for two small ones comes before 20 for the big one, and single units stand between pairs."""
    table = compared(LONG, ONE, TWO, by="price")
    assert [one.row.unit for one in table.rows] == ["one + one", "two", "one + two", "two + two", "one"]
    costs = [one.row.fit.cost for one in compared(LONG, ONE, TWO, SIX).rows if one.row.fit]
    assert costs == sorted(costs)


def test_beaten_across_single_units_and_pairs() -> None:
    """What beats a row is no worse in cost, copper, ports, feed and price; single units and pairs beat each other."""
    # Without allowances at ends, two wires to the neck are more copper than a second feed and a thin earth.
    bare = f"{BIKE % (LOADS, SWITCHES)}assume: {{unit earth: 0.5 mm2}}\nmargin: {{ends: 0 mm}}\n"
    table = compared(bike_from_text(bare, "bike"), ONE, TWO, SIX)
    beaten = [(one.row, table.of_unit(name)) for one in table.rows for name in one.beaten_by]
    for one, other in beaten:
        assert one.fit is not None
        assert other.fit is not None
        assert other.fit.cost <= one.fit.cost
        assert other.fit.copper_mg <= one.fit.copper_mg
        assert other.fit.free_outputs >= one.fit.free_outputs
        assert max(other.fit.spare_feeds) >= max(one.fit.spare_feeds)
        assert Decimal(other.price or 0) <= Decimal(one.price or 0)
    assert ("two", "one + one") in [(one.unit, other.unit) for one, other in beaten]


def test_every_name_is_of_one_choice() -> None:
    """What could not be told apart is refused before anything is solved."""
    with pytest.raises(ValueError, match="'one \\+ one'"):
        names_of([ONE, unit("one + one")], (*singles(2), *twos(range(2))))
    with pytest.raises(ValueError, match="'one \\+ one'"):
        portloom.compare([LONG], [ONE, unit("one + one")], two_units=True)


# --- thin margins


def test_each_feed_has_a_margin_of_its_own() -> None:
    """One lamp of 14 W at 14 V on each: 1 A of the 40 A that each unit passes, told with the unit's place."""
    answer = plan(LONG, ONE, ONE)
    assert isinstance(answer, Planned)
    about = [margin.subject for margin in margins(answer.laid)]
    for place in ("at the neck", "at the tail"):
        assert f"the unit {place}" in about
        assert f"feed of the unit {place}" in about
    assert "unit" not in about
    (total,) = (margin for margin in margins(answer.laid) if margin.subject == "the unit at the neck")
    assert (total.used, total.limit) == (1000, 40_000)
    assert total.sentence == "at the neck, the unit in all with the key on: 1 A of 40 A, 39 A left"


# --- what does not fit

LIGHTER = unit("lighter", 3, "", ("feed: {limit: 40 A}", "feed: {limit: 0.9 A, fuse_max: 5 A}"))
NO_FLASH = unit("no flash", 3, "", (", switch_modes: [steady, flash]", ""))
NO_INPUTS = SIX.model_copy(update={"inputs": ()})
FEW_INPUTS = unit("few inputs", 3, "", ("[in 1, in 2, in 3, in 4, in 5]", "[in 1]"))
MANY = bike_from_text(BIKE % (LOADS + INDICATORS, SWITCHES + TURN), "bike")
REASONS = (
    (MANY, ONE, ONE, "lamp, marker and front left need an output of their own; both have two outputs together"),
    (MANY, NO_FLASH, ONE, "can only go on one output of both together"),
    (MANY, NO_FLASH, NO_FLASH, "no output of either takes front left: it must flash (rule mode)"),
    (MANY, FEW_INPUTS, FEW_INPUTS, "need an input of their own; both have two inputs together"),
    (LONG, NO_INPUTS, NO_INPUTS, "no input of either takes lamp switch"),
    (LONG, LIGHTER, LIGHTER, "lamp and marker draw 2 A together, both units can carry 1.8 A"),
)


@pytest.mark.parametrize(("bike", "one", "other", "said"), REASONS)
def test_reasons(bike: Bike, one: Unit, other: Unit, said: str) -> None:
    """Counting tells in one clause why two units are not enough; a full search says the same."""
    reason = reason_by_count(PreparedBike(bike), (one, other))
    assert reason is not None
    assert said in reason.sentence
    assert isinstance(plan(bike, one, other), NothingFits)


def test_two_pass_what_one_does_not() -> None:
    """2 A in all are too much for one unit that passes 1.9 A; two of them take 1 A each."""
    table = compared(LONG, unit("light", 3, "", ("feed: {limit: 40 A}", "feed: {limit: 1.9 A, fuse_max: 5 A}")))
    assert isinstance(table.of_unit("light").answer, NoFit)
    fit = table.of_unit("light + light").fit
    assert fit is not None
    assert [(each.worst, each.limit) for each in fit.units] == [(1000, 1900), (1000, 1900)]
    assert fit.spare_feeds == (900, 900)


def test_what_no_count_tells_is_found_by_searching() -> None:
    """Four indicators go on one unit together; six outputs are enough for a count, three on each are not."""
    row = compared(bike_from_text(BIKE % (INDICATORS, TURN), "bike"), unit("three")).of_unit("three + three")
    assert row.answer == NoFit("no plan", UNTOLD_OF_TWO)


@first_of("family", ["plain", "sharing", "faults", "safety", "openings"], 4)
def test_what_is_refused_by_a_count_has_no_plan(family: str) -> None:
    """On random bikes the search finds no plan where a count refuses; the units have few of their outputs left."""
    refused = 0
    for seed in range(9300, 9303):
        bike_text, unit_text = random_case(seed, family)
        bike, whole = bike_from_text(bike_text, "bike"), unit_from_text(unit_text, "unit")
        for outputs in (1, 2):
            small = whole.model_copy(update={"outputs": whole.outputs[:outputs]})
            if len(bike.places) > 1 and reason_by_count(PreparedBike(bike), (small, small)) is not None:
                refused += 1
                assert isinstance(plan(bike, small, small), NothingFits)
    assert refused


def test_a_bike_of_one_place_has_no_rows_of_two() -> None:
    """It is said once why, in the words of the plan; the single units' rows are there."""
    one_place = LONG.model_copy(update={"places": LONG.places[:1]})
    both = portloom.compare([one_place, LONG], [ONE, SIX], two_units=True)
    assert [one.row.of_two for one in both.bikes[0].rows] == [False, False]
    assert both.bikes[0].no_two == OnePlace(one_place).what
    assert both.bikes[1].no_two is None
    assert both.fit_every_bike == ("six",)


def test_a_limit_that_is_reached_is_not_known() -> None:
    """Nothing is called impossible but what is proved without a search."""
    table = portloom.compare([MANY], [ONE, SIX], two_units=True, time_limit=0).bikes[0]
    assert isinstance(table.of_unit("one + one").answer, NoFit)
    assert isinstance(table.of_unit("one + six").answer, FitUnknown)
