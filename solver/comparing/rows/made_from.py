"""What a row is made from, as a sum over it all: where that is the same, so is the row."""

from collections.abc import Sequence
from functools import cache
from hashlib import sha256
from importlib.metadata import PackageNotFoundError, version

MADE_BY = ("portloom", "ortools")
"""Another version of either may give another plan."""


def made_from(bike: str, units: Sequence[str], *, headroom: bool) -> str:
    """Take the texts of all files, and whether headroom was asked for; give the sum as 64 hexadecimal digits.

    Source: SHA-256, FIPS 180-4.
    """
    asked = "with headroom" if headroom else "without headroom"
    parts = (bike, *units, asked, *(f"{name} {_version(name)}" for name in MADE_BY))
    return sha256("".join(f"{len(part)}:{part}" for part in parts).encode()).hexdigest()


@cache
def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:
        return "not installed"
