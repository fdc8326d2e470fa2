"""The same choice written in other ways: one CP-SAT model of all places, and circuits that are not enumerated.

Run on demand: ``python -m tests.bench.formulations``. The search without the loop for true sizes and without second
proofs is measured beside CP-SAT with one model of all places and all workers on tight bikes, and beside HiGHS on a
compact formulation (``compact``) of bikes without openings. Each is stopped after a minute of the clock, and then
counts as it stands; all that end must give the same cost.
"""

import os
from collections.abc import Iterator, Sequence

from ortools.sat.python import cp_model

from portloom.search.tableau import NO_LOWER_BOUND, Tableau

from .big_bikes import EVERY_SIZE, SIZES, Size, big_bike
from .compact import by_compact
from .places import CostsDiffer, search
from .processes import Taken, spent
from .proofs import OF_SEARCH, sparing
from .rows import CLOCK, PROCESSOR, Extent, Row, alone
from .tightening import passes_always, tableaux, tight_bike

STOP = 60.0
"""Seconds by the clock."""
SEEDS = (0, 1, 2)
COMPACT_SIZES = ("24x16x4",)


def one_model(choices: Sequence[Tableau], limit: float) -> int | None:
    """Solve all places in one model with all workers, its other settings as they come; None where it was stopped.

    ``limit`` is in seconds by the clock.
    """
    model = cp_model.CpModel()
    here = [model.new_bool_var("") for _ in choices]
    model.add_exactly_one(here)
    costs: list[cp_model.LinearExprT] = []
    for is_here, choice in zip(here, choices, strict=True):
        used = [model.new_int_var(0, column.most, "") for column in choice.columns]
        costs.append(choice.fixed_cost * is_here)
        costs += [column.cost * each for column, each in zip(choice.columns, used, strict=True)]
        for column, each in zip(choice.columns, used, strict=True):
            model.add(each <= column.most * is_here)
        for row in choice.rows:
            total = cp_model.LinearExpr.sum([amount * used[number] for number, amount in row.entries])
            model.add(total <= row.at_most * is_here)  # tighter than rows that hold only if the place is chosen
            if row.at_least > NO_LOWER_BOUND:
                model.add(total >= row.at_least * is_here)
        for link in choice.links:
            most = choice.columns[link.column].most
            model.add(used[link.column] <= most * cp_model.LinearExpr.sum([used[number] for number in link.any_of]))
    model.minimize(cp_model.LinearExpr.sum(costs))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = os.cpu_count() or 1
    solver.parameters.max_time_in_seconds = limit
    return round(solver.objective_value) if solver.solve(model) == cp_model.OPTIMAL else None


Sides = tuple[Taken, Taken, bool]
"""What the search took and the other, and whether that came to its end."""


def beside_one_model(seed: int, size: Size) -> Sides:
    """Solve a tight bike; raise CostsDiffer where both end and differ."""
    return _sides(seed, choices := tableaux(*tight_bike(seed, size)), spent(lambda: one_model(choices, STOP)))


def beside_compact(seed: int, size: Size) -> Sides:
    """Solve a bike without openings; raise CostsDiffer where both end and differ."""
    return _sides(seed, choices := tableaux(*big_bike(seed, size)), spent(lambda: by_compact(choices, STOP)))


def _sides(seed: int, choices: Sequence[Tableau], other: tuple[int | None, Taken]) -> Sides:
    task = search(choices, passes_always)
    with sparing(OF_SEARCH):
        cost, mine = spent(task)
    other_cost, theirs = other
    if other_cost not in (cost, None):
        raise CostsDiffer(f"big bike {seed}: {cost} by the search, {other_cost} by another formulation")
    return mine, theirs, other_cost is not None


def measured(extent: Extent) -> Iterator[Row]:
    """Return the search beside either formulation, for comparison."""
    for name in extent.of_sizes(SIZES):
        found = [beside_one_model(seed, EVERY_SIZE[name]) for seed in extent.of_seeds(SEEDS)]
        yield from _rows(name, f"CP-SAT, one model of all places, {os.cpu_count()} workers", found)
    for name in extent.of_sizes(COMPACT_SIZES):
        found = [beside_compact(seed, EVERY_SIZE[name]) for seed in extent.of_seeds(SEEDS)]
        yield from _rows(name, "HiGHS, compact formulation", found)


def _rows(name: str, other: str, found: Sequence[Sides]) -> Iterator[Row]:
    stopped = sum(not ended for *_, ended in found)
    remarks = f"{stopped} of {len(found)} stopped after {STOP:g} s" if stopped else ""
    for by in (CLOCK, PROCESSOR):
        ratios = tuple(
            mine.seconds / theirs.seconds if by == CLOCK else mine.processor / theirs.processor
            for mine, theirs, _ in found
        )
        yield Row(f"{name}: search, no true sizes", other, by, ratios, remarks=remarks)


if __name__ == "__main__":
    alone(measured, "formulations")
