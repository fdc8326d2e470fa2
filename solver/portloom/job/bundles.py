"""Loaded wires: how many in each leg carry an ampere or more at once, in each steady-state case.

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
from portloom.job.wires import FixedWire

LOADED = MilliAmps(1000)


def loaded_fixed_wires(site: Site, leg: int, case: Case) -> list[tuple[FixedWire, int]]:
    """Return the fixed wires that are loaded in a leg in a steady-state case, with their count."""
    return [(wire, count) for wire, count in _fixed_in(site, case) if leg in wire.run.legs]


def fixed_loaded(site: Site, leg: int, case: Case) -> int:
    """Return how many fixed wires are loaded in a leg in a steady-state case."""
    return sum(count for _, count in loaded_fixed_wires(site, leg, case))


def _fixed_in(site: Site, case: Case) -> Iterator[tuple[FixedWire, int]]:
    job = site.job
    for wire in site.fixed_of("feed"):
        if site.owner(wire).through_feed(job.unit_current(case)) >= LOADED:
            yield wire, 1
    for wire in site.fixed_of("return"):
        if job.returned_at(wire.name, case) >= LOADED:
            yield wire, 1
    for wire in site.fixed_of("fed load"):
        load = fed_load(site, wire).consumer
        if load.current >= LOADED and job.on(load, case):
            yield wire, 1
    for wire, other in zip(site.fixed_of("alongside"), job.bike.alongside, strict=True):
        if other.current is not None and other.current >= LOADED and job.alongside_on(other.name, case):
            yield wire, other.count


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
        """Return how many wires of a leg are loaded in the steady-state case of this number."""
        if (leg, case) not in self._known:
            self._known[leg, case] = self._count(leg, self._laid.site.job.steady[case])
        return self._known[leg, case]

    def _count(self, leg: int, case: Case) -> int:
        job = self._laid.site.job
        circuits = sum(is_loaded(job, wired, leg, case) for wired in self._laid.outputs)
        return circuits + fixed_loaded(self._laid.site, leg, case)
