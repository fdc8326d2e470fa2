"""Amounts as sheets write them, each kind always with as many digits."""

from decimal import ROUND_HALF_UP, Decimal

from solver.words.figures import plain
from solver.words.quantities import Micrometres, MilliAmps


def amperes(current: MilliAmps) -> str:
    """Write a current to a hundredth of an ampere."""
    return f"{plain((Decimal(current) / 1000).quantize(Decimal('0.01'), ROUND_HALF_UP))} A"


def metres(length: Micrometres) -> str:
    """Write a length in metres, to the millimetre."""
    return f"{Decimal(length) / 1_000_000:.3f} m"


def tenths(length: Micrometres) -> str:
    """Write a diameter in millimetres, to a tenth, rounded up."""
    return f"{Decimal(-(-length // 100)) / 10:.1f} mm"
