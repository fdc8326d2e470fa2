"""What is asked before any wire is laid, and ways round that a plan may choose: they lose no plan and make none.

Held against plain enumeration: each set of ways round written into the bike, and the search over all columns at once.
"""

from collections.abc import Iterator, Sequence
from itertools import combinations

import pytest

from explained import questions_on
from oracle.random_bikes import random_case
from portloom.base.clock import Clock
from portloom.explaining.conflicts.kept import Instance, relaxed_to
from portloom.explaining.conflicts.question import Questions
from portloom.explaining.fixes.change import Change
from portloom.explaining.fixes.fix import made
from portloom.explaining.fixes.looms import ways_round
from portloom.inputs.problems import BadFile
from portloom.job.job import Job
from portloom.rules.book import rules_of
from portloom.search.best import all_pairs, each_of, runs_over
from portloom.search.feasibility import Impossible, Possible, any_outline, any_plan
from portloom.search.outline import outline
from slices import FEW, on_seeds

FAMILIES = ("plain", "banks", "openings", "sharing", "follow", "multiplexed", "wires")
NARROW = (5002, 5003, 5004, 5005, 5006, 5009)
"""Seeds of bikes whose wires go through no opening as they lie, or through one."""


def _asked(family: str, seeds: Sequence[int]) -> Iterator[Questions]:
    for seed in seeds:
        try:
            yield questions_on(random_case(seed, family))
        except BadFile:
            continue


@pytest.mark.parametrize("family", FAMILIES)
@on_seeds(FEW, range(9000, 9020))
def test_without_wires_no_plan_is_lost(family: str, seeds: Sequence[int]) -> None:
    """Where the outline has no plan no place has one; and a question has the answer of all columns together."""
    for questions in _asked(family, seeds):
        instance = questions.instance
        runs = runs_over(instance.job, instance.sites)
        for kept in (instance.everything, *(instance.everything - {key} for key in instance.keys[:3])):
            part = relaxed_to(instance, kept)
            pairs = all_pairs(part.job, part.rules, runs)
            all_columns = any_plan(part.rules, each_of(pairs, part.rules, part.sites, runs), Clock(None))
            sketch = any_outline(outline(part.rules, part.sites[0], pairs), Clock(None), twice=True)
            assert not (isinstance(sketch, Impossible) and isinstance(all_columns, Possible))
            assert questions.has_plan(kept) == isinstance(all_columns, Possible)


@on_seeds(NARROW, range(5010, 5060))
def test_open_ways_have_a_plan_where_some_set_of_them_has(seeds: Sequence[int]) -> None:
    """A plan may choose among ways round; it has just the plans of the bikes that are led so."""
    seen: set[bool] = set()
    for questions in _asked("openings", seeds):
        whole = questions.instance
        loads = whole.job.loads
        there = {load.name for load in (*loads.on_unit, *loads.guests)}
        ways = [change for change in ways_round(whole) if change.slot[1] in there][:4]
        if not ways or questions.has_plan(whole.keys):
            continue
        legs = {load: frozenset(way.slot[2] for way in ways if way.slot[1] == load) for load in there}
        opened = Instance(whole.job, whole.rules, ways=legs)
        found = Questions(opened, Clock(None)).has_plan(opened.keys)
        assert found == any(_fits(whole, some) for count in range(1, 5) for some in combinations(ways, count))
        seen.add(found)
    assert seen == {True, False}


def _fits(whole: Instance, ways: Sequence[Change]) -> bool:
    """Tell whether a bike has a plan whose wires are led these ways round."""
    target = made((whole.job.bike, whole.job.unit), ways)
    assert target is not None
    job = Job(*target)
    instance = Instance(job, rules_of(job))
    return Questions(instance, Clock(None)).has_plan(instance.keys)
