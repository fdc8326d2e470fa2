"""Quantities of files as they are written there, and words of which there may be one or several."""

from fractions import Fraction
from pathlib import Path
from typing import Any

from oracle.quantities import UNITS, quantity

ROOT = Path(__file__).parents[2]
Entry = dict[str, Any]
DIMENSIONS = {unit: name for name, units in UNITS.items() for unit in units}


def amount(text: Any, unit: str) -> Fraction:
    """Return the number of a quantity in a unit; raise ValueError where it is none of that dimension."""
    dimension = DIMENSIONS[unit]
    return quantity(str(text), dimension) / UNITS[dimension][unit]


def several(entry: Any) -> list[str]:
    """Return a word or a list of words as a list."""
    return [entry] if isinstance(entry, str) else list(entry or ())
