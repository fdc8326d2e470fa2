"""Loaded wires: how many in each leg carry an ampere or more at once, in each lasting case.

Counted are output circuits with such a load beyond the leg, returns, the feed, the wires of fed
loads, and wires alongside with a current; never switch wires, never while cranking.
Source: 33 CFR 183.425 (circuits below 1 A are left out).
"""

from collections.abc import Iterator

from portloom.base.quantities import MilliAmps
from portloom.job.cases import Case
from portloom.job.fixed import fed_load
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.job.wired import WiredOutput
from portloom.job.wires import Way

LOADED = MilliAmps(1000)


def loaded_ways(site: Site, leg: int, case: Case) -> list[tuple[Way, int]]:
    """Return the wires that no assignment changes and that are loaded in a leg in a lasting case, with their count."""
    return [(way, count) for way, count in _fixed_in(site, case) if leg in way.run.legs]


def fixed_loaded(site: Site, leg: int, case: Case) -> int:
    """Return how many wires that no assignment changes are loaded in a leg in a lasting case."""
    return sum(count for _, count in loaded_ways(site, leg, case))


def _fixed_in(site: Site, case: Case) -> Iterator[tuple[Way, int]]:
    job = site.job
    for way in site.ways_of("feed"):
        if site.owner(way).through_feed(job.unit_current(case)) >= LOADED:
            yield way, 1
    for way in site.ways_of("return"):
        if job.returned_at(way.name, case) >= LOADED:
            yield way, 1
    for way in site.ways_of("fed load"):
        load = fed_load(site, way).consumer
        if load.current >= LOADED and job.on(load, case):
            yield way, 1
    for way, other in zip(site.ways_of("alongside"), job.bike.alongside, strict=True):
        if other.current is not None and other.current >= LOADED and job.alongside_on(other.name, case):
            yield way, other.count


def is_loaded(job: Job, wired: WiredOutput, leg: int, case: Case) -> bool:
    """Tell whether a circuit's wire is loaded in a leg in a case."""
    return wired.flows.get(leg, 0) >= LOADED and job.circuit_on(wired.circuit, case)


class Bundles:
    """The loaded wires of a plan."""

    def __init__(self, laid: Laid) -> None:
        """Take the plan as it lies."""
        self._laid = laid
        self._known: dict[tuple[int, int], int] = {}

    def loaded(self, leg: int, case: int) -> int:
        """Return how many wires of a leg are loaded in the lasting case of this number."""
        if (leg, case) not in self._known:
            self._known[leg, case] = self._count(leg, self._laid.site.job.lasting[case])
        return self._known[leg, case]

    def _count(self, leg: int, case: Case) -> int:
        job = self._laid.site.job
        circuits = sum(is_loaded(job, wired, leg, case) for wired in self._laid.outputs)
        return circuits + fixed_loaded(self._laid.site, leg, case)
