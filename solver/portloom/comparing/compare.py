"""Comparing from end to end: bikes and units go in, a ranked table for each bike comes out."""

from collections.abc import Iterable, Iterator, Sequence

from portloom.base.bike import Bike
from portloom.base.unit import Unit
from portloom.comparing.pool import WorkerPool, worker_count
from portloom.comparing.prepared import PreparedBike
from portloom.comparing.ranking import BY
from portloom.comparing.row import Row
from portloom.comparing.tables import Comparison, PairsTried, Trial, compared, names_of, pairs_of, singles, twos
from portloom.comparing.trial import try_on


def compare(
    bikes: Sequence[Bike],
    units: Sequence[Unit],
    *,
    by: str | None = None,
    headroom: bool = False,
    two_units: bool = False,
    time_limit: float | None = None,
    processes: int = 1,
) -> Comparison:
    """Compare units for one bike or several.

    ``by`` is one of the columns in ``portloom.comparing.ranking.BY``, without it the price where every unit has one,
    else what wire and spare ports come to; ``headroom`` tells how far each bike may
    grow on each single unit; ``two_units`` also tries every pair of the units in place of one, twice the same too,
    at two different places; ``time_limit`` is in seconds, for each bike on each unit or pair; so many ``processes``
    at most work side by side where that pays. How many there are changes no answer.
    Raises ValueError for another column, where two units or pairs have one name, or where headroom or two units are
    asked of a bike with ``weights.leg``, and RuntimeError if a plan breaks
    a rule or two proofs differ.
    """
    if (headroom or two_units) and any(bike.weights.leg for bike in bikes):
        raise ValueError("headroom and two units are not for a bike with weights.leg")
    if by is not None and by not in BY:
        raise ValueError(f"there is no column '{by}' to rank by")
    if len({unit.unit for unit in units}) < len(units):
        raise ValueError("two units have the same name")
    choices = (*singles(len(units)), *(twos(range(len(units))) if two_units else ()))
    names_of(units, choices)
    pairs = pairs_of(bikes, choices)
    rows = dict(each_row(bikes, units, pairs, headroom=headroom, time_limit=time_limit, processes=processes))
    of_two = PairsTried(tuple(unit.unit for unit in units)) if two_units else None
    return compared(bikes, units, choices, rows, by, of_two)


def each_row(
    bikes: Sequence[Bike],
    units: Sequence[Unit],
    pairs: Iterable[Trial],
    *,
    headroom: bool = False,
    time_limit: float | None = None,
    processes: int = 1,
) -> Iterator[tuple[Trial, Row]]:
    """Return the row of each pair as it is done: where several processes work, not always in the order of the pairs."""
    tries = _Tries(bikes, units, time_limit, headroom=headroom)
    wanted = list(pairs)
    crew = min(processes, _worth_while(wanted))
    if crew > 1:
        yield from WorkerPool(tries, crew).done(wanted)
    else:
        yield from ((pair, tries(pair)) for pair in wanted)


def _worth_while(pairs: Sequence[Trial]) -> int:
    """Two units take seconds: one more process pays for each."""
    of_two = sum(len(choice) > 1 for _, choice in pairs)
    return worker_count(len(pairs) - of_two) + of_two


class _Tries:
    """Tries a bike on a unit, or two; the bike stays on its bench until another comes."""

    def __init__(
        self, bikes: Sequence[Bike], units: Sequence[Unit], time_limit: float | None, *, headroom: bool
    ) -> None:
        self._bikes = bikes
        self._units = units
        self._time_limit = time_limit
        self._headroom = headroom
        self._bench: tuple[int, PreparedBike] | None = None

    def __call__(self, pair: Trial) -> Row:
        bike, choice = pair
        if self._bench is None or self._bench[0] != bike:
            self._bench = bike, PreparedBike(self._bikes[bike])
        units = [self._units[number] for number in choice]
        return try_on(self._bench[1], units, self._time_limit, headroom=self._headroom)
