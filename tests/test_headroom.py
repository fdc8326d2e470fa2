"""Headroom: by hand on tiny bikes, and against plans of bikes whose files say that they have grown. All made up.

Trip 1.25 x steady: common practice, no source. An inrush of electronics is 3 x: common practice, no source.
"""

import pytest

import portloom
from portloom.comparing.headroom import MOST, STEP
from portloom.comparing.row import CurrentRoom, LaterRoom
from portloom.inputs.files import unit_from_text
from portloom.planning.plan import NothingFits, Planned
from rule_bikes import LAMP, OTHER, OUT, SECOND, bike, unit
from unasked import bike_from_text

FIVE = bike(f"{LAMP}, current: 5 A")


def _room(bike_text: str, unit_text: str) -> tuple[LaterRoom, CurrentRoom]:
    bikes, units = [bike_from_text(bike_text, "bike")], [unit_from_text(unit_text, "unit")]
    room = portloom.compare(bikes, units, headroom=True).bikes[0].rows[0].row.headroom
    assert room is not None
    return room.later, room.current


def _fits(bike_text: str, unit_text: str) -> bool:
    answer = portloom.plan(bike_from_text(bike_text, "bike"), unit_from_text(unit_text, "unit"))
    assert isinstance(answer, Planned | NothingFits)
    return isinstance(answer, Planned)


def test_the_highest_trip() -> None:
    """8 A / 1.25 = 6.4 A: 5 A may grow to 6 A, not to 6.5 A."""
    _, current = _room(FIVE, unit(f"{OUT}, trip: 8 A"))
    assert (current.percent, current.total, current.end) == (120, 6000, "no plan")
    assert current.reason is not None
    assert current.reason.sentence == (
        "no output takes lamp: it draws 6.5 A and needs a trip of 8.125 A (1.25 x), out 1 can be set to 8 A at most "
        "(rule trip)"
    )


def test_the_inrush_grows_with_it() -> None:
    """3 x 5 A = 15 A; the peak of 18 A lets it grow by a fifth, though the trip would let it grow further."""
    _, current = _room(FIVE, unit(OUT.replace("60 A", "18 A")))
    assert (current.percent, current.total) == (120, 6000)


def test_an_inrush_that_is_given_grows_with_it() -> None:
    """15 A as the file gives it; at 18 A peak, a fifth more."""
    _, current = _room(bike(f"{LAMP}, current: 5 A, inrush: 15 A"), unit(OUT.replace("60 A", "18 A")))
    assert current.percent == 120


def test_the_unit_in_all() -> None:
    """Two loads of 5 A on a unit that passes 13 A: x 1.3 is 13 A, a limit that is met exactly."""
    fed = unit(OUT, SECOND, feed="limit: 13 A, fuse_max: 20 A")
    _, current = _room(bike(f"{LAMP}, current: 5 A", f"{OTHER}, current: 5 A"), fed)
    assert (current.percent, current.total) == (130, 13000)
    assert current.reason is not None
    assert current.reason.sentence == "lamp and other draw 14 A together, the unit can carry 13 A"


def test_the_largest_main_fuse() -> None:
    """The largest step within 13 A is 10 A, which carries 8 A: of two loads of 3.2 A, 7.68 A, not 8.32 A."""
    fed = unit(f"{OUT}, trip: 8 A", f"{SECOND}, trip: 8 A", feed="limit: 13 A")
    _, current = _room(bike(f"{LAMP}, current: 3.2 A", f"{OTHER}, current: 3.2 A"), fed)
    assert (current.percent, current.total) == (120, 7680)
    assert current.reason is not None
    assert current.reason.sentence == (
        "lamp and other draw 8.32 A together, the largest main fuse that the unit takes carries 8 A continuously"
    )


def test_nothing_beyond_three_times() -> None:
    """A load of 0.5 A grows as far as is tried."""
    _, current = _room(bike(f"{LAMP}, current: 0.5 A"), unit(OUT))
    assert (current.percent, current.total, current.end, current.reason) == (MOST, 1500, "all", None)


def test_later_loads_without_a_place_take_an_output_each() -> None:
    """Two outputs, one of them in use: there is room for one later load; the order is the bike's."""
    later = "later: [{name: first, current: 1 A}, {name: second, current: 1 A}]"
    text = FIVE.replace("later: []", later)
    room, _ = _room(text, unit(OUT, SECOND))
    assert (room.fit, room.end, room.next) == (("first",), "no plan", "second")


def test_a_later_load_that_is_worth_less_comes_first_all_the_same() -> None:
    """Headroom goes by the order, not by worth: the first takes the free output."""
    later = "later: [{name: first, current: 1 A, worth: 1 m}, {name: second, current: 1 A, worth: 9 m}]"
    room, _ = _room(FIVE.replace("later: []", later), unit(OUT, SECOND))
    assert (room.fit, room.next) == (("first",), "second")


@pytest.mark.parametrize(("current", "fit"), [("12 A", True), ("12.1 A", False)])
def test_a_later_load_at_its_place(current: str, fit: bool) -> None:  # noqa: FBT001 - what is expected
    """A later load that says where it goes is put there as if the file had it among its loads."""
    units = unit(f"{OUT}, wire_max: 2.5 mm2", f"{SECOND}, wire_max: 2.5 mm2")
    later = f"{{name: other, at: neck, current: {current}}}"
    room, _ = _room(FIVE.replace("later: []", f"later: [{later}]"), units)
    assert (room.fit == ("other",)) is fit is _fits(FIVE.replace("current: 5 A}", f"current: 5 A}}, {later}"), units)


def test_its_drop_is_judged_at_its_place() -> None:
    """Far away the same later load would lose too much on its way; with no place nobody can tell."""
    far = bike(f"{LAMP}, current: 5 A", neck="5 m", more="limits: {drop: {other: 1 V}}\nreels: [1 mm2]")
    placed = "later: [{name: other, at: bracket, current: 7.9 A}]"
    units = unit(OUT, SECOND)
    at_place, _ = _room(far.replace("later: []", placed), units)
    anywhere, _ = _room(far.replace("later: []", placed.replace("at: bracket, ", "")), units)
    assert (at_place.fit, anywhere.fit) == ((), ("other",))
    grown = far.replace("current: 5 A}", "current: 5 A}, {name: other, at: bracket, current: 7.9 A}")
    assert not _fits(grown, units)


@pytest.mark.parametrize("trip", ["8 A", "[8 A, 10 A]", "[8 A, 15 A]"])
def test_every_step_against_the_plan_of_a_bike_that_has_grown(trip: str) -> None:
    """A file with the larger current has a plan at each step that is told to fit, and none at the next."""
    units = unit(f"{OUT}, trip: {trip}", feed="limit: 11 A")
    _, room = _room(FIVE, units)
    for percent in range(100, room.percent + 1, STEP):
        assert _fits(FIVE.replace("current: 5 A", f"current: {50 * percent} mA"), units), percent
    assert not _fits(FIVE.replace("current: 5 A", f"current: {50 * (room.percent + STEP)} mA"), units)


def test_at_a_limit_it_is_not_proved() -> None:
    """With no time left, nothing is called impossible."""
    bikes, units = [bike_from_text(FIVE, "bike")], [unit_from_text(unit(OUT), "unit")]
    row = portloom.compare(bikes, units, headroom=True, time_limit=0.0).bikes[0].rows[0].row
    assert row.headroom is None or row.headroom.current.end == "not proved"
    assert row.answer.status != "no plan"
