"""One run of CP-SAT, with the settings that were measured to be best, and what it proved.

One worker, linearization level 2, presolve, symmetry and probing off: the models here are tight already.
"""

from collections.abc import Callable, Sequence
from enum import Enum

from portloom.base.values import dataclass
from portloom.search.cp_sat import CpSatModel, CpSatRun, Variable
from portloom.search.doors import PlanFound

SEED, SEED_AGAIN = 1, 2
"""Where the solver's throws begin: its own default, and another."""
IN_ORDER = 0.04
"""So long a first plan is looked for in the order of decisions, in the solver's own time: mostly a tenth will do, and
where it will not, T3 mostly takes less than waiting on would."""
Proved = Callable[[int], None]
"""What is done when a bound is proved, in the unit of the goal."""


class Disagreement(RuntimeError):
    """The solver contradicts itself, or what was worked out without it: nothing that it says is told."""


class Status(Enum):
    """What a solve proved. A limit reached is never called impossible."""

    BEST = "best"
    FOUND = "found"
    IMPOSSIBLE = "impossible"
    UNKNOWN = "unknown"


STATUS = {
    "OPTIMAL": Status.BEST,
    "FEASIBLE": Status.FOUND,
    "INFEASIBLE": Status.IMPOSSIBLE,
    "UNKNOWN": Status.UNKNOWN,
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
        decisions up to the first plan, if that is soon found.
        """
        bounds = None if proved is None else lambda bound: proved(round(bound))
        self.solver = CpSatRun(found, bounds)
        settings = self.solver.settings
        settings.linearization_level = 2
        settings.cp_model_presolve = again
        settings.random_seed = SEED_AGAIN if again else SEED
        settings.symmetry_level = 0
        settings.cp_model_probing_level = 0
        if as_decided:
            settings.search_branching = settings.SearchBranching.FIXED_SEARCH
            settings.stop_after_first_solution = True
            settings.max_deterministic_time = IN_ORDER
        if seconds is not None:
            settings.max_time_in_seconds = max(0.0, seconds)

    def run(self, model: CpSatModel) -> Status:
        """Solve to the end or to the limit; raise ValueError where the model is not valid."""
        return STATUS[self.solver.solve(model)]

    def values(self, variables: Sequence[Variable]) -> tuple[int, ...]:
        """Return what was found for variables."""
        found = self.solver.values
        return tuple(found[variable] for variable in variables)

    @property
    def bound(self) -> int | None:
        """What was proved of the goal, None where the run was stopped before anything was."""
        return round(self.solver.bound) or None
