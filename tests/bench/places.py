"""All places of a large bike: the search with the true sizes of wires, against HiGHS on the same columns.

Run on demand: ``python -m tests.bench.places``. For each bike four times, side by side, in processor time: the race
over all models without the loop for true sizes; with it; with it and every second proof; and HiGHS
(scipy.optimize.milp, no gap) on the same tableaux without the loop, one place after the other. Building is not counted.
Search and HiGHS must cost the same, recomputed in whole micrometres.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from math import inf
from typing import Any

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csc_matrix

from portloom.base.clock import Clock
from portloom.job.job import Job
from portloom.rules.book import rules_of
from portloom.search.places import Contender, Found, best_of
from portloom.search.sizing_cuts import in_true_sizes
from portloom.search.tableau import NO_LOWER_BOUND, Check, Tableau

from .big_bikes import EVERY_SIZE, SIZES, Size, typed
from .processes import processor
from .proofs import OF_SEARCH, sparing
from .rows import PROCESSOR, Extent, Row, alone
from .tightening import passes_always, tableaux, tight_bike

BIKES = range(10)
STOP = 60.0
"""Seconds by the clock for each."""
AT_MOST, NEVER_MORE = 0.5, 1.0
LOOP_AT_MOST, PROOFS_AT_MOST = 2.0, 2.0


class CostsDiffer(RuntimeError):
    """Two programs give two costs of one bike."""


def programme(choice: Tableau) -> dict[str, Any]:
    """Write a tableau as arguments of scipy's milp."""
    rows = [
        (row.entries, row.at_least if row.at_least > NO_LOWER_BOUND else -np.inf, row.at_most) for row in choice.rows
    ]
    for link in choice.links:
        most = choice.columns[link.column].most
        rows.append((((link.column, 1), *((other, -most) for other in link.any_of)), -np.inf, 0))
    places = [(at, number, amount) for at, (entries, _, _) in enumerate(rows) for number, amount in entries]
    at, columns, amounts = (list(values) for values in zip(*places, strict=True))
    matrix = csc_matrix((amounts, (at, columns)), shape=(len(rows), len(choice.columns)))
    return {
        "c": np.array([column.cost for column in choice.columns], float),
        "constraints": LinearConstraint(matrix, [low for _, low, _ in rows], [high for _, _, high in rows]),
        "integrality": np.ones(len(choice.columns)),
        "bounds": Bounds(0, [column.most for column in choice.columns]),
        "options": {"mip_rel_gap": 0},
    }


def by_highs(choices: Sequence[Tableau], limit: float = inf) -> tuple[int | None, float]:
    """Solve every place by HiGHS; give the least cost in micrometres and the seconds of processor time.

    The cost is None where the limit of a place came first, in seconds by the clock.
    """
    programmes = [programme(choice) | {"options": {"mip_rel_gap": 0, "time_limit": limit}} for choice in choices]
    ends, seconds = processor(lambda: [milp(**arguments) for arguments in programmes])
    if any(end.status == 1 for end in ends):
        return None, seconds
    costs = [cost for cost in map(cost_of, choices, ends) if cost is not None]
    return min(costs, default=None), seconds


def cost_of(choice: Tableau, end: Any) -> int | None:
    """Return the cost of a place by HiGHS, in whole numbers; None where it has no plan."""
    if end.x is None:
        return None
    chosen: list[int] = [round(value) for value in end.x]
    cost: int = choice.fixed_cost
    return cost + sum(times * column.cost for times, column in zip(chosen, choice.columns, strict=True))


def search(choices: Sequence[Tableau], check: Check, limit: float | None = None) -> Callable[[], int | None]:
    """Return the search of all places, last solves and all, as a task that gives the least cost.

    That is None where the limit came first, in seconds by the clock.
    """
    contenders = [Contender(choice, check) for choice in choices]

    def task() -> int | None:
        answer = best_of(contenders, Clock(limit))
        return answer.cost if isinstance(answer, Found) and answer.proven else None

    return task


@dataclass(frozen=True)
class Sides:
    """Seconds of processor time: the search, with the loop for true sizes, with second proofs, too; and HiGHS."""

    bare: float
    looped: float
    certified: float
    highs: float
    other_plan: bool
    """The cheapest plan with the thinnest wires is none with their true sizes."""
    stopped: tuple[str, ...]
    """Which of them the limit stopped: they took as much at least."""


def sides(seed: int, size: Size) -> Sides:
    """Solve a tight random bike each way; raise CostsDiffer where the search and HiGHS do not agree."""
    bike, unit = tight_bike(seed, size)
    choices = tableaux(bike, unit)
    true_sizes: Check = partial(in_true_sizes, rules_of(Job(*typed(bike, unit))))
    with sparing(OF_SEARCH):
        cost, bare = processor(search(choices, passes_always, STOP))
        true_cost, looped = processor(search(choices, true_sizes, STOP))
    certified_cost, certified = processor(search(choices, true_sizes, STOP))
    other_cost, highs = by_highs(choices, STOP)
    for mine, theirs in ((cost, other_cost), (true_cost, certified_cost)):
        if mine != theirs and None not in (mine, theirs):
            raise CostsDiffer(f"bike {seed}: {mine} and {theirs}")
    ends = {"search": cost, "true sizes": true_cost, "second proofs": certified_cost, "HiGHS": other_cost}
    stopped = tuple(f"{name} of {seed}" for name, end in ends.items() if end is None)
    return Sides(bare, looped, certified, highs, not stopped and true_cost != cost, stopped)


def measured(extent: Extent) -> Iterator[Row]:
    """Return three rows that are judged for each size, and one for comparison."""
    for name in extent.of_sizes(SIZES):
        yield from _rows(name, [sides(seed, EVERY_SIZE[name]) for seed in extent.of_seeds(BIKES)])


def _rows(name: str, bikes: Sequence[Sides]) -> Iterator[Row]:
    mine, certified = f"{name}: search, true sizes", f"{name}: with second proofs"
    highs = "HiGHS, same columns, no true sizes"

    def by(ratio: Callable[[Sides], float]) -> tuple[float, ...]:
        return tuple(map(ratio, bikes))

    others = f"{sum(bike.other_plan for bike in bikes)} of them have another plan with true sizes"
    if stopped := ", ".join(name for bike in bikes for name in bike.stopped):
        others += f"; stopped after {STOP:g} s: {stopped}"
    yield Row(mine, highs, PROCESSOR, by(lambda b: b.looped / b.highs), AT_MOST, NEVER_MORE, others)
    yield Row(mine, "search, no true sizes", PROCESSOR, by(lambda b: b.looped / b.bare), LOOP_AT_MOST)
    yield Row(certified, "search, true sizes", PROCESSOR, by(lambda b: b.certified / b.looped), PROOFS_AT_MOST)
    yield Row(certified, highs, PROCESSOR, by(lambda b: b.certified / b.highs))


if __name__ == "__main__":
    alone(measured, "places")
