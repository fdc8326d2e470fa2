"""Crowds: more loads, or switches, than the ports that any of them can go on."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations

from solver.explaining.conflicts.figures import without
from solver.explaining.conflicts.kept import Part
from solver.explaining.conflicts.matching import Crowd, Matching
from solver.job.circuits import InputCircuit, OutputCircuit
from solver.job.kinds import InputKind, OutputKind, input_kinds, output_kinds
from solver.rules.book import input_clashes, input_pair_clashes, output_clashes, pair_clashes
from solver.rules.facts import FactKey

SPARED_FIRST = ("inrush", "current", "kind", "mode")
"""The figures of a load in the order in which an explanation does without them."""
Keys = tuple[FactKey, ...]
Takes = Mapping[str, Sequence[int]]
Together = Callable[[str, str], bool]


def output_crowds(part: Part) -> Iterator[Keys]:
    """Give the facts of each crowd of loads, the smallest first; a load that no output takes is a crowd of one."""
    kinds = output_kinds(part.job.unit)
    for crowd in _crowds(*_loads(part, kinds), [len(kind.ports) for kind in kinds]):
        yield (
            *(("load", name) for name in crowd.things),
            *(key for name in crowd.things for key in _figures(part, name, kinds, crowd)),
            *_counts("outputs", kinds, crowd),
            *(("ban", one, other) for one, other in combinations(crowd.things, 2)),
        )


def input_crowds(part: Part) -> Iterator[Keys]:
    """Give the facts of each crowd of switches, the smallest first."""
    kinds = input_kinds(part.job.unit)
    for crowd in _crowds(*_switches(part, kinds), [len(kind.ports) for kind in kinds]):
        yield (
            *(("switch", name) for name in crowd.things),
            *(("signal", name) for name in crowd.things if len(crowd.kinds) < len(kinds)),
            *_counts("inputs", kinds, crowd),
            *(("switch ban", one, other) for one, other in combinations(crowd.things, 2)),
        )


def wanting(part: Part, what: str, firsts: Sequence[str]) -> tuple[str, ...]:
    """Give things that can only go on ports of the kinds whose first ports are named, no two of them together."""
    if what == "outputs":
        outputs = output_kinds(part.job.unit)
        takes, together = _loads(part, outputs)
        own = {number for number, kind in enumerate(outputs) if kind.ports[0].name in firsts}
    else:
        inputs = input_kinds(part.job.unit)
        takes, together = _switches(part, inputs)
        own = {number for number, kind in enumerate(inputs) if kind.ports[0].name in firsts}
    return tuple(name for name in _alone(takes, together) if set(takes[name]) <= own)


def _loads(part: Part, kinds: Sequence[OutputKind]) -> tuple[Takes, Together]:
    """Give for each load the kinds of output that take it, and who may share."""
    circuits = {load.name: part.job.circuit((load,)) for load in part.job.loads.on_unit}

    def together(one: str, other: str) -> bool:
        both = OutputCircuit((*circuits[one].members, *circuits[other].members), ())
        return next(pair_clashes(part.rules, both), None) is None

    return {name: _taking(part, circuit, kinds) for name, circuit in circuits.items()}, together


def _switches(part: Part, kinds: Sequence[InputKind]) -> tuple[Takes, Together]:
    circuits = {switch.name: InputCircuit((switch,)) for switch in part.job.bike.inputs}

    def together(one: str, other: str) -> bool:
        both = InputCircuit((*circuits[one].switches, *circuits[other].switches))
        return next(input_pair_clashes(part.rules, both), None) is None

    takes = {
        name: [n for n, k in enumerate(kinds) if next(input_clashes(part.rules, circuit, k.ports[0]), None) is None]
        for name, circuit in circuits.items()
    }
    return takes, together


def _crowds(takes: Takes, together: Together, room: Sequence[int]) -> tuple[Crowd, ...]:
    """Give the crowds among things no two of which may go together."""
    alone = _alone(takes, together)
    return Matching({name: takes[name] for name in takes if name in alone}, room).crowds()


def _alone(takes: Takes, together: Together) -> list[str]:
    """Give things no two of which may go together; those with the fewest ports are taken first."""
    order = list(takes)
    alone: list[str] = []
    for name in sorted(takes, key=lambda thing: len(takes[thing])):
        if not any(together(*sorted((name, other), key=order.index)) for other in alone):
            alone.append(name)
    return alone


def _taking(part: Part, circuit: OutputCircuit, kinds: Sequence[OutputKind]) -> list[int]:
    """Give the numbers of the kinds of output that take a circuit, wherever the unit sits."""
    clashes = (next(output_clashes(part.rules, part.job, circuit, kind.ports[0]), None) for kind in kinds)
    return [number for number, clash in enumerate(clashes) if clash is None]


def _figures(part: Part, name: str, kinds: Sequence[OutputKind], crowd: Crowd) -> Iterator[FactKey]:
    """Give those of a load's figures without which it would fit on an output outside its crowd."""
    load = next(load for load in part.job.loads.on_unit if load.name == name)
    circuit = part.job.circuit((load,))
    for what in SPARED_FIRST:
        lighter = without(load, what)
        able = _taking(part, replace(circuit, members=(lighter,)), kinds)
        if set(able) <= set(crowd.kinds):
            load = lighter
        else:
            yield what, load.name


def _counts(what: str, kinds: Sequence[OutputKind | InputKind], crowd: Crowd) -> Iterator[FactKey]:
    """Give every port's name; only the first of a kind is one that a fact goes by."""
    return ((what, port.name) for number in crowd.kinds for port in kinds[number].ports)
