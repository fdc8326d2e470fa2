"""Several bikes seen together: which unit does for all of them."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from solver.comparing.tables import Comparison
from solver.words.quantities import Micrometres


@dataclass(frozen=True)
class Together:
    """A unit over all bikes: how many it fits, and what that costs where it fits them all."""

    unit: str
    """Its name, or both names where there are two in place of one."""
    price: str | None
    fits: int
    cost: Micrometres | None
    wire_run: Micrometres | None


def together(comparison: Comparison) -> tuple[Together, ...]:
    """Return each unit over all bikes: the one that fits most of them first, then the cheapest."""
    return tuple(sorted(_units(comparison), key=lambda one: _rank(one, comparison.by)))


def _units(comparison: Comparison) -> Iterator[Together]:
    for unit in comparison.units:
        fits = [fit for table in comparison.bikes if (fit := table.fit_of(unit)) is not None]
        every = len(fits) == len(comparison.bikes)
        cost = Micrometres(sum(fit.cost for fit in fits)) if every else None
        wire_run = Micrometres(sum(fit.wire_run for fit in fits)) if every else None
        yield Together(unit, _price(comparison, unit), len(fits), cost, wire_run)


def _price(comparison: Comparison, unit: str) -> str | None:
    """Return the price as the first row tells it that there is."""
    rows = (table.row_of(unit) for table in comparison.bikes)
    return next((row.price for row in rows if row is not None), None)


def _rank(one: Together, by: str) -> tuple[int, bool, Decimal, int]:
    """By the price where units are ranked by it, else by the cost over all bikes."""
    price = Decimal(one.price or 0) if by == "price" else Decimal(0)
    return -one.fits, by == "price" and one.price is None, price, one.cost or 0
