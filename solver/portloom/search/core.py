"""What the solver itself holds responsible when nothing fits at a site: a hint to a conflict, never a proof."""

from collections.abc import Sequence

from ortools.sat.python import cp_model

from portloom.rules.facts import FactKey
from portloom.rules.shapes import Rule
from portloom.search.columns import Link, SumRow
from portloom.search.lean_model import LeanModel
from portloom.search.model import Solve
from portloom.search.places import Clock
from portloom.search.strengthen import strengthened
from portloom.search.tableau import Tableau


def core(rules: Sequence[Rule], choice: Tableau, clock: Clock) -> frozenset[FactKey] | None:
    """Return facts whose rows, the solver says, leave no plan together; None where there is one, or at the limit.

    The true sizes of wires count, as far as plans on the way broke them. Rows that go by no fact always hold.
    """
    stricter: Tableau | None = choice
    while stricter is not None:
        model = _Guarded(stricter)
        run = Solve(clock.left())
        status = run.solver.solve(model.model)
        if status == cp_model.INFEASIBLE:
            return model.facts(run.solver.sufficient_assumptions_for_infeasibility())
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return None
        stricter = strengthened(rules, stricter, tuple(run.solver.value(used) for used in model.used))
    return None


class _Guarded:
    """A tableau's model in which every row that goes by a fact holds if the fact is assumed."""

    def __init__(self, choice: Tableau) -> None:
        self.model = LeanModel()
        self._choice = choice
        self.used = [self.model.new_int_var(0, column.most, "") for column in choice.columns]
        self._all = [*self.used, *(self.model.new_int_var(0, most, "") for most in choice.flags)]
        self._assumed: dict[FactKey, cp_model.IntVar] = {}
        for row in choice.rows:
            self._add_row(row)
        for link in choice.links:
            self._add_link(link)
        self.model.add_assumptions(list(self._assumed.values()))

    def facts(self, literals: Sequence[int]) -> frozenset[FactKey]:
        """Return the facts that assumptions stand for."""
        names = {variable.index: fact for fact, variable in self._assumed.items()}
        return frozenset(names[number] for number in literals)

    def _guard(self, fact: FactKey) -> cp_model.IntVar:
        if fact not in self._assumed:
            self._assumed[fact] = self.model.new_bool_var("")
        return self._assumed[fact]

    def _add_row(self, row: SumRow) -> None:
        used = [self._all[number] for number, _ in row.entries]
        total = cp_model.LinearExpr.weighted_sum(used, [amount for _, amount in row.entries])
        within = self.model.add_linear_constraint(total, row.at_least, row.at_most)
        if row.fact is not None:
            within.only_enforce_if(self._guard(row.fact))

    def _add_link(self, link: Link) -> None:
        most = self._choice.columns[link.column].most
        meeting = cp_model.LinearExpr.sum([self.used[other] for other in link.meeting])
        met = self.model.add(self.used[link.column] <= most * meeting)
        if link.fact is not None:
            met.only_enforce_if(self._guard(link.fact))
