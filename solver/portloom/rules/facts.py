"""Facts: what a person can see or change about a bike or a unit, with its figures and where it stands.

Each rule brings the facts that it judges by. A fact that is dropped counts as harmless: a load left
out, a current of nothing, a limit without end.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Literal

from portloom.base.bike import Load
from portloom.base.values import dataclass
from portloom.job.consumers import Consumer
from portloom.job.job import Job
from portloom.job.kinds import PortDirection, port_names

FactKey = tuple[str, ...]
"""What a fact is and whom it is about: ('current', 'horn'), ('bank', 'A')."""
Keys = tuple[FactKey, ...]
OnPorts = Mapping[str, Sequence[str]]
"""For each port in use the names of the loads or switches on it, or of a multiplexer; for its ways those on them."""


@dataclass(frozen=True)
class At:
    """Where a fact is written: which file, and the path of keys and positions (from 0) in it."""

    file: Literal["bike", "unit", "built"]
    path: tuple[str | int, ...]
    """Of a built plan its own name and the line."""


Where = Callable[[At], str]
"""Tell where something is written: file and line, or 'default'."""


def by_default(_: At) -> str:
    """Nothing is written in a file."""
    return "default"


@dataclass(frozen=True)
class Fact:
    """One thing about this bike or this unit."""

    key: FactKey
    rule: str
    subject: str
    sentence: str
    at: At
    together: str = ""
    """What is said of several subjects that have this in common, their names after it: 'must be dimmed'."""
    hint: str = ""
    """What may be done about it beside the fixes that are tried."""


def at_load(job: Job, name: str, *keys: str) -> At:
    """Return where a load, or one of its keys, is written; a relay's coil stands where its load does."""
    return At("bike", ("loads", _number(job, name), *keys))


def _number(job: Job, name: str) -> int:
    names = [load.name for load in job.bike.loads]
    return names.index(name if name in names else name.removesuffix(" relay"))


def at_switch(job: Job, name: str, *keys: str) -> At:
    """Return where an input of the bike, or one of its keys, is written."""
    number = next(n for n, switch in enumerate(job.bike.inputs) if switch.name == name)
    return At("bike", ("inputs", number, *keys))


def at_port(job: Job, ports: PortDirection, name: str, *keys: str) -> At:
    """Return where a port of the unit, or one of its keys, is written."""
    return At("unit", (ports, port_names(job.unit, ports).index(name), *keys))


def drawing_key(load: Load) -> str:
    """Return the key by which a load's file says what it draws."""
    return "lamp" if load.lamp is not None else "power" if load.power is not None else "current"


def every_load(job: Job) -> list[Consumer]:
    """Return every load of the bike in the order of the file, a relay's coil after its load."""
    loads = (*(fed.consumer for fed in job.loads.fed), *job.loads.on_unit, *job.loads.guests)
    return sorted(loads, key=lambda load: _number(job, load.name))


def on_outputs(job: Job) -> list[Consumer]:
    """Return every load that an output feeds, guests too, in the order of the file."""
    fed = {fed.consumer.name for fed in job.loads.fed}
    return [load for load in every_load(job) if load.name not in fed]
