"""Who may go where, wherever the unit sits: circuits on kinds of ports, switches through multiplexers."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from portloom.base.bike import Multiplexer, Switch
from portloom.job.circuits import InputCircuit, OutputCircuit
from portloom.job.consumers import Later
from portloom.job.job import Job
from portloom.job.kinds import InputKind, OutputKind, input_kinds, output_kinds
from portloom.rules.book import input_clashes, multiplexer_clashes, output_clashes, switch_clashes
from portloom.rules.shapes import Rule


@dataclass(frozen=True)
class Candidates:
    """What the rules allow wherever the unit sits: circuits on kinds of ports."""

    outputs: tuple[tuple[OutputCircuit, OutputKind], ...]
    later: tuple[tuple[OutputCircuit, OutputKind, Later], ...]
    inputs: tuple[tuple[InputCircuit, InputKind], ...]
    switches: tuple[tuple[Switch, Multiplexer], ...]
    multiplexers: tuple[tuple[Multiplexer, InputKind], ...]


def candidates(
    job: Job, rules: Sequence[Rule], outputs: Sequence[OutputCircuit], inputs: Sequence[InputCircuit]
) -> Candidates:
    """Pair every circuit with every kind of port that takes it at any place."""
    kinds = output_kinds(job.unit)

    def taken_by(circuit: OutputCircuit) -> Iterable[OutputKind]:
        return (k for k in kinds if next(output_clashes(rules, job, circuit, k.ports[0]), None) is None)

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
            for switch in job.bike.inputs
            if next(switch_clashes(rules, job, switch, box), None) is None
        ),
        tuple(
            (box, kind)
            for box in job.bike.multiplexers
            for kind in input_kinds(job.unit)
            if next(multiplexer_clashes(rules, box, kind.ports[0]), None) is None
        ),
    )
