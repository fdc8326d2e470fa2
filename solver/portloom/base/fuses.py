"""Fuses: the blade fuse for a current, and what an output's electronic fuse is set to."""

from functools import lru_cache
from itertools import pairwise
from math import isclose, log

from portloom.base.current import Inrush
from portloom.base.fuse_steps import STEPS
from portloom.base.quantities import Microseconds, MilliAmps, Thousandths
from portloom.base.unit import Output


def fuse_for(steady: MilliAmps, above: MilliAmps = MilliAmps(0)) -> MilliAmps | None:
    """Return the smallest step that carries ``steady`` and is above ``above``, or None past the last."""
    return next((step for step in STEPS if carries(step, steady) and step > above), None)


SMALL_FUSE = MilliAmps(10_000)
"""Up to this rating a blade fuse loses more at its rating than a larger one (from memory)."""
FOREVER = float("inf")
Curve = tuple[tuple[Thousandths, Microseconds], ...]


def carries(rating: MilliAmps, steady: MilliAmps) -> bool:
    """Tell whether a fuse or trip of ``rating`` carries ``steady`` for good: rating >= 1.25 x current.

    Source: common practice, no source (a continuous load at 80 % of a fuse's rating at most).
    """
    return 4 * rating >= 5 * steady


def carried_for_good(rating: MilliAmps) -> MilliAmps:
    """Return the most that a fuse of ``rating`` carries for good: it over 1.25, rounded down."""
    return MilliAmps(4 * rating // 5)


def trip_values(output: Output) -> tuple[MilliAmps, ...]:
    """Return the values that an output's trip can have within its limit, smallest first."""
    return (output.limit,) if output.trip is None else _up_to(output.limit, output.trip)


@lru_cache(maxsize=256)
def _up_to(limit: MilliAmps, values: tuple[MilliAmps, ...]) -> tuple[MilliAmps, ...]:
    return tuple(sorted(value for value in values if value <= limit))


def holding_time(curve: Curve, multiple: float) -> float:
    """Return the microseconds for which a trip holds ``multiple`` times its value.

    ``curve`` falls and is straight between its points on log scales. Below its first point it holds
    as long as there (for ever at the trip itself or less), beyond its last point not at all.
    """
    if multiple <= 1:
        return FOREVER
    first, last = curve[0], curve[-1]
    if multiple <= first[0] / 1000:
        return float(first[1])
    if multiple > last[0] / 1000:
        return 0.0
    (low, slow), (high, fast) = next(pair for pair in pairwise(curve) if multiple <= pair[1][0] / 1000)
    share = log(multiple * 1000 / low) / log(high / low)
    return float(slow * (fast / slow) ** share)


def holds_inrush(curve: Curve, trip: MilliAmps, inrush: Inrush) -> bool:
    """Tell whether a trip set to ``trip`` lets ``inrush`` pass; without a curve it is taken to."""
    if not curve:
        return True
    time = holding_time(curve, inrush.height / (1000 * trip))
    return time >= inrush.lasts or isclose(time, inrush.lasts, rel_tol=1e-9)


def trip_for(output: Output, steady: MilliAmps, inrush: Inrush) -> MilliAmps | None:
    """Return the smallest value that carries ``steady`` and holds ``inrush``, or None where none does."""
    values = (value for value in trip_values(output) if carries(value, steady))
    return next((value for value in values if holds_inrush(output.trip_curve, value, inrush)), None)


def peak_of(output: Output) -> MilliAmps:
    """Return the most that an output passes for a short time: its limit where no peak is named."""
    return output.limit if output.peak is None else output.peak


def outlasts_peak(output: Output, inrush: Inrush) -> bool:
    """Tell whether an inrush above the limit lasts longer than the peak is said to, and no curve judges it."""
    above = inrush.height > 1000 * output.limit
    if output.peak_for is None or output.trip_curve:
        return False
    return above and inrush.lasts > output.peak_for
