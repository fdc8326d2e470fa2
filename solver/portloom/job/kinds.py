"""Ports of one kind: equal in everything, bank, face and ``follow`` too; only the name differs.

A followed input is a kind of its own.
"""

from functools import cached_property, lru_cache
from typing import Literal

from portloom.base.unit import Output, Port, Unit
from portloom.base.values import dataclass

PortDirection = Literal["outputs", "inputs"]


@dataclass(frozen=True)
class OutputKind:
    """Outputs that nothing but their names tells apart, in the unit's order."""

    like: Output
    ports: tuple[Output, ...]

    @cached_property
    def names(self) -> tuple[str, ...]:
        """The names of its ports."""
        return tuple(port.name for port in self.ports)


@dataclass(frozen=True)
class InputKind:
    """Inputs that nothing but their names tells apart, in the unit's order."""

    like: Port
    ports: tuple[Port, ...]

    @cached_property
    def names(self) -> tuple[str, ...]:
        """The names of its ports."""
        return tuple(port.name for port in self.ports)


@lru_cache(maxsize=4096)
def kind_of_output(output: Output) -> Output:
    """Return the output without its name."""
    return output.model_copy(update={"name": ""})


@lru_cache(maxsize=4096)
def _nameless(port: Port) -> Port:
    return port.model_copy(update={"name": ""})


def output_kinds(unit: Unit) -> tuple[OutputKind, ...]:
    """Return the kinds of a unit's outputs, in the order of their first ports."""
    return _kinds_of(unit.outputs)


@lru_cache(maxsize=64)
def _kinds_of(outputs: tuple[Output, ...]) -> tuple[OutputKind, ...]:
    groups: dict[Output, list[Output]] = {}
    for output in outputs:
        groups.setdefault(kind_of_output(output), []).append(output)
    return tuple(OutputKind(like, tuple(ports)) for like, ports in groups.items())


def input_kinds(unit: Unit) -> tuple[InputKind, ...]:
    """Return the kinds of a unit's inputs, in the order of their first ports."""
    followed = {output.follow for output in unit.outputs}
    groups: dict[Port, list[Port]] = {}
    for port in unit.inputs:
        groups.setdefault(port if port.name in followed else _nameless(port), []).append(port)
    return tuple(InputKind(like, tuple(ports)) for like, ports in groups.items())


def port_names(unit: Unit, ports: PortDirection) -> list[str]:
    """Return the names of a unit's outputs or inputs, in its order."""
    return [output.name for output in unit.outputs] if ports == "outputs" else [port.name for port in unit.inputs]
