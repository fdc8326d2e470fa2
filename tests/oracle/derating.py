"""What a wire carries in a hot leg, among other loaded wires.

Source: 33 CFR 183.425 Table 5 (30 C ambient) with Note 2 by the number of loaded wires;
heating with the square of the current, so sqrt((T - ambient) / (T - 30)) of Note 1, which
at 105 C and 50 C ambient gives its 0.85.
"""

from fractions import Fraction

from .catalogue import Wire
from .quantities import ceiling

# Up to so many loaded wires, so many per cent.
SHARES = ((2, 100), (3, 70), (6, 60), (24, 50))
BEYOND = 40
ANY_NUMBER = 10**9


def carries(wire: Wire, ma: int, share: int, ambient_c: Fraction, insulation_c: int) -> bool:
    """Tell whether a wire carries a current (mA) with so many per cent of its ampacity, in an ambient (C)."""
    above, part = insulation_c * ambient_c.denominator - ambient_c.numerator, ambient_c.denominator
    return (wire.carries_ma * share) ** 2 * above >= (ma * 100) ** 2 * (insulation_c - 30) * part


def most_loaded(wire: Wire, ma: int, ambient_c: Fraction, insulation_c: int) -> int:
    """Return the largest number of loaded wires in a leg among which a wire still carries a current; 0 if none."""
    if carries(wire, ma, BEYOND, ambient_c, insulation_c):
        return ANY_NUMBER
    able = [most for most, share in SHARES if carries(wire, ma, share, ambient_c, insulation_c)]
    return max(able, default=0)


def with_reserve(ma: int) -> int:
    """Return 1.25 x a current, rounded up to 1 mA (common practice)."""
    return ceiling(Fraction(5 * ma, 4))
