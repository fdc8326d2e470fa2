"""The best plan where legs in use are worth something, against a program of its own that tries every set of legs.

The bikes are random. ``oracle.leg_sets`` shares no code with the search, and plans each set by HiGHS (scipy).
"""

from collections.abc import Iterator, Sequence
from random import Random

import yaml

from oracle import leg_sets
from oracle.random_bikes import EVERY_FAMILY, random_case
from oracle.reading import read_bike
from outcomes import read
from portloom.base.clock import NO_LIMIT
from portloom.explaining.solved import Solved, solve
from portloom.inputs.problems import BadFile
from portloom.job.job import Job
from portloom.rules.book import rules_of
from portloom.rules.sites import sites_of
from portloom.search.places import NoPlan
from slices import slices

Case = tuple[str, int]
"""A family of random bikes and a seed."""
WORTHS = (1, 20, 60, 150, 300, 600, 1500)
"""Millimetres of wire."""


QUICK: tuple[Case, ...] = (("cases", 1002), ("returns", 1002), ("catalogue", 1002))
"""Bikes with a ring of five legs at most, one of them without a plan."""


def cases_of(seeds: range) -> tuple[Case, ...]:
    """Return the cases of some seeds."""
    return tuple((family, seed) for seed in seeds for family in EVERY_FAMILY)


def has_ring(bike: str, most: int) -> bool:
    """Tell whether a frame has a ring, and no more legs than can all be tried."""
    legs = read_bike(bike).legs
    points = {point for leg in legs for point in leg.ends}
    return len(points) <= len(legs) <= most


def searched(bike: str, unit: str, worth: int) -> int | None:
    """Return what the best plan costs, which is proven and passed its check; None where there is none."""
    entries = yaml.safe_load(bike)
    entries.setdefault("weights", {})["leg"] = f"{worth} mm"
    job = Job(*read(yaml.safe_dump(entries, sort_keys=False, allow_unicode=True), unit))
    found = solve(job, rules_of(job), sites_of(job), NO_LIMIT)
    if isinstance(found, NoPlan):
        return None
    assert isinstance(found, Solved)
    assert found.assignment.proven
    return found.assignment.cost


def compared(cases: Sequence[Case], most: int) -> Iterator[tuple[Case, int | None, int | None]]:
    """Return what both say of each case that can be tried."""
    for family, seed in cases:
        bike, unit = random_case(seed, family)
        worth = Random(f"{family}{seed}").choice(WORTHS)
        if has_ring(bike, most):
            try:
                own = searched(bike, unit, worth)
            except BadFile:  # an opening that is refused in a file
                continue
            yield (family, seed), own, leg_sets.optimum(bike, unit, 1000 * worth)


@slices("cases", QUICK, *map(cases_of, (range(1002, 1003), range(1003, 1010), range(1010, 1020), range(1020, 1030))))
def test_same_cost_and_verdict_as_every_set_of_legs(cases: Sequence[Case]) -> None:
    """No set of legs has a cheaper plan by the other program, and none is said to fit that does not."""
    most = 5 if cases is QUICK else 7
    found = list(compared(cases, most))
    assert len(found) > 2
    assert any(own is not None for _, own, _ in found)
    assert [case for case, own, wanted in found if own != wanted] == []
