"""Tiny bikes in which a short feed, the unit's earth or a load's own switch decides, worked out by hand (mm, A)."""

from collections.abc import Callable

import pytest

from . import brute, highs
from .judge import Result

Way = Callable[[str, str], Result]
BOTH = pytest.mark.parametrize("optimum", [brute.optimum, highs.optimum], ids=["brute", "highs"])

BIKE = """
supply: {running: 14.0 V, battery: {at: battery}}
frame:
  legs:
    - {between: [battery, tray], length: 100 mm}
    - {between: [tray, head], length: 500 mm}
    - {between: [head, bar], length: 300 mm}
  earth: [battery]
places: [{name: seat, front: FACE}]
loads: [{name: lamp, at: head, current: 1 A, kind: motor}]
later: []
weights: {ampere: 0 mm, ability: 0 mm}
"""
UNIT = "{feed: {limit: 60 A}, outputs: [{name: out 1, limit: 5 A, trip: [2 A]}]}"


def cost_mm(optimum: Way, bike: str) -> float:
    """Return the cost of the best plan."""
    cost = optimum(bike, UNIT).cost_um
    assert cost is not None
    return cost / 1000


@BOTH
@pytest.mark.parametrize(("face", "feed", "run"), [("battery", 300, 600), ("tray", 300, 500), ("head", 600, 0)])
def test_a_feed_is_300_mm_at_least(optimum: Way, face: str, feed: int, run: int) -> None:
    """At the battery and 100 mm from it 300 mm are paid, 600 mm from it those; a return of 600."""
    assert cost_mm(optimum, BIKE.replace("FACE", face)) == feed + run + 600


@BOTH
def test_the_shortest_feed_can_be_changed(optimum: Way) -> None:
    """200 mm at the battery."""
    bike = BIKE.replace("FACE", "battery") + "assume: {shortest feed: 200 mm}\n"
    assert cost_mm(optimum, bike) == 200 + 600 + 600


HOT = """
supply: {running: 14.0 V, battery: {at: battery}}
frame:
  legs: [{between: [battery, head], length: 1000 mm, ambient: AMBIENT}, {between: [battery, tail], length: 90 mm}]
  earth: [head]
places: [{name: seat, front: battery}]
loads: [{name: lamp, at: LAMP, current: CURRENT, kind: heater}]
later: []
reels: [0.5 mm2, 10 mm2]
"""
TAKING = "{feed: {limit: 60 A, fuse_max: FUSE, wire_max: 0.5 mm2}, outputs: [{name: out 1, limit: 9 A, trip: [2 A]}]}"


@BOTH
@pytest.mark.parametrize(("ambient", "fits"), [("89 C", True), ("90 C", False)])
def test_a_feed_without_a_leg_carries_its_fuse_in_those_that_end_there(
    optimum: Way, ambient: str, *, fits: bool
) -> None:
    """0.5 mm2 carries 11 A; 5 A need sqrt((105 - T) / 75) of 5 / 11, so T up to 105 - 15.496 = 89.504 C.

    The load has neither run nor return there. A trip of 2 A, of 1 A and more, wants 3 A; 5 A are the only fuse.
    """
    bike = HOT.replace("AMBIENT", ambient).replace("LAMP", "battery").replace("CURRENT", "1 A")
    bike = bike.replace("earth: [head]", "earth: [battery]")
    unit = TAKING.replace("FUSE", "5 A").replace("2 A", "4.5 A")
    assert optimum(bike, unit).feasible is fits


@BOTH
@pytest.mark.parametrize(("count", "fits"), [(1, True), (2, False)])
def test_a_feed_without_a_leg_is_one_wire_more_in_those_that_end_there(optimum: Way, count: int, *, fits: bool) -> None:
    """A fuse of 7.5 A: among three loaded wires 70 % of 11 A, 7.7 A; among four 60 %, 6.6 A.

    Run of 1 A, no return (earth at its end), feed, and one or two alongside.
    """
    bike = HOT.replace("AMBIENT", "30 C").replace("LAMP", "head").replace("CURRENT", "1 A")
    bike += f"alongside: [{{name: x, from: battery, to: head, size: 1 mm2, current: 2 A, count: {count}}}]\n"
    unit = TAKING.replace("FUSE", "7.5 A").replace("trip: [2 A]", "trip: [5.5 A]")
    assert optimum(bike, unit).feasible is fits


