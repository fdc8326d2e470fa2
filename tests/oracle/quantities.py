"""Quantities with units, read exactly into one base unit for each dimension."""

import re
from fractions import Fraction

# Base units: um, mA, mV, mAh, W, mohm, ms, mm2, C, Hz, and plain numbers for shares and multiples.
UNITS: dict[str, dict[str, Fraction]] = {
    "length": {"um": Fraction(1), "mm": Fraction(1000), "cm": Fraction(10**4), "m": Fraction(10**6)},
    "current": {"mA": Fraction(1), "A": Fraction(1000)},
    "voltage": {"mV": Fraction(1), "V": Fraction(1000)},
    "charge": {"mAh": Fraction(1), "Ah": Fraction(1000)},
    "power": {"mW": Fraction(1, 1000), "W": Fraction(1), "kW": Fraction(1000)},
    "resistance": {"mohm": Fraction(1), "ohm": Fraction(1000)},
    "time": {"us": Fraction(1, 1000), "ms": Fraction(1), "s": Fraction(1000), "min": Fraction(60000)},
    "area": {"mm2": Fraction(1), "mm²": Fraction(1)},
    "temperature": {"C": Fraction(1)},
    "frequency": {"Hz": Fraction(1), "kHz": Fraction(1000)},
    "share": {"%": Fraction(1, 100)},
    "multiple": {"x": Fraction(1)},
}
SHAPE = re.compile(r"^\s*(\d+(?:\.\d+)?)\s*([^\d\s.]\S*)\s*$")


def quantity(text: str, dimension: str) -> Fraction:
    """Take a text such as `350 mm`; give the number in the base unit of its dimension.

    Raises ValueError for a bare number or a unit of another dimension.
    """
    match = SHAPE.match(text)
    if match is None or match.group(2) not in UNITS[dimension]:
        msg = f"{text!r} is no {dimension}"
        raise ValueError(msg)
    return Fraction(match.group(1)) * UNITS[dimension][match.group(2)]


def whole(text: str, dimension: str) -> int:
    """Return a quantity that must be whole in its base unit. Raises ValueError if it is not."""
    value = quantity(text, dimension)
    if value.denominator != 1:
        msg = f"{text!r} is finer than the base unit of {dimension}"
        raise ValueError(msg)
    return value.numerator


def ceiling(value: Fraction) -> int:
    """Round up to the next whole number."""
    return -(-value.numerator // value.denominator)
