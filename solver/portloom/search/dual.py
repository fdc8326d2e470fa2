"""A cost that no plan is below, from the duals of a linear relaxation, checked in whole numbers (FORMULATION.md, B2).

Who finds the multipliers need not be believed: whatever they are, the bound that is worked out from them is true.
Source: Neumaier and Shcherbina (2004), 'Safe bounds in linear and mixed-integer linear programming',
doi:10.1007/s10107-003-0433-3.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cached_property
from math import floor
from typing import Any

from portloom.base.values import dataclass
from portloom.search.columns import SumRow
from portloom.search.tableau import NO_LOWER_BOUND, Tableau

SCALE = 2**40
"""Multipliers are whole numbers of this part."""
ROUNDING = 1e-6
"""So near a whole number a linear program's value may be one."""
STEPS = 20
"""So often a relaxation is solved again for whole numbers that cost as little, which takes milliseconds."""


@dataclass(frozen=True)
class Programme:
    """A choice as a whole-number program: what each variable costs, how often it may be used, and every row."""

    costs: tuple[int, ...]
    most: tuple[int, ...]
    rows: tuple[SumRow, ...]
    """The rows of the choice, then its links as rows; no variable is twice in one."""
    fixed_cost: int


def programme_of(choice: Tableau) -> Programme:
    """Return a choice's columns, then its flags, with its rows and links."""
    costs = (*(column.cost for column in choice.columns), *(0 for _ in choice.flags))
    most = (*(column.most for column in choice.columns), *(flag.most for flag in choice.flags))
    return Programme(costs, most, tuple(_rows(choice)), choice.fixed_cost)


def _rows(choice: Tableau) -> Iterator[SumRow]:
    """Return every row, and every link as one: its column at most so often as those that it needs, times most."""
    for row in choice.rows:
        yield row if len(dict(row.entries)) == len(row.entries) else replace(row, entries=_summed(row.entries))
    for link in choice.links:
        most = choice.columns[link.column].most
        needed = ((other, -most) for other in link.any_of)
        yield SumRow(_summed(((link.column, 1), *needed)), NO_LOWER_BOUND, 0)


