"""What is tested before what: first what stops the bike and shows that it stops."""

from collections.abc import Iterable, Sequence

from portloom.base.parts import loads
from portloom.job.consumers import Consumer, FedLoad
from portloom.job.wired import WiredOutput

PartGroup = tuple[str, ...]
BRAKE: PartGroup = (loads.BRAKE_LAMP.name,)
LAMPS: PartGroup = tuple(
    part.name for part in loads.LOAD_PARTS if part.kept and not part.watched and part.drop_class != "other"
)
SIDES: PartGroup = loads.SIDES
HORN: PartGroup = (loads.HORN.name, loads.COMPRESSOR_HORN.name)
REST: PartGroup = ()
GROUPS: tuple[PartGroup, ...] = (loads.RUNNING_ENGINE, BRAKE, LAMPS, SIDES, HORN, REST)
"""In the order in which they are tested."""
Tested = WiredOutput | FedLoad


def loads_of(tested: Tested) -> tuple[Consumer, ...]:
    """Return what a circuit, or a feed of its own, is there for."""
    return tested.circuit.members if isinstance(tested, WiredOutput) else (tested.consumer,)


def group_of(tested: Tested) -> PartGroup:
    """Return the group that a circuit is tested with."""
    parts = [load.part for load in loads_of(tested)]
    return next((group for group in GROUPS if any(part in group for part in parts)), REST)


def in_order(tested: Iterable[Tested]) -> Sequence[Tested]:
    """Return circuits in the order in which they are tested."""
    return sorted(tested, key=lambda one: GROUPS.index(group_of(one)))
