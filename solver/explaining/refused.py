"""Who can go nowhere else: what refuses the things of a conflict on each port."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from solver.explaining.counts import ports_of
from solver.explaining.kept import Part, Whole, part_of
from solver.explaining.refusals import Refusal, merged, refused_input, refused_output
from solver.job.circuits import InputCircuit
from solver.rules.facts import FactKey
from solver.rules.shapes import Clash
from solver.words.figures import listed, port_range

Ports = Literal["outputs", "inputs"]


@dataclass(frozen=True)
class Refused:
    """Ports, the rule by which they refuse, and the sentence, for all things that they refuse so."""

    rule: str
    sentence: str
    ports: tuple[str, ...]


def refused(whole: Whole, keys: Sequence[FactKey]) -> tuple[Refused, ...]:
    """Tell what refuses each thing of a conflict on each port but those that the conflict counts.

    Things that the same ports refuse by the same rule are told together.
    """
    part = part_of(whole, keys)
    alike: dict[tuple[tuple[str, ...], str], list[Refusal]] = {}
    orders: dict[tuple[str, ...], list[str]] = {}
    for ports, order, clashes in _clashes(whole, part):
        own = ports_of(whole, keys, ports)
        for refusal in merged((port, clash) for port, clash in clashes if port not in own):
            alike.setdefault((refusal.ports, refusal.clash.rule), []).append(refusal)
            orders[refusal.ports] = order
    return tuple(_told(ports, orders[ports], rule, refusals) for (ports, rule), refusals in alike.items())


def _told(ports: tuple[str, ...], order: Sequence[str], rule: str, refusals: Sequence[Refusal]) -> Refused:
    first, more = refusals[0].clash, [refusal.clash.subject for refusal in refusals[1:]]
    likewise = f"; likewise {listed(more)}" if more else ""
    return Refused(rule, f"{port_range(ports, order)}: {first.sentence}{likewise}", ports)


def _clashes(whole: Whole, part: Part) -> Iterator[tuple[Ports, list[str], list[tuple[str, Clash | None]]]]:
    """Give for each load and switch what refuses it on each port of the unit, at the first place."""
    site = part.sites[0]
    names = [output.name for output in whole.job.unit.outputs]
    outputs = [output for output in part.job.unit.outputs if output.name in names]
    for load in part.job.loads.on_unit:
        circuit = part.job.circuit((load,))
        yield "outputs", names, [(o.name, refused_output(part.rules, site, circuit, o)) for o in outputs]
    inputs = [port.name for port in whole.job.unit.inputs]
    for switch in part.job.bike.inputs:
        alone = InputCircuit((switch,))
        own = [port for port in part.job.unit.inputs if port.name in inputs]
        yield "inputs", inputs, [(port.name, refused_input(part.rules, alone, port)) for port in own]
