"""Which sets to look at next: the cheapest that hits all that is known to be needed, the largest not yet explored.

The things are facts or changes by number; indices turn back into them with who asks.
"""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import field

from portloom.base.clock import Clock
from portloom.base.values import dataclass
from portloom.search.cp_sat import CpSatModel, Variable
from portloom.search.solving import Disagreement, Solve, Status

Clause = tuple[tuple[int, ...], tuple[int, ...]]
"""At least one of the first is chosen, or one of the second is not."""
EFFORT = 10**6
"""What a step of effort weighs against the order of the list, which breaks ties."""


@dataclass(frozen=True)
class AtLeast:
    """What those that are chosen must weigh together, one less for each set of ``hosts`` of which any is chosen.

    It is asked only if ``only_if`` is chosen, where that is given.
    """

    weights: tuple[tuple[int, int], ...]
    least: int
    hosts: tuple[tuple[int, ...], ...] = ()
    only_if: int | None = None

    def met_by(self, chosen: Collection[int]) -> bool:
        """Tell whether a choice comes up to it."""
        if self.only_if is not None and self.only_if not in chosen:
            return True
        known = set(chosen)
        weight = sum(amount for number, amount in self.weights if number in chosen)
        return weight - sum(not known.isdisjoint(some) for some in self.hosts) >= self.least


def _best(model: CpSatModel, held: Sequence[Variable], clock: Clock) -> tuple[int, ...] | None:
    """Return what the best set of a model holds, None where there is none; raise TimeoutError at the limit."""
    run = Solve(clock.left())
    status = run.run(model)
    if status is Status.IMPOSSIBLE:
        return None
    if status is not Status.BEST:
        raise TimeoutError
    return tuple(number for number, times in enumerate(run.values(held)) if times)


def _prove_empty(model: CpSatModel, clock: Clock) -> None:
    """Prove in another way that a model has no set; raise TimeoutError at the limit, Disagreement where it has one."""
    status = Solve(clock.left(), again=True).run(model)
    if status is Status.UNKNOWN:
        raise TimeoutError
    if status is not Status.IMPOSSIBLE:
        raise Disagreement("two proofs disagree on which sets there are to look at")


@dataclass(frozen=True)
class FewPorts:
    """Groups that want a port each, and how many there are.

    A group is a set of changes for each of its loads: it wants a port unless some change of every one of these is
    made. Groups that are joined to another want none beside it, and it wants one for them.
    """

    room: int
    groups: tuple[tuple[tuple[int, ...], ...], ...]
    joins: tuple[tuple[int, int, int], ...]
    """Changes, each with the number of the group that another is joined to, and of that other."""
    only_if: int | None
    """Asked only if this is chosen, where it is given,"""
    unless: tuple[int, ...]
    """and none of these."""

    def met_by(self, chosen: Collection[int]) -> bool:
        """Tell whether a choice leaves no more groups than there are ports."""
        known = set(chosen)
        if not known.isdisjoint(self.unless) or (self.only_if is not None and self.only_if not in known):
            return True
        there = [any(known.isdisjoint(some) for some in group) for group in self.groups]
        at = {joined: into for number, into, joined in self.joins if number in known}
        return len({at.get(number, number) for number, wants in enumerate(there) if wants}) <= self.room


@dataclass(frozen=True)
class Meeting:
    """Some change is made, or what is apart comes together, unless one of ``not_all`` is not made."""

    changes: tuple[int, ...]
    hosts: tuple[tuple[tuple[int, ...], ...], ...]
    """At each of these, some changes of each part that is apart: two parts meet there if one of each is made."""
    not_all: tuple[int, ...]

    def met_by(self, chosen: Collection[int]) -> bool:
        """Tell whether a choice does any of this."""
        known = set(chosen)
        if not known.isdisjoint(self.changes) or not known.issuperset(self.not_all):
            return True
        return any(sum(not known.isdisjoint(part) for part in parts) > 1 for parts in self.hosts)


