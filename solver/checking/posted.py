"""Judge a plan that somebody posted: who is on which port, at the place that it names or at each."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from solver.checking.judge import budget_clashes, circuit_clashes, link_clashes
from solver.frame.trees import Trees
from solver.job.circuits import InputCircuit, OutputCircuit
from solver.job.job import Job
from solver.job.laid import Laid
from solver.job.losses import Losses
from solver.job.site import Site
from solver.job.sizing import settled
from solver.job.wired import WiredInput, WiredOutput, laid_shortest
from solver.posts.matching import Posted
from solver.reading.checks.sharing import MOST
from solver.rules import inputs
from solver.rules.book import place_clashes, rules_of, whole_clashes
from solver.rules.cover import no_way
from solver.rules.shapes import Clash, Rule
from solver.rules.sites import sites_of

NO_INPUTS = "inputs: the post names none, so neither they nor what hangs on them is judged"
OWN_FIGURES = "trips and wire sizes: the post names none, so each is the one that the rules ask for"


@dataclass(frozen=True)
class PostVerdict:
    """What is wrong with a posted plan, in the order of the rule book, and what was judged."""

    clashes: tuple[Clash, ...]
    kept: tuple[str, ...]
    """The rules that it keeps."""
    places: tuple[str, ...]
    """Where the unit was taken to sit; of several, only what is wrong at each counts."""
    not_judged: tuple[str, ...]


def judge_post(job: Job, posted: Posted, place: str | None = None) -> PostVerdict:
    """Judge a post at its place, else at ``place``, else at every place and way round."""
    rules = rules_of(job)
    sites = _sites(job, rules, posted, place)
    clashes = _in_order(rules, (*_unfit(job, posted), *_at_each(rules, sites, posted)))
    broken = {clash.rule for clash in clashes}
    judged = [rule for rule in rules if posted.inputs or not (rule.link or rule.input_fit or rule is inputs.RULE)]
    kept = tuple(rule.slug for rule in judged if rule.slug not in broken)
    return PostVerdict(clashes, kept, tuple(site.label for site in sites), tuple(_not_judged(job, posted)))


def _sites(job: Job, rules: Sequence[Rule], posted: Posted, place: str | None) -> Sequence[Site]:
    """Give the posted place, else ``place``, else all; the posted way round, where the place has it."""
    sites = sites_of(job, rules, posted.place or place)
    return [site for site in sites if posted.turned in (None, site.turned)] or sites


def _at_each(rules: Sequence[Rule], sites: Sequence[Site], posted: Posted) -> Iterator[Clash]:
    """Give what is wrong at every site, with the figures of the first."""
    first, *others = ({(clash.rule, clash.subject): clash for clash in _clashes(rules, at, posted)} for at in sites)
    return (clash for key, clash in first.items() if all(key in other for other in others))


def _in_order(rules: Sequence[Rule], clashes: Sequence[Clash]) -> tuple[Clash, ...]:
    """Sort clashes in the order of the rule book."""
    order = {rule.slug: number for number, rule in enumerate(rules)}
    return tuple(sorted(clashes, key=lambda clash: order.get(clash.rule, len(order))))


def _not_judged(job: Job, posted: Posted) -> Iterator[str]:
    if not posted.inputs:
        yield NO_INPUTS
    yield OWN_FIGURES
    later = {later.consumer.name for later in job.loads.later}
    for name in (name for held in posted.outputs.values() for name in held if name in later):
        yield f"{name}: only a later load in the bike's file"


def _unfit(job: Job, posted: Posted) -> Iterator[Clash]:
    """Give what is on no port and must be, and what is on one that needs none."""
    ports = {name: port for port, held in posted.outputs.items() for name in held}
    guests = {guest.name for guest in job.loads.guests}
    for load in job.loads.on_unit:
        if load.name not in ports and load.name not in posted.unplaced:
            yield Clash("cover", load.name, f"{load.name} is on no output")
    for fed in job.loads.fed:
        if fed.consumer.name in ports:
            what = (
                f"{fed.consumer.name} is fed past the unit in the bike's file, here it is on {ports[fed.consumer.name]}"
            )
            yield Clash("cover", fed.consumer.name, what)
    for port, held in posted.outputs.items():
        driven = {load.name for load in _circuit(job, held).loads}
        for name in held:
            if name in guests and name not in driven:
                yield Clash("cover", name, f"{name} is fed from other loads, none of them is on {port}")
    told = {name for held in posted.inputs.values() for name in held}
    for switch in job.bike.inputs if posted.inputs else ():
        if switch.name not in told and switch.name not in posted.unplaced:
            yield Clash("cover", switch.name, f"{switch.name} is on no input")


def _circuit(job: Job, names: Sequence[str]) -> OutputCircuit:
    return job.circuit(tuple(load for load in job.loads.on_unit if load.name in names))


# --- at one place


def _clashes(rules: Sequence[Rule], site: Site, posted: Posted) -> Iterator[Clash]:
    yield from place_clashes(rules, site)
    laid = Laid(site, Losses(site), (), (), ())
    for port, names in posted.outputs.items():
        wired = _output(laid, port, _circuit(site.job, names)) if names else None
        if isinstance(wired, Clash):
            yield wired
        elif wired is not None:
            laid = laid.with_output(wired)
    for port, names in posted.inputs.items():
        switches = _input(site, port, names) if names else None
        if isinstance(switches, Clash):
            yield switches
        elif switches is not None:
            laid = laid.with_input(switches)
    yield from circuit_clashes(rules, laid)
    sized = settled(laid)
    yield from whole_clashes(rules, sized)
    yield from (clash for clash in budget_clashes(rules, sized.laid) if clash.rule != "cover")
    if posted.inputs:
        yield from link_clashes(rules, sized.laid)


def _output(laid: Laid, port: str, circuit: OutputCircuit) -> WiredOutput | Clash | None:
    """Lay a circuit from its port by the shortest tree."""
    if not circuit.members:
        return None
    site, job = laid.site, laid.site.job
    output = next(output for output in job.unit.outputs if output.name == port)
    if len(circuit.members) > MOST:
        return Clash(
            "share", circuit.label, f"{len(circuit.members)} loads are on {port}, {MOST} may share one at most"
        )
    wired = laid_shortest(site, laid.losses, circuit, output)
    if wired is None:
        return Clash("wire", circuit.label, no_way(site.face(output.face), circuit.label, circuit.avoid, job))
    return wired


def _input(site: Site, port: str, names: Sequence[str]) -> WiredInput | Clash | None:
    circuit = InputCircuit(tuple(switch for switch in site.job.bike.inputs if switch.name in names))
    source = next(source for source in site.job.unit.inputs if source.name == port)
    if len(circuit.points) > MOST:
        return Clash("signal", port, f"{len(names)} switches are on {port}, {MOST} may share one at most")
    face = site.face(source.face)
    run = Trees(site.job.network, circuit.points, (face,)).tree(circuit.points, face)
    return None if run is None else WiredInput(site, circuit, run, source)