def _summed(entries: Sequence[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    sums: Counter[int] = Counter()
    for number, amount in entries:
        sums[number] += amount
    return tuple(sums.items())


@dataclass(frozen=True)
class Weighed:
    """The rows of a program, each times a whole number, added up."""

    programme: Programme
    multipliers: tuple[int, ...]
    """Of each row, in parts of ``SCALE``; above nought where its lower bound counts, below where its upper one does."""

    @cached_property
    def _left(self) -> tuple[int, ...]:
        """What is left of each variable's cost, in parts of ``SCALE``."""
        left = [cost * SCALE for cost in self.programme.costs]
        for row, times in zip(self.programme.rows, self.multipliers, strict=True):
            if times:
                for number, amount in row.entries:
                    left[number] -= times * amount
        return tuple(left)

    @cached_property
    def _total(self) -> int:
        """What every plan costs at least, in parts of ``SCALE``."""
        pairs = zip(self.programme.rows, self.multipliers, strict=True)
        brought = sum(times * (row.at_least if times > 0 else row.at_most) for row, times in pairs)
        gained = sum(left * most for left, most in zip(self._left, self.programme.most, strict=True) if left < 0)
        return self.programme.fixed_cost * SCALE + brought + gained

    @property
    def least(self) -> int:
        """A cost that no plan is below, in the unit of the program's costs."""
        return -(-self._total // SCALE)

    def too_dear(self, most: int) -> list[int]:
        """Return the variables that no plan of cost ``most`` or less uses at all."""
        room = max(0, most * SCALE - self._total)
        return [number for number, left in enumerate(self._left) if left > room]


def weighed(choice: Tableau) -> Weighed:
    """Return the rows of a choice, weighed as its linear relaxation has them."""
    programme = programme_of(choice)
    return Relaxation(programme).weighed(programme)


def contradictory(choice: Tableau) -> bool:
    """Tell whether the rows of a choice, weighed and added up, leave no plan.

    Where they do not say so, there may be none all the same.
    """
    if any(row.at_least > row.at_most for row in choice.rows):
        return True
    programme = programme_of(choice)
    free = replace(programme, costs=(0,) * len(programme.costs), fixed_cost=0)
    return Relaxation(free, torn=True).weighed(free).least > 0


class Relaxation:
    """The linear relaxation of programs that have the same rows."""

    def __init__(self, programme: Programme, *, torn: bool = False) -> None:
        """Take one of the programs; where it is ``torn``, rows may be broken at a cost of one."""
        from ortools.linear_solver import pywraplp  # noqa: PLC0415 - takes 15 ms, and not every call solves anything

        self._solver = pywraplp.Solver.CreateSolver("GLOP")
        self._optimal = pywraplp.Solver.OPTIMAL
        self._goal = self._solver.Objective()
        self._used = [self._solver.NumVar(0, most, "") for most in programme.most]
        self._held = [self._constraint(row, torn=torn) for row in programme.rows]

    def _constraint(self, row: SumRow, *, torn: bool) -> Any:
        infinity = self._solver.infinity()
        least = row.at_least if row.at_least > NO_LOWER_BOUND else -infinity
        one = self._solver.Constraint(least, max(least, row.at_most))  # of bounds that cross GLOP complains on stderr
        for number, amount in row.entries:
            one.SetCoefficient(self._used[number], amount)
        for way in (1, -1) if torn else ():
            tear = self._solver.NumVar(0, infinity, "")
            one.SetCoefficient(tear, way)
            self._goal.SetCoefficient(tear, 1)
        return one

    def weighed(self, programme: Programme) -> Weighed:
        """Return the rows of a program, weighed as its relaxation has them; by noughts where that has no solution."""
        if not self._solves(programme):
            return Weighed(programme, (0,) * len(programme.rows))
        pairs = zip(programme.rows, self._held, strict=True)
        return Weighed(programme, tuple(_multiplier(row, held.dual_value()) for row, held in pairs))

    def whole(self, programme: Programme) -> tuple[int, ...] | None:
        """Return whole numbers that cost as little as a relaxed program, maybe a plan; None where none is soon found.

        Each step takes the variable that is in most of a use up to the whole one, and where that costs more keeps it
        below (FORMULATION.md, B4).
        """
        return self._stepped() if self._solves(programme) else None

    def _solves(self, programme: Programme) -> bool:
        for variable, cost, most in zip(self._used, programme.costs, programme.most, strict=True):
            self._goal.SetCoefficient(variable, cost)
            variable.SetBounds(0, most)
        return bool(self._solver.Solve() == self._optimal)

    def _stepped(self) -> tuple[int, ...] | None:
        at_most = self._goal.Value() + 1
        for _ in range(STEPS):
            values = [variable.solution_value() for variable in self._used]
            left, number = max((_left_of_whole(value), -number) for number, value in enumerate(values))
            if not left:
                return tuple(map(round, values))
            variable, least = self._used[-number], floor(values[-number])
            low, high = variable.Lb(), variable.Ub()
            variable.SetBounds(least + 1, high)
            if not self._costs(at_most):
                variable.SetBounds(low, least)
                if not self._costs(at_most):
                    return None
        return None

    def _costs(self, at_most: float) -> bool:
        return bool(self._solver.Solve() == self._optimal and self._goal.Value() <= at_most)


def _left_of_whole(value: float) -> float:
    """Return what a value is above the whole number below it, nought where it is one but for rounding."""
    return 0.0 if abs(value - round(value)) < ROUNDING else value - floor(value)


def _multiplier(row: SumRow, dual: float) -> int:
    """Return a dual as a whole number; none above nought where a row has no lower bound."""
    times = round(dual * SCALE)
    return 0 if times > 0 and row.at_least <= NO_LOWER_BOUND else times
