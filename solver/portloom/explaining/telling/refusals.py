"""Why a load or a switch gets no port: each port's refusal, ports with the same reason told together."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from portloom.base.unit import Output, Port
from portloom.job.circuits import InputCircuit, OutputCircuit
from portloom.job.losses import Losses
from portloom.job.site import Site
from portloom.job.wired import laid_shortest
from portloom.rules.book import input_clashes, output_clashes, wired_clashes
from portloom.rules.clash import Clash
from portloom.rules.faults import no_wire_to
from portloom.rules.shapes import Rule


@dataclass(frozen=True)
class Refusal:
    """Ports that refuse, by one rule, and the sentence for the first of them."""

    ports: tuple[str, ...]
    clash: Clash


def refused_output(rules: Sequence[Rule], site: Site, circuit: OutputCircuit, output: Output) -> Clash | None:
    """Return what keeps a circuit from an output by itself, or None where nothing does."""
    clash = next(output_clashes(rules, site.job, circuit, output), None)
    if clash is not None:
        return clash
    wired = laid_shortest(site, Losses(site), circuit, output)
    if wired is None:
        return no_wire_to(site.face(output.face), circuit, site.job)
    return next(wired_clashes(rules, wired), None)


def refused_input(rules: Sequence[Rule], circuit: InputCircuit, port: Port) -> Clash | None:
    """Return what keeps switches from an input by themselves, or None where nothing does."""
    return next(input_clashes(rules, circuit, port), None)


def merged(refusals: Iterable[tuple[str, Clash | None]]) -> tuple[Refusal, ...]:
    """Tell ports that refuse by the same rule together; the sentence is that of the first."""
    by_rule: dict[str, list[tuple[str, Clash]]] = {}
    for port, clash in refusals:
        if clash is not None:
            by_rule.setdefault(clash.rule, []).append((port, clash))
    return tuple(Refusal(tuple(port for port, _ in group), group[0][1]) for group in by_rule.values())
