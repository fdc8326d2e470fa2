"""Crowds as counts: 'Four loads need a dimming output; the eleven-way has three, out 9 to out 11.'."""

from collections.abc import Sequence
from collections.abc import Set as AbstractSet
from typing import Protocol

from portloom.base.figures import counted, listed, number_word, port_range
from portloom.base.values import dataclass
from portloom.explaining.conflicts.crowds import wanting
from portloom.explaining.conflicts.kept import Instance, relaxed_to
from portloom.job.kinds import PortDirection, input_kinds, output_kinds, port_names
from portloom.rules.book import common_needs
from portloom.rules.fact_kinds import OUTPUTS, SWITCH, THINGS, WAYS, WISH, FactKind, counted_by, kind_of
from portloom.rules.facts import FactKey
from portloom.rules.shapes import CommonNeed

FEW = 4
"""So many things of a crowd are named in its sentence."""


class ClosedPorts(Protocol):
    """Returns the ports that refuse a thing, by one rule or by any."""

    def __call__(self, name: str, rule: str = "") -> AbstractSet[str]:
        """Take the thing's name and the rule's slug."""


@dataclass(frozen=True)
class CrowdCount:
    """A crowd's sentence, and the rule whose word it takes for what they need, if it does."""

    sentence: str
    rule: str = ""
    alone: bool = True
    """True where the count alone says why nothing fits."""
    too_many: int = 0
    """So many more are there than ports for them; 0 where it is no matter of how many."""


def counts_of(instance: Instance, keys: Sequence[FactKey], closed: ClosedPorts) -> tuple[CrowdCount, ...]:
    """Tell how many things want how few ports, of outputs and inputs, as far as a conflict counts them.

    ``closed`` gives the ports that refuse a thing.
    """
    counted_here = {ports for key in keys if (ports := counted_by(key))}
    return tuple(_count(instance, keys, thing, closed) for thing in THINGS if thing.ports in counted_here)


def seats(instance: Instance, ports: PortDirection) -> list[str]:
    """Return the names of all that takes loads, or switches: the unit's ports, after its inputs the multiplexers."""
    boxes = [box.name for box in instance.job.bike.multiplexers] if ports == WAYS.ports else []
    return [*port_names(instance.job.unit, ports), *boxes]


def ports_of(instance: Instance, keys: Sequence[FactKey], ports: PortDirection) -> list[str]:
    """Return every port, of outputs or inputs, of the kinds that a conflict counts, and the multiplexers it counts."""
    firsts = _firsts(keys, ports)
    kinds = output_kinds(instance.job.unit) if ports == OUTPUTS.ports else input_kinds(instance.job.unit)
    boxes = [key[1] for key in keys if kind_of(key) is WAYS and ports == WAYS.ports]
    return [*(name for kind in kinds if kind.names[0] in firsts for name in kind.names), *boxes]


def _firsts(keys: Sequence[FactKey], ports: PortDirection) -> list[str]:
    """Return the first port of each kind that a conflict counts."""
    return [key[1] for key in keys if kind_of(key).counts_ports and kind_of(key).ports == ports]


def room_of(instance: Instance, names: Sequence[str]) -> int:
    """Return for how many there is room on ports and multiplexers."""
    ways = {box.name: box.ways for box in instance.job.bike.multiplexers}
    return sum(ways.get(name, 1) for name in names)


def _count(instance: Instance, keys: Sequence[FactKey], thing: FactKind, closed: ClosedPorts) -> CrowdCount:
    ports: PortDirection = thing.ports or "outputs"
    here = [key[1] for key in keys if kind_of(key) is thing]
    names, order = ports_of(instance, keys, ports), seats(instance, ports)
    if any(kind_of(key) is WAYS for key in keys) and ports == WAYS.ports:
        return _count_with_ways(instance, here, names, order)
    port, which, others = ports.removesuffix("s"), port_range(names, order), set(order).difference(names)
    wished = [key[1] for key in keys if kind_of(key) is WISH]
    if not all(name in wished or closed(name) >= others for name in here):
        return CrowdCount(f"only {counted(len(names), f'more {port}')} would take any of them, {which}", alone=False)
    rule, need = _need(instance, here, ports) if others and not wished else ("", None)
    if need is not None and not all(closed(name, rule) >= others for name in here):
        need = None
    crowd = wanting(relaxed_to(instance, instance.keys), ports, _firsts(keys, ports))
    crowd = tuple(name for name in crowd if not need or name in need.others)
    many = max(len(here), len(crowd))
    what, too_many = _crowd(here, many, thing.name), many - len(names)
    below = f". The {number_word(len(here))} below are already one too many" if len(crowd) > len(here) else ""
    has = f"the {instance.job.unit.unit} has {number_word(len(names))}, {which}"
    if len(here) <= len(names):
        # There is a port for each: what they are held to is in the way.
        return CrowdCount(f"the {instance.job.unit.unit} has no {ports} for them but {which}", alone=False)
    if need is not None:
        return CrowdCount(f"{what} need {need.said}; {has}{below}", rule, too_many=too_many)
    if not others:
        return CrowdCount(f"{what} need an {port} of their own; {has}{below}", too_many=too_many)
    return CrowdCount(f"{what} can only go on {counted(len(names), port)}, {which}{below}", too_many=too_many)


def _need(instance: Instance, here: Sequence[str], ports: PortDirection) -> tuple[str, CommonNeed | None]:
    """Return what all of a crowd need of their ports alike, and by which rule."""
    needs = ((rule.slug, need) for rule, need in common_needs(instance.job, ports, here))
    return next(needs, ("", None))


def _count_with_ways(instance: Instance, here: Sequence[str], names: Sequence[str], order: Sequence[str]) -> CrowdCount:
    """Tell a crowd that ports and the ways of multiplexers have no room for."""
    boxes = {box.name: box.ways for box in instance.job.bike.multiplexers}
    ports = [name for name in names if name not in boxes]
    room = [f"on {counted(len(ports), 'input')} ({port_range(ports, order)})"] if ports else []
    room += [f"on {counted(boxes[name], 'way')} of {name}" for name in names if name in boxes]
    too_many = len(here) - room_of(instance, names)
    return CrowdCount(f"{_crowd(here, len(here), SWITCH.name)} can only go {listed(room)}", too_many=too_many)


def _crowd(here: Sequence[str], many: int, thing: str) -> str:
    named = f", {listed(tuple(here))}," if many == len(here) <= FEW else ""
    return f"{counted(many, thing)}{named}"
