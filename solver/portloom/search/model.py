"""The CP-SAT model of one tableau, with the settings that were measured to be best.

One worker, linearization level 2, presolve, symmetry and probing off: the model is already tight.
``add_exactly_one`` and ``add_at_most_one`` where they say it, weighted sums for the rest.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Literal

from ortools.sat.python import cp_model

from portloom.search.columns import SumRow
from portloom.search.lean_model import LeanModel
from portloom.search.tableau import Tableau, lower_bound

Goal = Literal["cost", "any"]


class Status(Enum):
    """What a solve proved. A limit reached is never called impossible."""

    BEST = "best"
    FOUND = "found"
    IMPOSSIBLE = "impossible"
    UNKNOWN = "unknown"


@dataclass(frozen=True)
class Outcome:
    """A solve's end: its status, the best value and bound in micrometres, and how often each column is used."""

    status: Status
    value: int | None
    bound: int
    chosen: tuple[int, ...]


STATUS = {
    cp_model.OPTIMAL: Status.BEST,
    cp_model.FEASIBLE: Status.FOUND,
    cp_model.INFEASIBLE: Status.IMPOSSIBLE,
    cp_model.UNKNOWN: Status.UNKNOWN,
}


class Model:
    """A tableau as a CP-SAT model."""

    def __init__(self, tableau: Tableau) -> None:
        """Build the model; the goal and any bound are given when it is solved."""
        self.tableau = tableau
        self._model = LeanModel()
        # used[column]: how often this circuit is put on this kind of port.
        self._used = [self._variable(column.most) for column in tableau.columns]
        # all[number]: the columns, then the flags of stricter rows.
        self._all = [*self._used, *(self._variable(most) for most in tableau.flags)]
        for row in tableau.rows:
            self._add_row(row)
        for link in tableau.links:
            self._add_link(link.column, link.meeting)

    def _variable(self, most: int) -> cp_model.IntVar:
        if most == 1:
            return self._model.new_bool_var("")
        return self._model.new_int_var(0, most, "")

    def _most(self, number: int) -> int:
        columns = self.tableau.columns
        return columns[number].most if number < len(columns) else self.tableau.flags[number - len(columns)]

    def _add_row(self, row: SumRow) -> None:
        used = [self._all[number] for number, _ in row.entries]
        if not used:
            self._add_empty(row)
            return
        amounts = [amount for _, amount in row.entries]
        ones = all(amount == 1 for amount in amounts)
        single = all(self._most(number) == 1 for number, _ in row.entries)
        if ones and single and row.at_most == 1 and row.at_least in (0, 1):
            choose = self._model.add_exactly_one if row.at_least == 1 else self._model.add_at_most_one
            choose(used)
            return
        # A sum over how often each column is used stays between its bounds.
        total = cp_model.LinearExpr.weighted_sum(used, amounts)
        self._model.add_linear_constraint(total, row.at_least, row.at_most)

    def _add_empty(self, row: SumRow) -> None:
        """A sum that no column adds to is right or wrong already."""
        if row.at_least > 0 or row.at_most < 0:
            self._model.add_bool_or([])

    def _add_link(self, number: int, meeting: tuple[int, ...]) -> None:
        """A column only if one of those that it needs is chosen."""
        if not meeting:
            self._model.add(self._used[number] == 0)
        elif all(self.tableau.columns[each].most == 1 for each in (number, *meeting)):
            self._model.add_bool_or(~self._used[number], *(self._used[other] for other in meeting))
        else:
            most = self.tableau.columns[number].most
            others = cp_model.LinearExpr.sum([self._used[other] for other in meeting])
            self._model.add(self._used[number] <= most * others)

    def _cost(self) -> cp_model.LinearExpr:
        costs = [column.cost for column in self.tableau.columns]
        return cp_model.LinearExpr.weighted_sum(self._used, costs) + self.tableau.fixed_cost

    def cost_exactly(self, value: int) -> None:
        """Allow no plan but those that cost ``value``, and make that the goal: so relaxations use it."""
        self._model.add(self._cost() == value)
        self.aim("cost")

    def bound(self, at_most: int) -> None:
        """Allow no plan that costs more than ``at_most`` micrometres."""
        self._model.add(self._cost() <= at_most)

    def aim(self, goal: Goal) -> None:
        """Set what is made least: the cost, or nothing."""
        if goal == "cost":
            self._model.minimize(self._cost())

    def aim_at(self, terms: Sequence[tuple[int, int]]) -> None:
        """Make the least of a sum over columns and flags, each with its number and weight."""
        weighed = [self._all[number] for number, _ in terms]
        self._model.minimize(cp_model.LinearExpr.weighted_sum(weighed, [weight for _, weight in terms]))

    def in_order(self) -> None:
        """Decide on one column after the other, each as often as can be: the first plan found is the first of all.

        Each decision is on the first column that is not decided. One that is used less often than can be is so by
        what was decided on columns before it; so no other plan uses more of it and as much of those.
        """
        self._model.add_decision_strategy(self._used, cp_model.CHOOSE_FIRST, cp_model.SELECT_MAX_VALUE)

    def solve(self, run: "Solve") -> Outcome:
        """Solve to the end or to the limit."""
        status = STATUS.get(run.solver.solve(self._model, run.found and _Watch(self._used, run.found)))
        if status is None:
            raise ValueError(f"the model is not valid: {self._model.validate()}")
        bound = self._bound(run)
        if status not in (Status.BEST, Status.FOUND):
            return Outcome(status, None, bound, ())
        chosen = tuple(int(run.solver.value(variable)) for variable in self._used)
        return Outcome(status, round(run.solver.objective_value), bound, chosen)

    def _bound(self, run: "Solve") -> int:
        """Return the greatest bound that is known, in the unit of the columns' costs."""
        proved = round(run.solver.best_objective_bound)
        # A solve that is stopped before it has a bound says nought.
        return max(lower_bound(self.tableau), proved) if proved else lower_bound(self.tableau)


