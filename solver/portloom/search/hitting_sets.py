"""Which sets to look at next: the cheapest that hits all that is known to be needed, the largest not yet explored.

The things are facts or changes by number; indices turn back into them with who asks.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from portloom.search.places import Clock
from portloom.search.solving import Solve, Status

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


def _best(model: cp_model.CpModel, held: Sequence[cp_model.IntVar], clock: Clock) -> tuple[int, ...] | None:
    """Return what the best set of a model holds, None where there is none; raise TimeoutError at the limit."""
    run = Solve(clock.left())
    status = run.run(model)
    if status is Status.IMPOSSIBLE:
        return None
    if status is not Status.BEST:
        raise TimeoutError
    return tuple(number for number, times in enumerate(run.values(held)) if times)


@dataclass
class HittingSets:
    """Changes with their efforts, what excludes what, and what has been learnt of them."""

    efforts: Sequence[int]
    exclusive: Sequence[Sequence[int]]
    """Of each of these, one at most."""
    kinds: Sequence[Sequence[int]]
    """Changes of one kind."""
    clauses: list[Clause] = field(default_factory=list)
    sums: list[AtLeast] = field(default_factory=list)
    patterns: list[tuple[int, ...]] = field(default_factory=list)
    """How many of each kind; a choice differs from every one of these."""

    def allow_again(self, put_off: Sequence[Clause]) -> None:
        """Forget the patterns, and the clauses that ruled out what was put off."""
        self.patterns.clear()
        self.clauses = [clause for clause in self.clauses if clause not in put_off]

    def cheapest(self, clock: Clock) -> tuple[int, ...] | None:
        """Return the choice of least effort, ties broken by the order of the changes; None where there is none.

        Raises TimeoutError at the limit.
        """
        model = cp_model.CpModel()
        # made[change]: it is made.
        made = [model.new_bool_var("") for _ in self.efforts]
        for group in self.exclusive:
            model.add_at_most_one(made[number] for number in group)
        for some, not_all in self.clauses:
            model.add_bool_or([*(made[number] for number in some), *(~made[number] for number in not_all)])
        for needed in self.sums:
            _add_sum(model, made, needed)
        self._differ(model, made)
        weights = [EFFORT * effort + number for number, effort in enumerate(self.efforts)]
        model.minimize(cp_model.LinearExpr.weighted_sum(made, weights))
        return _best(model, made, clock)

    def _differ(self, model: cp_model.CpModel, made: Sequence[cp_model.IntVar]) -> None:
        """A choice has, of some kind, another number than each pattern."""
        for pattern in self.patterns:
            other = []
            for kind, count in zip(self.kinds, pattern, strict=True):
                more, fewer = model.new_bool_var(""), model.new_bool_var("")
                total = sum(made[number] for number in kind)
                model.add(total >= count + 1).only_enforce_if(more)
                model.add(total <= count - 1).only_enforce_if(fewer)
                other += [more, fewer]
            model.add_bool_or(other)


def _add_sum(model: cp_model.CpModel, made: Sequence[cp_model.IntVar], needed: AtLeast) -> None:
    """What is chosen weighs enough, less one for each set of hosts of which any is chosen."""
    terms, amounts = [made[number] for number, _ in needed.weights], [amount for _, amount in needed.weights]
    for hosts in needed.hosts:
        host = model.new_bool_var("")
        for number in hosts:
            model.add_implication(made[number], host)
        terms, amounts = [*terms, host], [*amounts, -1]
    enough = model.add(cp_model.LinearExpr.weighted_sum(terms, amounts) >= needed.least)
    if needed.only_if is not None:
        enough.only_enforce_if(made[needed.only_if])


class MapSolver:
    """Sets of things from 0 to ``size``: what contains a conflict is known, and what lies within a set that holds.

    Source: Liffiton, Previti, Malik and Marques-Silva (2016), 'Fast, flexible MUS enumeration',
    doi:10.1007/s10601-015-9183-0.
    """

    def __init__(self, size: int) -> None:
        """Begin with nothing explored."""
        self._model = cp_model.CpModel()
        # kept[thing]: it is in the set.
        self._kept = [self._model.new_bool_var("") for _ in range(size)]
        self._model.maximize(cp_model.LinearExpr.sum(self._kept))

    def largest(self, clock: Clock) -> tuple[int, ...] | None:
        """Return a largest set of which nothing is known, None where all is; raise TimeoutError at the limit."""
        return _best(self._model, self._kept, clock)

    def holds(self, things: Iterable[int]) -> None:
        """Note that things hold together, and so does every part of them."""
        inside = set(things)
        self._model.add_bool_or([variable for n, variable in enumerate(self._kept) if n not in inside])

    def conflict(self, things: Iterable[int]) -> None:
        """Note that things do not hold together, nor anything with them."""
        self._model.add_bool_or([~self._kept[number] for number in things])
