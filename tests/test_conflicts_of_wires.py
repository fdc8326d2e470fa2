"""The conflicts that are told where nothing fits, judged by the independent program, by HiGHS.

Random bikes whose wires, openings, voltages or fuses are too tight, and those that lack several things.
"""

import pytest

from oracle.starved import FAMILIES as STARVED
from oracle.starved import starved_case
from told_conflicts import told_of

pytestmark = pytest.mark.long

FAMILIES = STARVED[8:]
SEEDS = range(5000, 5016)


@pytest.mark.parametrize("family", FAMILIES)
def test_every_conflict_is_one(family: str) -> None:
    """The facts of a conflict alone have no plan, wherever the unit sits."""
    for told in told_of(starved_case, family, SEEDS):
        assert told.conflicts
        assert told.wrong == (), told.written


@pytest.mark.parametrize("family", FAMILIES)
def test_no_fact_of_a_conflict_is_spare(family: str) -> None:
    """The facts of a conflict have a plan when any single one of them is dropped."""
    for told in told_of(starved_case, family, SEEDS):
        assert told.spare == (), told.written


@pytest.mark.parametrize("family", FAMILIES)
def test_conflicts_have_no_fact_in_common_and_the_rest_fits(family: str) -> None:
    """Where the conflicts are said to be all, what is left of the bike without their facts has a plan."""
    for told in told_of(starved_case, family, SEEDS):
        assert sum(map(len, told.conflicts)) == len(frozenset().union(*told.conflicts))
        assert told.complete
        assert told.rest_fits, told.written


def test_so_many_bikes_have_no_plan() -> None:
    assert sum(1 for family in FAMILIES for _ in told_of(starved_case, family, SEEDS)) >= 100
