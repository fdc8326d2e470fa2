"""What contacts, fuses and earths lose, and what the wires of feed and returns are judged with.

Source: common practice, no source; ABYC E-11 knows no such figures, and makers of contacts give less than these.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from .quantities import quantity

FEED_UV = 150_000
"""What the feed's own wire is judged with, whatever flows."""
RETURN_UV = 70_000
"""What a return's own wire is judged with, whatever flows."""
EARTH_LIFT_UV = 500_000
"""What the earth of a switch may be lifted by."""
MAIN_FUSE_UV = 100_000
"""What a main fuse loses at its rating, in proportion."""
SMALL_FUSE_MA = 10_000


@dataclass(frozen=True)
class Contacts:
    """What each thing on the way resists (mohm): `unit_plug` and `load_plug` are both pins together."""

    connector: Fraction
    unit_plug: Fraction
    load_plug: Fraction
    splice: Fraction
    relay_contact: Fraction
    own_switch: Fraction
    earth_point: Fraction


USUAL = {
    "connector": "5 mohm",
    "unit plug": "5 mohm",
    "load plug": "5 mohm",
    "splice": "1 mohm",
    "relay contact": "10 mohm",
    "own switch": "20 mohm",
    "earth point": "2 mohm",
}


def contacts(assumed: Mapping[str, str]) -> Contacts:
    """Take what a file assumes by name; give the rest as usual."""
    said = {name: quantity(assumed.get(name, usual), "resistance") for name, usual in USUAL.items()}
    return Contacts(**{name.replace(" ", "_"): value for name, value in said.items()})


def fuse_mohm(fuse_ma: int) -> Fraction:
    """What the fuse of a load that no output feeds resists (mohm): small ones lose more at their rating."""
    return Fraction(130_000 if fuse_ma <= SMALL_FUSE_MA else 100_000, fuse_ma)
