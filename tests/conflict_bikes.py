"""Random bikes for conflicts: those that lack something, and those in which something is decided of ports."""

from oracle.random_bikes import random_case
from oracle.starved import FAMILIES, starved_case

DECIDED = ("held", "alike")
"""Not all of these lack anything."""
EVERY_FAMILY = (*FAMILIES, *DECIDED)


def conflict_case(seed: int, family: str) -> tuple[str, str]:
    """Take a seed and one of EVERY_FAMILY; give the YAML texts of a bike and a unit."""
    return random_case(seed, family) if family in DECIDED else starved_case(seed, family)
