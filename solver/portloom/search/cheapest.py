"""The cheapest choice of changes that meets all that is known to be needed."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from portloom.search.lean_model import LeanModel
from portloom.search.model import Solve
from portloom.search.places import Clock

Clause = tuple[tuple[int, ...], tuple[int, ...]]
"""At least one of the first is chosen, or one of the second is not."""
EFFORT = 10**6
"""What a step of effort weighs against the order of the list, which settles ties."""


@dataclass
class Choices:
    """Changes with their efforts, what excludes what, and what has been learnt of them."""

    efforts: Sequence[int]
    exclusive: Sequence[Sequence[int]]
    """Of each of these, one at most."""
    kinds: Sequence[Sequence[int]]
    """Changes of one kind."""
    clauses: list[Clause] = field(default_factory=list)
    sums: list[tuple[tuple[tuple[int, int], ...], int]] = field(default_factory=list)
    """Weights of changes, and what those that are chosen must weigh together."""
    patterns: list[tuple[int, ...]] = field(default_factory=list)
    """How many of each kind; a choice differs from every one of these."""

    def allow_again(self, put_off: Sequence[Clause]) -> None:
        """Forget the patterns, and the clauses that ruled out what was put off."""
        self.patterns.clear()
        self.clauses = [clause for clause in self.clauses if clause not in put_off]

    def cheapest(self, clock: Clock) -> tuple[int, ...] | None:
        """Return the choice of least effort, ties settled by the order of the changes; None where there is none.

        Raises TimeoutError at the limit.
        """
        model = LeanModel()
        # made[change]: it is made.
        made = [model.new_bool_var("") for _ in self.efforts]
        for group in self.exclusive:
            model.add_at_most_one(made[number] for number in group)
        for some, not_all in self.clauses:
            model.add_bool_or([*(made[number] for number in some), *(~made[number] for number in not_all)])
        for weighed, least in self.sums:
            numbers, amounts = [number for number, _ in weighed], [amount for _, amount in weighed]
            model.add(cp_model.LinearExpr.weighted_sum([made[n] for n in numbers], amounts) >= least)
        self._differ(model, made)
        weights = [EFFORT * effort + number for number, effort in enumerate(self.efforts)]
        model.minimize(cp_model.LinearExpr.weighted_sum(made, weights))
        run = Solve(clock.left())
        status = run.solver.solve(model)
        if status == cp_model.INFEASIBLE:
            return None
        if status != cp_model.OPTIMAL:
            raise TimeoutError
        return tuple(number for number, variable in enumerate(made) if run.solver.value(variable))

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
