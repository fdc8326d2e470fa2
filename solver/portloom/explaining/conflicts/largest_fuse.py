"""The main fuse where facts are dropped: as large as any of them would have it.

The main fuse stands above each load's lowest trip on the outputs able to take it. Which these are
hangs on the load's figures; a load that no output takes asks for nothing. So that to drop a figure never
lowers the fuse, the most that any of the figures that are dropped would ask for is taken.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import chain, combinations

from portloom.base.fuses import trip_for, trip_values
from portloom.base.quantities import MilliAmps
from portloom.job.consumers import Consumer, Consumers
from portloom.job.job import Job
from portloom.rules.fact_kinds import DECIDING, LOAD, FactKind, kind_of, without
from portloom.rules.facts import FactKey
from portloom.rules.fuse_size import fuse_above, lowest_trip
from portloom.rules.shapes import Rule


class LargestFuse:
    """The largest main fuse of a bike, for any facts that are dropped."""

    def __init__(self, job: Job, rules: Sequence[Rule], facts: frozenset[FactKey]) -> None:
        """Take the whole bike, and its facts."""
        self._job = job
        self._rules = rules
        self._figures = {
            load.name: [(kind, key) for kind in DECIDING if (key := kind.key(load.name)) in facts]
            for load in job.loads.on_unit
        }
        self._least = fuse_above(job, MilliAmps(0)) or MilliAmps(0)
        self._deciding = tuple(load for load in job.loads.on_unit if _highest_trip(job, load) >= self._least)
        """The loads whose trip may raise the fuse at all: few, as a rule none."""
        self._lone: dict[str, Job] = {}
        self._known: dict[tuple[str, tuple[str, ...], bool], MilliAmps] = {}

    def without(self, dropped: frozenset[FactKey]) -> MilliAmps | None:
        """Return the main fuse that trips stay below."""
        others = {key[1] for key in dropped if kind_of(key).sways_others}
        trips = (self._trip(load, dropped, others) for load in self._deciding)
        return fuse_above(self._job, max(trips, default=MilliAmps(0)))

    def _trip(self, load: Consumer, dropped: frozenset[FactKey], others: set[str]) -> MilliAmps:
        left_out = LOAD.key(load.name) in dropped
        loose = tuple(kind for kind, key in self._figures[load.name] if left_out or key in dropped)
        trip = self._known_trip(load, loose, alone=False)
        return max(trip, self._known_trip(load, loose, alone=True)) if others - {load.name} else trip

    def _known_trip(self, load: Consumer, loose: tuple[FactKind, ...], *, alone: bool) -> MilliAmps:
        """``alone``: with all others left out, as what a rule says of a load may hang on them."""
        key = (load.name, tuple(kind.name for kind in loose), alone)
        if key not in self._known:
            self._known[key] = max(self._trips(self._alone(load) if alone else self._job, load, loose))
        return self._known[key]

    def _alone(self, load: Consumer) -> Job:
        if load.name not in self._lone:
            self._lone[load.name] = self._without_others(load)
        return self._lone[load.name]

    def _without_others(self, load: Consumer) -> Job:
        loads = self._job.loads
        others = tuple(other for other in loads.on_unit if other is not load)
        guests = tuple(replace(guest, feeders=(load.name,)) for guest in loads.guests if load.name in guest.feeders)
        known = Consumers((load,), guests, (), (), others)
        return Job(self._job.bike, self._job.unit, known, self._job.network)

    def _trips(self, job: Job, load: Consumer, loose: Sequence[FactKind]) -> Iterator[MilliAmps]:
        """Return the lowest trip with each choice of the loose figures dropped, with and without what it feeds."""
        for gone in chain.from_iterable(combinations(loose, count) for count in range(len(loose) + 1)):
            lighter = load
            for kind in gone:
                lighter = without(lighter, kind)
            circuit = replace(job.circuit((load,)), members=(lighter,))
            yield lowest_trip(job, self._rules, circuit, self._least)
            if circuit.guests:
                yield lowest_trip(job, self._rules, replace(circuit, guests=()), self._least)


def _highest_trip(job: Job, load: Consumer) -> MilliAmps:
    """Return a trip that a load asks no output to go beyond, whichever of its figures are dropped."""
    circuit = job.circuit((load,))
    trips = (
        trip_for(output, circuit.current, circuit.inrush) or max(trip_values(output), default=MilliAmps(0))
        for output in job.by_trip
    )
    return max(trips, default=MilliAmps(0))
