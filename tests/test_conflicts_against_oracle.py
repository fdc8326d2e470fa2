"""The conflicts that are told where nothing fits, judged by the independent program, by HiGHS.

Random bikes that lack ports, modes, sums, signals or a partner; others are in
``test_conflicts_of_wires`` and ``test_conflicts_of_random_bikes``.
"""

from oracle.starved import FAMILIES as STARVED
from oracle.starved import starved_case
from slices import on_seeds, third_of
from told_conflicts import told_of

FAMILIES = STARVED[:8]
SEEDS = range(5000, 5016)
EACH_SEED = on_seeds(SEEDS[:1], SEEDS[1:])


@third_of("family", FAMILIES, 1)
@EACH_SEED
def test_every_conflict_is_one(family: str, seeds: range) -> None:
    """The facts of a conflict alone have no plan, wherever the unit sits."""
    for told in told_of(starved_case, family, seeds):
        assert told.conflicts
        assert told.wrong == (), told.written


@third_of("family", FAMILIES, 1)
@EACH_SEED
def test_no_fact_of_a_conflict_is_spare(family: str, seeds: range) -> None:
    """The facts of a conflict have a plan when any single one of them is dropped."""
    for told in told_of(starved_case, family, seeds):
        assert told.spare == (), told.written


@third_of("family", FAMILIES, 1)
@EACH_SEED
def test_conflicts_have_no_fact_in_common_and_the_rest_fits(family: str, seeds: range) -> None:
    """Where the conflicts are said to be all, what is left of the bike without their facts has a plan."""
    for told in told_of(starved_case, family, seeds):
        assert sum(map(len, told.conflicts)) == len(frozenset().union(*told.conflicts))
        assert told.complete
        assert told.rest_fits, told.written


@EACH_SEED
def test_so_many_bikes_have_no_plan(seeds: range) -> None:
    """Of eight families' bikes fifteen in sixteen."""
    tried = len(FAMILIES) * len(seeds)
    assert sum(1 for family in FAMILIES for _ in told_of(starved_case, family, seeds)) >= tried * 15 // 16
