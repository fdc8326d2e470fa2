"""What one fact of a conflict stands in the way of: a plan made without it, judged with it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from portloom.base.unit import Port
from portloom.explaining.conflicts.kept import Part, named, part_of
from portloom.explaining.conflicts.question import Questions
from portloom.job.consumers import Consumer
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.losses import Losses
from portloom.job.site import Site
from portloom.job.sizing import size_wires
from portloom.job.wired import WiredInput, WiredOutput, laid_along
from portloom.rules.book import broken_rows, needs, output_clashes, place_clashes, whole_clashes, wired_clashes
from portloom.rules.fact_kinds import kind_of
from portloom.rules.facts import FactKey
from portloom.rules.shapes import Row, Rule

Keys = Sequence[FactKey]


@dataclass(frozen=True)
class Stand:
    """What a fact refuses of the plan that could do without it: by which rule, and the sentence."""

    rule: str
    subject: str
    sentence: str
    place: str = ""
    """Where the unit would sit, if it is not the same at every place."""
    of_unit: bool = False
    """True where it is one and the same whichever ports the loads are on."""


def stand_of(questions: Questions, keys: Keys, fact: FactKey) -> Stand | None:
    """Return what ``fact`` refuses, with figures; None where the plan without it breaks nothing that can be told."""
    return _stand(questions, keys, questions.least(tuple(key for key in keys if key != fact), fact))


def stands_elsewhere(questions: Questions, keys: Keys, fact: FactKey, place: str) -> Iterator[Stand]:
    """Return what a fact refuses at other places than one, where that can be told."""
    rest = tuple(key for key in keys if key != fact)
    for site in questions.whole.sites:
        if site.label != place:
            stand = _stand(questions, keys, questions.least_at(site.label, rest, fact))
            yield from [] if stand is None else [stand]


def _stand(questions: Questions, keys: Keys, witness: Laid | None) -> Stand | None:
    if witness is None:
        return None
    part = part_of(questions.whole, keys)
    site = next(site for site in part.sites if site.label == witness.site.label)
    return next(_clashes(part, _laid_again(part, site, witness)), None)


def stand_of_sizes(questions: Questions, keys: Keys) -> Stand | None:
    """Return what is too thin, or too thick for its looms, in a plan that is right but for that."""
    return _stand(questions, keys, questions.unsized(keys))


def _laid_again(part: Part, site: Site, plan: Laid) -> Laid:
    """Lay the same circuits on the same ports, judged by what is kept with the fact."""
    losses, real = Losses(site), _RealNames(plan.site.job)
    outputs = tuple(_output(part, site, losses, wired, real.of(wired.circuit.members)) for wired in plan.outputs)
    inputs = tuple(WiredInput(site, wired.circuit, wired.run, _port(part, wired.port)) for wired in plan.inputs)
    boxes = tuple(replace(box, site=site, port=_port(part, box.port)) for box in plan.multiplexers)
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


def _output(part: Part, site: Site, losses: Losses, wired: WiredOutput, names: Sequence[str]) -> WiredOutput:
    circuit = part.job.circuit(load for load in part.job.loads.on_unit if load.name in names)
    output = next(output for output in part.job.unit.outputs if output.name == named(wired.output.name))
    return laid_along(site, losses, circuit, wired.run, output)


def _port(part: Part, port: Port) -> Port:
    return next(own for own in part.job.unit.inputs if own.name == named(port.name))


def _clashes(part: Part, laid: Laid) -> Iterator[Stand]:
    """Return what is broken: sums first, then the place, each circuit on its port, and the sizes of it all."""
    rules, place = part.rules, laid.site.label
    yield from _overfull(rules, laid)
    yield from _at_the_place(part, laid.site)
    for wired in laid.outputs:
        for clash in output_clashes(rules, part.job, wired.circuit, wired.output):
            yield Stand(clash.rule, clash.subject, clash.sentence)
        for clash in wired_clashes(rules, wired):
            yield Stand(clash.rule, clash.subject, clash.sentence, place)
        for rule, need in needs(rules, part.job, wired.circuit, wired.output):
            if not any(need.met_by(circuit, port) for circuit, port in laid.told(wired.site)):
                yield Stand(rule.slug, wired.circuit.label, need.sentence)
    sized = size_wires(laid)
    for clash in whole_clashes(rules, sized):
        yield Stand(clash.rule, clash.subject, clash.sentence, place)
    yield from _overfull(rules, sized.laid)


def _at_the_place(part: Part, site: Site) -> Iterator[Stand]:
    """Return what keeps the unit from a place; many a thing does so at every place."""
    for clash in place_clashes(part.rules, site):
        everywhere = all(
            any(other.sentence == clash.sentence for other in place_clashes(part.rules, at)) for at in part.sites
        )
        yield Stand(clash.rule, clash.subject, clash.sentence, "" if everywhere else site.label, of_unit=True)


def _overfull(rules: Sequence[Rule], laid: Laid) -> Iterator[Stand]:
    """Return the largest sum of each rule that is too large, with its shares."""
    for broken in sorted(broken_rows(rules, laid), key=lambda row: row.row.at_most - row.found):
        if broken.found > broken.row.at_most:
            tell, row = broken.budget.summed, broken.row
            said = tell(laid, row) if tell else broken.budget.sentence(row, broken.found)
            place = "" if row.case else laid.site.label
            yield Stand(
                broken.rule.slug, row.subject, said, place, of_unit=bool(row.fact and kind_of(row.fact).of_whole_unit)
            )


def _whole_unit(row: Row) -> bool:
    """Tell whether a sum is the same whichever ports the loads are on."""
    return row.fact is not None and kind_of(row.fact).of_whole_unit
