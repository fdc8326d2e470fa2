"""How wires look, and how far two colours lie apart for the eye.

Source of the difference: CIE 142-2001 / ISO 11664-6, with k_L = k_C = k_H = 1; the steps and the equations' numbers
after Sharma, Wu and Dalal, 'The CIEDE2000 color-difference formula: implementation notes, supplementary test data,
and mathematical observations', Color Research and Application 30 (2005), 21-30, doi:10.1002/col.20070.

Insulation fades, gets dirty, and is looked at under a lamp; so two colours count as alike well above what an eye
tells apart side by side. Green-and-yellow is the protective conductor's alone (IEC 60445): a wire that a user has
fixed in it looks green with a yellow stripe, and nothing here ever proposes it.
"""

from functools import cache
from math import atan2, cos, degrees, exp, hypot, radians, sin, sqrt
from typing import NamedTuple

from portloom.base.bike import Colour, ColourCode

_G_CONST = 25.0**7


class Lab(NamedTuple):
    """A colour in CIE 1976 L*a*b*."""

    lightness: float
    """0 for black to 100 for white."""
    a: float
    """Green below zero, red above."""
    b: float
    """Blue below zero, yellow above."""


class _Hued(NamedTuple):
    """Lightness, chroma and hue (degrees, 0 to 360) with a* corrected near grey."""

    lightness: float
    chroma: float
    hue: float


def colour_difference(one: Lab, other: Lab) -> float:
    """Return the CIEDE2000 difference: zero for the same colour, 1 for one that is barely seen side by side."""
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


PROTECTIVE: ColourCode = "GNYE"
"""Source: IEC 60445: the protective conductor's; no earth return of direct current is one."""
USUAL_EARTH: ColourCode = "BK"
"""Common practice, no source."""
USUAL_FEED: ColourCode = "RD"
"""Common practice, no source."""
ALIKE_BELOW = 18.0
"""CIEDE2000 difference below which two colours may be taken for one another in a loom: common practice, no source."""

REFERENCE: dict[ColourCode, Lab] = {
    "BK": Lab(20.2, 0.0, 0.0),  # N 2/
    "BN": Lab(35.6, 22.1, 26.4),  # 2.5YR 3.5/6
    "RD": Lab(40.7, 60.9, 17.8),  # 2.5R 4/14
    "OG": Lab(61.0, 41.0, 67.1),  # 2.5YR 6/14
    "YE": Lab(85.3, -4.8, 86.1),  # 5Y 8.5/12
    "GN": Lab(51.0, -62.7, 28.7),  # 2.5G 5/12
    "BU": Lab(40.7, -2.1, -40.5),  # 2.5PB 4/10
    "VT": Lab(40.7, 29.2, -33.8),  # 2.5P 4/10
    "GY": Lab(51.0, 0.0, 0.0),  # N 5/
    "WH": Lab(90.2, 0.0, 0.0),  # N 9/
    "PK": Lab(71.0, 36.0, 4.0),
    "GD": Lab(66.0, 0.0, 58.0),
    "TQ": Lab(66.0, -36.0, -9.0),
    "SR": Lab(70.0, 0.0, -2.0),
}
"""L*a*b* under illuminant C, for all but green-and-yellow.

Source: the first ten are the centroids of EIA-359-A (Munsell notations from memory), by the Munsell renotation data
of Newhall, Nickerson and Judd (1943); the last four: common practice, no source.
"""

SOLD: tuple[ColourCode, ...] = ("BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK")
"""The colours that wire is sold in anywhere, in the order of IEC 60757: common practice, no source.

Gold, turquoise and silver only a shop can offer that has them on its reels.
"""
LIGHT = 60.0
"""Lightness from which a stripe is black to be seen, else white: common practice, no source."""
STRIPED: tuple[Colour, ...] = tuple(
    Colour(base=base, stripe="BK" if REFERENCE[base].lightness >= LIGHT else "WH")
    for base in SOLD
    if base != USUAL_EARTH
)
"""Colours with a stripe that may be proposed: of each base but black, which would be taken for earth, the plainest."""

Look = tuple[ColourCode, ColourCode | None]
"""Base and stripe as they are seen."""


def look(colour: Colour) -> Look:
    """What is seen of a colour: a stripe like its base is no stripe, green with yellow is one either way round."""
    base, stripe = colour.base, colour.stripe
    if base == PROTECTIVE or {base, stripe} == {"GN", "YE"}:
        return ("GN", "YE")
    seen: ColourCode | None = "GN" if stripe == PROTECTIVE else stripe
    return (base, None if seen is None or _near(base, seen) else seen)


def alike(one: Colour, other: Colour) -> bool:
    """Tell whether two wires of one thickness may be taken for one another: bases alike, and stripes or none."""
    return seen_alike(look(one), look(other))


@cache
def seen_alike(one: Look, other: Look) -> bool:
    """Tell the same of what is seen of them."""
    (base, stripe), (its_base, its_stripe) = one, other
    if stripe is None or its_stripe is None:
        return stripe is its_stripe and _near(base, its_base)
    return _near(base, its_base) and _near(stripe, its_stripe)


@cache
def _near(one: ColourCode, other: ColourCode) -> bool:
    return one == other or colour_difference(REFERENCE[one], REFERENCE[other]) < ALIKE_BELOW
