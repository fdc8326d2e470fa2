"""The two ways to the optimum agree on random bikes with multiplexers, which are used for different reasons."""

from slices import first_of

from . import brute, highs
from .drafts import written
from .job import Job
from .judge import cost_um
from .profiles import read_unit
from .random_bikes import random_case
from .reading import read_bike, tree_of
from .sites import every_site

SEEDS = {"cheaper": (22, 26, 46), "needed": (21, 27, 58), "unused": (1, 14, 33), "nothing": (3, 35, 57)}
EACH = first_of(
    ("why", "seed"), [(why, seeds[number]) for number in range(3) for why, seeds in SEEDS.items()], len(SEEDS)
)


@EACH
def test_enumeration_and_highs_agree_with_multiplexers(why: str, seed: int) -> None:
    """Plain enumeration and the integer programme give the same optimum at every place."""
    found = highs.optimum(*random_case(seed, "multiplexed"))
    assert brute.optimum(*random_case(seed, "multiplexed")) == found
    assert found.feasible is (why != "nothing")


@EACH
def test_multiplexers_are_used_where_they_are_cheaper_or_needed(why: str, seed: int) -> None:
    """Without them a bike costs more, can't be planned, or is the same."""
    bike, unit = random_case(seed, "multiplexed")
    plain = tree_of(bike)
    plain.pop("multiplexers")
    without = highs.optimum(written(plain), unit).cost_um
    best, used = _best(bike, unit)
    assert used is (why in {"cheaper", "needed"})
    assert (without is None) is (why in {"needed", "nothing"})
    assert best is None or without is None or (best < without) is used


def _best(bike: str, unit: str) -> tuple[int | None, bool]:
    """Return the least cost (um) of all places, None if there is no plan, and whether a multiplexer is used in it."""
    job = Job(read_bike(bike), read_unit(unit))
    plans = [(site, highs.best_plan(site)) for site in every_site(job)]
    costs = [(cost_um(site, plan) or 0, bool(plan.stands)) for site, plan in plans if plan is not None]
    return min(costs, default=(None, False))
