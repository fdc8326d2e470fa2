"""What a fuse or trip carries, for how long it holds, and which is the least: worked out by hand, to 1 mA and 1 us.

Sources: ISO 8820-3 (steps of blade fuses, as the second program has them); 1.25 x the steady current: common practice,
no source. A curve's points are joined by straight lines on log scales: between (2 x, 1 s) and (8 x, 0.01 s) half-way,
at 4 x, it holds sqrt(1 x 0.01) = 0.1 s. The outputs are made up.
"""

import pytest

from oracle.fuses import STEPS_MA
from portloom.base.current import Inrush
from portloom.base.fuse_steps import STEPS, steps_beside
from portloom.base.fuses import (
    FOREVER,
    Curve,
    carried_for_good,
    carries,
    fuse_for,
    holding_time,
    holds_inrush,
    outlasts_peak,
    peak_of,
    trip_for,
    trip_values,
)
from portloom.base.quantities import MicroAmps, Microseconds, MilliAmps, Thousandths
from portloom.base.unit import Output

CURVE: Curve = (
    (Thousandths(2000), Microseconds(1_000_000)),
    (Thousandths(8000), Microseconds(10_000)),
    (Thousandths(16_000), Microseconds(1000)),
)


def output(**said: object) -> Output:
    """Return an output of 15 A with what is said of it."""
    return Output.model_validate({"name": "out 1", "limit": "15 A", **said})


def inrush(milliamps: int, microseconds: int = 1000) -> Inrush:
    """Return an inrush."""
    return Inrush(MicroAmps(1000 * milliamps), Microseconds(microseconds))


def test_steps() -> None:
    """ISO 8820-3: from 1 A to 80 A; what lies beside a rating that is none."""
    assert STEPS == STEPS_MA
    assert steps_beside(MilliAmps(7501)) == "7.5 A or 10 A"
    assert steps_beside(MilliAmps(7500)) == "5 A or 10 A"
    assert (steps_beside(MilliAmps(999)), steps_beside(MilliAmps(80_001))) == ("1 A", "80 A")


@pytest.mark.parametrize("rating", STEPS_MA)
def test_a_fuse_carries_four_fifths_of_its_rating(rating: int) -> None:
    """Rating >= 1.25 x current, to 1 mA."""
    fuse, most = MilliAmps(rating), rating * 4 // 5
    assert carried_for_good(fuse) == most
    assert carries(fuse, MilliAmps(most))
    assert not carries(fuse, MilliAmps(most + 1))
    assert fuse_for(MilliAmps(most)) == rating
    assert fuse_for(MilliAmps(most), above=MilliAmps(rating - 1)) == rating
    beyond = next((step for step in STEPS_MA if step > rating), None)
    assert fuse_for(MilliAmps(most + 1)) == beyond == fuse_for(MilliAmps(most), above=fuse)


@pytest.mark.parametrize(
    ("multiple", "held"),
    [
        (1, FOREVER),
        (1.0001, 1e6),  # below the first point as long as there
        (2, 1e6),
        (4, 1e5),
        (8, 1e4),
        (8 * 2**0.5, 10**3.5),
        (16, 1e3),
        (16.0001, 0),
    ],
)
def test_a_curve(multiple: float, held: float) -> None:
    """At its points, half-way between two, below the first and beyond the last."""
    assert holding_time(CURVE, multiple) == pytest.approx(held, rel=1e-9)


def test_an_inrush_is_held_as_long_as_the_curve_says() -> None:
    """40 A are 4 x 10 A: 0.1 s and no longer; without a curve any inrush is held."""
    ten = MilliAmps(10_000)
    assert holds_inrush(CURVE, ten, inrush(40_000, 100_000))
    assert not holds_inrush(CURVE, ten, inrush(40_000, 100_001))
    assert holds_inrush((), ten, inrush(10**6, 10**9))


def test_the_least_trip_that_will_do() -> None:
    """12 A ask for 15 A; 4 A for 5 A, which a curve that lets 40 A pass for 0.1 s at 10 A makes 10 A."""
    settable = output(trip=["5 A", "10 A", "15 A", "20 A"], peak="60 A")
    assert trip_values(settable) == (5000, 10_000, 15_000)  # within its limit
    assert trip_for(settable, MilliAmps(4000), inrush(40_000)) == 5000
    assert trip_for(settable, MilliAmps(4001), inrush(40_000)) == 10_000
    assert trip_for(settable, MilliAmps(12_000), inrush(40_000)) == 15_000
    assert trip_for(settable, MilliAmps(12_001), inrush(40_000)) is None
    curved = output(trip=["5 A", "10 A", "15 A"], peak="60 A", trip_curve=[["2 x", "1 s"], ["8 x", "10 ms"]])
    assert trip_for(curved, MilliAmps(4000), inrush(40_000, 100_000)) == 10_000
    assert trip_for(curved, MilliAmps(4000), inrush(40_000, 100_001)) == 15_000
    assert trip_values(output(peak="60 A")) == (15_000,)


def test_peaks() -> None:
    """What an output passes for a moment is its limit where no peak is named; how long, only where that is said."""
    assert (peak_of(output(peak="60 A")), peak_of(output())) == (60_000, 15_000)
    brief = output(peak="60 A", peak_for="100 ms")
    assert outlasts_peak(brief, inrush(15_001, 100_001))
    assert not outlasts_peak(brief, inrush(15_000, 100_001))
    assert not outlasts_peak(brief, inrush(15_001, 100_000))
    assert not outlasts_peak(output(peak="60 A"), inrush(15_001, 100_001))
