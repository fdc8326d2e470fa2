"""The cheapest unit that takes a bike: tried one after the other, no further than needed."""

from collections.abc import Iterable

from portloom.base.bike import Bike
from portloom.base.clock import Clock
from portloom.base.unit import Unit
from portloom.base.values import dataclass
from portloom.comparing.prepared import PreparedBike
from portloom.comparing.reason import reason_why_not
from portloom.explaining.solved import Solved, solve


@dataclass(frozen=True)
class NoneTakes:
    """Proved: no unit of several takes the bike; why the largest does not, in one clause."""

    largest: str
    reason: str


def cheapest_that_takes(bike: Bike, units: Iterable[Unit]) -> Unit | NoneTakes:
    """Return the cheapest of some units, one at least, that a bike can be planned on, or that none takes it.

    Of two at one price, and where a price is not known, the one with fewer outputs comes first. Raises RuntimeError if
    a plan breaks a rule or two proofs differ.
    """
    bench = PreparedBike(bike)
    ranked = sorted(units, key=lambda unit: (unit.price is None, unit.price or 0, len(unit.outputs), unit.unit))
    for unit in ranked:
        on = bench.on(unit)
        if isinstance(solve(on.job, on.rules, on.sites, Clock(None), on.runs), Solved):
            return unit
    largest = max(ranked, key=lambda unit: len(unit.outputs))
    return NoneTakes(largest.unit, reason_why_not(bench.on(largest), Clock(None)).said)
