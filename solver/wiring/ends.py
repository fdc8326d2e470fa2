"""What wires end at.

Source: terminals of relays 30 (from the battery), 87 (to the load), 85 and 86 (the coil): DIN 72552, from memory.
"""

from solver.job.job import Job
from solver.wiring.wire import WireEnd


def battery(point: str) -> WireEnd:
    """Return the battery's positive pole."""
    return WireEnd("battery", "battery", point, "+")


def unit_end(name: str, point: str) -> WireEnd:
    """Return a port of the unit, its supply or its earth, at the frame point that the port's face meets."""
    return WireEnd("unit", name, point)


def load_end(name: str, point: str, terminal: str, diode: str = "", *, own_switch: bool = False) -> WireEnd:
    """Return a load's '+' or '-'."""
    return WireEnd("load", name, point, terminal, diode, own_switch)


def switch_end(name: str, point: str, terminal: str) -> WireEnd:
    """Return a switch's 'signal', 'earth' or 'live' at one of its points."""
    return WireEnd("switch", name, point, terminal)


def fuse_end(name: str, point: str) -> WireEnd:
    """Return a fuse of its own."""
    return WireEnd("fuse", name, point)


def earth_end(point: str) -> WireEnd:
    """Return an earth point of the frame."""
    return WireEnd("earth", f"earth at {point}", point)


def relay_name(load: str) -> str:
    """Return what the relay of a load is called."""
    return f"{load} relay"


def own_switched(job: Job) -> frozenset[str]:
    """Return the loads that a switch of their own works, which never touches the unit."""
    return frozenset(load.name for load in job.bike.loads if load.own_switch)


def coils(job: Job) -> tuple[str, ...]:
    """Return the relays whose coils are loads of the plan; a relay that a switch of its own works brings none."""
    own = own_switched(job)
    fed = [one.consumer.name for one in job.loads.fed if one.by == "relay"]
    return tuple(relay_name(name) for name in fed if name not in own)
