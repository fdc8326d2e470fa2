"""The rule book: every rule, in the order in which their clashes are told."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from solver.job.circuits import InputCircuit, OutputCircuit
from solver.job.job import Job
from solver.job.laid import Laid
from solver.job.site import Site
from solver.job.sizing import Sized
from solver.job.wired import WiredOutput
from solver.rules import (
    bank,
    brake_lamp,
    cover,
    cranking,
    engine_run,
    engine_stop,
    follow,
    indicator_pair,
    inductive,
    inputs,
    key_off,
    main_fuse,
    mode,
    opening,
    outputs,
    run,
    share,
    signal,
    start,
    trip,
    unit_total,
    wire,
)
from solver.rules.shapes import Budget, Clash, Key, Need, Row, Rule
from solver.words.unit import Output, Port

RULES: tuple[Rule, ...] = (
    wire.RULE,
    main_fuse.RULE,
    trip.RULE,
    bank.RULE,
    unit_total.RULE,
    opening.RULE,
    brake_lamp.RULE,
    share.RULE,
    indicator_pair.RULE,
    engine_stop.RULE,
    run.RULE,
    start.RULE,
    cranking.RULE,
    inductive.RULE,
    key_off.RULE,
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


def whole_clashes(rules: Iterable[Rule], sized: Sized) -> Iterator[Clash]:
    """Give what is wrong with a whole plan once every wire has its true size."""
    for rule in rules:
        for subject, sentence in rule.whole(sized) if rule.whole else ():
            yield Clash(rule.slug, subject, sentence)


@dataclass(frozen=True)
class BrokenRow:
    """A sum that leaves its bounds: the rule, which of its budgets, the row and the sum."""

    rule: Rule
    number: int
    key: Key
    budget: Budget
    found: int

    @property
    def row(self) -> Row:
        """The row that is broken."""
        return self.budget.rows[self.key]


def broken_rows(rules: Iterable[Rule], laid: Laid) -> Iterator[BrokenRow]:
    """Give every row of a plan's budgets that leaves its bounds."""
    for rule in rules:
        for number, budget in enumerate(rule.budgets(laid.site) if rule.budgets else ()):
            sums = sums_of(budget, laid)
            for key, row in budget.rows.items():
                if not row.at_least <= sums[key] <= row.at_most:
                    yield BrokenRow(rule, number, key, budget, sums[key])


def sums_of(budget: Budget, laid: Laid) -> dict[Key, int]:
    """Give the sums of a budget over a plan."""
    sums = {key: row.fixed for key, row in budget.rows.items()}
    for wired in (*laid.outputs, *laid.later):
        for key, amount in budget.output(wired):
            sums[key] += amount
    for switches in laid.inputs:
        for key, amount in budget.input(switches):
            sums[key] += amount
    return sums


def needs(rules: Iterable[Rule], job: Job, circuit: OutputCircuit, output: Output) -> Iterator[tuple[Rule, Need]]:
    """Give what a circuit on an output needs of the inputs, with the rules that ask for it."""
    for rule in rules:
        for need in rule.link(job, circuit, output) if rule.link else ():
            yield rule, need