@BOTH
@pytest.mark.parametrize(
    ("ambient", "limit", "fits"),
    [
        ("85 C", "291 mV", True),
        ("85 C", "290.999 mV", False),
        ("100 C", "294.778 mV", True),
        ("100 C", "294.777 mV", False),
    ],
)
def test_the_drop_of_a_feed_without_a_leg_is_at_the_hottest_there(
    optimum: Way, ambient: str, limit: str, *, fits: bool
) -> None:
    """A metre of 0.5 mm2 at 100 C: 39 x 334.5 / 254.5 = 51.2593 mohm, 3 A lose 153.778 mV; at 85 C 146.9, so 150.

    With 75 for the fuse of 4 A, 15 + 30 + 15 for plugs and output, 6 for the earth.
    """
    bike = HOT.replace("AMBIENT", ambient).replace("LAMP", "battery").replace("CURRENT", "3 A")
    bike = bike.replace("earth: [head]", "earth: [battery]") + f"limits: {{drop: {{other: {limit}}}}}\n"
    bike += "assume: {shortest feed: 1000 mm, insulation: 125 C}\n"
    unit = TAKING.replace("FUSE", "4 A").replace("trip: [2 A]", "trip: [3.75 A]")
    assert optimum(bike, unit).feasible is fits


EARTHED = """
supply: {running: 14.0 V, battery: {at: battery}}
frame: {legs: [{between: [battery, tail], length: 900 mm, opening: OPENING}], earth: [tail]}
places: [{name: seat, front: tail}]
loads: [{name: lamp, at: tail, current: 1 A, kind: motor}]
later: []
reels: [1 mm2, 1.5 mm2, 4 mm2]
"""


@BOTH
@pytest.mark.parametrize(
    ("opening", "more", "fits"),
    [
        ("5.5 mm", "", True),
        ("5.499 mm", "", False),
        ("5.2 mm", "assume: {unit earth: 1 mm2}\n", True),
        ("5.8 mm", "assume: {unit earth: 2.5 mm2}\n", False),  # 4 mm2: 2.1 + 3.7 and the sleeve are 6.8
        ("6.8 mm", "assume: {unit earth: 10 mm2}\n", True),  # the thickest there is
    ],
)
def test_the_units_earth_goes_straight_to_the_battery_in_1_5_mm2(
    optimum: Way, opening: str, more: str, *, fits: bool
) -> None:
    """Beside an earth point all the same. Feed 2.1 mm, earth 2.4 mm side by side, and the sleeve: 5.5 mm."""
    assert optimum(EARTHED.replace("OPENING", opening) + more, UNIT).feasible is fits


@BOTH
@pytest.mark.parametrize(
    ("fed", "wires"),
    [
        ("fed: fuse", 600 + 600),
        ("fed: fuse, own_switch: bar", 900 + 300 + 600),
        ("fed: fuse, own_switch: battery", 600 + 600),
        ("fed: relay, own_switch: bar", 600 + 900 + 600 + 900),
        ("fed: relay, own_switch: head", 600 + 600 + 600),  # the switch is on the lamp's return
        ("own_switch: bar", 900 + 600),
        ("own_switch: tray", 600 + 600),
    ],
)
def test_the_wires_of_a_switch_of_its_own_are_paid(optimum: Way, fed: str, wires: int) -> None:
    """The feed is 300. To bar 900 and back 300; of a relay 600 straight, 900 for coil, 900 for its switch's return."""
    bike = BIKE.replace("FACE", "battery").replace("kind: motor", f"kind: motor, {fed}")
    assert cost_mm(optimum, bike) == 300 + wires


@BOTH
@pytest.mark.parametrize(
    ("fed", "opening", "fits"),
    [
        ("fed: fuse, own_switch: bar", "4.4 mm", True),
        ("fed: fuse, own_switch: bar", "4.399 mm", False),
        ("fed: relay, own_switch: bar", "4.4 mm", True),
        ("fed: relay, own_switch: bar", "4.399 mm", False),
        ("own_switch: bar", "4.4 mm", True),
        ("own_switch: bar", "4.399 mm", False),
    ],
)
def test_the_wires_of_a_switch_of_its_own_lie_in_the_loom(optimum: Way, fed: str, opening: str, *, fits: bool) -> None:
    """There and back, behind fuse or output, or coil and earth: two of 0.5 mm2 side by side, 3.4 mm, and the sleeve."""
    bike = BIKE.replace("FACE", "battery").replace("kind: motor", f"kind: motor, {fed}")
    bike = bike.replace("length: 300 mm", f"length: 300 mm, opening: {opening}")
    assert optimum(bike, UNIT).feasible is fits
