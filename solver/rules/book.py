"""The rule book: every rule, in the order in which their clashes are told."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations

from solver.job.circuits import InputCircuit, OutputCircuit
from solver.job.job import Job
from solver.job.site import Site
from solver.job.wired import WiredOutput
from solver.rules import (
    bank,
    cover,
    engine_run,
    follow,
    inputs,
    main_fuse,
    mode,
    opening,
    outputs,
    share,
    signal,
    trip,
    unit_total,
    wire,
)
from solver.rules.shapes import Clash, Need, Rule
from solver.words.unit import Output, Port

RULES: tuple[Rule, ...] = (
    wire.RULE,
    main_fuse.RULE,
    trip.RULE,
    bank.RULE,
    unit_total.RULE,
    opening.RULE,
    share.RULE,
    mode.RULE,
    engine_run.RULE,
    follow.RULE,
    signal.RULE,
    cover.RULE,
    outputs.RULE,
    inputs.RULE,
)


def rules_of(job: Job) -> tuple[Rule, ...]:
    """Give the rules that hold for a bike: all but those that its file sets aside."""
    return tuple(rule for rule in RULES if rule.slug not in job.bike.set_aside)


def pair_clashes(rules: Sequence[Rule], circuit: OutputCircuit) -> Iterator[Clash]:
    """Give what keeps two members of a circuit from sharing an output."""
    for one, other in combinations(circuit.members, 2):
        for rule in rules:
            if rule.pair and (said := rule.pair(one, other)):
                yield Clash(rule.slug, circuit.label, said)


def input_pair_clashes(rules: Sequence[Rule], circuit: InputCircuit) -> Iterator[Clash]:
    """Give what keeps two switches from sharing an input."""
    for one, other in combinations(circuit.switches, 2):
        for rule in rules:
            if rule.input_pair and (said := rule.input_pair(one, other)):
                yield Clash(rule.slug, circuit.label, said)


def output_clashes(rules: Sequence[Rule], job: Job, circuit: OutputCircuit, output: Output) -> Iterator[Clash]:
    """Give what keeps a circuit from an output wherever the unit sits."""
    for rule in rules:
        if rule.output_fit and (said := rule.output_fit(job, circuit, output)):
            yield Clash(rule.slug, circuit.label, said)


def wired_clashes(rules: Sequence[Rule], wired: WiredOutput) -> Iterator[Clash]:
    """Give what keeps a circuit from an output with the wire that it has there."""
    for rule in rules:
        if rule.wired_fit and (said := rule.wired_fit(wired)):
            yield Clash(rule.slug, wired.circuit.label, said)


def input_clashes(rules: Sequence[Rule], circuit: InputCircuit, port: Port) -> Iterator[Clash]:
    """Give what keeps switches from an input."""
    for rule in rules:
        if rule.input_fit and (said := rule.input_fit(circuit, port)):
            yield Clash(rule.slug, circuit.label, said)


def place_clashes(rules: Sequence[Rule], site: Site) -> Iterator[Clash]:
    """Give what keeps the unit from a place."""
    for rule in rules:
        if rule.place_fit and (said := rule.place_fit(site)):
            yield Clash(rule.slug, site.label, said)


def needs(
    rules: Iterable[Rule], job: Job, circuit: OutputCircuit, output: Output
) -> Iterator[tuple[Rule, Need]]:
    """Give what a circuit on an output needs of the inputs, with the rules that ask for it."""
    for rule in rules:
        if rule.link and (need := rule.link(job, circuit, output)):
            yield rule, need
