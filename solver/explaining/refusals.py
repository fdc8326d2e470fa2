"""Why a load or a switch gets no port: each port's refusal, ports with the same reason told together."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from solver.checking.judge import budget_clashes, link_clashes
from solver.frame.network import NOWHERE
from solver.frame.trees import Trees
from solver.job.circuits import InputCircuit, OutputCircuit
from solver.job.laid import Laid
from solver.job.losses import Losses
from solver.job.site import Site
from solver.job.sizing import settled
from solver.job.wired import WiredInput, WiredOutput, strand_of
from solver.rules.book import input_clashes, output_clashes, whole_clashes, wired_clashes
from solver.rules.shapes import Clash, Rule
from solver.words.figures import listed
from solver.words.unit import Output, Port


@dataclass(frozen=True)
class Refusal:
    """Ports that refuse, by one rule, and the sentence for the first of them."""

    ports: tuple[str, ...]
    clash: Clash


def refused_output(rules: Sequence[Rule], site: Site, circuit: OutputCircuit, output: Output) -> Clash | None:
    """Give what keeps a circuit from an output by itself, or None where nothing does."""
    clash = next(output_clashes(rules, site.job, circuit, output), None)
    if clash is not None:
        return clash
    wired = _wired(site, Losses(site), circuit, output)
    if wired is None:
        return Clash("wire", circuit.label, f"no wire leads to {circuit.label} without the legs that it avoids")
    return next(wired_clashes(rules, wired), None)


def _wired(site: Site, losses: Losses, circuit: OutputCircuit, output: Output) -> WiredOutput | None:
    """Lay a circuit from an output by its shortest tree, or None where no way leads there."""
    face = site.face(output.face)
    closed = site.job.network.numbers_of(circuit.avoid)
    run = Trees(site.job.network, circuit.points, (face,), closed).tree(circuit.points, face)
    return None if run is None else WiredOutput(site, losses, strand_of(site, circuit, run, face), output)


def refused_input(rules: Sequence[Rule], circuit: InputCircuit, port: Port) -> Clash | None:
    """Give what keeps switches from an input by themselves, or None where nothing does."""
    return next(input_clashes(rules, circuit, port), None)


def refused_beside(rules: Sequence[Rule], laid: Laid, circuit: OutputCircuit, output: Output) -> Clash | None:
    """Give what keeps a circuit from an output beside all that is laid already."""
    alone = refused_output(rules, laid.site, circuit, output)
    if alone is not None:
        return alone
    there = next((wired for wired in laid.outputs if wired.output.name == output.name), None)
    if there is not None:
        return Clash("outputs", circuit.label, f"it drives {there.circuit.label}")
    wired = _wired(laid.site, laid.losses, circuit, output)
    more = laid.with_output(wired) if wired is not None else laid
    broken = (*budget_clashes(rules, more), *link_clashes(rules, more), *whole_clashes(rules, settled(more)))
    return next((clash for clash in broken if clash.rule != "cover"), None)


def refused_input_beside(rules: Sequence[Rule], laid: Laid, circuit: InputCircuit, port: Port) -> Clash | None:
    """Give what keeps switches from an input beside all that is laid already."""
    alone = refused_input(rules, circuit, port)
    if alone is not None:
        return alone
    there = next((wired for wired in laid.inputs if wired.port.name == port.name), None)
    if there is not None:
        return Clash("inputs", circuit.label, f"it reads {there.circuit.label}")
    run = laid.site.job.network.wire(laid.site.face(port.face), circuit.points[0]) or NOWHERE
    more = laid.with_input(WiredInput(laid.site, circuit, run, port))
    return next((clash for clash in budget_clashes(rules, more) if clash.rule != "cover"), None)


def merged(refusals: Iterable[tuple[str, Clash | None]]) -> tuple[Refusal, ...]:
    """Tell ports that refuse by the same rule together; the sentence is that of the first."""
    by_rule: dict[str, list[tuple[str, Clash]]] = {}
    for port, clash in refusals:
        if clash is not None:
            key = clash.rule if clash.rule not in ("outputs", "inputs") else f"{clash.rule} {clash.sentence}"
            by_rule.setdefault(key, []).append((port, clash))
    return tuple(Refusal(tuple(port for port, _ in group), group[0][1]) for group in by_rule.values())


def port_range(names: Sequence[str], order: Sequence[str]) -> str:
    """Say ports in the unit's order, three or more in a row as 'out 9 to out 11'."""
    return listed(tuple(_spans(sorted(names, key=order.index), order)))


def _spans(names: Sequence[str], order: Sequence[str]) -> Iterator[str]:
    span: list[str] = []
    for name in (*names, ""):
        if span and name and order.index(name) == order.index(span[-1]) + 1:
            span.append(name)
            continue
        if len(span) > 2:
            yield f"{span[0]} to {span[-1]}"
        else:
            yield from span
        span = [name]
