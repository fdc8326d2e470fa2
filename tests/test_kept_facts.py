"""The independent answer to 'is there a plan if only these facts are kept?', and its random bikes, tried themselves.

By hand (``fact_trials``), against the plain optimum by HiGHS, and against every minimal conflict
that CPMpy enumerates in bikes in which only ports, modes, kinds, bans and sums decide.
"""

import random
from collections.abc import Callable, Sequence
from functools import cache

import pytest

from fact_trials import LONE, PLAIN, Lone, Texts, texts, without
from oracle import highs, pure, random_bikes, starved
from oracle.facts import all_facts
from oracle.kept import has_plan
from oracle.pure_bikes import pure_case
from slices import FEW, ONE_MORE, each_seed, on_seeds, third_of

Case = Callable[[int, str], Texts]
FAMILIES: list[tuple[Case, str]] = [(random_bikes.random_case, name) for name in random_bikes.EVERY_FAMILY]
FAMILIES += [(starved.starved_case, name) for name in starved.FAMILIES]
EACH_FAMILY = third_of(("case", "family"), FAMILIES, 0)
PURE = (*range(29, 33), *range(35, 43))
EACH_PURE = each_seed(PURE[:2], PURE[2:])
conflicts = cache(pure.all_minimal_conflicts)


@pytest.mark.parametrize("trial", LONE, ids=str)
def test_one_fact_dropped_and_there_is_a_plan(trial: Lone) -> None:
    """A fact that alone keeps a bike off a unit; with another word in its place there is a plan as it is."""
    assert [without(trial.broken), without(trial.broken, trial.key)] == [False, True]
    assert without(trial.kept)


@EACH_FAMILY
@on_seeds(FEW[:1], range(500, 503))
def test_with_every_fact_kept_it_is_the_plain_question(case: Case, family: str, seeds: range) -> None:
    """With all facts kept there is a plan where HiGHS finds an optimum, and only there; with none there always is."""
    for seed in seeds:
        written = case(seed, family)
        assert has_plan(*written, all_facts(*written)) is highs.optimum(*written).feasible
        assert has_plan(*written, ())


@EACH_FAMILY
@on_seeds(FEW[:1], range(600, 602))
def test_dropping_more_never_loses_a_plan(case: Case, family: str, seeds: range) -> None:
    """From random facts that leave a plan, any of them may be dropped, and so may many at once."""
    for seed in seeds:
        written, dice = case(seed, family), random.Random(seed)
        left = list(all_facts(*written))
        dice.shuffle(left)
        while not has_plan(*written, left):
            left = left[len(left) // 8 + 1 :]
        count = 12 if len(seeds) > 1 else 3
        fewer = [[other for other in left if other != key] for key in dice.sample(left, min(count, len(left)))]
        fewer += [[key for key in left if dice.random() < share] for share in (0.9, 0.6, 0.3)]
        assert all(has_plan(*written, some) for some in fewer)


@third_of("family", starved.FAMILIES, 0)
@on_seeds((*FEW, ONE_MORE), range(10))
def test_most_starved_bikes_have_no_plan(family: str, seeds: range) -> None:
    """Of ten, six at least have none, of four two; a seed always gives the same bike."""
    cases = [starved.starved_case(seed, family) for seed in seeds]
    assert cases[:2] == [starved.starved_case.__wrapped__(seed, family) for seed in seeds[:2]]
    assert sum(has_plan(*written, all_facts(*written)) for written in cases) <= max(2, len(cases) * 4 // 10)


@EACH_PURE
def test_a_minimal_conflict_has_no_plan_until_one_of_it_is_dropped(seed: int) -> None:
    """What CPMpy calls a minimal conflict is one for HiGHS too."""
    written = pure_case(seed)
    for conflict in conflicts(*written):
        assert not has_plan(*written, conflict)
        assert all(has_plan(*written, conflict - {key}) for key in conflict)


@EACH_PURE
def test_there_is_a_plan_unless_a_minimal_conflict_is_kept(seed: int) -> None:
    """Random facts leave no plan just where they hold one of all the minimal conflicts."""
    written, dice = pure_case(seed), random.Random(seed)
    facts = all_facts(*written)
    for share in (0.7, 0.85, 0.95) * 8:
        kept = frozenset(key for key in facts if dice.random() < share)
        assert has_plan(*written, kept) is not any(conflict <= kept for conflict in conflicts(*written))


@on_seeds(PURE[:2], PURE)
def test_the_pure_bikes_conflict_in_every_way(seeds: Sequence[int]) -> None:
    """Facts of the pure bikes' conflicts are of the sorts that matter; of all these bikes, of each such sort."""
    sorts = {key[0] for seed in seeds for conflict in conflicts(*pure_case(seed)) for key in conflict}
    assert sorts
    assert sorts <= set(pure.MATTERING)
    assert sorts == set(pure.MATTERING) or len(seeds) < len(PURE)


def test_bikes_that_are_not_pure_are_refused() -> None:
    """A trip of 4 A where the unit takes no larger main fuse decides too."""
    with pytest.raises(ValueError, match="the trip of a decides"):
        pure.all_minimal_conflicts(*texts(PLAIN, feed="limit: 4 A"))