@dataclass
class HittingSets:
    """Changes with their efforts, what excludes what, and what has been learnt of them."""

    efforts: Sequence[int]
    exclusive: Sequence[Sequence[int]]
    """Of each of these, one at most."""
    kinds: Sequence[Sequence[int]]
    """Changes of one kind."""
    clauses: list[Clause] = field(default_factory=list)
    sums: list[AtLeast | FewPorts | Meeting] = field(default_factory=list)
    patterns: list[tuple[int, ...]] = field(default_factory=list)
    """How many of each kind; a choice has fewer of some kind than every one of these."""

    def cheapest(self, clock: Clock) -> tuple[int, ...] | None:
        """Return the choice of least effort, ties broken by the order of the changes; None where there is none.

        That nothing takes less effort, or that there is none, is proved twice. Raises TimeoutError at the limit, and
        Disagreement where the two proofs differ, or what is found is no choice.
        """
        model, made = self._model()
        weights = [EFFORT * effort + number for number, effort in enumerate(self.efforts)]
        model.minimise(zip(made, weights, strict=True))
        found = _best(model, made, clock)
        less = model.without_goal()
        if found is not None:
            if not self._keeps(found):
                raise Disagreement("what is found to be the next choice does not meet what is known")
            effort = sum(self.efforts[number] for number in found)
            less.between(zip(made, self.efforts, strict=True), None, effort - 1)
        _prove_empty(less, clock)
        return found

    def _keeps(self, found: Collection[int]) -> bool:
        """Tell without the solver whether a choice meets all that is known."""
        chosen = set(found)
        return (
            all(len(chosen.intersection(group)) <= 1 for group in self.exclusive)
            and all(not chosen.isdisjoint(some) or not chosen.issuperset(not_all) for some, not_all in self.clauses)
            and all(needed.met_by(chosen) for needed in self.sums)
            and all(self._has_fewer(chosen, pattern) for pattern in self.patterns)
        )

    def _has_fewer(self, chosen: Collection[int], pattern: Sequence[int]) -> bool:
        counts = (sum(number in chosen for number in kind) for kind in self.kinds)
        return any(made < count for made, count in zip(counts, pattern, strict=True))

    def _model(self) -> tuple[CpSatModel, list[Variable]]:
        """Return the model of all choices that meet what is known, and a flag for each change."""
        model = CpSatModel()
        # made[change]: it is made.
        made = [model.flag() for _ in self.efforts]
        for group in self.exclusive:
            model.at_most_one(made[number] for number in group)
        for some, not_all in self.clauses:
            model.any_of([*(made[number] for number in some), *(~made[number] for number in not_all)])
        for needed in self.sums:
            match needed:
                case AtLeast():
                    _add_sum(model, made, needed)
                case FewPorts():
                    _add_ports(model, made, needed)
                case Meeting():
                    _add_meeting(model, made, needed)
        self._differ(model, made)
        return model, made

    def _differ(self, model: CpSatModel, made: Sequence[Variable]) -> None:
        """A choice has, of some kind, fewer than each pattern."""
        for pattern in self.patterns:
            fewer = []
            for kind, count in zip(self.kinds, pattern, strict=True):
                if count:
                    fewer.append(model.flag())
                    model.between(((made[number], 1) for number in kind), None, count - 1, only_if=[fewer[-1]])
            model.any_of(fewer)


def _add_sum(model: CpSatModel, made: Sequence[Variable], needed: AtLeast) -> None:
    """What is chosen weighs enough."""
    terms = [(made[number], amount) for number, amount in needed.weights]
    for hosts in needed.hosts:
        # host: some change is made of those of which the first relieves nobody.
        host = model.flag()
        for number in hosts:
            model.any_of([~made[number], host])
        terms.append((host, -1))
    model.between(terms, needed.least, None, only_if=[] if needed.only_if is None else [made[needed.only_if]])


def _add_ports(model: CpSatModel, made: Sequence[Variable], few: FewPorts) -> None:
    """There are no more groups than ports."""
    into: dict[int, list[Variable]] = {}
    for number, _, joined in few.joins:
        into.setdefault(joined, []).append(made[number])
    # there[group]: some load of it is borne on by nothing; wanted[group]: it takes a port, for itself or for others.
    there = [model.flag() for _ in few.groups]
    wanted = [model.flag() for _ in few.groups]
    for number, group in enumerate(few.groups):
        for some in group:
            model.any_of([there[number], *(made[change] for change in some)])
        model.any_of([~there[number], wanted[number], *into.get(number, ())])
    for number, host, joined in few.joins:
        model.any_of([~made[number], ~there[joined], wanted[host]])
    asked = [made[few.only_if]] if few.only_if is not None else []
    guards = [*asked, *(~made[number] for number in few.unless)]
    model.between(((group, 1) for group in wanted), None, few.room, only_if=guards)


def _add_meeting(model: CpSatModel, made: Sequence[Variable], needed: Meeting) -> None:
    """Some change is made, or two parts meet at a host."""
    met = []
    for parts in needed.hosts:
        # there[part]: some change of it is made; meets: of two parts at least.
        there, meets = [model.flag() for _ in parts], model.flag()
        for part, flag in zip(parts, there, strict=True):
            model.any_of([~flag, *(made[number] for number in part)])
        model.between(((flag, 1) for flag in there), 2, None, only_if=[meets])
        met.append(meets)
    model.any_of([*(made[number] for number in needed.changes), *met, *(~made[number] for number in needed.not_all)])


class MapSolver:
    """Sets of things from 0 to ``size``: what contains a conflict is known, and what lies within a set that holds.

    Source: Liffiton, Previti, Malik and Marques-Silva (2016), 'Fast, flexible MUS enumeration',
    doi:10.1007/s10601-015-9183-0.
    """

    def __init__(self, size: int) -> None:
        """Begin with nothing explored."""
        self._model = CpSatModel()
        # kept[thing]: it is in the set.
        self._kept = [self._model.flag() for _ in range(size)]
        self._model.maximise((thing, 1) for thing in self._kept)

    def largest(self, clock: Clock) -> tuple[int, ...] | None:
        """Return a largest set of which nothing is known, None where all is, which is proved twice.

        Raises TimeoutError at the limit, and Disagreement where the two proofs differ.
        """
        found = _best(self._model, self._kept, clock)
        if found is None:
            _prove_empty(self._model.without_goal(), clock)
        return found

    def holds(self, things: Iterable[int]) -> None:
        """Note that things hold together, and so does every part of them."""
        inside = set(things)
        self._model.any_of([variable for n, variable in enumerate(self._kept) if n not in inside])

    def conflict(self, things: Iterable[int]) -> None:
        """Note that things do not hold together, nor anything with them."""
        self._model.any_of([~self._kept[number] for number in things])
