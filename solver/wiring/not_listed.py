"""Wires that a bike needs and that no plan lays, so that nobody looks for them in the lists."""

from collections.abc import Iterator

from solver.job.laid import Laid
from solver.wiring.ends import own_switched, relay_name
from solver.words.figures import listed


def not_listed(laid: Laid) -> tuple[str, ...]:
    """Say which wires are not in the lists."""
    return tuple(_told(laid))


def _told(laid: Laid) -> Iterator[str]:
    job = laid.site.job
    yield "the battery's own leads, the starter motor's cable and the earth straps"
    if job.bike.supply.charging is not None:
        yield "the regulator's leads, and the fuse in them"
    sensors = [switch.name for switch in job.bike.inputs if switch.signal in ("pulse", "coded")]
    if sensors:
        yield f"what {listed(sensors)} may need beside the signal: an earth or a supply, as the maker says"
    own = own_switched(job)
    for fed in (one for one in job.loads.fed if one.consumer.name in own):
        name = fed.consumer.name
        coil = f"the wires of {relay_name(name)}'s coil"
        switch = f"the way round by {name}'s own switch: cut its wire there, and lengthen it"
        yield coil if fed.by == "relay" else switch
    returning = [load.name for load in job.bike.loads if load.return_ == "frame"]
    if returning:
        yield f"a return of {listed(returning)}: the frame is one"