Proved = Callable[[int], None]
"""What is done when a bound is proved, in micrometres."""
Found = Callable[[int, tuple[int, ...]], None]
"""What is done when a plan is found on the way: its value, and how often each column is used."""


class _Watch(cp_model.CpSolverSolutionCallback):
    """Tells every plan that is found on the way."""

    def __init__(self, used: Sequence[cp_model.IntVar], found: Found) -> None:
        super().__init__()
        self._columns = used
        self._found = found

    def on_solution_callback(self) -> None:
        chosen = tuple(int(self.value(variable)) for variable in self._columns)
        self._found(round(self.objective_value), chosen)


class Solve:
    """One run of the solver with the measured settings."""

    def __init__(
        self,
        seconds: float | None,
        *,
        presolve: bool = False,
        found: Found | None = None,
        proved: Proved | None = None,
    ) -> None:
        """Take the seconds that are left, None for no limit, and what is done with plans and bounds on the way."""
        self.solver = cp_model.CpSolver()
        self.found = found
        if proved is not None:
            self.solver.best_bound_callback = lambda bound: proved(round(bound))
        settings = self.solver.parameters
        settings.num_workers = 1
        settings.linearization_level = 2
        settings.cp_model_presolve = presolve
        settings.symmetry_level = 0
        settings.cp_model_probing_level = 0
        settings.catch_sigint_signal = False  # an interrupt is Python's to tell
        if seconds is not None:
            settings.max_time_in_seconds = max(0.0, seconds)

    def as_decided(self) -> "Solve":
        """Return the same run, following the model's order of decisions up to the first plan."""
        self.solver.parameters.search_branching = cp_model.FIXED_SEARCH
        self.solver.parameters.stop_after_first_solution = True
        return self

    def without_plans(self) -> "Solve":
        """Return the same run, telling no plan on the way."""
        self.found = None
        return self

    def without_bounds(self) -> "Solve":
        """Return the same run, telling no bound on the way."""
        self.solver.best_bound_callback = None
        return self
