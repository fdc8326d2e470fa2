"""A map of what was explored: which sets of facts are known to hold together, or not to."""

from collections.abc import Iterable

from ortools.sat.python import cp_model

from portloom.search.lean_model import LeanModel
from portloom.search.model import Solve
from portloom.search.places import Clock


class Map:
    """Sets of things from 0 to ``size``: what contains a conflict is known, and what lies within a set that holds.

    Source: Liffiton, Previti, Malik and Marques-Silva (2016), 'Fast, flexible MUS enumeration',
    doi:10.1007/s10601-015-9183-0.
    """

    def __init__(self, size: int) -> None:
        """Begin with nothing explored."""
        self._model = LeanModel()
        self._kept = [self._model.new_bool_var("") for _ in range(size)]
        self._model.maximize(cp_model.LinearExpr.sum(self._kept))

    def largest(self, clock: Clock) -> tuple[int, ...] | None:
        """Return a largest set of which nothing is known, None where all is; raise TimeoutError at the limit."""
        run = Solve(clock.left())
        status = run.solver.solve(self._model)
        if status == cp_model.INFEASIBLE:
            return None
        if status != cp_model.OPTIMAL:
            raise TimeoutError
        return tuple(number for number, variable in enumerate(self._kept) if run.solver.value(variable))

    def holds(self, things: Iterable[int]) -> None:
        """Note that things hold together, and so does every part of them."""
        inside = set(things)
        self._model.add_bool_or([variable for n, variable in enumerate(self._kept) if n not in inside])

    def conflict(self, things: Iterable[int]) -> None:
        """Note that things do not hold together, nor anything with them."""
        self._model.add_bool_or([~self._kept[number] for number in things])
