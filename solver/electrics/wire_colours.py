"""How wires look: a reference for each letter code of IEC 60757, and which colours are taken for one another.

Insulation fades, gets dirty, and is looked at under a lamp; so two colours count as alike well above what an eye
tells apart side by side. Green-and-yellow is the protective conductor's alone (IEC 60445): a wire that a user has
fixed in it looks green with a yellow stripe, and nothing here ever proposes it.
"""

from functools import cache

from solver.electrics.colour_difference import Lab, colour_difference
from solver.words.bike import Colour, ColourCode

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

SOLID: tuple[ColourCode, ...] = tuple(REFERENCE)
"""Every colour that wire without a stripe may be proposed in, in the order of IEC 60757."""

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
