"""What each bike is tried on, a ranked table for each, and which unit does for all of them."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import combinations_with_replacement

from portloom.base.bike import Bike
from portloom.base.quantities import Micrometres
from portloom.base.unit import Unit
from portloom.base.values import dataclass
from portloom.comparing.ranking import beaten_by, ranked, usual
from portloom.comparing.row import Fit, FitUnknown, Row
from portloom.documents.fail_safe import stands_first
from portloom.rules.two_units import OnePlace

Choice = tuple[int, ...]
"""The number, from 0, of a unit; or the numbers of two instead of one, the same twice where both are alike."""


def singles(units: int) -> tuple[Choice, ...]:
    """Return each of so many units by itself."""
    return tuple((number,) for number in range(units))


def twos(numbers: Iterable[int]) -> tuple[Choice, ...]:
    """Return every pair of units, twice the same too, in their order."""
    return tuple(combinations_with_replacement(numbers, 2))


def joined(names: Iterable[str]) -> str:
    """Return one name for one unit or two."""
    return " + ".join(names)


def names_of(units: Sequence[Unit], choices: Iterable[Choice]) -> tuple[str, ...]:
    """Return the name of each choice; raise ValueError where two have the same."""
    names = tuple(joined(units[number].unit for number in choice) for choice in choices)
    again = next((name for name in names if names.count(name) > 1), None)
    if again is not None:
        raise ValueError(f"one unit is called '{again}', and so are two units together")
    return names


def price_of(units: Sequence[Unit]) -> str | None:
    """Return the sum of the prices, None where one has none."""
    prices = [unit.price for unit in units if unit.price is not None]
    if len(prices) < len(units):
        return None
    return prices[0] if len(prices) == 1 else f"{sum(map(Decimal, prices)):f}"


Trial = tuple[int, Choice]
"""The number, from 0, of a bike, and what it is tried on."""


@dataclass(frozen=True)
class Compared:
    """A row, and the units, or two of them, that beat it in every respect."""

    row: Row
    beaten_by: tuple[str, ...]


@dataclass(frozen=True)
class BikeTable:
    """All units for one bike, the best first; two in place of one among them, where they were tried."""

    bike: str
    first: tuple[str, ...]
    """The warnings that stand first on every sheet."""
    set_aside: tuple[tuple[str, str], ...]
    rows: tuple[Compared, ...]
    no_two: str | None = None
    """Why no two units were tried, where the bike has no two places for them."""

    def row_of(self, unit: str) -> Row | None:
        """Return the row of a unit, or of two by their joint name; None where they were not tried."""
        return next((compared.row for compared in self.rows if compared.row.unit == unit), None)

    def of_unit(self, unit: str) -> Row:
        """Return the row of a unit, or of two by their joint name, that was tried; raise KeyError for another."""
        row = self.row_of(unit)
        if row is None:
            raise KeyError(unit)
        return row

    def fit_of(self, unit: str) -> Fit | None:
        """Return the best plan's figures, None where there is no plan."""
        row = self.row_of(unit)
        return None if row is None else row.fit


@dataclass(frozen=True)
class PairsTried:
    """The units of which every pair was tried, and those that were left out of pairs: each does alone."""

    units: tuple[str, ...]
    do_alone: tuple[str, ...] = ()


@dataclass(frozen=True)
class Comparison:
    """A table for each bike, in the order of the bikes; ``by`` is the column that ranks them."""

    by: str
    units: tuple[str, ...]
    """The names of all that was tried: the single units, then two in place of one."""
    bikes: tuple[BikeTable, ...]
    of_two: PairsTried | None = None
    """None where two units instead of one were not asked for."""

    @property
    def fit_every_bike(self) -> tuple[str, ...]:
        """The units, and the two in place of one, that fit every bike, in their order."""
        return tuple(unit for unit in self.units if all(bike.fit_of(unit) for bike in self.bikes))

    @property
    def may_fit_every_bike(self) -> tuple[str, ...]:
        """Those of which it is not proved that they do not."""
        return tuple(
            unit for unit in self.units if all(bike.fit_of(unit) or _is_open(bike.row_of(unit)) for bike in self.bikes)
        )


def _is_open(row: Row | None) -> bool:
    return row is not None and isinstance(row.answer, FitUnknown)


def pairs_of(bikes: Sequence[Bike], choices: Sequence[Choice]) -> list[Trial]:
    """Return each bike with all that it is tried on: one without two places on no two units."""
    return [(number, choice) for number, bike in enumerate(bikes) for choice in choices if _has_room(bike, choice)]


def _has_room(bike: Bike, choice: Choice) -> bool:
    return len(choice) == 1 or len(bike.places) > 1


def compared(
    bikes: Sequence[Bike],
    units: Sequence[Unit],
    choices: Sequence[Choice],
    rows: Mapping[Trial, Row],
    by: str | None = None,
    of_two: PairsTried | None = None,
) -> Comparison:
    """Rank the rows of each bike; all that ``pairs_of`` gives have one, and each unit a name of its own."""
    by = by or usual(rows.values())
    tables = tuple(
        _table(bike, [rows[number, choice] for choice in choices if _has_room(bike, choice)], by, of_two)
        for number, bike in enumerate(bikes)
    )
    return Comparison(by, names_of(units, choices), tables, of_two)


def _table(bike: Bike, rows: Sequence[Row], by: str, of_two: PairsTried | None) -> BikeTable:
    order = ranked(rows, by)
    table = tuple(Compared(row, beaten_by(row, order)) for row in order)
    no_two = OnePlace(bike).what if of_two and len(bike.places) < 2 else None
    return BikeTable(bike.bike, stands_first(bike), tuple(bike.set_aside.items()), table, no_two)


@dataclass(frozen=True)
class AcrossBikes:
    """A unit over all bikes: how many it fits, and what that costs where it fits them all."""

    unit: str
    """Its name, or both names where there are two in place of one."""
    price: str | None
    fits: int
    cost: Micrometres | None
    wire_run: Micrometres | None
    not_known: int = 0
    """Of how many it is not known whether it fits: a limit was reached."""


def together(comparison: Comparison) -> tuple[AcrossBikes, ...]:
    """Return each unit over all bikes: the one that fits most of them first, then the cheapest."""
    return tuple(sorted(_units(comparison), key=lambda one: _rank(one, comparison.by)))


def _units(comparison: Comparison) -> Iterator[AcrossBikes]:
    for unit in comparison.units:
        fits = [fit for table in comparison.bikes if (fit := table.fit_of(unit)) is not None]
        every = len(fits) == len(comparison.bikes)
        cost = Micrometres(sum(fit.cost for fit in fits)) if every else None
        wire_run = Micrometres(sum(fit.wire_run for fit in fits)) if every else None
        not_known = sum(_is_open(table.row_of(unit)) for table in comparison.bikes)
        yield AcrossBikes(unit, _price(comparison, unit), len(fits), cost, wire_run, not_known)


def _price(comparison: Comparison, unit: str) -> str | None:
    """Return the price as the first row tells it that there is."""
    rows = (table.row_of(unit) for table in comparison.bikes)
    return next((row.price for row in rows if row is not None), None)


def _rank(one: AcrossBikes, by: str) -> tuple[int, bool, Decimal, int]:
    """By the price where units are ranked by it, else by the cost over all bikes."""
    price = Decimal(one.price or 0) if by == "price" else Decimal(0)
    return -one.fits, by == "price" and one.price is None, price, one.cost or 0
