"""A cost that no plan is below, from the duals of a linear relaxation, checked in whole numbers (FORMULATION.md, B2).

Who finds the multipliers need not be believed: whatever they are, the bound that is worked out from them is true.
Source: Neumaier and Shcherbina (2004), 'Safe bounds in linear and mixed-integer linear programming',
doi:10.1007/s10107-003-0433-3.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cached_property

from portloom.base.values import dataclass
from portloom.search.columns import SumRow
from portloom.search.tableau import NO_LOWER_BOUND, Tableau

SCALE = 2**40
"""Multipliers are whole numbers of this part."""
ROUNDING = 1e-6
"""So near a whole number a linear program's value may be one."""


@dataclass(frozen=True)
class Weighed:
    """The rows of a choice, each times a whole number, added up."""

    choice: Tableau
    rows: tuple[SumRow, ...]
    """The rows of the choice, then its links as rows."""
    multipliers: tuple[int, ...]
    """Of each row, in parts of ``SCALE``; above nought where its lower bound counts, below where its upper one does."""
    relaxed: tuple[float, ...] = ()
    """How often the relaxation uses each variable; nothing where it has no solution."""

    @cached_property
    def _left(self) -> tuple[int, ...]:
        """What is left of each variable's cost, in parts of ``SCALE``."""
        left = [column.cost * SCALE for column in self.choice.columns] + [0] * len(self.choice.flags)
        for row, times in zip(self.rows, self.multipliers, strict=True):
            if times:
                for number, amount in row.entries:
                    left[number] -= times * amount
        return tuple(left)

    @cached_property
    def _total(self) -> int:
        """What every plan costs at least, in parts of ``SCALE``."""
        pairs = zip(self.rows, self.multipliers, strict=True)
        brought = sum(times * (row.at_least if times > 0 else row.at_most) for row, times in pairs)
        gained = sum(left * most for left, most in zip(self._left, _most(self.choice), strict=True) if left < 0)
        return self.choice.fixed_cost * SCALE + brought + gained

    @property
    def least(self) -> int:
        """A cost that no plan is below, in the unit of the choice's costs."""
        return -(-self._total // SCALE)

    @property
    def whole(self) -> tuple[int, ...] | None:
        """What the relaxation uses, where that is whole numbers but for its rounding: perhaps a plan."""
        near = tuple(round(value) for value in self.relaxed)
        is_whole = all(abs(value - whole) < ROUNDING for value, whole in zip(self.relaxed, near, strict=True))
        return near if near and is_whole else None

    def too_dear(self, most: int) -> list[int]:
        """Return the variables that no plan of cost ``most`` or less uses at all."""
        room = max(0, most * SCALE - self._total)
        return [number for number, left in enumerate(self._left) if left > room]


def weighed(choice: Tableau) -> Weighed:
    """Return the rows of a choice, weighed as its linear relaxation has them."""
    rows = tuple(_rows(choice))
    duals, used = _relaxed(choice, rows, torn=False)
    return Weighed(choice, rows, _whole(rows, duals), used)


def contradictory(choice: Tableau) -> bool:
    """Tell whether the rows of a choice, weighed and added up, leave no plan.

    Where they do not say so, there may be none all the same.
    """
    if any(row.at_least > row.at_most for row in choice.rows):
        return True
    free = replace(choice, columns=tuple(replace(column, cost=0) for column in choice.columns), fixed_cost=0)
    rows = tuple(_rows(free))
    duals, _ = _relaxed(free, rows, torn=True)
    return Weighed(free, rows, _whole(rows, duals)).least > 0


def _rows(choice: Tableau) -> Iterator[SumRow]:
    """Return every row, and every link as one: its column is used no more often than those that it needs, times most.

    No variable is twice in a row.
    """
    for row in choice.rows:
        yield replace(row, entries=_summed(row.entries))
    for link in choice.links:
        most = choice.columns[link.column].most
        needed = ((other, -most) for other in link.any_of)
        yield SumRow(_summed(((link.column, 1), *needed)), NO_LOWER_BOUND, 0)


def _summed(entries: Sequence[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    if len(dict(entries)) == len(entries):
        return tuple(entries)
    sums: Counter[int] = Counter()
    for number, amount in entries:
        sums[number] += amount
    return tuple(sums.items())


def _most(choice: Tableau) -> list[int]:
    return [column.most for column in choice.columns] + [flag.most for flag in choice.flags]


def _whole(rows: Sequence[SumRow], duals: Sequence[float]) -> tuple[int, ...]:
    """Return multipliers as whole numbers; none above nought where a row has no lower bound."""
    whole = [round(dual * SCALE) for dual in duals]
    return tuple(
        0 if times > 0 and row.at_least <= NO_LOWER_BOUND else times for row, times in zip(rows, whole, strict=True)
    )


def _relaxed(choice: Tableau, rows: Sequence[SumRow], *, torn: bool) -> tuple[list[float], tuple[float, ...]]:
    """Return what the linear relaxation weighs each row, and uses of each variable.

    Where it is ``torn``, rows may be broken at a cost of one. Noughts and nothing where it has no solution.
    """
    from ortools.linear_solver import pywraplp  # noqa: PLC0415 - takes 15 ms, and not every call solves anything

    solver = pywraplp.Solver.CreateSolver("GLOP")
    goal = solver.Objective()
    used = [solver.NumVar(0, most, "") for most in _most(choice)]
    for variable, column in zip(used, choice.columns, strict=False):
        goal.SetCoefficient(variable, column.cost)
    held = []
    for row in rows:
        least = row.at_least if row.at_least > NO_LOWER_BOUND else -solver.infinity()
        one = solver.Constraint(least, max(least, row.at_most))  # of bounds that cross GLOP complains on stderr
        for number, amount in row.entries:
            one.SetCoefficient(used[number], amount)
        for way in (1, -1) if torn else ():
            tear = solver.NumVar(0, solver.infinity(), "")
            one.SetCoefficient(tear, way)
            goal.SetCoefficient(tear, 1)
        held.append(one)
    if solver.Solve() != pywraplp.Solver.OPTIMAL:
        return [0.0] * len(held), ()
    return [one.dual_value() for one in held], tuple(variable.solution_value() for variable in used)
