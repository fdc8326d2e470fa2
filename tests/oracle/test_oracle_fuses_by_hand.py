"""Tiny bikes whose main fuse is worked out by hand beside each test (mm, A, mV).

Steps: 1, 2, 3, 4, 5, 7.5, 10, 15, 20 A (ISO 8820-3). 1 mm2 carries 20 A, 0.75 mm2 14 A, 0.5 mm2 11 A at 105 C
(33 CFR 183.425 Table 5 for 18 AWG; the thinner ones common practice).
"""

from collections.abc import Callable

import pytest

from . import brute, highs
from .judge import Optimum, Result

Way = Callable[[str, str], Result]
BOTH = pytest.mark.parametrize("optimum", [brute.optimum, highs.optimum], ids=["brute", "highs"])

# The unit sits at the loads, 509 mm of feed from the battery.
BIKE = """
supply: {running: 14.0 V, battery: {at: battery}}
frame: {legs: [{between: [battery, head], length: 509 mm}], earth: [head]}
places: [{name: seat, front: head}]
loads: [LOADS]
later: []
reels: [0.5 mm2, 0.75 mm2, 1 mm2]
"""
LAMP = "{name: lamp, at: head, current: 1 A, kind: led}"
UNIT = "{feed: {FEED}, outputs: [OUT]}"


def fuse(optimum: Way, feed: str, out: str, loads: str = LAMP, bike: str = BIKE) -> int | None:
    """Return the main fuse (mA) of the cheapest plan; None if there is none."""
    found = optimum(bike.replace("LOADS", loads), UNIT.replace("FEED", feed).replace("OUT", out))
    best = found.per_site["seat", False]
    return best.fuse_ma if best else None


@BOTH
@pytest.mark.parametrize(
    ("feed", "fused"),
    [
        ("limit: 10 A", 3000),  # the smallest above the trip
        ("limit: 3 A", 3000),
        ("limit: 2.999 A", None),  # takes 2 A without a word
        ("limit: 2.999 A, fuse_max: 3 A", 3000),
        ("limit: 10 A, fuse_max: 2 A", None),
    ],
)
def test_the_smallest_step_above_the_trip_that_the_unit_takes(optimum: Way, feed: str, fused: int | None) -> None:
    """1 A trips at 2 A, so 2 A is too small a fuse."""
    assert fuse(optimum, feed, "{name: a, limit: 4 A, trip: [2 A, 4 A]}") == fused


@BOTH
@pytest.mark.parametrize(("current", "fused"), [("1.2 A", 3000), ("1.201 A", 4000)])
def test_the_worst_case_with_a_reserve(optimum: Way, current: str, fused: int) -> None:
    """Two of 1.2 A: 1.25 x 2.4 = 3 A. Each trips at 1.6 A."""
    loads = ", ".join(f"{{name: {name}, at: head, current: {current}, kind: led}}" for name in ("one", "two"))
    assert fuse(optimum, "limit: 10 A", "{names: [a, b], limit: 1.6 A, peak: 9 A}", loads) == fused


@BOTH
@pytest.mark.parametrize(("fuse_max", "fused", "more"), [("5 A", 5000, 0), ("4 A", 2000, 100), ("1 A", None, None)])
def test_a_dearer_output_where_the_fuse_is_not_above_the_trip_of_the_cheaper(
    optimum: Way, fuse_max: str, fused: int | None, more: int | None
) -> None:
    """Feed 509, 3 A to spare 150; the second output trips at 1.5 A, not 4 A, and has a mode for nothing: 100."""
    outputs = "{name: a, limit: 4 A}, {name: b, limit: 4 A, trip: [1.5 A], switch_modes: [steady, flash]}"
    unit = UNIT.replace("FEED", f"limit: 10 A, fuse_max: {fuse_max}").replace("OUT", outputs)
    best = optimum(BIKE.replace("LOADS", LAMP), unit).per_site["seat", False]
    assert best == (None if fused is None or more is None else Optimum((509 + 150 + more) * 1000, fused))


