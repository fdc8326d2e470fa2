"""Heating of a wire by a short circuit until its fuse trips, no heat lost on the way.

Source: IEC 60949, adiabatic: I = K x S / sqrt(t) x sqrt(ln((Tf + b) / (Ti + b))); copper K = 226
A s^0.5/mm2, b = 234.5 K (both from memory; they give the k of IEC 60364-5-54). End temperature
160 C as for PVC there.
"""

from functools import cache
from math import exp, inf

from portloom.base.fuses import Curve, holding_time
from portloom.base.sizes import WireSize

K = 226.0
B = 234.5
FROM = 85.0
UP_TO = 160.0
MOLTEN = 100.0
"""An exponent far beyond the melting of copper; more would only overflow."""


def end_temperature(size: WireSize, amperes: float, seconds: float, start: float = FROM) -> float:
    """Return the temperature in C of a copper wire after ``amperes`` for ``seconds``."""
    heat = (amperes / (K * float(size.square_mm))) ** 2 * seconds
    return (start + B) * exp(min(heat, MOLTEN)) - B


def tripping_time(curve: Curve, trip_amperes: float, amperes: float, without_curve: float) -> float:
    """Return the seconds that a trip needs at ``amperes``: from its curve, or the time that is assumed.

    At the trip or less it never opens: the wire carries that for good.
    """
    if amperes <= trip_amperes:
        return inf
    if not curve:
        return without_curve
    held = holding_time(curve, amperes / trip_amperes)
    return (held or float(curve[-1][1])) / 1_000_000


@cache
def withstands(size: WireSize, amperes: float, seconds: float) -> bool:
    """Tell whether a wire at 85 C stays at 160 C or below; a current that never trips is judged elsewhere."""
    return seconds == inf or end_temperature(size, amperes, seconds) <= UP_TO
