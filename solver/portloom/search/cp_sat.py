"""A model as CP-SAT takes it: the solver's own message, written without expressions on the way.

Variables are numbers, from nought in the order in which they are made; ``~variable`` is what a flag is not. Both are
the solver's own (``cp_model.proto``: 'a negative reference -i - 1 is the negation of i').
"""

from collections.abc import Collection, Iterable, Sequence
from typing import Any

from portloom.search.doors import BoundProved, PlanFound, door

Variable = int
"""A variable by its number, or for a flag its negation."""


class CpSatModel:
    """Variables, constraints, a goal: what one run of the solver is given.

    A constraint with ``only_if`` holds only where all these flags are set. Each method that adds one returns its
    number.
    """

    def __init__(self) -> None:
        """Begin with nothing."""
        self.message: Any = door().model()

    # --- variables

    def flag(self) -> Variable:
        """Return a new variable that is 0 or 1."""
        return self.integer(1)

    def integer(self, most: int) -> Variable:
        """Return a new variable from 0 to ``most``."""
        variables = self.message.variables
        variables.add().domain.extend((0, most))
        return len(variables) - 1

    # --- constraints

    def any_of(self, literals: Iterable[Variable], only_if: Iterable[Variable] = ()) -> int:
        """At least one of these holds."""
        return self._add("bool_or", literals, only_if)

    def all_of(self, literals: Iterable[Variable], only_if: Iterable[Variable] = ()) -> int:
        """Each of these holds."""
        return self._add("bool_and", literals, only_if)

    def at_most_one(self, literals: Iterable[Variable]) -> int:
        """No two of these hold."""
        return self._add("at_most_one", literals, ())

    def exactly_one(self, literals: Iterable[Variable]) -> int:
        """One of these holds and no other."""
        return self._add("exactly_one", literals, ())

    def _add(self, kind: str, literals: Iterable[Variable], only_if: Iterable[Variable]) -> int:
        constraint = self.message.constraints.add()
        getattr(constraint, kind).literals.extend(list(literals))
        return self._enforced(constraint, only_if)

    def between(
        self,
        terms: Iterable[tuple[Variable, int]],
        least: int | None,
        most: int | None,
        only_if: Iterable[Variable] = (),
    ) -> int:
        """A weighted sum of variables is from ``least`` to ``most``, None where it has no such end.

        No sum is where ``least`` is above ``most``.
        """
        if least is not None and most is not None and least > most:
            return self.any_of(~guard for guard in only_if)
        variables, weights = _summed(terms)
        constraint = self.message.constraints.add()
        constraint.linear.vars.extend(variables)
        constraint.linear.coeffs.extend(weights)
        constraint.linear.domain.extend((LOWEST if least is None else least, HIGHEST if most is None else most))
        return self._enforced(constraint, only_if)

    def _enforced(self, constraint: Any, only_if: Iterable[Variable]) -> int:
        guards = list(only_if)
        if guards:
            constraint.enforcement_literal.extend(guards)
        return len(self.message.constraints) - 1

    # --- the goal, and where to begin

    @property
    def has_goal(self) -> bool:
        """Whether something is to be made least or most."""
        return bool(self.message.has_objective())

    def minimise(self, terms: Iterable[tuple[Variable, int]], beside: int = 0) -> None:
        """Make a weighted sum least, which with ``beside`` is what is told of it."""
        self._aim(terms, beside, sign=1)

    def maximise(self, terms: Iterable[tuple[Variable, int]]) -> None:
        """Make a weighted sum most."""
        self._aim(terms, 0, sign=-1)

    def without_goal(self) -> "CpSatModel":
        """Return a model with the same constraints, of which nothing is made least or most, and nothing tried first."""
        other = CpSatModel()
        other.message.copy_from(self.message)
        other.message.clear_objective()
        other.message.clear_solution_hint()
        return other

    def _aim(self, terms: Iterable[tuple[Variable, int]], beside: int, *, sign: int) -> None:
        variables, weights = _summed(terms)
        self.message.clear_objective()
        goal = self.message.objective
        goal.vars.extend(variables)
        goal.coeffs.extend([sign * weight for weight in weights])
        goal.scaling_factor = float(sign)
        goal.offset = float(sign * beside)

    def decide_in_order(self, variables: Sequence[Variable]) -> None:
        """Decide on one variable after the other, each the largest that it can be first."""
        strategy = self.message.search_strategy.add()
        for variable in variables:
            expression = strategy.exprs.add()
            expression.vars.append(variable)
            expression.coeffs.append(1)
        strategy.merge_text_format("variable_selection_strategy: CHOOSE_FIRST")
        strategy.merge_text_format("domain_reduction_strategy: SELECT_MAX_VALUE")

    def begin_with(self, values: Iterable[tuple[Variable, int]]) -> None:
        """Try these values first, in place of any before."""
        self.message.clear_solution_hint()
        for variable, value in values:
            self.message.solution_hint.vars.append(variable)
            self.message.solution_hint.values.append(value)

    def assume(self, flags: Iterable[Variable]) -> None:
        """Set these flags; where nothing is possible, those that are to blame are told."""
        self.message.assumptions.extend(list(flags))

    # --- for people

    def name_variable(self, variable: Variable, name: str) -> None:
        """Name a variable in the text."""
        named = self.message.variables[variable]
        named.name = name

    def name_constraint(self, constraint: int, name: str) -> None:
        """Name a constraint in the text, by its number."""
        named = self.message.constraints[constraint]
        named.name = name

    def __str__(self) -> str:
        """Return the model as text that CP-SAT reads back."""
        return str(self.message)


