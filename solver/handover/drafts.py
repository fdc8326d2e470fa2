"""A step of the bench test before it has its number."""

from dataclasses import dataclass
from fractions import Fraction

from solver.handover.expected import Expected
from solver.handover.steps import Part, Read
from solver.words.quantities import MilliVolts


@dataclass(frozen=True)
class Draft:
    """What a step says, without the number that it gets in the end; see Step for the fields."""

    part: Part
    title: str
    do: str
    read: Read
    expect: str = ""
    """Empty where it is the current that is written for the sheet's own voltage."""
    port: str = ""
    expected: Expected | None = None
    loses: Fraction | None = None
    printed_for: MilliVolts | None = None
    """The supply voltage to print for where it is not the resting battery's."""
    between: tuple[MilliVolts, MilliVolts] | None = None
