"""Six places of a large bike: the search against HiGHS on the very same columns and rows.

Run on demand: ``python -m tests.bench.places [SEED …]``. For each bike three times, side by side:
the race over all six models with both last solves; HiGHS (scipy.optimize.milp, no gap) on the same
six tableaux, one place after the other; and the race with the sizing loop. Building is not counted.
Both answers must cost the same, recomputed in whole micrometres.
"""

import statistics
import sys
from collections.abc import Sequence
from functools import partial
from time import perf_counter
from typing import Any

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csc_matrix

from portloom.base.clock import Clock
from portloom.job.job import Job
from portloom.rules.book import rules_of
from portloom.search.places import Contender, Found, best_of
from portloom.search.sizing_cuts import with_sizing_cuts
from portloom.search.tableau import NO_LOWER_BOUND, Check, Tableau

from .big_bikes import typed
from .tightening import passes_always, tableaux, tight_bike

BIKES = range(10)
AT_MOST = 1.25


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


def by_highs(choices: Sequence[Tableau]) -> tuple[float, int | None]:
    """Solve every place by HiGHS; give the seconds and the least cost in micrometres."""
    programmes = [programme(choice) for choice in choices]
    started = perf_counter()
    ends = [milp(**arguments) for arguments in programmes]
    seconds = perf_counter() - started
    return seconds, min((cost for cost in map(cost_of, choices, ends) if cost is not None), default=None)


def cost_of(choice: Tableau, end: Any) -> int | None:
    """Return the cost of a place by HiGHS, in whole numbers; None where it has no plan."""
    if end.x is None:
        return None
    chosen: list[int] = [round(value) for value in end.x]
    cost: int = choice.fixed_cost
    return cost + sum(times * column.cost for times, column in zip(chosen, choice.columns, strict=True))


def by_search(choices: Sequence[Tableau], check: Check) -> tuple[float, int | None]:
    """Solve all places by the search, last solves and all; give the seconds and the least cost."""
    contenders = [Contender(choice, check) for choice in choices]
    started = perf_counter()
    answer = best_of(contenders, Clock(None))
    return perf_counter() - started, answer.cost if isinstance(answer, Found) else None


def main(seeds: Sequence[int]) -> None:
    """Print a line for each bike, then the median ratio."""
    ratios = []
    for seed in seeds:
        bike, unit = tight_bike(seed)
        choices = tableaux(bike, unit)
        columns = [len(choice.columns) for choice in choices]
        mine, cost = by_search(choices, passes_always)
        theirs, other_cost = by_highs(choices)
        whole, true_cost = by_search(choices, partial(with_sizing_cuts, rules_of(Job(*typed(bike, unit)))))
        if cost != other_cost:
            raise SystemExit(f"bike {seed}: the search says {cost}, HiGHS {other_cost}")
        ratios.append(mine / theirs)
        print(
            f"bike {seed}: {len(choices)} places, {min(columns)}-{max(columns)} columns; search {mine:.2f} s, "
            f"HiGHS {theirs:.2f} s, ratio {mine / theirs:.2f}; with true wire sizes {whole:.2f} s "
            f"({'the same plan cost' if true_cost == cost else f'{true_cost} instead of {cost} um'})"
        )
    print(f"median ratio {statistics.median(ratios):.2f}, at most {AT_MOST} is wanted")


if __name__ == "__main__":
    main([int(seed) for seed in sys.argv[1:]] or list(BIKES))
