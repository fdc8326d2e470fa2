"""The main fuse that trips stay below when facts are dropped: the largest that any choice of them asks for."""

from collections.abc import Collection, Iterator
from dataclasses import replace
from functools import cache
from itertools import chain, combinations

from .circuits import Circuit, circuit
from .dropping import Dropped, without
from .electrics import fuse_above_ma, lowest_trip_ma
from .facts import Key
from .job import Job
from .parts import INDICATORS
from .reading import on_unit
from .things import Load

DECIDING = ("current", "inrush", "mode", "kind")
Figures = tuple[str, ...]


class LargestFuse:
    """The largest main fuse of a whole bike, whatever is dropped of it."""

    def __init__(self, whole: Job, facts: Collection[Key]) -> None:
        """Take the job of the whole bike and its facts."""
        self.whole, self._facts = whole, facts
        self._trip = cache(self._largest_lowest_trip)

    def without(self, dropped: Dropped) -> int | None:
        """Return the fuse (mA) with some facts dropped; None where no step is large enough."""
        trips = [self._trip(load, self._loose(load, dropped)) for load in on_unit(self.whole.bike)]
        return fuse_above_ma(self.whole.bike, max(self.whole.steady.feed), max(trips, default=0))

    def _loose(self, load: Load, dropped: Dropped) -> Figures:
        """Return the figures of a load that may be dropped: all that are facts if the load is left out."""
        out = ("load", load.name) in dropped
        keys = ((what, load.name) for what in DECIDING)
        return tuple(key[0] for key in keys if key in dropped or (out and key in self._facts))

    def _largest_lowest_trip(self, load: Load, loose: Figures) -> int:
        """The largest (mA) of what a load asks for with each choice of the loose figures, and none where none."""
        job = self.whole
        if "indicator-pair" not in job.bike.set_aside and self._lone_indicator(load):
            return 0
        circuits = (held for gone in _choices(loose) for held in self._circuits(load, gone))
        return max(lowest_trip_ma(job.bike, job.unit, job.states, held) for held in circuits)

    def _lone_indicator(self, load: Load) -> bool:
        """Tell whether a load is the only indicator of its side, which no output takes."""
        same = [other for other in on_unit(self.whole.bike) if other.counts_as == load.counts_as]
        return load.counts_as in INDICATORS and len(same) == 1

    def _circuits(self, load: Load, gone: Figures) -> Iterator[Circuit]:
        """Return a load without some figures alone on an output, with what is fed from it and without."""
        held = circuit(self.whole.bike, [load])
        lighter = without(load, gone)
        yield from (replace(held, loads=(lighter,)), Circuit((lighter,), ()))


def _choices(loose: Figures) -> Iterator[Figures]:
    return chain.from_iterable(combinations(loose, size) for size in range(len(loose) + 1))
