"""Voltage lost on wires, connectors, fuses, earth points and outputs. Exact, in microvolts.

Source: U = I x R; conductor resistance after FAA AC 43.13-1B par. 11-66 at its temperature.
"""

from fractions import Fraction
from typing import NewType

from solver.electrics.copper import CONDUCTOR_TEMPERATURE, Conductor
from solver.words.quantities import BasisPoints, Micrometres, MicroOhms, MilliAmps, MilliCelsius, MilliVolts

MicroVolts = NewType("MicroVolts", Fraction)
Moment = NewType("Moment", int)
"""Current x length x (234.5 C + conductor temperature): mA x um x mC. The same for every wire size."""

NOTHING = MicroVolts(Fraction(0))
NO_MATTER = 10**12
"""More microohms a metre than any wire has: its size does not matter."""
_PER_VOLT = 254_500 * 10**9
"""uohm/m x mA x um x mC in a microvolt, with the 254.5 C of the temperature formula."""


def conductor_temperature(ambient: MilliCelsius | None) -> MilliCelsius:
    """Return the temperature at which a conductor is taken to work: 85 C, in a hotter leg its ambient."""
    return CONDUCTOR_TEMPERATURE if ambient is None else max(CONDUCTOR_TEMPERATURE, ambient)


def moment(current: MilliAmps, length: Micrometres, temperature: MilliCelsius) -> Moment:
    """Return the moment of ``current`` over a stretch of wire at ``temperature``."""
    return Moment(current * length * (234_500 + temperature))


def wire_drop(conductor: Conductor, total: Moment) -> MicroVolts:
    """Return the voltage lost on a wire of one size over the sum of its moments."""
    return MicroVolts(Fraction(conductor.resistance * total, _PER_VOLT))


def greatest_resistance(allowed: MicroVolts, lost: int, total: Moment) -> int:
    """Return the greatest resistance at 20 C, in microohms a metre, that keeps a run within ``allowed``.

    ``lost`` nanovolts of it are lost elsewhere (microohms x mA); less than none is left where the
    result is negative. The same formula as wire_drop, turned round, in whole numbers.
    """
    left = 1000 * allowed.numerator - lost * allowed.denominator
    if total == 0:
        return NO_MATTER if left >= 0 else -1
    return _PER_VOLT * left // (1000 * allowed.denominator * total)


def resistance_drop(resistance: MicroOhms, current: MilliAmps) -> MicroVolts:
    """Return the voltage lost in ``resistance``."""
    return MicroVolts(Fraction(resistance * current, 1000))


def fuse_drop(at_rating: MilliVolts, rating: MilliAmps, current: MilliAmps) -> MicroVolts:
    """Return the voltage lost in a fuse: ``at_rating`` at its rating, in proportion below.

    Source: 0.1 V at rating, after DIN 72581-3 form E (<= 100 mV above 20 A).
    """
    return MicroVolts(Fraction(at_rating * 1000 * current, rating))


def share_of(voltage: MilliVolts, share: BasisPoints) -> MicroVolts:
    """Return a share of a voltage."""
    return MicroVolts(Fraction(voltage * share, 10))
