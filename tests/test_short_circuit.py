"""Heating by a short circuit: the adiabatic formula against published tables and another formula.

Sources: IEC 60949 (copper: K = 226 A s^0.5/mm2, b = 234.5 K, from memory); the table of k of
IEC 60364-5-54; Onderdonk's formula (melting of copper at 1083 C; its 234 from memory); FAA AC 43.13-1B.
"""

from math import inf, log10, sqrt

import pytest

from portloom.base.fuses import Curve
from portloom.base.quantities import Microseconds, Thousandths
from portloom.base.short_circuit import B, K, end_temperature, tripping_time, withstands
from portloom.base.sizes import WireSize, gauge, parse_size

PUBLISHED_K = [
    # from C, to C, k: PVC, PVC at 90 C, cross-linked polyethylene, rubber at 60 C, rubber at 85 C, silicone
    (70, 160, 115),
    (90, 160, 100),
    (90, 250, 143),
    (60, 200, 141),
    (85, 220, 134),
    (180, 350, 132),
]
ONE = parse_size("1 mm2")


def current_to(size: WireSize, seconds: float, start: float, end: float) -> float:
    """Return the amperes that heat a wire from ``start`` to ``end``, by halving an interval."""
    low, high = 0.0, 100_000.0
    for _ in range(200):
        middle = (low + high) / 2
        too_hot = end_temperature(size, middle, seconds, start) > end
        low, high = (low, middle) if too_hot else (middle, high)
    return low


def test_constants() -> None:
    """IEC 60949 for copper. K is the root of 3.45e-3 J/(K mm3) (from memory) x (b + 20) / rho of IEC 60028."""
    assert (K, B) == (226.0, 234.5)
    assert sqrt(3.45e-3 * (B + 20) / 17.241e-6) == pytest.approx(K, rel=0.002)


@pytest.mark.parametrize(("start", "end", "k"), PUBLISHED_K)
def test_the_table_of_k(start: float, end: float, k: float) -> None:
    """IEC 60364-5-54: S = I x sqrt(t) / k; the published k are found within 0.5 %, whatever the size and time."""
    assert current_to(ONE, 1, start, end) == pytest.approx(k, rel=0.005)
    assert current_to(parse_size("2.5 mm2"), 4, start, end) == pytest.approx(k * 2.5 / 2, rel=0.005)


@pytest.mark.parametrize(
    ("size", "seconds", "start", "amperes"),
    [("1 mm2", 0.1, 40, 430.4), ("0.5 mm2", 0.1, 40, 215.2), ("2.5 mm2", 1, 70, 287.5), ("0.75 mm2", 5, 25, 49.06)],
)
def test_current_to_160_c(size: str, seconds: float, start: float, amperes: float) -> None:
    """Worked out from the formula of IEC 60949 by hand: from ``start`` to 160 C."""
    assert current_to(parse_size(size), seconds, start, 160) == pytest.approx(amperes, rel=0.0005)


@pytest.mark.parametrize(
    ("size", "amperes", "seconds", "start", "end"), [("1 mm2", 100, 1, 40, 99.37), ("0.5 mm2", 60, 0.5, 25, 64.28)]
)
def test_end_temperature(size: str, amperes: float, seconds: float, start: float, end: float) -> None:
    """Worked out from the formula of IEC 60949 by hand."""
    assert end_temperature(parse_size(size), amperes, seconds, start) == pytest.approx(end, abs=0.005)


def test_onderdonk() -> None:
    """16 AWG melts in 5 s at 168.9 A by Onderdonk's formula, from 25 C; the adiabatic one is within 0.3 %."""
    mils = float(gauge(16).square_mm) / 0.00050671
    onderdonk = mils * sqrt(log10((1083 - 25) / (234 + 25) + 1) / (33 * 5))
    assert onderdonk == pytest.approx(168.9, rel=0.003)
    assert current_to(gauge(16), 5, 25, 1083) == pytest.approx(onderdonk, rel=0.003)


def test_no_current_heats_nothing() -> None:
    """Without current a wire stays as warm as it was, 85 C unless it is said."""
    assert end_temperature(ONE, 0, 5) == 85
    assert end_temperature(ONE, 0, 5, 40) == pytest.approx(40)


def test_far_too_much_is_far_too_hot() -> None:
    """A current that boils copper away many times over is hotter than any limit, and no overflow."""
    assert end_temperature(parse_size("0.35 mm2"), 20_000, 3600) > 1083
    assert not withstands(parse_size("0.35 mm2"), 20_000, 3600)


def test_a_wire_at_85_c_stands_up_to_160_c() -> None:
    """Between the published k of 115 (from 70 C) and 100 (from 90 C); 0.5 mm2 stands 164.0 A for 0.1 s, not 164.2."""
    k = current_to(ONE, 1, 85, 160)
    assert 100 < k < 115
    assert k == pytest.approx(103.77, abs=0.01)  # 226 x sqrt(ln(394.5 / 319.5))
    half = parse_size("0.5 mm2")
    assert withstands(half, 164.0, 0.1)
    assert not withstands(half, 164.2, 0.1)
    assert withstands(half, 10_000, inf)  # what never trips is judged by ampacity


CURVE: Curve = (
    (Thousandths(2000), Microseconds(1_000_000)),
    (Thousandths(6000), Microseconds(50_000)),
)


@pytest.mark.parametrize(
    ("amperes", "seconds"),
    [
        (10, inf),  # the trip itself flows for good
        (9.999, inf),
        (10.001, 1.0),  # below the first point as long as there
        (20, 1.0),
        (10 * sqrt(12), sqrt(0.05)),  # half way from 2 x to 6 x on log scales: the mean of 1 s and 50 ms on theirs
        (60, 0.05),
        (60.001, 0.05),  # beyond the last point no faster than there
        (1000, 0.05),
    ],
)
def test_how_long_a_trip_needs(amperes: float, seconds: float) -> None:
    """A trip of 10 A with a curve of 2 x for 1 s and 6 x for 50 ms, straight on log scales."""
    assert tripping_time(CURVE, 10, amperes, 0.1) == pytest.approx(seconds, rel=1e-6)


def test_without_a_curve_the_time_is_as_said() -> None:
    """Above its trip an output without a curve opens in the time that is assumed; at its trip it never does."""
    assert tripping_time((), 10, 10.001, 0.1) == 0.1
    assert tripping_time((), 10, 500, 0.25) == 0.25
    assert tripping_time((), 10, 10, 0.1) == inf
