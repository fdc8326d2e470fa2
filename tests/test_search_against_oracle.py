"""The search against other programs: HiGHS, plain enumeration, and scipy's assignment of loads to outputs.

The bikes are random. The references in ``oracle`` share no code with the search; HiGHS and
``linear_sum_assignment`` come with scipy.
"""

from collections.abc import Sequence
from functools import cache

import pytest

from oracle import brute, highs
from oracle.judge import Result
from oracle.random_bikes import FAMILIES, random_case
from slices import FEW, ONE_MORE, on_seeds, slices, third_of
from translated import best_plan

AGAINST_HIGHS = range(1000, 1016)
EACH_SEED = on_seeds(FEW, [seed for seed in AGAINST_HIGHS if seed not in FEW])
AGAINST_ENUMERATION = range(1000, 1005)
MULTIPLEXED = "multiplexed"
WITH_MULTIPLEXERS = range(1000, 1110)
multiplexers: dict[int, bool] = {}
"""Of bikes with multiplexers, by seed, whether the best plan uses one."""
EACH_FAMILY = third_of("family", FAMILIES, 1)


@cache
def reference(seed: int, family: str) -> Result:
    """Return what HiGHS finds."""
    return highs.optimum(*random_case(seed, family))


@cache
def searched(seed: int, family: str, place: str | None = None) -> int | None:
    """Return the cost of the best plan, which passes the check and the reference's judge; None if there is none."""
    found = best_plan(*random_case(seed, family), place)
    if found is not None and family == MULTIPLEXED:
        multiplexers[seed] = bool(found.multiplexers)
    return None if found is None else found.cost


@third_of("family", [*FAMILIES, MULTIPLEXED], 1)
@EACH_SEED
def test_same_cost_and_verdict_as_highs(family: str, seeds: Sequence[int]) -> None:
    """On every bike the best plan costs what HiGHS says, and none is found where HiGHS proves that none is."""
    found = {seed: searched(seed, family) for seed in seeds}
    assert found == {seed: reference(seed, family).cost_um for seed in seeds}


@pytest.mark.long
def test_same_cost_and_verdict_as_highs_with_multiplexers() -> None:
    """On 110 bikes with multiplexers, which some plans use, some leave out and some are lost without."""
    found = {seed: searched(seed, MULTIPLEXED) for seed in WITH_MULTIPLEXERS}
    assert found == {seed: reference(seed, MULTIPLEXED).cost_um for seed in WITH_MULTIPLEXERS}
    used = [seed for seed in WITH_MULTIPLEXERS if multiplexers.get(seed)]
    assert len(used) >= 20
    assert len(used) < len([cost for cost in found.values() if cost is not None]) < len(found)


@pytest.mark.long
def test_same_cost_and_verdict_as_enumeration_with_multiplexers() -> None:
    """On bikes with multiplexers the best plan costs what trying every switch on every way and input gives."""
    found = {seed: searched(seed, MULTIPLEXED) for seed in AGAINST_ENUMERATION}
    assert found == {seed: brute.optimum(*random_case(seed, MULTIPLEXED)).cost_um for seed in AGAINST_ENUMERATION}


def test_a_load_earthed_by_the_frame_burdens_no_return() -> None:
    """A short of a lamp with its earth at the frame does not flow through the return of others at its point."""
    assert searched(700, "faults") == reference(700, "faults").cost_um


@EACH_FAMILY
def test_bikes_with_and_without_a_plan_are_tried(family: str) -> None:
    """In every family some bikes can be planned and some can't."""
    others = (seed for seed in AGAINST_HIGHS if seed not in FEW)
    verdicts = (reference(seed, family).feasible for seed in (*FEW, *others))
    first = next(verdicts)
    assert any(verdict is not first for verdict in verdicts)


@pytest.mark.long
@EACH_FAMILY
def test_same_cost_and_verdict_as_enumeration(family: str) -> None:
    """On every bike the best plan costs what trying every load on every output gives."""
    found = {seed: searched(seed, family) for seed in AGAINST_ENUMERATION}
    tried = {seed: brute.optimum(*random_case(seed, family)).cost_um for seed in AGAINST_ENUMERATION}
    assert found == tried


@EACH_FAMILY
@slices("seeds", FEW, (ONE_MORE,))
def test_same_cost_and_verdict_at_every_place(family: str, seeds: Sequence[int]) -> None:
    """With one place allowed, the best plan costs what HiGHS says of the better way round there."""
    for seed in seeds:
        wanted: dict[str, list[int]] = {}
        for (place, _), cost in reference(seed, family).per_place.items():
            wanted.setdefault(place, []).extend([] if cost is None else [cost])
        found = {place: searched(seed, family, place) for place in wanted}
        assert found == {place: min(costs, default=None) for place, costs in wanted.items()}, seed