@BOTH
@pytest.mark.parametrize(("terminal", "fused"), [("1 mm2", 15000), ("0.75 mm2", None), ("0.5 mm2", None)])
def test_the_terminal_takes_a_wire_for_the_fuse(optimum: Way, terminal: str, fused: int | None) -> None:
    """8 A trip at 10 A, so 15 A: 0.75 mm2 carries 14 A."""
    loads = "{name: grips, at: head, current: 8 A, kind: heater}"
    assert fuse(optimum, f"limit: 15 A, wire_max: {terminal}", "{name: a, limit: 10 A}", loads) == fused


@BOTH
@pytest.mark.parametrize(("ambient", "fused"), [("60 C", 15000), ("63 C", None)])
def test_the_feed_carries_the_fuse_in_a_hot_leg(optimum: Way, ambient: str, fused: int | None) -> None:
    """1 mm2: 20 x sqrt((105 - T) / 75) is 15.49 A at 60 C, 14.97 A at 63 C."""
    loads = "{name: grips, at: head, current: 8 A, kind: heater}"
    bike = BIKE.replace("509 mm", f"509 mm, ambient: {ambient}")
    assert fuse(optimum, "limit: 15 A", "{name: a, limit: 10 A}", loads, bike) == fused


@BOTH
@pytest.mark.parametrize(
    ("limit", "fused"),
    [("244 mV", 4000), ("243.9 mV", 5000), ("220.667 mV", 7500), ("220.666 mV", 10000), ("213.999 mV", None)],
)
def test_a_larger_fuse_loses_less(optimum: Way, limit: str, fused: int | None) -> None:
    """2 A trip at 3 A. The feed is judged with 150, plugs and output 10 + 10 + 20, the earth point 4: 194.

    The fuse: 4 A 50, 5 A 40, 7.5 A 26.667, 10 A 20, the largest within the limit.
    """
    loads = "{name: lamp, at: head, current: 2 A, kind: heater}"
    bike = BIKE + f"limits: {{drop: {{other: {limit}}}}}\n"
    assert fuse(optimum, "limit: 12 A", "{name: a, limit: 6 A, trip: [3 A]}", loads, bike) == fused


@BOTH
@pytest.mark.parametrize(("fuse_max", "lost", "fused"), [("7.5 A", 0, 7500), ("5 A", 2000, 3000)])
def test_a_later_load_is_placed_only_below_the_fuse(optimum: Way, fuse_max: str, lost: int, fused: int) -> None:
    """The pump, 4 A, would trip at 5 A; the lamp trips at 2 A. Feed 509, 3 A to spare 150."""
    bike = BIKE.replace("later: []", "later: [{name: pump, current: 4 A, kind: electronics, worth: 2 m}]")
    outputs = "{name: a, limit: 4 A, trip: [2 A]}, {name: b, limit: 5 A, peak: 30 A}"
    unit = UNIT.replace("FEED", f"limit: 10 A, fuse_max: {fuse_max}").replace("OUT", outputs)
    best = optimum(bike.replace("LOADS", LAMP), unit).per_site["seat", False]
    assert best == Optimum((509 + 150 + lost) * 1000, fused)


@BOTH
@pytest.mark.parametrize(("opening", "fused", "more"), [("5.2 mm", 15000, 0), ("5.199 mm", 10000, 100)])
def test_a_smaller_fuse_where_the_feed_for_a_larger_has_no_room(
    optimum: Way, opening: str, fused: int, more: int
) -> None:
    """15 A want 1 mm2 (2.1 mm), 10 A 0.5 mm2 (1.7 mm), beside the unit's earth of 1 mm2: 4.2 mm and the sleeve's 1 mm.

    6 A: the first output trips at 10 A, the second at 8 A and has a mode for nothing: 100. Feed 509, 4 A to spare 200.
    """
    loads = "{name: grips, at: head, current: 6 A, kind: heater}"
    outputs = "{name: a, limit: 10 A}, {name: b, limit: 10 A, trip: [8 A], switch_modes: [steady, flash]}"
    bike = BIKE.replace("509 mm", f"509 mm, opening: {opening}").replace("LOADS", loads)
    best = optimum(bike, UNIT.replace("FEED", "limit: 15 A").replace("OUT", outputs)).per_site["seat", False]
    assert best == Optimum((509 + 200 + more) * 1000, fused)
