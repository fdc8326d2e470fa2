"""A choice as a CP-SAT model: the one translation that planning and explaining share. FORMULATION.md says it in full.

No variable and no constraint has a name unless ``text`` writes the model for people to read.
"""

from collections.abc import Sequence
from typing import Literal

from portloom.rules.facts import FactKey
from portloom.search.columns import Link, SumRow, column_name
from portloom.search.cp_sat import CpSatModel, Variable
from portloom.search.solving import Disagreement, Outcome, Solve, Status
from portloom.search.tableau import Tableau, cost_of, keeps, lower_bound

Goal = Literal["cost", "any"]


class Model:
    """The model of one choice."""

    def __init__(self, choice: Tableau) -> None:
        """Build the model; the goal and any bound are given when it is solved."""
        self.choice = choice
        self._model = CpSatModel()
        # Variables (FORMULATION.md, V1 and V2): used[column] is x, how often a circuit is put on this kind of port;
        # all[number] are the columns, then the flags of lazy cuts.
        self._most = [column.most for column in choice.columns] + [flag.most for flag in choice.flags]
        self._all = [self._model.integer(most) for most in self._most]
        self._used = self._all[: len(choice.columns)]
        self._least = 0
        """What the goal is at least, without a solve (B0); nothing is nought."""
        # Constraints (C1 to C6), each with what it says.
        self._sources: list[tuple[int, SumRow | Link]] = []
        for row in choice.rows:
            self._sources.append((self._add_row(row), row))
        for link in choice.links:
            self._sources.append((self._add_link(link), link))

    def _guards(self, fact: FactKey | None) -> Sequence[Variable]:  # noqa: ARG002 - a guarded model asks it
        """Return the literals without which a row or link need not hold (G1): none when a plan is made."""
        return ()

    # --- constraints: C

    def _add_row(self, row: SumRow) -> int:
        """A sum over variables stays between its bounds (C1, C3, C4 and C5 alike)."""
        guards = self._guards(row.fact)
        if not row.entries:
            # A sum that nothing adds to is right or wrong already.
            holds = row.at_least <= 0 <= row.at_most
            return self._model.all_of(()) if holds else self._model.any_of(~guard for guard in guards)
        if not guards and row.at_most == 1 and row.at_least in (0, 1) and self._is_a_choice(row):
            used = [self._all[number] for number, _ in row.entries]
            return self._model.exactly_one(used) if row.at_least else self._model.at_most_one(used)
        terms = ((self._all[number], amount) for number, amount in row.entries)
        return self._model.between(terms, row.at_least, row.at_most, guards)

    def _is_a_choice(self, row: SumRow) -> bool:
        return all(amount == 1 and self._most[number] == 1 for number, amount in row.entries)

    def _add_link(self, link: Link) -> int:
        """A column is used only if one of those that it needs is (C2)."""
        used, needed = self._used[link.column], [self._used[other] for other in link.any_of]
        guards = self._guards(link.fact)
        if not guards and needed and all(self._most[number] == 1 for number in (link.column, *link.any_of)):
            return self._model.any_of([~used, *needed])
        most = self._most[link.column]
        return self._model.between([(used, 1), *((other, -most) for other in needed)], None, 0, guards)

    def bound(self, at_most: int) -> None:
        """Allow no plan that costs more than ``at_most`` (B1)."""
        self._model.between(self._cost, None, at_most - self.choice.fixed_cost)

    def leave_out(self, numbers: Sequence[int]) -> None:
        """Use some columns and flags in no plan (B3)."""
        for number in numbers:
            self._model.between([(self._all[number], 1)], 0, 0)

    def cost_exactly(self, value: int) -> None:
        """Allow no plan but those that cost ``value``, and make the cost the goal, so that relaxations use it (T1)."""
        self._model.between(self._cost, value - self.choice.fixed_cost, value - self.choice.fixed_cost)
        self.minimise_cost()

    def in_order(self) -> None:
        """Decide on one column after the other, each as often as can be: the first plan found is the first of all (T2).

        Each decision is on the first column that is not decided. One that is used less often than can be is so by
        what was decided on columns before it; so no other plan uses more of it and as much of those.
        """
        self._model.decide_in_order(self._used)

    def most_of_first(self, numbers: Sequence[int]) -> None:
        """Make the use of the first of these columns most, then that of the second, and so on (T3)."""
        weights, weight = [], 1
        for number in reversed(numbers):
            weights.append((self._used[number], weight))
            weight *= self._most[number] + 1
        self._model.maximise(weights)

    def keep(self, numbers: Sequence[int], chosen: Sequence[int]) -> None:
        """Use columns as often as a plan does."""
        for number in numbers:
            self._model.between([(self._used[number], 1)], chosen[number], chosen[number])

    def try_first(self, chosen: Sequence[int]) -> None:
        """Begin with a plan, which may break a row, or with nothing; it only changes how soon the solver is done."""
        self._model.begin_with(zip(self._used, chosen, strict=bool(chosen)))

    # --- the objective: O

    @property
    def _cost(self) -> list[tuple[Variable, int]]:
        return [(used, column.cost) for used, column in zip(self._used, self.choice.columns, strict=True)]

    def minimise_cost(self) -> None:
        """Make the cost least (O1)."""
        self._least = lower_bound(self.choice)
        self._model.minimise(self._cost, beside=self.choice.fixed_cost)

    # --- solving, and writing it down

    def solve(self, run: Solve) -> Outcome:
        """Solve to the end or to the limit; value and bound are of the goal, nought where it is nothing.

        Raises Disagreement where what is found breaks a row or a link.
        """
        status = run.run(self._model)
        bound = self._least if run.bound is None else max(self._least, run.bound)
        if status not in (Status.BEST, Status.FOUND):
            return Outcome(status, None, bound, ())
        values = run.values(self._all)
        if not keeps(self.choice, values):
            raise Disagreement("the solver gives as a plan what is none")
        chosen = values[: len(self._used)]
        value = cost_of(self.choice, chosen) if self._model.has_goal else 0
        return Outcome(status, value, value if status is Status.BEST else bound, chosen)

    def text(self) -> str:
        """Return the model as text that CP-SAT reads back (its proto's own form), with names for people."""
        names = [f"x{number}: {column_name(column)}" for number, column in enumerate(self.choice.columns)]
        names += [f"y{number}: {', '.join(flag.name)}" for number, flag in enumerate(self.choice.flags)]
        for variable, name in zip(self._all, names, strict=True):
            self._model.name_variable(variable, name)
        for constraint, source in self._sources:
            self._model.name_constraint(constraint, self._name_of(source))
        return str(self._model)

    def _name_of(self, source: SumRow | Link) -> str:
        if isinstance(source, SumRow):
            return ": ".join(source.name)
        return f"{column_name(self.choice.columns[source.column])} needs {' '.join(source.fact or ('what holds it',))}"


class GuardedModel(Model):
    """The same in which every row and link that goes by a fact holds only if the fact is assumed (G1)."""

    def __init__(self, choice: Tableau) -> None:
        """Build the model, and assume every fact."""
        self._assumed: dict[FactKey, Variable] = {}
        super().__init__(choice)
        self._model.assume(self._assumed.values())

    def _guards(self, fact: FactKey | None) -> Sequence[Variable]:
        if fact is None:
            return ()
        if fact not in self._assumed:
            self._assumed[fact] = self._model.flag()
        return (self._assumed[fact],)

    def core(self, run: Solve) -> frozenset[FactKey]:
        """Return the facts that the solver holds responsible, after a run that found no plan to be possible."""
        blamed = run.solver.blamed
        return frozenset(fact for fact, flag in self._assumed.items() if flag in blamed)
