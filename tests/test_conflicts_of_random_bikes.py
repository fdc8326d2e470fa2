"""The conflicts that are told where nothing fits, judged by the independent program, by HiGHS.

Random bikes of families in which many have a plan; these are some that have none.
"""

import pytest

from oracle.random_bikes import FAMILIES, random_case
from told_conflicts import told_of

pytestmark = pytest.mark.long

SEEDS = {
    "plain": (5000, 5001, 5002, 5004, 5006, 5007, 5008, 5009, 5010, 5012, 5013, 5015),
    "banks": (5001, 5002, 5006, 5007, 5008, 5009, 5011, 5013, 5015),
    "openings": (5002, 5003, 5004, 5005, 5006, 5009, 5010, 5011, 5012, 5014, 5016, 5017),
    "cases": (5000, 5002, 5006, 5007, 5009, 5010, 5011, 5015, 5016, 5017),
    "follow": (5001, 5006, 5013, 5015),
    "wires": (5000, 5002, 5003, 5004, 5005, 5008, 5009, 5010, 5012, 5014, 5016, 5017),
    "sharing": (5000, 5001, 5002, 5003, 5013, 5016),
    "later": (5000, 5001, 5003, 5005, 5007, 5009, 5011, 5015),
    "fed": (5001, 5002, 5003, 5005, 5006, 5012, 5013, 5015, 5017),
    "bundles": (5000, 5005, 5006, 5012, 5016),
    "faults": (5000, 5004, 5007, 5012, 5015, 5017),
    "safety": (5000, 5001, 5002, 5003, 5004, 5006, 5007, 5008, 5009, 5010, 5013, 5014, 5015, 5016, 5017),
    "keyoff": (5002, 5007, 5008, 5009),
    "cranking": (5001, 5002, 5006, 5007, 5013, 5014, 5015),
    "coils": (5002, 5004, 5005, 5006, 5009, 5010, 5011, 5013, 5016),
    "returns": (5003, 5006, 5010, 5012, 5013, 5014, 5015),
    "feeds": (5000, 5002, 5003, 5004, 5005, 5006, 5007, 5009, 5010, 5011, 5014, 5015, 5016, 5017),
    "switched": (5001, 5002, 5003, 5005, 5007, 5009, 5012, 5013),
    "spurs": (5001, 5002, 5003, 5004, 5005, 5006, 5007, 5010, 5011, 5012, 5013, 5015, 5016),
    "main fuses": (5000, 5001, 5002, 5004, 5006, 5007, 5008, 5010, 5013, 5017),
}
"""Of the seeds from 5000 to 5017 those whose bike has no plan."""


@pytest.mark.parametrize("family", FAMILIES)
def test_every_conflict_is_one(family: str) -> None:
    """The facts of a conflict alone have no plan, wherever the unit sits."""
    for told in told_of(random_case, family, SEEDS[family]):
        assert told.conflicts
        assert told.wrong == (), told.written


@pytest.mark.parametrize("family", FAMILIES)
def test_no_fact_of_a_conflict_is_spare(family: str) -> None:
    """The facts of a conflict have a plan when any single one of them is dropped."""
    for told in told_of(random_case, family, SEEDS[family]):
        assert told.spare == (), told.written


@pytest.mark.parametrize("family", FAMILIES)
def test_conflicts_have_no_fact_in_common_and_the_rest_fits(family: str) -> None:
    """Where the conflicts are said to be all, what is left of the bike without their facts has a plan."""
    for told in told_of(random_case, family, SEEDS[family]):
        assert sum(map(len, told.conflicts)) == len(frozenset().union(*told.conflicts))
        assert told.complete
        assert told.rest_fits, told.written


def test_every_family_is_there() -> None:
    assert tuple(SEEDS) == FAMILIES


def test_so_many_bikes_have_no_plan() -> None:
    assert sum(1 for family in FAMILIES for _ in told_of(random_case, family, SEEDS[family])) >= 80
