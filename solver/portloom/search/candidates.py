"""Who may go where, wherever the unit sits: every circuit that the rules allow, on every kind of port that takes it.

Circuits come only from declared ``share`` groups, whatever is set aside, so they stay few. Identical loads are
counted, not told apart: a circuit with two of five identical lamps is made once, with the first two.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import field
from itertools import chain
from types import MappingProxyType

from portloom.base.bike import Multiplexer, Switch
from portloom.base.unit import Output
from portloom.base.values import dataclass
from portloom.job.circuits import InputCircuit, OutputCircuit
from portloom.job.consumers import Consumer, Later
from portloom.job.job import Job
from portloom.job.kinds import InputKind, OutputKind, input_kinds, output_kinds
from portloom.rules.book import (
    input_clashes,
    input_pair_clashes,
    multiplexer_clashes,
    output_clashes,
    pair_clashes,
    switch_clashes,
    unlaid_clashes,
)
from portloom.rules.shapes import Rule


def output_circuits(job: Job, rules: Sequence[Rule]) -> tuple[OutputCircuit, ...]:
    """Return every allowed circuit of loads on the unit, by its first load's place in the file."""
    alike = alike_loads(job)
    return tuple(job.circuit(members) for first in range(len(alike)) for members in _groups_from(alike, rules, first))


def alike_loads(job: Job) -> tuple[tuple[Consumer, ...], ...]:
    """Return the loads on the unit, identical ones together, in the order of the file."""
    groups: dict[int, list[Consumer]] = {}
    for load in job.loads.on_unit:
        groups.setdefault(job.alike[load.name], []).append(load)
    return tuple(tuple(group) for group in groups.values())


def _groups_from(
    alike: Sequence[tuple[Consumer, ...]], rules: Sequence[Rule], first: int
) -> Iterator[tuple[Consumer, ...]]:
    """Return the allowed groups whose first kind of load is number ``first``."""
    share = alike[first][0].share
    later = [group for group in alike[first + 1 :] if share is not None and group[0].share == share]
    for count in range(1, len(alike[first]) + 1 if share is not None else 2):
        members = alike[first][:count]
        if may_share(rules, members):
            yield from _extended(rules, members, later)


def _extended(
    rules: Sequence[Rule], members: tuple[Consumer, ...], later: Sequence[tuple[Consumer, ...]]
) -> Iterator[tuple[Consumer, ...]]:
    yield members
    for number, alike in enumerate(later):
        for count in range(1, len(alike) + 1):
            more = members + alike[:count]
            if not may_share(rules, more):
                break
            yield from _extended(rules, more, later[number + 1 :])


Ways = Mapping[str, frozenset[str]]
"""For some loads the legs that their wires may lie around, or not, as a plan likes it."""
NO_WAYS: Ways = MappingProxyType({})


def _of_all_alike(job: Job, ways: Ways) -> Ways:
    """Return for each load also what any load has that nothing but its name tells apart: one stands for all of them."""
    of_nature: dict[int, frozenset[str]] = {}
    for name, legs in ways.items():
        if name in job.alike:
            of_nature[job.alike[name]] = of_nature.get(job.alike[name], frozenset()) | legs
    return {**ways, **{name: of_nature[own] for name, own in job.alike.items() if own in of_nature}}


def may_share(rules: Sequence[Rule], members: tuple[Consumer, ...]) -> bool:
    """Tell whether no rule keeps two of some loads from sharing an output."""
    return next(pair_clashes(rules, OutputCircuit(members, ())), None) is None


def input_circuits(job: Job, rules: Sequence[Rule]) -> tuple[InputCircuit, ...]:
    """Return every allowed group of switches for one input, by the first switch's place in the file."""
    switches = job.inputs
    return tuple(
        circuit
        for number, switch in enumerate(switches)
        for circuit in _switch_groups(rules, (switch,), _of_its_group(switch, switches[number + 1 :]))
    )


def _of_its_group(switch: Switch, later: Sequence[Switch]) -> list[Switch]:
    return [other for other in later if switch.share is not None and other.share == switch.share]


def _switch_groups(
    rules: Sequence[Rule], members: tuple[Switch, ...], later: Sequence[Switch]
) -> Iterator[InputCircuit]:
    yield InputCircuit(members)
    for number, switch in enumerate(later):
        more = InputCircuit((*members, switch))
        if next(input_pair_clashes(rules, more), None) is None:
            yield from _switch_groups(rules, more.switches, later[number + 1 :])


def _is_refused(rules: Sequence[Rule], job: Job, circuit: OutputCircuit, output: Output) -> bool:
    clashes = chain(output_clashes(rules, job, circuit, output), unlaid_clashes(rules, job, circuit, output))
    return next(clashes, None) is not None


@dataclass(frozen=True)
class Candidates:
    """What the rules allow wherever the unit sits: circuits on kinds of ports."""

    outputs: tuple[tuple[OutputCircuit, OutputKind], ...]
    later: tuple[tuple[OutputCircuit, OutputKind, Later], ...]
    inputs: tuple[tuple[InputCircuit, InputKind], ...]
    switches: tuple[tuple[Switch, Multiplexer], ...]
    multiplexers: tuple[tuple[Multiplexer, InputKind], ...]
    ways: Ways = field(default_factory=dict)
    """Around which legs a plan may lead the wires of loads."""


def candidates(
    job: Job,
    rules: Sequence[Rule],
    outputs: Sequence[OutputCircuit],
    inputs: Sequence[InputCircuit],
    ways: Ways = NO_WAYS,
) -> Candidates:
    """Pair every circuit with every kind of port that takes it at any place."""
    kinds = output_kinds(job.unit)

    def taken_by(circuit: OutputCircuit) -> Iterable[OutputKind]:
        return (kind for kind in kinds if not _is_refused(rules, job, circuit, kind.ports[0]))

    return Candidates(
        tuple((circuit, kind) for circuit in outputs for kind in taken_by(circuit)),
        tuple(
            (circuit, kind, later)
            for later in job.loads.later
            for circuit in [OutputCircuit((later.consumer,), ())]
            for kind in taken_by(circuit)
        ),
        tuple(
            (circuit, kind)
            for circuit in inputs
            for kind in input_kinds(job.unit)
            if next(input_clashes(rules, circuit, kind.ports[0]), None) is None
        ),
        tuple(
            (switch, box)
            for box in job.bike.multiplexers
            for switch in job.inputs
            if next(switch_clashes(rules, job, switch, box), None) is None
        ),
        tuple(
            (box, kind)
            for box in job.bike.multiplexers
            for kind in input_kinds(job.unit)
            if next(multiplexer_clashes(rules, box, kind.ports[0]), None) is None
        ),
        _of_all_alike(job, ways) if ways else NO_WAYS,
    )
