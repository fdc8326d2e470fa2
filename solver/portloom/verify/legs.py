"""The checker's own look at the legs that a plan chose: those in use, and no wire has a shorter way in them."""

from collections.abc import Iterable, Iterator

from portloom.base.quantities import Micrometres
from portloom.job.assignment import Assignment
from portloom.job.fixed_wires import FixedWire
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.network import Trees
from portloom.rules.clash import Clash
from portloom.rules.faults import not_wired
from portloom.verify.count import used_legs
from portloom.verify.dealing import earth_points_for


def leg_clashes(laid: Laid, plan: Assignment) -> Iterator[Clash]:
    """Return what is wrong with the legs that a plan chose; nothing where all are open."""
    if plan.legs is None:
        return
    if list(plan.legs) != used_legs(laid):
        yield Clash("goal", "legs in use", "the legs that the plan says are in use are not those that hold a wire")
    for name, length, shortest in _wires(laid):
        if length != shortest:
            yield not_wired(name, f"{name}: within the legs in use its wire is {shortest} um, here it is {length} um")


Measured = tuple[str, int, int | None]
"""A wire's name, its length, and that of the shortest way within the legs in use, in micrometres."""


def _wires(laid: Laid) -> Iterator[Measured]:
    job = laid.site.job
    for wired in laid.outputs:
        avoid = {leg for load in wired.circuit.members for leg in load.avoid}
        root = wired.site.face(wired.output.face)
        yield wired.output.name, wired.run.length, _shortest(job, root, wired.circuit.points, avoid)
    for one in laid.inputs:
        root = one.site.face(one.port.face)
        yield one.port.name, one.run.length, _shortest(job, root, one.circuit.points)
    for way in laid.switches:
        yield way.switch.name, way.run.length, _shortest(job, way.stand.at, way.circuit.points)
    for box in laid.multiplexers:
        root = box.site.face(box.port.face)
        yield box.stand.multiplexer.name, box.run.length, _shortest(job, root, [box.stand.at])
    for wire in laid.site.fixed_wires:
        yield from _fixed(job, wire)


def _fixed(job: Job, wire: FixedWire) -> Iterator[Measured]:
    """Measure a wire that no assignment changes, stretch by stretch; what is alongside was laid by the builder."""
    if wire.kind == "alongside":
        return
    if wire.kind in ("return", "sender return"):
        ways = (_shortest(job, wire.ends[0], [earth]) for earth in earth_points_for(job, wire.ends[0]))
        yield wire.said, wire.run.length, min((way for way in ways if way is not None), default=None)
        return
    fed = {one.consumer.name: one.consumer.avoid for one in job.loads.fed} if wire.kind == "fed load" else {}
    least = job.assume["shortest feed"] if wire.kind == "feed" else 0
    for stretch in wire.stretches:
        start, *ends = stretch.ends
        shortest = _shortest(job, start, ends, fed.get(wire.name, ()))
        yield wire.said, stretch.run.length, None if shortest is None else max(least, shortest)


def _shortest(job: Job, start: str, ends: Iterable[str], avoid: Iterable[str] = ()) -> Micrometres | None:
    points = tuple(dict.fromkeys(ends))
    run = Trees(job.network, points, (start,), job.network.numbers_of(avoid)).tree(points, start)
    return None if run is None else run.length
