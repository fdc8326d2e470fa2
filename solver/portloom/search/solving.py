"""One run of CP-SAT, with the settings that were measured to be best, and what it proved.

One worker, linearization level 2, presolve, symmetry and probing off: the models here are tight already.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum

from ortools.sat.python import cp_model

SEED, SEED_AGAIN = 1, 2
"""Where the solver's throws begin: its own default, and another."""
Proved = Callable[[int], None]
"""What is done when a bound is proved, in the unit of the goal."""
PlanFound = Callable[[tuple[int, ...]], None]
"""What is done when a plan is found on the way: the values of all that is told."""


class Disagreement(RuntimeError):
    """The solver contradicts itself, or what was worked out without it: nothing that it says is told."""


class Status(Enum):
    """What a solve proved. A limit reached is never called impossible."""

    BEST = "best"
    FOUND = "found"
    IMPOSSIBLE = "impossible"
    UNKNOWN = "unknown"


STATUS = {
    cp_model.OPTIMAL: Status.BEST,
    cp_model.FEASIBLE: Status.FOUND,
    cp_model.INFEASIBLE: Status.IMPOSSIBLE,
    cp_model.UNKNOWN: Status.UNKNOWN,
}


@dataclass(frozen=True)
class Outcome:
    """A solve's end: its status, the best value and the bound in the unit of the goal, and each column's use."""

    status: Status
    value: int | None
    bound: int
    chosen: tuple[int, ...]


class Solve:
    """One run of the solver with the measured settings."""

    def __init__(
        self,
        seconds: float | None,
        *,
        again: bool = False,
        as_decided: bool = False,
        found: PlanFound | None = None,
        proved: Proved | None = None,
    ) -> None:
        """Take the seconds that are left, None for no limit, and what is done with plans and bounds on the way.

        A run ``again`` has other settings, for a second proof; one ``as_decided`` follows the model's order of
        decisions up to the first plan.
        """
        self.solver = cp_model.CpSolver()
        self.found = found
        if proved is not None:
            self.solver.best_bound_callback = lambda bound: proved(round(bound))
        settings = self.solver.parameters
        settings.num_workers = 1
        settings.linearization_level = 2
        settings.cp_model_presolve = again
        settings.random_seed = SEED_AGAIN if again else SEED
        settings.symmetry_level = 0
        settings.cp_model_probing_level = 0
        settings.catch_sigint_signal = False  # an interrupt is Python's to tell
        if as_decided:
            settings.search_branching = cp_model.FIXED_SEARCH
            settings.stop_after_first_solution = True
        if seconds is not None:
            settings.max_time_in_seconds = max(0.0, seconds)

    def run(self, model: cp_model.CpModel, told: Sequence[cp_model.IntVar] = ()) -> Status:
        """Solve to the end or to the limit; plans on the way are told as the values of the variables ``told``."""
        status = STATUS.get(self.solver.solve(model, self.found and _Watch(told, self.found)))
        if status is None:
            raise ValueError(f"the model is not valid: {model.validate()}")
        return status

    def values(self, variables: Sequence[cp_model.IntVar]) -> tuple[int, ...]:
        """Return what was found for variables."""
        return tuple(int(self.solver.value(variable)) for variable in variables)

    @property
    def bound(self) -> int | None:
        """What was proved of the goal, None where the run was stopped before anything was."""
        return round(self.solver.best_objective_bound) or None


class _Watch(cp_model.CpSolverSolutionCallback):
    """Tells every plan that is found on the way."""

    def __init__(self, used: Sequence[cp_model.IntVar], found: PlanFound) -> None:
        super().__init__()
        self._columns = used
        self._found = found

    def on_solution_callback(self) -> None:
        chosen = tuple(int(self.value(variable)) for variable in self._columns)
        self._found(chosen)