LOWEST, HIGHEST = -(2**63), 2**63 - 1
"""Where a sum has no end: the solver's own (its domains are of 64 bits)."""


def _summed(terms: Iterable[tuple[Variable, int]]) -> tuple[Collection[int], Collection[int]]:
    """Return each variable once, and its weight; the negation of a flag does not occur in sums."""
    weights: dict[int, int] = {}
    for variable, weight in terms:
        weights[variable] = weights.get(variable, 0) + weight
    return list(weights), list(weights.values())


class CpSatRun:
    """One run of the solver, with one worker, so that ties fall the same way each time."""

    def __init__(self, found: PlanFound | None = None, proved: BoundProved | None = None) -> None:
        """Take what is done, on the way, with the values of all variables and with bounds of the goal."""
        self.settings: Any = door().parameters()
        self.settings.num_workers = 1
        self.settings.catch_sigint_signal = False  # an interrupt is Python's to tell
        self.found = found
        self.proved = proved
        self._run = door().run()
        self._response: Any = None

    def solve(self, model: CpSatModel) -> str:
        """Run to the end or to a limit; return the solver's name for what came of it, as OPTIMAL.

        Raises ValueError where the model is not valid.
        """
        self._response = self._run.solve(model.message, self.settings, self.found, self.proved)
        status = str(self._response.status.name)
        if status == "MODEL_INVALID":
            raise ValueError(f"the model is not valid: {door().validate(model.message)}")
        return status

    def stop(self) -> None:
        """End the run soon, from another thread."""
        self._run.stop()

    @property
    def values(self) -> Sequence[int]:
        """What was found for each variable."""
        return tuple(self._response.solution)

    @property
    def value(self) -> float:
        """What was reached of the goal."""
        return float(self._response.objective_value)

    @property
    def bound(self) -> float:
        """What was proved of the goal; nought where nothing was."""
        return float(self._response.best_objective_bound)

    @property
    def effort(self) -> float:
        """What the run took, in the solver's own deterministic time."""
        return float(self._response.deterministic_time)

    @property
    def blamed(self) -> frozenset[Variable]:
        """Flags among the assumed ones that are possible in no way together."""
        return frozenset(self._response.sufficient_assumptions_for_infeasibility)
