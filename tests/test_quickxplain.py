"""QuickXplain against plain deletion and brute force, and how many questions it asks.

Sources: Junker (2004), 'QUICKXPLAIN: preferred explanations and relaxations for over-constrained
problems', AAAI-04, 167-172, also for the number of questions; deletion: Chinneck and Dravnieks (1991),
'Locating minimal infeasible constraint sets in linear programs', doi:10.1287/ijoc.3.2.157
(from memory).
"""

from collections.abc import Callable, Iterator, Sequence
from itertools import chain, combinations, islice
from math import ceil, log2

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from explained import questions_on
from oracle.starved import starved_case
from portloom.explaining.conflicts import shrinking
from portloom.explaining.conflicts.question import Questions
from portloom.explaining.conflicts.shrinking import quickxplain

Conflicts = Sequence[frozenset[int]]
Holds = Callable[[Sequence[int]], bool]


class Counted:
    """Things from 0 hold together unless a conflict is among them; counts how often that is asked."""

    def __init__(self, conflicts: Conflicts) -> None:
        self.conflicts = conflicts
        self.asked = 0

    def __call__(self, things: Sequence[int]) -> bool:
        self.asked += 1
        return not any(conflict.issubset(things) for conflict in self.conflicts)


def deletion(things: Sequence[int], holds: Holds) -> tuple[int, ...]:
    """Return what is left when each thing, from the last on, is left away if the others still do not hold."""
    left = tuple(things)
    for thing in reversed(things):
        fewer = tuple(other for other in left if other != thing)
        left = left if holds(fewer) else fewer
    return left


def brute_force(conflicts: Conflicts) -> tuple[int, ...]:
    """Give, of the conflicts within which there is no other, the one that does without the later things."""
    least = [one for one in conflicts if not any(other < one for other in conflicts)]
    return min((tuple(sorted(one)) for one in least), key=lambda one: one[::-1])


def at_most(count: int, found: int) -> int:
    """Return how many questions are asked at most for a conflict of so many among so many things (Junker)."""
    return 2 * found * ceil(log2(count / found)) + 2 * found


def parts(count: int) -> list[frozenset[int]]:
    """Return every set of so many things but the one without any."""
    sizes = (combinations(range(count), size) for size in range(1, count + 1))
    return [frozenset(some) for some in chain.from_iterable(sizes)]


def check(count: int, conflicts: Conflicts) -> None:
    """Compare all three."""
    holds = Counted(conflicts)
    found = quickxplain(range(count), holds)
    assert holds.asked <= at_most(count, len(found))
    assert found == deletion(range(count), Counted(conflicts))
    assert found == brute_force(conflicts)


systems = st.integers(1, 24).flatmap(
    lambda count: st.tuples(
        st.just(count), st.lists(st.frozensets(st.integers(0, count - 1), min_size=1), min_size=1, max_size=8)
    )
)


@given(systems)
@settings(deadline=None, max_examples=500)
def test_the_same_as_deletion_and_brute_force(system: tuple[int, list[frozenset[int]]]) -> None:
    """In random systems the minimal conflict found is the one that does without the later things."""
    check(*system)


@given(systems)
@settings(deadline=None)
def test_what_is_found_is_minimal_and_always_the_same(system: tuple[int, list[frozenset[int]]]) -> None:
    """It does not hold, without any one thing it does, and asked again, about the same, it comes again."""
    count, conflicts = system
    holds = Counted(conflicts)
    found = quickxplain(range(count), holds)
    assert not holds(found)
    assert all(holds([other for other in found if other != thing]) for thing in found)
    assert found == quickxplain(range(count), Counted(list(reversed(conflicts))))


@pytest.mark.parametrize("count", range(1, 9))
def test_each_conflict_among_up_to_eight_things_is_found(count: int) -> None:
    """Alone, and beside any second one."""
    every = parts(count)
    for one in every:
        check(count, [one])
    for pair in combinations(every, 2):
        check(count, pair)


@pytest.mark.parametrize("count", range(1, 5))
def test_every_system_of_up_to_four_things_is_solved(count: int) -> None:
    """All families of conflicts none of which is within another: 1, 4, 18, 166 of them (Dedekind, less two)."""
    families = list(antichains(parts(count)))
    assert len(families) == {1: 1, 2: 4, 3: 18, 4: 166}[count]
    for conflicts in families:
        check(count, conflicts)


def antichains(left: Sequence[frozenset[int]], taken: tuple[frozenset[int], ...] = ()) -> Iterator[Conflicts]:
    """Return every family of sets none of which is within another."""
    for number, one in enumerate(left):
        if not any(one <= other or other <= one for other in taken):
            yield (*taken, one)
            yield from antichains(left[number + 1 :], (*taken, one))


def test_no_things_no_conflict() -> None:
    assert quickxplain((), Counted(())) == ()


def test_a_thing_is_known_by_itself_and_not_by_what_it_equals() -> None:
    """Two things that are equal are two: here both are needed."""
    one, other = [1], [1]
    assert quickxplain([one, [2], other], lambda things: sum(thing == [1] for thing in things) < 2) == (one, other)


def starved(family: str, number: int) -> Questions:
    """Return the questions about a random bike that has no plan, of which there are some in each family."""
    found = (questions_on(starved_case(seed, family)) for seed in range(20))
    return next(islice((one for one in found if not one.has_plan(one.instance.everything)), number, None))


@pytest.mark.parametrize("family", ["ports", "bans", "untold", "cranking", "several"])
@pytest.mark.parametrize("number", range(3))
def test_a_bike_is_asked_about_in_two_rounds(family: str, number: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """First about groups of facts, then about facts, each within the bound; then the conflict is certified.

    To certify takes a question for all of it, and for each fact one near a plan that is known, and one more where that
    finds none.
    """
    questions = starved(family, number)
    rounds: list[tuple[int, int, int]] = []

    def counted(things: Sequence[object], holds: Callable[[Sequence[object]], bool]) -> tuple[object, ...]:
        before = questions.asked
        found = quickxplain(things, holds)
        rounds.append((len(things), len(found), questions.asked - before))
        return found

    monkeypatch.setattr(shrinking, "quickxplain", counted)
    before = questions.asked
    conflict = shrinking.shrink(questions, questions.instance.keys)
    assert len(rounds) == 2
    assert all(0 < asked <= at_most(things, found) for things, found, asked in rounds)
    assert rounds[1][1] == len(conflict.keys)
    assert questions.asked - before <= sum(asked for *_, asked in rounds) + 1 + 2 * len(conflict.keys)
