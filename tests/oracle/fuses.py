"""Blade fuses: their steps, and which of them may stand before a unit.

Source: steps of ISO 8820-3; 1.25 x what flows is common practice.
"""

from fractions import Fraction

STEPS_MA = tuple(
    int(Fraction(step) * 1000)
    for step in ("1", "2", "3", "4", "5", "7.5", "10", "15", "20", "25", "30", "35", "40", "50", "60", "70", "80")
)


def step_from(at_least: Fraction) -> int | None:
    """Return the smallest step (mA) from `at_least` (mA) up; None if beyond."""
    return next((step for step in STEPS_MA if step >= at_least), None)


def largest_within_ma(most: int) -> int:
    """Return the largest step (mA) within so many mA; 0 where there is none."""
    return max((step for step in STEPS_MA if step <= most), default=0)


def main_fuses_ma(carried: int, most: int) -> tuple[int, ...]:
    """Return the steps (mA), small ones first, that carry so many mA with a reserve and are within `most` (mA)."""
    return tuple(step for step in STEPS_MA if 4 * step >= 5 * carried and step <= most)
