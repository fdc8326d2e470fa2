"""A figure as it was worked out, and how near a printed one must come to it."""

from collections.abc import Collection
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

Worked = Fraction | float | int | None


@dataclass(frozen=True)
class Figure:
    """What a printed figure must be: exactly this, or within one unit of its last place above or about it."""

    worked: Worked
    step: float = 0.0
    also: Collection[Worked] = ()
    """What would be as right, where several cases or legs are equally bad."""

    def agrees(self, printed: Decimal | int | None) -> bool:
        """Tell whether a printed figure is this one."""
        wanted = [self.worked, *self.also]
        if printed is None or None in wanted:
            return printed is None and None in wanted
        return any(abs(float(printed) - float(one)) <= self.step + 1e-9 for one in wanted if one is not None)


def exact(worked: Worked, also: Collection[Worked] = ()) -> Figure:
    """Return a figure that is printed as it is."""
    return Figure(worked, 0.0, also)


def volts(microvolts: Fraction) -> Figure:
    """Return volts, printed to 0.1 mV."""
    return Figure(microvolts / 1_000_000, 1e-4)


def amperes(milliamps: Fraction | int) -> Figure:
    """Return amperes, exact to the mA."""
    return Figure(Fraction(milliamps) / 1000)
