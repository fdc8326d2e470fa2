"""No lie of the solver becomes a claim about what is in the way and what mends it: what is said to be proved is true.

The truth is what is told where nobody lies, which other tests hold against edits of files and another program. No
outside source for the lies: each is what a wrong status, value, bound or choice of a solver would be.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations

import pytest

from liar import LIES, Lie, lying
from oracle.random_bikes import random_case
from portloom.base.clock import Clock
from portloom.explaining.explain import DoesNotFit, Explained, Undecided, explain
from portloom.explaining.solved import FailedCheck
from portloom.explaining.telling.claim import claim
from portloom.explaining.telling.conflict import Conflict
from portloom.inputs.files import unit_from_text
from portloom.search.hitting_sets import AtLeast, HittingSets, MapSolver
from portloom.search.sizing_cuts import NoProgress
from portloom.search.solving import Disagreement
from slices import each_seed, slices
from unasked import bike_from_text

WITHDRAWN = (Disagreement, FailedCheck, NoProgress)
"""What ends a call with exit code 4."""
Case = tuple[str, int]


def explained(case: Case) -> Explained:
    """Explain a random bike that does not fit on its unit, with every conflict."""
    family, seed = case
    bike, unit = random_case(seed, family)
    typed = unit_from_text(unit, "unit")
    return explain(bike_from_text(bike, "bike", typed.own_modes), typed, every=True)


def told(conflicts: Sequence[Conflict]) -> set[frozenset[tuple[str, ...]]]:
    """Return conflicts by their facts."""
    return {frozenset(fact.key for fact in conflict.facts) for conflict in conflicts}


def is_honest(answer: DoesNotFit, truth: DoesNotFit) -> bool:
    """Tell whether all that is claimed is true."""
    assert answer.every is not None
    assert truth.every is not None
    known, found = told(truth.every.conflicts), told(answer.every.conflicts)
    least = [fix.effort for fix in answer.fixes.found if fix.least]
    efforts = [fix.effort for fix in truth.fixes.found]
    return (
        told(answer.why.conflicts) <= known
        and (found == known if answer.every.complete else found <= known)
        and least == efforts[: len(least)]
        and (not answer.fixes.complete or [fix.effort for fix in answer.fixes.found] == efforts)
        and ("Proved" not in claim(answer.fixes, answer.why.conflicts) or bool(least) == bool(efforts))
    )


def no_lie_is_told(case: Case, lie: Lie, every: int) -> int:
    """Lie at each of so many solves in turn; return how often it was a lie. Fails where one becomes a claim."""
    with lying(lie, None) as told_all:
        truth = explained(case).answer
    assert isinstance(truth, DoesNotFit)
    lies = 0
    for at in range(0, told_all.solves, 1 if lie == "worse" else every):
        with lying(lie, at) as now:
            try:
                answer = explained(case).answer
            except WITHDRAWN:
                answer = Undecided()
        lies += now.lied
        assert isinstance(answer, Undecided) or (isinstance(answer, DoesNotFit) and is_honest(answer, truth)), (lie, at)
    return lies


FEW = [("plain", 3015, 14)]
MORE = [
    ("plain", 3015, 7), ("sharing", 3027, 1), ("plain", 3015, 1), ("wires", 3029, 1),
    ("plain", 3004, 1), ("plain", 3005, 1), ("multiplexed", 3002, 1), ("sharing", 3017, 1), ("banks", 3022, 2),
    ("plain", 3038, 3), ("banks", 3036, 4), ("banks", 3014, 7), ("bundles", 3011, 5), ("wires", 3028, 11),
]  # fmt: skip
"""Bikes that do not fit, some with fixes and some without, and how many solves there are from one lie to the next."""


@slices("cases", FEW, MORE)
@pytest.mark.parametrize("lie", LIES)
def test_no_lie_becomes_a_claim(lie: Lie, cases: list[tuple[str, int, int]]) -> None:
    """Of random bikes: conflicts, that these are all, fixes, that nothing takes less effort, that there are none."""
    assert sum(no_lie_is_told((family, seed), lie, every) for family, seed, every in cases)


CHOICES = HittingSets(
    (3, 1, 2, 2),
    exclusive=((0, 1),),
    kinds=((0, 1), (2, 3)),
    clauses=[((0, 1, 2), ()), ((3,), (1,))],
    sums=[AtLeast(((0, 2), (2, 1), (3, 1)), 2)],
)
"""Changes of made-up efforts; by hand the cheapest choice is the first alone, of effort 3."""


def every_choice() -> Iterator[tuple[int, ...]]:
    """Return every set of the four changes."""
    for many in range(5):
        yield from combinations(range(4), many)


@pytest.mark.parametrize("lie", LIES)
@pytest.mark.parametrize("patterns", [[], [(1, 0)], [(1, 0), (0, 1)]])
def test_the_next_choice_is_the_cheapest_or_none_is_told(lie: Lie, patterns: list[tuple[int, ...]]) -> None:
    """By hand: the first change alone takes 3, the two last take 4; with neither of the kinds there is none."""
    choices = replace(CHOICES, patterns=patterns)
    wanted = [(0,), (2, 3), None][len(patterns)]
    with lying(lie, None) as solves:
        assert choices.cheapest(Clock(None)) == wanted
    assert solves.solves == 2 or lie == "worse"
    for at in range(solves.solves):
        with lying(lie, at) as now:
            try:
                assert choices.cheapest(Clock(None)) == wanted
            except (Disagreement, TimeoutError):
                continue
        assert not now.lied


@pytest.mark.parametrize("lie", LIES)
def test_that_nothing_is_left_to_explore_is_proved_twice(lie: Lie) -> None:
    """Of three things of which the first two can't be together, two largest sets are to be looked at, then none."""
    for at in range(4):
        explored, seen = MapSolver(3), []
        with lying(lie, at):
            try:
                while (things := explored.largest(Clock(None))) is not None:
                    seen.append(things)
                    if {0, 1} <= set(things):
                        explored.conflict((0, 1))
                    else:
                        explored.holds(things)
            except (Disagreement, TimeoutError):
                continue
        assert (0, 1, 2) in seen
        assert {(0, 2), (1, 2)} <= set(seen)


@each_seed([3014], [3016])
def test_a_shop_with_gauges_is_told_areas_where_files_want_them(seed: int) -> None:
    """Reels by gauge: what lifts a conflict is told, as the thickest return is written in mm2 (made-up bikes)."""
    assert isinstance(explained(("wires", seed)).answer, DoesNotFit)
