"""Battery days, and the mean of what comes and goes."""

from fractions import Fraction

from solver.words.quantities import BasisPoints, MicroAmps, MilliAmpHours

HOURS_A_DAY = 24


def battery_days(capacity: MilliAmpHours, drawn: MicroAmps, self_discharge: BasisPoints) -> Fraction | None:
    """Return the days until half a battery's capacity is gone, or None where nothing draws on it.

    ``self_discharge`` is a share of the capacity a day. Source: EN 50342-7 capacity at the ten-hour
    rate; half of it as the end: common practice, no source.
    """
    a_day = HOURS_A_DAY * Fraction(drawn, 1000) + Fraction(capacity * self_discharge, 10_000)
    return Fraction(capacity, 2) / a_day if a_day else None


def share_of_time(duties: tuple[Fraction, ...]) -> Fraction:
    """Return the share of the time in which at least one of independent events comes."""
    none = Fraction(1)
    for duty in duties:
        none *= 1 - duty
    return 1 - none
