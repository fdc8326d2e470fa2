"""Every minimal conflict of small bikes, one after the other, against CPMpy's enumeration.

The reference is ``marco`` of CPMpy (https://cpmpy.readthedocs.io), on the model of ``oracle.pure``, which shares
no code with the package: the method of Liffiton, Previti, Malik and Marques-Silva, 'Fast, flexible MUS enumeration',
Constraints 21 (2016), doi:10.1007/s10601-015-9183-0.
"""

from functools import cache

import pytest

from explained import questions_on
from oracle.facts import Key
from oracle.pure import all_minimal_conflicts
from oracle.pure_bikes import pure_case
from portloom.explaining.conflicts.find import every_conflict

pytestmark = pytest.mark.long

SEEDS = (*range(108, 113), 114, 115, *range(117, 128))
EACH_SEED = pytest.mark.parametrize("seed", SEEDS)
Conflicts = set[frozenset[Key]]


@cache
def found(seed: int) -> tuple[frozenset[Key], ...]:
    """Return the conflicts in the order in which they are found."""
    return tuple(frozenset(conflict.keys) for conflict in every_conflict(questions_on(pure_case(seed))))


@cache
def wanted(seed: int) -> Conflicts:
    """Return those that CPMpy enumerates."""
    return all_minimal_conflicts(*pure_case(seed))


@EACH_SEED
def test_every_minimal_conflict_is_found_once(seed: int) -> None:
    """All conflicts that CPMpy enumerates are found, and no others.

    The model of ``oracle.pure`` has only the facts that can matter in these bikes; the package is asked
    about all of them, so a conflict with any other would be found here as one too many. There can be
    none: outputs let 120 A pass at switch-on, 150 mm of wire drop next to nothing, nothing has an
    opening, a terminal or a lowest voltage, nothing must be told, and the reference refuses bikes
    in which a trip could reach the main fuse, or raise it, whatever is dropped.
    """
    assert len(found(seed)) == len(set(found(seed)))
    assert set(found(seed)) == wanted(seed)


def test_bikes_without_and_with_many_conflicts_are_tried() -> None:
    counts = {len(wanted(seed)) for seed in SEEDS}
    assert min(counts) == 0
    assert max(counts) >= 10


def test_conflicts_of_all_kinds_are_tried() -> None:
    """In some conflict or other there is every sort of fact that matters in these bikes."""
    sorts = {key[0] for seed in SEEDS for conflict in wanted(seed) for key in conflict}
    assert sorts == {"load", "current", "mode", "kind", "ban", "bank", "total", "outputs"}
