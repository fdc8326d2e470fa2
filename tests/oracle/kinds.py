"""Ports of one kind: equal in everything but the name."""

from dataclasses import dataclass, fields
from typing import Any, TypeVar

from .profiles import each, read_unit
from .reading import tree_of
from .things import InPort, Output, Unit

Port = TypeVar("Port", Output, InPort)
# What a profile says of a port that no rule here reads, but by which ports differ all the same.
UNREAD = ("inductive", "flash_rate", "price", "size")


@dataclass(frozen=True)
class Kinds:
    """The ports of a unit, kind by kind in the order of the file."""

    unit: Unit
    outputs: tuple[tuple[Output, ...], ...]
    inputs: tuple[tuple[InPort, ...], ...]

    @property
    def followed(self) -> frozenset[str]:
        """The names of the inputs that some output follows."""
        return frozenset(output.follow for output in self.unit.outputs)


def kinds_of(unit_text: str, named: frozenset[str] = frozenset()) -> Kinds:
    """Take a unit's YAML; give its ports by kind. A followed input is a kind of its own, and so is what is named."""
    unit, data = read_unit(unit_text), tree_of(unit_text)
    followed = {output.follow for output in unit.outputs}
    outputs = _by_kind(unit.outputs, data["outputs"], named)
    return Kinds(unit, outputs, _by_kind(unit.inputs, data.get("inputs", []), named.union(followed)))


def _by_kind(
    ports: tuple[Port, ...], written: list[dict[str, Any]], apart: frozenset[str]
) -> tuple[tuple[Port, ...], ...]:
    found: dict[object, list[Port]] = {}
    for port, item in zip(ports, each(written), strict=True):
        said = tuple(getattr(port, field.name) for field in fields(port) if field.name != "name")
        unread = tuple(str(item.get(word)) for word in UNREAD)
        found.setdefault((said, unread, apart & {port.name}), []).append(port)
    return tuple(tuple(alike) for alike in found.values())
