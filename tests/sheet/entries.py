"""Files as texts, and quantities as they are written there."""

from fractions import Fraction
from pathlib import Path
from typing import Any

import yaml

from .tables import F

ROOT = Path(__file__).parents[2]
Entry = dict[str, Any]


def read(path: Path) -> Entry:
    """Return a file of YAML, every scalar as its text."""
    entry: Entry = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)  # noqa: S506 -- only texts
    return entry


def amount(text: Any, *units: str) -> Fraction:
    """Return the number of a quantity in its unit; raise ValueError for another unit."""
    number, unit = str(text).split(" ", 1)
    if unit not in units:
        raise ValueError(f"{text} is not in {units}")
    return F(number)


def several(entry: Any) -> list[str]:
    """Return a word or a list of words as a list."""
    return [entry] if isinstance(entry, str) else list(entry or ())
