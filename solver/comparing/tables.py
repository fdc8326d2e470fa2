"""A ranked table for each bike: its rows, what beats them, and what holds for all bikes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from solver.comparing.choices import Choice, names_of
from solver.comparing.ranking import beaten_by, ranked
from solver.comparing.row import Fit, NotKnown, Row
from solver.pairing import OnePlace
from solver.words.bike import Bike
from solver.words.unit import Unit

Pair = tuple[int, Choice]
"""The number, from 0, of a bike, and what it is tried on."""


@dataclass(frozen=True)
class Compared:
    """A row, and the units, or two of them, that beat it in every respect."""

    row: Row
    beaten_by: tuple[str, ...]


@dataclass(frozen=True)
class OfBike:
    """All units for one bike, the best first; two in place of one among them, where they were tried."""

    bike: str
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
class OfTwo:
    """The units of which every pair was tried, and those that were left out of pairs: each does alone."""

    units: tuple[str, ...]
    do_alone: tuple[str, ...] = ()


@dataclass(frozen=True)
class Comparison:
    """A table for each bike, in the order of the bikes; ``by`` is the column that ranks them."""

    by: str
    units: tuple[str, ...]
    """The names of all that was tried: the single units, then two in place of one."""
    bikes: tuple[OfBike, ...]
    of_two: OfTwo | None = None
    """None where two units in place of one were not asked for."""

    @property
    def fit_every_bike(self) -> tuple[str, ...]:
        """The units, and the two in place of one, that fit every bike, in their order."""
        return tuple(unit for unit in self.units if all(bike.fit_of(unit) for bike in self.bikes))

    @property
    def may_fit_every_bike(self) -> tuple[str, ...]:
        """Those of which it is not proved that they do not."""
        return tuple(unit for unit in self.units if all(_open(bike.row_of(unit)) for bike in self.bikes))


def _open(row: Row | None) -> bool:
    return row is not None and (row.fit is not None or isinstance(row.answer, NotKnown))


def pairs_of(bikes: Sequence[Bike], choices: Sequence[Choice]) -> list[Pair]:
    """Return each bike with all that it is tried on: one without two places on no two units."""
    return [(number, choice) for number, bike in enumerate(bikes) for choice in choices if _has_room(bike, choice)]


def _has_room(bike: Bike, choice: Choice) -> bool:
    return len(choice) == 1 or len(bike.places) > 1


def compared(
    bikes: Sequence[Bike],
    units: Sequence[Unit],
    choices: Sequence[Choice],
    rows: Mapping[Pair, Row],
    by: str,
    of_two: OfTwo | None = None,
) -> Comparison:
    """Rank the rows of each bike; all that ``pairs_of`` gives have one, and each unit a name of its own."""
    tables = tuple(
        _table(bike, [rows[number, choice] for choice in choices if _has_room(bike, choice)], by, of_two)
        for number, bike in enumerate(bikes)
    )
    return Comparison(by, names_of(units, choices), tables, of_two)


def _table(bike: Bike, rows: Sequence[Row], by: str, of_two: OfTwo | None) -> OfBike:
    order = ranked(rows, by)
    table = tuple(Compared(row, beaten_by(row, order)) for row in order)
    no_two = OnePlace(bike).what if of_two and len(bike.places) < 2 else None
    return OfBike(bike.bike, tuple(bike.set_aside.items()), table, no_two)
