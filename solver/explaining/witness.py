"""What one fact of a conflict stands in the way of: a plan made without it, judged with it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from solver.explaining.kept import Part, named, part_of
from solver.explaining.question import Questions
from solver.job.laid import Laid
from solver.job.losses import Losses
from solver.job.site import Site
from solver.job.sizing import settled
from solver.job.wired import WiredInput, WiredOutput, strand_of
from solver.rules.book import broken_rows, needs, output_clashes, place_clashes, whole_clashes, wired_clashes
from solver.rules.facts import FactKey
from solver.rules.shapes import Budget, Key, Rule, Share
from solver.words.unit import Port

Keys = Sequence[FactKey]


@dataclass(frozen=True)
class Stand:
    """What a fact refuses of the plan that could do without it: by which rule, and the sentence."""

    rule: str
    subject: str
    sentence: str


def stand_of(questions: Questions, keys: Keys, fact: FactKey) -> Stand | None:
    """Give what ``fact`` refuses, with figures; None where the plan without it breaks nothing that can be told."""
    witness = questions.least(tuple(key for key in keys if key != fact), fact)
    if witness is None:
        return None
    part = part_of(questions.whole, keys)
    site = next(site for site in part.sites if site.label == witness.site.label)
    return next(_clashes(part, _laid_again(part, site, witness)), None)


def stand_of_sizes(questions: Questions, keys: Keys) -> Stand | None:
    """Give what is too thin, or too thick for its looms, in a plan that is right but for that."""
    plan = questions.unsized(keys)
    return None if plan is None else next(_clashes(part_of(questions.whole, keys), plan), None)


def _laid_again(part: Part, site: Site, plan: Laid) -> Laid:
    """Lay the same circuits on the same ports, judged by what is kept with the fact."""
    losses = Losses(site)
    outputs = tuple(_output(part, site, losses, wired) for wired in plan.outputs)
    inputs = tuple(WiredInput(site, wired.circuit, wired.run, _port(part, wired.port)) for wired in plan.inputs)
    return Laid(site, losses, outputs, inputs, ())


def _output(part: Part, site: Site, losses: Losses, wired: WiredOutput) -> WiredOutput:
    names = {load.name for load in wired.circuit.members}
    circuit = part.job.circuit(load for load in part.job.loads.on_unit if load.name in names)
    output = next(output for output in part.job.unit.outputs if output.name == named(wired.output.name))
    return WiredOutput(site, losses, strand_of(site, circuit, wired.run, site.face(output.face)), output)


def _port(part: Part, port: Port) -> Port:
    return next(own for own in part.job.unit.inputs if own.name == named(port.name))


def _clashes(part: Part, laid: Laid) -> Iterator[Stand]:
    rules = part.rules
    for clash in place_clashes(rules, laid.site):
        yield Stand(clash.rule, clash.subject, f"{clash.subject}: {clash.sentence}")
    yield from _overfull(rules, laid)
    for wired in laid.outputs:
        for clash in (*output_clashes(rules, part.job, wired.circuit, wired.output), *wired_clashes(rules, wired)):
            yield Stand(clash.rule, clash.subject, clash.sentence)
        for rule, need in needs(rules, part.job, wired.circuit, wired.output):
            if not any(need.met_by(switches.circuit, switches.port) for switches in laid.inputs):
                yield Stand(rule.slug, wired.circuit.label, need.sentence)
    sized = settled(laid)
    for clash in whole_clashes(rules, sized):
        yield Stand(clash.rule, clash.subject, clash.sentence)
    yield from _overfull(rules, sized.laid)


def _overfull(rules: Sequence[Rule], laid: Laid) -> Iterator[Stand]:
    """Give the fullest sum of each rule that is too large, with each circuit's share."""
    for broken in sorted(broken_rows(rules, laid), key=lambda row: row.row.at_most - row.found):
        if broken.found > broken.row.at_most:
            shares = list(_shares(broken.budget, broken.key, laid))
            tell = broken.budget.summed
            said = broken.budget.sentence(broken.row, broken.found)
            yield Stand(broken.rule.slug, broken.row.subject, tell(broken.row, shares, broken.found) if tell else said)


def _shares(budget: Budget, key: Key, laid: Laid) -> Iterator[Share]:
    for wired in laid.outputs:
        for own, amount in budget.output(wired):
            if own == key and amount:
                yield wired.circuit.label, amount
    for switches in laid.inputs:
        for own, amount in budget.input(switches):
            if own == key and amount:
                yield switches.circuit.label, amount
