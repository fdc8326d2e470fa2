"""Loads that come into one share group: which groups may, the one way to say it, and what is said of a plan.

Groups that come together are joined to the earliest of them, each once: so one set of groups is one set of changes.
"""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations, product

from portloom.base.bike import Bike
from portloom.base.figures import listed
from portloom.base.parts.loads import never_together
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.fixes.change import Change, Target, with_load
from portloom.explaining.fixes.reach import things_of
from portloom.job.circuits import OutputCircuit
from portloom.job.consumers import Consumer
from portloom.job.job import Job
from portloom.rules.book import pair_clashes

SHARING = "sharing"
EFFORT = 1
Group = tuple[Consumer, ...]
Choice = tuple[int, ...]
"""Changes by their numbers."""


def joins(instance: Instance) -> Iterator[Change]:
    """Return each two groups of loads that may come into one, by themselves or by way of others.

    Whether it is any use is asked of the changed bike: a lamp that draws less, or a suppressor, may be what lets
    two share.
    """
    groups = _groups(instance)
    for together in _together(groups, lambda one, other: _may_join(instance, one, other)):
        for first, second in combinations(together, 2):
            one, other = (tuple(load.name for load in groups[number]) for number in (first, second))
            yield Change(
                kind=SHARING,
                effort=EFFORT,
                sentence=f"let {one[0]} and {other[0]} share an output",
                make=lambda target, one=one[0], other=other[0]: joined(target, one, other),  # type: ignore[misc]
                slot=(SHARING, one[0], other[0]),
                acts="things",
                reach=things_of(instance, (*one, *other), draws=False),
                only_helps=True,
                joins=(one, other),
            )


def _groups(instance: Instance) -> list[Group]:
    """Return the loads of the file on the unit, those of one share group together; a relay's coil is in none."""
    named = {load.name for load in instance.job.bike.loads}
    groups: dict[object, list[Consumer]] = {}
    for number, load in enumerate(instance.job.loads.on_unit):
        if load.name in named:
            groups.setdefault(number if load.share is None else load.share, []).append(load)
    return [tuple(group) for group in groups.values()]


def _together(groups: Sequence[Group], may: Callable[[Group, Group], bool]) -> Iterator[list[int]]:
    """Return the numbers of groups that hang together by who may join whom."""
    left = list(range(len(groups)))
    while left:
        found, waiting = [left.pop(0)], [0]
        while waiting:
            one = groups[found[waiting.pop()]]
            for number in [other for other in left if may(one, groups[other])]:
                left.remove(number)
                waiting.append(len(found))
                found.append(number)
        yield sorted(found)


def _may_join(instance: Instance, one: Group, other: Group) -> bool:
    """Tell whether two loads of different groups may share, and none of them is kept from one of the others."""
    pairs = [(a, b) for a in one for b in other]
    if any(never_together(a.part, b.part) for a, b in pairs):
        return False
    return any(_may_share(instance, a, b) for a, b in pairs)


def _may_share(instance: Instance, one: Consumer, other: Consumer) -> bool:
    both = OutputCircuit((replace(one, share="one"), replace(other, share="one")), ())
    return next(pair_clashes(instance.rules, both), None) is None


def joined(target: Target, one: str, other: str) -> Target | None:
    """Put two loads in one group, with all that are in the group of either; None where they are in one."""
    bike = target.bike
    groups = {load.name: load.share for load in bike.loads}
    if one not in groups or other not in groups or (groups[one] is not None and groups[one] == groups[other]):
        return None
    name = groups[one] or groups[other] or _free_name(bike, one)
    old = {group for group in (groups[one], groups[other]) if group is not None}
    for load in bike.loads:
        if load.name in (one, other) or load.share in old:
            target = with_load(target, load.name, share=name) or target
    return target


def _free_name(bike: Bike, wanted: str) -> str:
    # A name under 'alike' is a group's first, so no group is called as a load that is named there.
    taken = {*(load.share for load in bike.loads), *(name for names in bike.alike for name in names)}
    return wanted if wanted not in taken else _free_name(bike, f"{wanted}, shared")


# --- groups that no file may have


