"""What a wire must carry in which leg and case, once a plan is known: the words of every sizing."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from portloom.base.fuses import fuse_for
from portloom.base.quantities import MilliAmps
from portloom.job.fixed import fed_load
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.job.wired import WiredOutput
from portloom.job.wires import FixedWire

ALONE = None
"""Stands for the case in which no bundle counts: cranking, which lasts seconds."""


@dataclass(frozen=True)
class Demand:
    """A current that a wire must carry while one of the steady-state cases heats its legs."""

    current: MilliAmps
    case: int | None
    because: WiredOutput | None = None
    """The circuit whose fault it is, where it is one."""


def output_demands(job: Job, wired: WiredOutput) -> Iterator[Demand]:
    """An output's wire carries its trip in every case in which the circuit is on."""
    yield Demand(wired.trip, ALONE)
    for number, case in enumerate(job.steady):
        if job.circuit_on(wired.circuit, case):
            yield Demand(wired.trip, number)


def return_demands(job: Job, wire: FixedWire, outputs: Iterable[WiredOutput]) -> Iterator[Demand]:
    """A joint return carries 1.25 x its sum, and in turn each circuit at its trip with the others as they are."""
    if wire.kind == "sender return":
        return
    for number, case in enumerate(job.steady):
        yield Demand(MilliAmps(-(-5 * job.returned_at(wire.name, case) // 4)), number)
    for case in job.cranking:
        yield Demand(MilliAmps(-(-5 * job.returned_at(wire.name, case) // 4)), ALONE)
    for wired in outputs:
        yield from fault_demands(job, wire, wired)
    for fed in job.loads.fed:
        if fed.consumer.at == wire.name and fed.consumer.wired_return:
            fuse = fuse_for(fed.consumer.current) or fed.consumer.current
            for number, case in enumerate(job.steady):
                if job.on(fed.consumer, case):
                    yield Demand(MilliAmps(job.returned_at(wire.name, case) - fed.consumer.current + fuse), number)


def fault_demands(job: Job, wire: FixedWire, wired: WiredOutput) -> Iterator[Demand]:
    """A circuit with a load at the return's start may fault there: its trip instead of what it draws there."""
    own = MilliAmps(sum(load.current for load in wired.circuit.loads if load.at == wire.name and load.wired_return))
    if not own:
        return
    for number, case in enumerate(job.steady):
        if job.circuit_on(wired.circuit, case):
            yield Demand(MilliAmps(job.returned_at(wire.name, case) - own + wired.trip), number, wired)
    for case in job.cranking:
        if job.circuit_on(wired.circuit, case):
            yield Demand(MilliAmps(job.returned_at(wire.name, case) - own + wired.trip), ALONE, wired)


def feed_demands(site: Site) -> Iterator[Demand]:
    """The feed carries the main fuse in every case."""
    fuse = site.main_fuse or site.job.worst
    yield Demand(fuse, ALONE)
    for number, case in enumerate(site.job.steady):
        if site.through_feed(site.job.unit_current(case)):
            yield Demand(fuse, number)


def fed_demands(site: Site, wire: FixedWire) -> Iterator[Demand]:
    """The wire of a fed load carries its fuse whenever the load is on."""
    load = fed_load(site, wire).consumer
    fuse = fuse_for(load.current)
    if fuse is None:
        return
    yield Demand(fuse, ALONE)
    for number, case in enumerate(site.job.steady):
        if site.job.on(load, case):
            yield Demand(fuse, number)
