"""Who comes into one share group by joins: every choice of joins of a few groups, tried one by one."""

import random
from collections.abc import Iterator, Sequence
from itertools import chain, combinations

from portloom.base.clock import Clock
from portloom.explaining.fixes.change import Change
from portloom.explaining.fixes.sharing import SHARING, in_one_way, meetings
from portloom.search.hitting_sets import HittingSets, Meeting

GROUPS = (("a",), ("b", "b2"), ("c",), ("d",), ("e",))
"""The loads of a bike by their share groups, in the order of its file."""


def joins_of(dice: random.Random) -> list[Change]:
    """Return joins of some of the pairs of groups, the earlier group first."""
    pairs = [pair for pair in combinations(GROUPS, 2) if dice.random() < 0.7]
    return [
        Change(SHARING, 1, "", lambda target: target, "things", (SHARING, one[0], other[0]), joins=(one, other))
        for one, other in pairs
    ]


def choices(changes: Sequence[Change]) -> Iterator[tuple[int, ...]]:
    """Return every choice of joins in which groups are joined to one that is joined to none."""
    apart = list(in_one_way(changes))
    numbers = range(len(changes))
    every = chain.from_iterable(combinations(numbers, count) for count in range(5))
    return (chosen for chosen in every if not any(set(pair) <= set(chosen) for pair in apart))


def parts(changes: Sequence[Change], chosen: Sequence[int]) -> dict[str, str]:
    """Return for each load the first of its group, once some joins are made."""
    root = {name: group[0] for group in GROUPS for name in group}
    for number in chosen:
        one, other = (root[group[0]] for group in changes[number].joins)
        root = {name: one if own == other else own for name, own in root.items()}
    return root


def test_loads_meet_where_they_come_into_one_group() -> None:
    """What must be made for loads to meet is met by just those choices by which two that were apart come together."""
    dice = random.Random("meetings")
    met = apart = 0
    for _ in range(40):
        changes = joins_of(dice)
        every = list(choices(changes))
        names = dice.sample(["a", "b", "b2", "c", "d", "e"], 3)
        before = dice.choice(every)
        alone, hosts = meetings(changes, names, before)
        needed = Meeting(alone, hosts, ())
        was = parts(changes, before)
        for chosen in every:
            now = parts(changes, chosen)
            meeting = any(now[one] == now[other] and was[one] != was[other] for one, other in combinations(names, 2))
            assert needed.met_by(chosen) == meeting, (names, before, chosen)
            met, apart = met + meeting, apart + (not meeting)
    assert min(met, apart) > 100


def test_the_cheapest_choice_by_which_loads_meet() -> None:
    """The search for the next choice finds the least number of joins that brute force does, and none where none do."""
    dice = random.Random("cheapest meetings")
    sizes = set()
    for _ in range(40):
        changes = joins_of(dice)
        needed = [
            Meeting(*meetings(changes, dice.sample(["a", "b", "c", "d", "e"], 2), ()), not_all=()) for _ in range(2)
        ]
        fewest = min(
            (len(chosen) for chosen in choices(changes) if all(one.met_by(chosen) for one in needed)), default=None
        )
        pairs = tuple(in_one_way(changes))
        found = HittingSets([1] * len(changes), pairs, [], sums=list(needed)).cheapest(Clock(None))
        assert (None if found is None else len(found)) == fewest
        sizes.add(fewest)
    assert {None, 1, 2} <= sizes


def test_what_is_left_unmade_needs_no_meeting() -> None:
    """Where a change that a conflict hangs on is not made, nobody need meet."""
    needed = Meeting((1,), (), (0,))
    assert [needed.met_by(chosen) for chosen in ((), (0,), (1,), (0, 1))] == [True, False, True, True]
    assert HittingSets([1, 1], (), [], clauses=[((0,), ())], sums=[needed]).cheapest(Clock(None)) == (0, 1)
