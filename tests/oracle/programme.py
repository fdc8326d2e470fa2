"""A 0/1 programme in whole numbers, and its answer from HiGHS."""

from dataclasses import dataclass, field
from math import gcd, inf
from typing import Any

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, OptimizeResult, milp
from scipy.sparse import csr_array

from .drive import Column

INFEASIBLE = 2


@dataclass
class Model:
    """Columns with what they stand for and cost (um), and rows in whole numbers."""

    meanings: list[tuple[str, Any, Any]] = field(default_factory=list)
    costs: list[int] = field(default_factory=list)
    held: list[Column | None] = field(default_factory=list)
    rows: list[tuple[dict[int, int], float, float]] = field(default_factory=list)

    def column(self, meaning: tuple[str, Any, Any], cost: int, held: Column | None) -> None:
        """Add a 0/1 column."""
        self.meanings.append(meaning)
        self.costs.append(cost)
        self.held.append(held)

    @property
    def factor(self) -> int:
        """The common factor of all costs (um), by which they are divided."""
        return gcd(*self.costs) or 1

    def row(self, terms: dict[int, int], low: float, high: float) -> None:
        """Add low <= sum of terms <= high; at-most rows are divided by their common factor."""
        factor = gcd(*terms.values()) if low == -inf and terms else 1
        if factor > 1:
            terms, high = {n: value // factor for n, value in terms.items()}, high // factor
        self.rows.append((terms, low, high))


def solved(model: Model) -> OptimizeResult | None:
    """Return the answer of HiGHS; None if there is none. Raises ArithmeticError where it is unsure."""
    rows = [row for row in model.rows if row[0]]
    answer = milp(
        np.array([cost // model.factor for cost in model.costs], dtype=float),
        integrality=np.ones(len(model.costs)),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint(_matrix(rows, len(model.costs)), [r[1] for r in rows], [r[2] for r in rows]),
        options={"mip_rel_gap": 0.0, "time_limit": 300.0},
    )
    if answer.status == INFEASIBLE:
        return None
    if not answer.success:
        msg = f"no answer from HiGHS: {answer.message}"
        raise ArithmeticError(msg)
    return answer


def _matrix(rows: list[tuple[dict[int, int], float, float]], width: int) -> csr_array:
    where = [(number, column) for number, row in enumerate(rows) for column in row[0]]
    values = [float(value) for row in rows for value in row[0].values()]
    return csr_array((values, tuple(zip(*where, strict=True))), shape=(len(rows), width))