def kept_apart(before: Job, after: Job) -> tuple[str, str] | None:
    """Return two loads that came into one group and that it is never proposed to bring together; None without."""
    groups = {load.name: load.share for load in before.loads.on_unit}
    for one, other in combinations(after.loads.on_unit, 2):
        new = one.share is not None and one.share == other.share
        known = groups.get(one.name) is not None and groups.get(one.name) == groups.get(other.name)
        if new and not known and never_together(one.part, other.part):
            return one.name, other.name
    return None


# --- one way to say it


def in_one_way(changes: Sequence[Change]) -> Iterator[tuple[int, int]]:
    """Return pairs of joins of which one is made at most: a group is joined to one other, and then none to it."""
    into: dict[str, list[int]] = {}
    for number, change in enumerate(changes):
        if change.kind == SHARING:
            into.setdefault(change.joins[1][0], []).append(number)
    for numbers in into.values():
        yield from combinations(numbers, 2)
    for number, change in enumerate(changes):
        if change.kind == SHARING:
            yield from ((number, other) for other in into.get(change.joins[0][0], ()))


def containing(changes: Sequence[Change], chosen: Choice) -> Iterator[Choice]:
    """Return the ways to say what is chosen, or more: groups that come together may do so by way of an earlier one."""
    rest = tuple(number for number in chosen if changes[number].kind != SHARING)
    numbers = {change.slot: number for number, change in enumerate(changes) if change.kind == SHARING}
    groups = tuple(dict.fromkeys(names[0] for change in changes for names in change.joins if names))
    roots: dict[str, list[str]] = {}
    for number in chosen:
        if changes[number].kind == SHARING:
            root, other = (group[0] for group in changes[number].joins)
            roots.setdefault(root, [root]).append(other)
    ways = [list(_ways(together, numbers, groups)) for together in roots.values()]
    for way in product(*ways):
        yield tuple(sorted((*rest, *(number for part in way for number in part))))


def _ways(together: Sequence[str], numbers: Mapping[tuple[str, ...], int], groups: Sequence[str]) -> Iterator[Choice]:
    """Return the joins by which some groups come together: to the earliest of them, or to one before it."""
    for root in groups:
        slots = [(SHARING, root, other) for other in together if other != root]
        if all(slot in numbers for slot in slots):
            yield tuple(numbers[slot] for slot in slots)


def meetings(
    changes: Sequence[Change], names: Collection[str], chosen: Choice
) -> tuple[tuple[int, ...], tuple[tuple[tuple[int, ...], ...], ...]]:
    """Return how loads of these names that ``chosen`` leaves in different groups may come into one.

    The joins that do it alone; and for each group with none of them the joins that bring some to it, those together
    that bring loads which are in one group already: loads meet there by joins of two such sets.
    """
    wanted = set(names)
    into = {changes[n].joins[1][0]: changes[n].joins[0][0] for n in chosen if changes[n].kind == SHARING}
    alone: list[int] = []
    hosts: dict[str, dict[str, list[int]]] = {}
    for number, change in enumerate(changes):
        if change.kind != SHARING or wanted.isdisjoint(change.joins[1]):
            continue
        host, part = (into.get(group[0], group[0]) for group in change.joins)
        if wanted.isdisjoint(change.joins[0]):
            hosts.setdefault(change.joins[0][0], {}).setdefault(part, []).append(number)
        elif host != part:
            alone.append(number)
    several = (parts.values() for parts in hosts.values() if len(parts) > 1)
    return tuple(alone), tuple(tuple(map(tuple, parts)) for parts in several)


# --- what is said of a plan


def who_shares(changes: Iterable[Change], outputs: Iterable[Sequence[str]]) -> Iterator[str]:
    """Return a sentence for each output on which loads are that were in no common group; those that were stay one."""
    group = {name: names[0] for change in changes for names in change.joins for name in names}
    for loads in outputs:
        parts: dict[str, list[str]] = {}
        for name in loads:
            if name in group:
                parts.setdefault(group[name], []).append(name)
        if len(parts) > 1:
            yield f"let {_share(list(parts.values()))}"


def _share(parts: Sequence[list[str]]) -> str:
    """Say who shares an output with whom."""
    if all(len(part) == 1 for part in parts):
        return f"{listed([part[0] for part in parts])} share an output"
    first, *others = (listed(part) for part in parts)
    return f"{first} share an output with {' and with '.join(others)}"
