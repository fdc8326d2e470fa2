"""One change that may help, what it may help against, and how much it relieves a crowd of."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from portloom.base.bike import Bike
from portloom.base.unit import Unit
from portloom.explaining.conflicts.crowds import wanting
from portloom.explaining.conflicts.kept import Instance, relaxed_to
from portloom.explaining.telling.counts import ports_of, room_of
from portloom.rules.fact_kinds import counted_by, is_thing
from portloom.rules.facts import FactKey

Target = tuple[Bike, Unit]
Acts = Literal["unit", "things", "figures", "wires"]
"""On which unit it is; on what there is and who shares; on what loads draw and are; on ways and openings only."""


@dataclass(frozen=True)
class Known:
    """A conflict: its facts, and whether counting ports alone proves it, wherever the unit sits."""

    keys: tuple[FactKey, ...]
    counted: bool


@dataclass(frozen=True)
class Change:
    """A change: its kind, its effort, the sentence, what must be bought, and how it is made."""

    kind: str
    effort: int
    sentence: str
    make: Callable[[Target], Target]
    acts: Acts
    slot: tuple[str, ...]
    """What it settles: of the changes in one slot only one can be made. A load's way to be fed is ('feed', load)."""
    facts: frozenset[FactKey] = frozenset()
    """The facts that it alters; another unit and another place alter any."""
    parts: tuple[str, ...] = ()
    everywhere: bool = False
    """True where any fact may be lifted by it: another unit, another place."""
    only_helps: bool = False
    """True where nothing gets worse by it, so that what fails with it fails without it too."""
    after: tuple[str, ...] = ()
    """The slot of the change without which this one is not made: the second of two that are alike."""
    room: int = 10**6
    """Of the loads and switches that it changes so many are helped at most."""
    sharing: tuple[str, ...] = ()
    """The loads that it lets share an output; while they do, they stay on it."""

    @property
    def things(self) -> frozenset[str]:
        """The loads and switches that it changes."""
        return frozenset(key[1] for key in self.facts if is_thing(key))

    def excludes(self, other: "Change") -> bool:
        """Tell whether it can't be made together with another one."""
        apart = any(("feed", name) == two.slot for one, two in ((self, other), (other, self)) for name in one.sharing)
        return apart or self.slot == other.slot

    def touches(self, conflict: Known) -> bool:
        """Tell whether it may lift a conflict; what leads wires another way changes no count of ports."""
        if conflict.counted and self.acts == "wires":
            return False
        return self.everywhere or not self.facts.isdisjoint(conflict.keys)


def with_load(target: Target, name: str, **figures: object) -> Target:
    """Return the bike with a load's entry changed."""
    bike, unit = target
    loads = tuple(load.model_copy(update=figures) if load.name == name else load for load in bike.loads)
    return bike.model_copy(update={"loads": loads}), unit


# --- how much a crowd needs


ReliefWeights = tuple[tuple[int, int], ...]


def relief(instance: Instance, conflict: Known, changes: Sequence[Change]) -> tuple[ReliefWeights, int] | None:
    """Return what each change can relieve a crowd of at most, and how much it needs; None where it is no crowd.

    A change relieves a crowd of the things that it changes; sharing makes two of them want one port, so
    it relieves of one less. What is not touched still wants a port of its own.
    """
    ports = {ports for key in conflict.keys if (ports := counted_by(key))}
    if not conflict.counted or len(ports) != 1:
        return None
    (what,) = ports
    firsts = [key[1] for key in conflict.keys if counted_by(key) == what]
    crowd = set(wanting(relaxed_to(instance, instance.keys), what, firsts))
    too_many = len(crowd) - room_of(instance, ports_of(instance, conflict.keys, what))
    if too_many < 1:
        return None
    return tuple(_weights(changes, crowd, too_many)), too_many


def _weights(changes: Sequence[Change], crowd: set[str], too_many: int) -> Iterator[tuple[int, int]]:
    for number, change in enumerate(changes):
        if change.acts == "unit":
            yield number, too_many
        elif change.acts == "figures":
            yield number, len({key[1] for key in change.facts} & crowd)
        elif change.acts == "things":
            touched = min(change.room, len(change.things & crowd))
            yield number, touched - 1 if change.kind == "sharing" and touched > 1 else touched


def relief_of_feed(instance: Instance, changes: Sequence[Change]) -> Iterator[tuple[ReliefWeights, int]]:
    """Return for each case that is too much for the unit what each change relieves it of at most, in mA."""
    job = instance.job
    drawn = {load.name: load.current for load in (*job.loads.on_unit, *job.loads.guests)}
    for case in job.cases:
        too_much = job.unit_current(case) - job.unit.feed.limit
        if too_much > 0:
            loads = (*job.loads.on_unit, *job.loads.guests)
            on = {load.name: drawn[load.name] * job.on(load, case) for load in loads}
            yield tuple(_amperes(changes, on, too_much)), too_much


def _amperes(changes: Sequence[Change], on: dict[str, int], too_much: int) -> Iterator[tuple[int, int]]:
    for number, change in enumerate(changes):
        if change.acts == "unit":
            yield number, too_much
        elif change.acts != "wires" and change.kind != "sharing":
            yield number, sum(on.get(name, 0) for name in {key[1] for key in change.facts})
