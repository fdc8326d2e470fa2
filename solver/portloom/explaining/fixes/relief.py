"""How much a crowd needs: so many of its things must be touched by changes, not just one."""

from collections.abc import Iterator, Sequence

from portloom.explaining.conflicts.crowds import wanting
from portloom.explaining.conflicts.kept import Instance, relaxed_to
from portloom.explaining.fixes.change import Change, Known
from portloom.explaining.telling.counts import ports_of, room_of
from portloom.rules.fact_kinds import counted_by

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
