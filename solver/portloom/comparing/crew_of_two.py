"""Why a bike does not fit on two units, by leaving loads off: a least set that has no plan on both, each step planned.

That is a proof like any other: these loads alone have no plan, and have one without any one of them.
"""

from collections.abc import Iterable

from portloom.base.bike import Bike
from portloom.base.clock import Clock
from portloom.base.figures import listed
from portloom.base.unit import Unit
from portloom.comparing.row import Reason
from portloom.explaining.conflicts.shrinking import quickxplain
from portloom.explaining.fixes.loads import without_load
from portloom.explaining.solved import Solved, solve_two
from portloom.search.places import LimitReached
from portloom.search.solving import Disagreement

MOST_LOADS = 12
"""With more loads it is not looked for: each step plans two units anew."""


def reason_by_leaving_off(bike: Bike, units: tuple[Unit, Unit]) -> Reason | None:
    """Return a least set of loads that has no plan on both, of a bike that has none; None where none is proved."""
    names = [load.name for load in bike.loads if not load.from_]
    if len(names) > MOST_LOADS:
        return None
    crew = _Crew(bike, units)
    found = quickxplain(names, crew.fits)
    if crew.fits(found) or not all(crew.fits([name for name in found if name != left]) for left in found):
        return None
    rest = len(found) == 1 and crew.fits([name for name in names if name not in found])
    return Reason(_said(found, rest=rest), ())


def _said(names: tuple[str, ...], *, rest: bool) -> str:
    """Say which loads have no plan alone; ``rest`` where all others have one together."""
    if len(names) == 1:
        left = "; without it the rest has one" if rest else ""
        return f"{names[0]} alone, every other load left off, has no plan on both{left}"
    less = "without either of them the other has one"
    if len(names) > 2:
        less = "without any one of them the others have one"
    return f"{listed(names)} alone, every other load left off, have no plan on both; {less}"


class _Crew:
    """Plans a bike on two units with some of its loads alone, and remembers."""

    def __init__(self, bike: Bike, units: tuple[Unit, Unit]) -> None:
        self._bike, self._units = bike, units
        self._known: dict[frozenset[str], bool] = {frozenset(): True}

    def fits(self, names: Iterable[str]) -> bool:
        kept = frozenset(names)
        if kept not in self._known:
            found = solve_two(self._left(kept), *self._units, Clock(None))
            if isinstance(found, LimitReached):
                raise Disagreement("the search ends without an answer, though it has no limit")
            self._known[kept] = isinstance(found, Solved)
        return self._known[kept]

    def _left(self, kept: frozenset[str]) -> Bike:
        """Return the bike without the other loads, what they alone feed, and switches that then do nothing."""
        bike = self._bike
        for load in self._bike.loads:
            if not load.from_ and load.name not in kept:
                bike = without_load(bike, load.name)
        return bike
