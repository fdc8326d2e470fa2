"""The two ways to the optimum for two units agree on random bikes, of which most need both units."""

from dataclasses import replace
from functools import cache

import pytest

from slices import each_seed

from . import pairs, pairs_by_trying
from .pair import Spot, Two
from .pair_bikes import pair_case
from .pair_judge import PairResult, pair_cost_um
from .profiles import read_unit
from .reading import read_bike

# Of few ways to seat their loads, so that all can be tried.
SMALL = (2, 10, 13, 15, 16, 17, 18, 19, 22, 23, 25, 33, 34, 35)
found = cache(lambda seed: pairs.optimum(*pair_case(seed)))


@each_seed(SMALL[3:8], [*SMALL[:3], *SMALL[8:]])
def test_enumeration_and_highs_agree_on_two_units(seed: int) -> None:
    """Plain enumeration and the integer programme give the same optimum at every two places."""
    tried = pairs_by_trying.optimum(*pair_case(seed))
    assert (tried.cost_um, tried.per_place) == (found(seed).cost_um, found(seed).per_place)


@pytest.mark.long
def test_both_units_are_used_or_one_or_nothing_fits() -> None:
    """Of 25 bikes ten at least use both units; some have a single pair of places, some nothing at all."""
    results = [found(seed) for seed in range(25)]
    used = [sum(bool(part.outputs) for part in result.plan.plans) for result in results if result.plan]
    assert used.count(2) >= 10
    assert used.count(1) >= 1
    assert len(used) <= 22
    assert sum(_one_pair_only(result) for result in results) >= 1


def _one_pair_only(result: PairResult) -> bool:
    """Tell whether plans stand at one pair of places only, though there are more."""
    able = {frozenset((a, b)) for ((a, _), (b, _)), cost in result.per_place.items() if cost is not None}
    return len(able) == 1 and len({frozenset((a, b)) for (a, _), (b, _) in result.per_place}) > 1


@pytest.mark.parametrize("seed", [0, 13, 16, 17])
def test_the_judge_prices_a_plan_and_refuses_it_when_spoilt(seed: int) -> None:
    """A plan costs what was told, but is none with a load less or twice, at one place, or on a fuse that won't do."""
    bike, *units = pair_case(seed)
    two = Two(read_bike(bike), (read_unit(units[0]), read_unit(units[1])))
    plan = next(plan for spots in two.spots() if (plan := pairs.best_plan(two, spots)))
    assert pair_cost_um(two, plan) == found(seed).per_place[_named(plan.spots[0]), _named(plan.spots[1])]
    first, second = plan.plans
    spoilt = [
        replace(plan, plans=(replace(first, outputs=first.outputs[1:]), second)),
        replace(plan, plans=(replace(first, outputs=(*first.outputs, first.outputs[0])), second)),
        replace(plan, spots=(plan.spots[0], plan.spots[0])),
        *(replace(plan, fuses_ma=(fuse, plan.fuses_ma[1])) for fuse in (1000, 5500, 80000)),
    ]
    assert [pair_cost_um(two, other) for other in spoilt] == [None] * len(spoilt)


def _named(spot: Spot) -> tuple[str, bool]:
    return spot[0].name, spot[1]
