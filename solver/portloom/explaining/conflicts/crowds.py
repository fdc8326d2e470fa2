"""Crowds: more loads, or switches, than the ports that any of them can go on, by matching."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations

from portloom.base.bike import Multiplexer
from portloom.explaining.conflicts.kept import RelaxedInstance
from portloom.job.circuits import InputCircuit, OutputCircuit
from portloom.job.consumers import relay_coil
from portloom.job.kinds import InputKind, OutputKind, PortDirection, input_kinds, output_kinds
from portloom.rules.book import input_clashes, input_pair_clashes, output_clashes, pair_clashes, way_clashes
from portloom.rules.fact_kinds import (
    BAN,
    DECIDING,
    INPUTS,
    LOAD,
    OUT_OF_USE,
    OUTPUTS,
    SWITCH,
    SWITCH_BAN,
    SWITCH_PIN,
    WAYS,
    FactKind,
    all_harmless,
    freeing,
    without,
)
from portloom.rules.facts import FactKey, Keys
from portloom.search.matching import Crowd, Matching

Takes = Mapping[str, Sequence[int]]
Together = Callable[[str, str], bool]


def output_crowds(relaxed: RelaxedInstance) -> Iterator[Keys]:
    """Return the facts of each crowd of loads, the smallest first; a load that no output takes is a crowd of one."""
    kinds = output_kinds(relaxed.job.unit)
    for crowd in _crowds(*_loads(relaxed, kinds), [len(kind.ports) for kind in kinds]):
        yield (
            *(LOAD.key(name) for name in crowd.things),
            *(key for name in crowd.things for key in _figures(relaxed, name, kinds, crowd)),
            *_counts(OUTPUTS, kinds, crowd),
            *map(OUT_OF_USE.key, relaxed.job.bike.out_of_use),
            *(BAN.key(one, other) for one, other in combinations(crowd.things, 2)),
        )


def input_crowds(relaxed: RelaxedInstance) -> Iterator[Keys]:
    """Return the facts of each crowd of switches, the smallest first.

    That a multiplexer in use takes an input itself is left out of the count: a crowd is one without that.
    """
    kinds, boxes = input_kinds(relaxed.job.unit), relaxed.job.bike.multiplexers
    room = [*(len(kind.ports) for kind in kinds), *(_ways(relaxed, box) for box in boxes)]
    for crowd in _crowds(*_switches(relaxed, kinds), room):
        yield (
            *(SWITCH.key(name) for name in crowd.things),
            *(key for name in crowd.things if len(crowd.kinds) < len(room) for key in freeing(name)),
            *map(SWITCH_PIN.key, crowd.things),
            *_counts(INPUTS, kinds, crowd),
            *map(OUT_OF_USE.key, relaxed.job.bike.out_of_use),
            *(WAYS.key(boxes[number - len(kinds)].name) for number in crowd.kinds if number >= len(kinds)),
            *(SWITCH_BAN.key(one, other) for one, other in combinations(crowd.things, 2)),
        )


def _ways(relaxed: RelaxedInstance, box: Multiplexer) -> int:
    """Return how many switches a multiplexer has room for: all, where that it has so many ways is dropped."""
    return box.ways if WAYS.key(box.name) in relaxed.kept else len(relaxed.job.inputs)


def wanting(relaxed: RelaxedInstance, ports: PortDirection, firsts: Sequence[str]) -> tuple[str, ...]:
    """Return things that can only go on ports of the kinds whose first ports are named, no two of them together.

    A multiplexer is named like a port that takes switches.
    """
    takes, together = _taken(relaxed, ports)
    own = _kinds_named(relaxed, ports, firsts)
    return tuple(name for name in _alone(takes, together) if set(takes[name]) <= own)


def confined(relaxed: RelaxedInstance, ports: PortDirection, firsts: Sequence[str]) -> tuple[str, ...]:
    """Return all things that can only go on ports of those kinds, whoever may be together."""
    own = _kinds_named(relaxed, ports, firsts)
    return tuple(name for name, kinds in _taken(relaxed, ports)[0].items() if set(kinds) <= own)


def coils_on(relaxed: RelaxedInstance, firsts: Sequence[str], *, figures: bool) -> frozenset[str]:
    """Return the loads whose relays' coils, if they had one, could only go on outputs of these kinds.

    ``figures`` tells whether what the coils are and draw counts.
    """
    job, kinds = relaxed.job, output_kinds(relaxed.job.unit)
    own = _kinds_named(relaxed, "outputs", firsts)
    found: set[str] = set()
    for load in (load for load in job.bike.loads if not load.from_):  # a guest has no output, so no relay either
        # The coil is on when its load is, by whose name that is known.
        coil = replace(relay_coil(load, job.bike, job.assume), name=load.name)
        judged = coil if figures else replace(coil, **all_harmless(coil))
        if own.issuperset(_taking(relaxed, OutputCircuit((judged,), ()), kinds)):
            found.add(load.name)
    return frozenset(found)


def _taken(relaxed: RelaxedInstance, ports: PortDirection) -> tuple[Takes, Together]:
    if ports == OUTPUTS.ports:
        return _loads(relaxed, output_kinds(relaxed.job.unit))
    return _switches(relaxed, input_kinds(relaxed.job.unit))


def _kinds_named(relaxed: RelaxedInstance, ports: PortDirection, firsts: Sequence[str]) -> set[int]:
    """Return the numbers of kinds whose first ports are named, and after the inputs of multiplexers."""
    if ports == OUTPUTS.ports:
        names = [kind.ports[0].name for kind in output_kinds(relaxed.job.unit)]
    else:
        inputs = (kind.ports[0].name for kind in input_kinds(relaxed.job.unit))
        names = [*inputs, *(box.name for box in relaxed.job.bike.multiplexers)]
    return {number for number, name in enumerate(names) if name in firsts}


def _loads(relaxed: RelaxedInstance, kinds: Sequence[OutputKind]) -> tuple[Takes, Together]:
    """Return for each load the kinds of output that take it, and who may share."""
    circuits = {load.name: relaxed.job.circuit((load,)) for load in relaxed.job.loads.on_unit}

    def together(one: str, other: str) -> bool:
        both = OutputCircuit((*circuits[one].members, *circuits[other].members), ())
        return next(pair_clashes(relaxed.rules, both), None) is None

    return {name: _taking(relaxed, circuit, kinds) for name, circuit in circuits.items()}, together


def _switches(relaxed: RelaxedInstance, kinds: Sequence[InputKind]) -> tuple[Takes, Together]:
    circuits = {switch.name: InputCircuit((switch,)) for switch in relaxed.job.inputs}

    def together(one: str, other: str) -> bool:
        both = InputCircuit((*circuits[one].switches, *circuits[other].switches))
        return next(input_pair_clashes(relaxed.rules, both), None) is None

    return {name: list(_taking_switch(relaxed, circuit, kinds)) for name, circuit in circuits.items()}, together


def _taking_switch(relaxed: RelaxedInstance, circuit: InputCircuit, kinds: Sequence[InputKind]) -> Iterator[int]:
    """Return the numbers of the kinds of input, and after them of the multiplexers, that take a switch."""
    for number, kind in enumerate(kinds):
        if next(input_clashes(relaxed.rules, circuit, kind.ports[0]), None) is None:
            yield number
    for number, box in enumerate(relaxed.job.bike.multiplexers, len(kinds)):
        if next(way_clashes(relaxed.rules, relaxed.job, circuit.switches[0], box), None) is None:
            yield number


def _crowds(takes: Takes, together: Together, room: Sequence[int]) -> tuple[Crowd, ...]:
    """Return the crowds among things no two of which may go together."""
    alone = _alone(takes, together)
    return Matching({name: takes[name] for name in takes if name in alone}, room).crowds()


def _alone(takes: Takes, together: Together) -> list[str]:
    """Return things no two of which may go together; those with the fewest ports are taken first."""
    order = list(takes)
    alone: list[str] = []
    for name in sorted(takes, key=lambda thing: len(takes[thing])):
        if not any(together(*sorted((name, other), key=order.index)) for other in alone):
            alone.append(name)
    return alone


def _taking(relaxed: RelaxedInstance, circuit: OutputCircuit, kinds: Sequence[OutputKind]) -> list[int]:
    """Return the numbers of the kinds of output that take a circuit, wherever the unit sits."""
    clashes = (next(output_clashes(relaxed.rules, relaxed.job, circuit, kind.ports[0]), None) for kind in kinds)
    return [number for number, clash in enumerate(clashes) if clash is None]


def _figures(relaxed: RelaxedInstance, name: str, kinds: Sequence[OutputKind], crowd: Crowd) -> Iterator[FactKey]:
    """Return those of a load's figures without which it would fit on an output outside its crowd."""
    load = next(load for load in relaxed.job.loads.on_unit if load.name == name)
    circuit = relaxed.job.circuit((load,))
    for kind in DECIDING:
        lighter = without(load, kind)
        able = _taking(relaxed, replace(circuit, members=(lighter,)), kinds)
        if set(able) <= set(crowd.kinds):
            load = lighter
        else:
            yield kind.key(load.name)


def _counts(what: FactKind, kinds: Sequence[OutputKind | InputKind], crowd: Crowd) -> Iterator[FactKey]:
    """Return every port's name; only the first of a kind is one that a fact goes by."""
    return (what.key(port.name) for number in crowd.kinds if number < len(kinds) for port in kinds[number].ports)
