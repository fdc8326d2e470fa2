"""What one fact of a conflict stands in the way of: a plan made without it, judged with it."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from portloom.base.unit import Port
from portloom.base.values import dataclass
from portloom.explaining.conflicts.kept import RelaxedInstance, named, relaxed_to
from portloom.explaining.conflicts.question import Questions
from portloom.job.consumers import Consumer
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.losses import Losses
from portloom.job.site import Site
from portloom.job.sizing import size_wires
from portloom.job.wired import WiredOutput
from portloom.rules.book import broken_rows, needs, output_clashes, place_clashes, whole_clashes, wired_clashes
from portloom.rules.fact_kinds import kind_of
from portloom.rules.facts import FactKey
from portloom.rules.shapes import Rule


@dataclass(frozen=True)
class BlockingViolation:
    """What a fact refuses of the plan that could do without it: by which rule, and the sentence."""

    rule: str
    subject: str
    sentence: str
    place: str = ""
    """Where the unit would sit, if it is not the same at every place."""
    of_unit: bool = False
    """True where it is one and the same whichever ports the loads are on."""


def violation_of(questions: Questions, keys: Sequence[FactKey], fact: FactKey) -> BlockingViolation | None:
    """Return what ``fact`` refuses, with figures; None where the plan without it breaks nothing that can be told."""
    return _violation(questions, keys, questions.least(tuple(key for key in keys if key != fact), fact))


def violations_elsewhere(
    questions: Questions, keys: Sequence[FactKey], fact: FactKey, place: str
) -> Iterator[BlockingViolation]:
    """Return what a fact refuses at other places than one, where that can be told."""
    rest = tuple(key for key in keys if key != fact)
    for site in questions.instance.sites:
        if site.label != place:
            violation = _violation(questions, keys, questions.least_at(site.label, rest, fact))
            yield from [] if violation is None else [violation]


def _violation(questions: Questions, keys: Sequence[FactKey], witness: Laid | None) -> BlockingViolation | None:
    if witness is None:
        return None
    relaxed = relaxed_to(questions.instance, keys)
    site = next(site for site in relaxed.sites if site.label == witness.site.label)
    return next(_clashes(relaxed, _laid_again(relaxed, site, witness)), None)


def violation_of_sizes(questions: Questions, keys: Sequence[FactKey]) -> BlockingViolation | None:
    """Return what is too thin, or too thick for its looms, in a plan that is right but for that."""
    return _violation(questions, keys, questions.unsized(keys))


def _laid_again(relaxed: RelaxedInstance, site: Site, plan: Laid) -> Laid:
    """Lay the same circuits on the same ports, judged by what is kept with the fact.

    With the smallest main fuse that is above their trips; where none is, none is chosen.
    """
    above = (fuse for fuse in site.fuses if all(wired.trip < fuse for wired in plan.outputs))
    site = next((site.with_fuses(fuse) for fuse in above), site)
    losses, real = Losses(site), _RealNames(plan.site.job)
    outputs = tuple(_output(relaxed, site, losses, wired, real.of(wired.circuit.members)) for wired in plan.outputs)
    inputs = tuple(replace(wired, site=site, port=_port(relaxed, wired.port)) for wired in plan.inputs)
    boxes = tuple(replace(box, site=site, port=_port(relaxed, box.port)) for box in plan.multiplexers)
    switches = tuple(replace(switch, site=site) for switch in plan.switches)
    own = {wire.key for wire in site.fixed_wires}
    joined = site.joined_by(wire for wire in plan.site.fixed_of("return") if wire.key not in own)
    return Laid(joined, losses, outputs, inputs, (), switches, boxes)


class _RealNames:
    """Loads that are alike are counted, not told apart: each is handed out once."""

    def __init__(self, job: Job) -> None:
        self._alike = job.alike
        self._left: dict[int, list[str]] = {}
        for load in job.loads.on_unit:
            self._left.setdefault(job.alike[load.name], []).append(load.name)

    def of(self, members: Sequence[Consumer]) -> list[str]:
        return [self._left[self._alike[load.name]].pop(0) for load in members]


def _output(
    relaxed: RelaxedInstance, site: Site, losses: Losses, wired: WiredOutput, names: Sequence[str]
) -> WiredOutput:
    circuit = relaxed.job.circuit(load for load in relaxed.job.loads.on_unit if load.name in names)
    output = next(output for output in relaxed.job.unit.outputs if output.name == named(wired.output.name))
    return wired.laid_again(site, losses, circuit, output)


def _port(relaxed: RelaxedInstance, port: Port) -> Port:
    return next(own for own in relaxed.job.unit.inputs if own.name == named(port.name))


def _clashes(relaxed: RelaxedInstance, laid: Laid) -> Iterator[BlockingViolation]:
    """Return what is broken: sums first, then the place, each circuit on its port, and the sizes of it all."""
    rules, place = relaxed.rules, laid.site.label
    yield from _overfull(rules, laid)
    yield from _at_the_place(relaxed, laid.site)
    for wired in laid.outputs:
        for clash in output_clashes(rules, relaxed.job, wired.circuit, wired.output):
            yield BlockingViolation(clash.rule, clash.subject, clash.sentence)
        for clash in wired_clashes(rules, wired):
            yield BlockingViolation(clash.rule, clash.subject, clash.sentence, place)
        for rule, need in needs(rules, relaxed.job, wired.circuit, wired.output):
            if not any(need.met_by(circuit, port) for circuit, port in laid.told(wired.site)):
                yield BlockingViolation(rule.slug, wired.circuit.label, need.sentence)
    sized = size_wires(laid)
    for clash in whole_clashes(rules, sized):
        yield BlockingViolation(clash.rule, clash.subject, clash.sentence, place)
    yield from _overfull(rules, sized.laid)


def _at_the_place(relaxed: RelaxedInstance, site: Site) -> Iterator[BlockingViolation]:
    """Return what keeps the unit from a place; many a thing does so at every place."""
    for clash in place_clashes(relaxed.rules, site):
        everywhere = all(
            any(other.sentence == clash.sentence for other in place_clashes(relaxed.rules, at)) for at in relaxed.sites
        )
        yield BlockingViolation(
            clash.rule, clash.subject, clash.sentence, "" if everywhere else site.label, of_unit=True
        )


def _overfull(rules: Sequence[Rule], laid: Laid) -> Iterator[BlockingViolation]:
    """Return the largest sum of each rule that is too large, with its shares."""
    for broken in sorted(broken_rows(rules, laid), key=lambda row: row.row.at_most - row.found):
        if broken.found > broken.row.at_most:
            tell, row = broken.budget.summed, broken.row
            said = tell(laid, row) if tell else broken.budget.sentence(row, broken.found)
            place = "" if row.case else laid.site.label
            yield BlockingViolation(
                broken.rule.slug, row.subject, said, place, of_unit=bool(row.fact and kind_of(row.fact).of_whole_unit)
            )
