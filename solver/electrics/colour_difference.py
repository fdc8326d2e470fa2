"""CIEDE2000: how far two colours lie apart for the eye.

Source: CIE 142-2001 / ISO 11664-6, with k_L = k_C = k_H = 1; the steps and the equations' numbers after Sharma, Wu
and Dalal, 'The CIEDE2000 color-difference formula: implementation notes, supplementary test data, and mathematical
observations', Color Research and Application 30 (2005), 21-30, doi:10.1002/col.20070.
"""

from math import atan2, cos, degrees, exp, hypot, radians, sin, sqrt
from typing import NamedTuple

_G_CONST = 25.0**7


class Lab(NamedTuple):
    """A colour in CIE 1976 L*a*b*."""

    lightness: float
    """0 for black to 100 for white."""
    a: float
    """Green below nought, red above."""
    b: float
    """Blue below nought, yellow above."""


class _Hued(NamedTuple):
    """Lightness, chroma and hue (degrees, 0 to 360) with a* corrected near grey."""

    lightness: float
    chroma: float
    hue: float


def colour_difference(one: Lab, other: Lab) -> float:
    """Return the CIEDE2000 difference: nought for the same colour, 1 for one that is barely seen side by side."""
    mean = (hypot(one.a, one.b) + hypot(other.a, other.b)) / 2  # equation 3
    first, second = _hued(one, mean), _hued(other, mean)
    turn = _turn(first, second)
    chroma = (first.chroma + second.chroma) / 2  # 13
    lightness = (first.lightness + second.lightness) / 2  # 12
    hue = _mean_hue(first, second)
    by_lightness = (second.lightness - first.lightness) / _lightness_weight(lightness)
    by_chroma = (second.chroma - first.chroma) / (1 + 0.045 * chroma)  # 16
    by_hue = 2 * sqrt(first.chroma * second.chroma) * sin(radians(turn / 2)) / _hue_weight(chroma, hue)  # 11
    rotation = _rotation(chroma, hue)
    return sqrt(by_lightness**2 + by_chroma**2 + by_hue**2 + rotation * by_chroma * by_hue)  # 22


def _share(chroma: float) -> float:
    return sqrt(chroma**7 / (chroma**7 + _G_CONST))


def _hued(colour: Lab, mean_chroma: float) -> _Hued:
    """Equations 4 to 7."""
    a = (1 + (1 - _share(mean_chroma)) / 2) * colour.a
    hue = degrees(atan2(colour.b, a)) % 360 if a or colour.b else 0.0
    return _Hued(colour.lightness, hypot(a, colour.b), hue)


def _turn(first: _Hued, second: _Hued) -> float:
    """Return the angle from the first hue to the second the short way round; greys have none. Equation 10."""
    if first.chroma * second.chroma == 0:
        return 0.0
    apart = second.hue - first.hue
    if abs(apart) <= 180:
        return apart
    return apart - 360 if apart > 180 else apart + 360


def _mean_hue(first: _Hued, second: _Hued) -> float:
    """Return the hue midway; where one colour is grey, the other's. Equation 14."""
    total = first.hue + second.hue
    if first.chroma * second.chroma == 0:
        return total
    if abs(first.hue - second.hue) <= 180:
        return total / 2
    return (total + 360) / 2 if total < 360 else (total - 360) / 2


def _lightness_weight(mean: float) -> float:
    """Equation 15."""
    return 1 + 0.015 * (mean - 50) ** 2 / sqrt(20 + (mean - 50) ** 2)


def _hue_weight(chroma: float, hue: float) -> float:
    """Equations 15 and 17: T, and S_H."""
    wave = (
        1
        - 0.17 * cos(radians(hue - 30))
        + 0.24 * cos(radians(2 * hue))
        + 0.32 * cos(radians(3 * hue + 6))
        - 0.20 * cos(radians(4 * hue - 63))
    )
    return 1 + 0.015 * chroma * wave


def _rotation(chroma: float, hue: float) -> float:
    """Equations 18 to 21: the term for blues, where hue and chroma are not seen apart."""
    turn = 30 * exp(-(((hue - 275) / 25) ** 2))
    return -2 * _share(chroma) * sin(radians(2 * turn))
