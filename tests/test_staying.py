"""A built loom planned among few columns first, beside the same planned among all (FORMULATION.md, K5).

Random bikes that were built, then changed. What all columns come to is judged by another program elsewhere
(``test_built_against_oracle``).
"""

import json
from collections.abc import Sequence
from functools import partial

from built_bikes import FAMILIES, built, changed
from portloom.base.clock import NO_LIMIT
from portloom.inputs.built_plan import built_from_text
from portloom.inputs.files import unit_from_text
from portloom.inputs.problems import BadFile
from portloom.job.job import Job
from portloom.rules.book import rules_of
from portloom.rules.sites import sites_of
from portloom.search.assign import assignment_of
from portloom.search.best import Choices
from portloom.search.least_change import Change, least_change
from portloom.search.places import Answer, Found
from portloom.search.sizing_cuts import in_true_sizes
from slices import slices
from unasked import bike_from_text

FIRST = ("faults", "safety")
"""The quickest."""
QUICK = [*FIRST, *(family for family in FAMILIES if family not in (*FIRST, "coils", "sharing"))]


def both(seed: int, family: str) -> tuple[object, object, bool] | None:
    """Return the plan as it is found, and among all columns, and whether few were enough; None where none is built."""
    before = built(seed, family)
    if before is None:
        return None
    bike, unit, printed = before
    try:
        now = bike_from_text(changed(bike, printed, seed), "bike")
    except BadFile:
        return None
    job = Job(now, unit_from_text(unit, "unit"), built=built_from_text(json.dumps(printed), "built"))
    rules = rules_of(job)
    choices, every = (Choices(job, rules, sites_of(job)) for _ in range(2))
    mine = least_change(rules, choices, NO_LIMIT, is_small=True)
    if not every:
        return told(mine), told(mine), False
    among_all = Change(every[0], partial(in_true_sizes, rules), NO_LIMIT).cheapest()
    return told(mine), told(among_all), not choices.is_set_up(0)


def told(answer: Answer) -> object:
    """Return a plan in names, or what else was answered."""
    return assignment_of(answer) if isinstance(answer, Found) else answer


@slices("numbers", range(2), range(2, 200))
def test_few_columns_tell_the_plan_of_all(numbers: Sequence[int]) -> None:
    """The same plan to the last wire, proven; of some bikes few columns are enough."""
    cases = [(seed, family) for seed in range(1000, 1020) for family in QUICK]
    pairs = [pair for seed, family in cases[numbers[0] : numbers[-1] + 1] if (pair := both(seed, family)) is not None]
    assert [mine for mine, _, _ in pairs] == [every for _, every, _ in pairs]
    assert any(enough for _, _, enough in pairs)
