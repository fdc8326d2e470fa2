"""What heats a wire: how many loaded wires lie in each leg at once, and what each must carry once a plan is known.

A wire is loaded that carries an ampere or more, in a steady-state case. Counted are output circuits with such a load
beyond the leg, and the wire on from a load's own switch as one more; returns, the feed, the wires of fed loads, and
wires alongside with a current; never switch wires, never while cranking.
Source: that what carries less than an ampere heats no bundle: common practice, no source. (33 CFR 183.425 exempts
electronic circuits below 1 A from its least sizes, and says nothing of leaving them out of a count.)
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from functools import cached_property

from portloom.base.fuses import fuse_for
from portloom.base.quantities import MilliAmps
from portloom.base.values import dataclass
from portloom.job.cases import Case
from portloom.job.circuits import OutputCircuit
from portloom.job.consumers import Consumer
from portloom.job.fixed import fed_load
from portloom.job.fixed_wires import FixedWire, carrying_parts
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.job.wired import WiredOutput

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
        if job.returned(wire.back, case) >= LOADED:
            yield wire, 1
    for wire in site.fixed_of("fed load"):
        load = fed_load(site, wire).consumer
        if load.current >= LOADED and job.on(load, case):
            yield from ((part, 1) for part in carrying_parts(job.network, wire))
    for wire, other in zip(site.fixed_of("alongside"), job.bike.alongside, strict=True):
        if other.current is not None and other.current >= LOADED and job.alongside_on(other.name, case):
            yield wire, other.count


def loaded_of(job: Job, wired: WiredOutput, leg: int, case: Case) -> int:
    """Return how many wires of a circuit are loaded in a leg in a case."""
    loaded = loaded_wires(wired, leg)
    return loaded if loaded and job.circuit_on(wired.circuit, case) else 0


def loaded_wires(wired: WiredOutput, leg: int) -> int:
    """Return how many wires of a circuit are loaded in a leg while it is on."""
    return _loaded(wired.flows.get(leg, ()))


def _loaded(currents: Iterable[MilliAmps]) -> int:
    """Return how many of some wires are loaded by what flows in them."""
    return sum(current >= LOADED for current in currents)


class Bundles:
    """The loaded wires of a plan."""

    def __init__(self, laid: Laid) -> None:
        """Take the plan as it lies."""
        self._laid = laid
        self._known: dict[int, Counter[int]] = {}
        """For a case, by its number, how many wires are loaded in each leg."""

    @cached_property
    def _of_circuits(self) -> list[tuple[OutputCircuit, dict[int, int]]]:
        """How many wires of each circuit are loaded in each leg, where any are, whenever it is on."""
        each = (
            (wired.circuit, {leg: count for leg, currents in wired.flows.items() if (count := _loaded(currents))})
            for wired in self._laid.outputs
        )
        return [(circuit, wires) for circuit, wires in each if wires]

    def loaded(self, leg: int, case: int) -> int:
        """Return how many wires of a leg are loaded in the steady-state case of this number."""
        if case not in self._known:
            self._known[case] = self._count(self._laid.site.job.steady[case])
        return self._known[case][leg]

    def beside(self, leg: int, demand: "Demand") -> int:
        """Return how many wires are loaded in a leg while a wire bears a demand there, itself among them."""
        return 1 if demand.case is None else max(1, self.loaded(leg, demand.case) + demand.more)

    def _count(self, case: Case) -> Counter[int]:
        job = self._laid.site.job
        found: Counter[int] = Counter()
        for circuit, wires in self._of_circuits:
            if job.circuit_on(circuit, case):
                found.update(wires)
        for wire, count in _fixed_in(self._laid.site, case):
            found.update(dict.fromkeys(wire.run.legs, count))
        return found


ALONE = None
"""Stands for the case in which no bundle counts: cranking, which lasts seconds."""


# --- demands


@dataclass(frozen=True)
class Demand:
    """A current that a wire must carry while one of the steady-state cases heats its legs."""

    current: MilliAmps
    case: int | None
    because: WiredOutput | None = None
    """The circuit whose fault it is, where it is one."""
    by_fuse_of: str | None = None
    """The load fed from the battery whose fuse lets it through in a fault."""
    more: int = 0
    """How many wires it is in itself, where it is not among those that are counted in a leg."""


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
        yield Demand(MilliAmps(-(-5 * job.returned(wire.back, case) // 4)), number)
    for case in job.cranking:
        yield Demand(MilliAmps(-(-5 * job.returned(wire.back, case) // 4)), ALONE)
    for wired in outputs:
        yield from fault_demands(job, wire, wired)
    for fed in job.loads.fed:
        if fed.consumer.back == wire.back:
            yield from _fuse_demands(job, wire, fed.consumer)


def _fuse_demands(job: Job, wire: FixedWire, load: Consumer) -> Iterator[Demand]:
    """A load with a fuse of its own may fault as well: its fuse instead of what it draws."""
    fuse = fuse_for(load.current) or load.current
    for number, case in (*enumerate(job.steady), *((ALONE, case) for case in job.cranking)):
        if job.on(load, case):
            others = job.returned(wire.back, case) - load.current
            yield Demand(MilliAmps(others + fuse), number, by_fuse_of=load.name)


def fault_demands(job: Job, wire: FixedWire, wired: WiredOutput) -> Iterator[Demand]:
    """A circuit whose current a return takes may fault: its trip instead of what it draws through that return."""
    here = [load for load in wired.circuit.loads if load.back == wire.back]
    own = MilliAmps(sum(load.current for load in here))
    if not here:
        return
    for number, case in enumerate(job.steady):
        if job.circuit_on(wired.circuit, case):
            yield Demand(MilliAmps(job.returned(wire.back, case) - own + wired.trip), number, wired)
    for case in job.cranking:
        if job.circuit_on(wired.circuit, case):
            yield Demand(MilliAmps(job.returned(wire.back, case) - own + wired.trip), ALONE, wired)


def feed_demands(site: Site) -> Iterator[Demand]:
    """The feed carries the main fuse in every case; one that follows no leg is one wire more in those at its point."""
    fuse = site.main_fuse or site.job.worst
    yield Demand(fuse, ALONE)
    for number, case in enumerate(site.job.steady):
        if site.through_feed(site.job.unit_current(case)):
            yield Demand(fuse, number, more=int(site.feed.loose))


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
