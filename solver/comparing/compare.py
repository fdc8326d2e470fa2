"""Comparing from end to end: bikes and units go in, a ranked table for each bike comes out."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from solver.comparing.crew import Crew, worth_while
from solver.comparing.measures import BY, USUAL
from solver.comparing.ranking import beaten_by, ranked
from solver.comparing.row import NotKnown, Row
from solver.comparing.trial import try_on
from solver.comparing.workbench import Workbench
from solver.words.bike import Bike
from solver.words.unit import Unit

Pair = tuple[int, int]
"""The numbers, from 0, of a bike and a unit."""


@dataclass(frozen=True)
class Compared:
    """A row, and the units that beat it in every respect."""

    row: Row
    beaten_by: tuple[str, ...]


@dataclass(frozen=True)
class OfBike:
    """All units for one bike, the best first."""

    bike: str
    set_aside: tuple[tuple[str, str], ...]
    rows: tuple[Compared, ...]

    def of_unit(self, unit: str) -> Row:
        """Give the row of a unit."""
        return next(compared.row for compared in self.rows if compared.row.unit == unit)


@dataclass(frozen=True)
class Comparison:
    """A table for each bike, in the order of the bikes; ``by`` is the column that ranks them."""

    by: str
    units: tuple[str, ...]
    bikes: tuple[OfBike, ...]

    @property
    def fit_every_bike(self) -> tuple[str, ...]:
        """The units that fit every bike, in their order."""
        return tuple(unit for unit in self.units if all(bike.of_unit(unit).fit for bike in self.bikes))

    @property
    def may_fit_every_bike(self) -> tuple[str, ...]:
        """The units of which it is not proved that they do not."""
        return tuple(unit for unit in self.units if all(_open(bike.of_unit(unit)) for bike in self.bikes))


def _open(row: Row) -> bool:
    return row.fit is not None or isinstance(row.answer, NotKnown)


def compare(
    bikes: Sequence[Bike],
    units: Sequence[Unit],
    *,
    by: str = USUAL,
    headroom: bool = False,
    time_limit: float | None = None,
    processes: int = 1,
) -> Comparison:
    """Compare units for one bike or several.

    ``by`` is one of the columns in ``solver.comparing.measures.BY``; ``headroom`` tells how far each bike may
    grow; ``time_limit`` is in seconds, for each bike on each unit; so many ``processes`` at most work side by side
    where that pays. How many there are changes no answer.
    Raises ValueError for another column or where two units have one name, and RuntimeError if a plan breaks a rule
    or two proofs differ.
    """
    if by not in BY:
        raise ValueError(f"there is no column '{by}' to rank by")
    if len({unit.unit for unit in units}) < len(units):
        raise ValueError("two units have the same name")
    pairs = [(bike, unit) for bike in range(len(bikes)) for unit in range(len(units))]
    rows = dict(each_row(bikes, units, pairs, headroom=headroom, time_limit=time_limit, processes=processes))
    return compared(bikes, units, rows, by)


def each_row(
    bikes: Sequence[Bike],
    units: Sequence[Unit],
    pairs: Iterable[Pair],
    *,
    headroom: bool = False,
    time_limit: float | None = None,
    processes: int = 1,
) -> Iterator[tuple[Pair, Row]]:
    """Give the row of each pair as it is done: where several processes work, not always in the order of the pairs."""
    tries = _Tries(bikes, units, time_limit, headroom=headroom)
    wanted = list(pairs)
    crew = min(processes, worth_while(len(wanted)))
    if crew > 1:
        yield from Crew(tries, crew).done(wanted)
    else:
        yield from ((pair, tries(pair)) for pair in wanted)


class _Tries:
    """Tries a bike on a unit; the bike stays on its bench until another comes."""

    def __init__(
        self, bikes: Sequence[Bike], units: Sequence[Unit], time_limit: float | None, *, headroom: bool
    ) -> None:
        self._bikes = bikes
        self._units = units
        self._time_limit = time_limit
        self._headroom = headroom
        self._bench: tuple[int, Workbench] | None = None

    def __call__(self, pair: Pair) -> Row:
        bike, unit = pair
        if self._bench is None or self._bench[0] != bike:
            self._bench = bike, Workbench(self._bikes[bike])
        return try_on(self._bench[1], self._units[unit], self._time_limit, headroom=self._headroom)


def compared(bikes: Sequence[Bike], units: Sequence[Unit], rows: Mapping[Pair, Row], by: str) -> Comparison:
    """Rank the rows of each bike; every pair has one, and each unit a name of its own."""
    tables = tuple(
        _table(bike, [rows[number, unit] for unit in range(len(units))], by) for number, bike in enumerate(bikes)
    )
    return Comparison(by, tuple(unit.unit for unit in units), tables)


def _table(bike: Bike, rows: Sequence[Row], by: str) -> OfBike:
    order = ranked(rows, by)
    table = tuple(Compared(row, beaten_by(row, order)) for row in order)
    return OfBike(bike.bike, tuple(bike.set_aside.items()), table)
