"""While cranking, the unit and each load that must work then get voltage enough."""

from collections.abc import Iterator

from solver.job.cranking import Cranking, cranking_at
from solver.job.job import Job
from solver.job.losses import Losses
from solver.job.site import Site
from solver.job.wired import WiredOutput
from solver.rules.facts import At, Fact, at_load, on_outputs
from solver.rules.shapes import Rule, Said
from solver.words.agreement import does, several
from solver.words.figures import limit_volts, reached_volts


def _unit(site: Site) -> Said:
    lowest = site.job.unit.feed.lowest
    cranking = Cranking(site, Losses(site))
    if lowest is None or cranking.at_unit() >= 1000 * lowest:
        return None
    return (
        f"the unit works down to {limit_volts(1000 * lowest)}, "
        f"{_while_cranking(cranking)}, {reached_volts(cranking.at_unit())} reach it"
    )


def _load(wired: WiredOutput) -> Said:
    if all(load.lowest is None for load in wired.circuit.loads):
        return None
    cranking = cranking_at(wired.site, wired.losses)
    for load in wired.circuit.loads:
        reached = cranking.at_load(wired, load)
        if load.lowest is not None and reached is not None and reached < 1000 * load.lowest:
            works = f"{does(load.name, 'works')} down to {limit_volts(1000 * load.lowest)}"
            them = "them" if several(load.name) else "it"
            reach = f"{reached_volts(reached)} reach {them} from {wired.output.name}"
            return f"{works}, {_while_cranking(cranking)}, {reach}"
    return None


def _while_cranking(cranking: Cranking) -> str:
    return f"of the {limit_volts(1000 * cranking.voltage)} that the battery gives while cranking"


def _measure(job: Job) -> str:
    """Say that the battery's voltage may be measured, where it is assumed."""
    return "" if job.bike.supply.cranking else "measure the battery while cranking and write it as 'cranking:'"


def _facts(job: Job) -> Iterator[Fact]:
    lowest = job.unit.feed.lowest
    if lowest is not None:
        sentence = f"the unit works down to {limit_volts(1000 * lowest)}"
        at = At("unit", ("feed", "lowest"))
        yield Fact(("unit lowest", "unit"), "cranking", "unit", sentence, at, hint=_measure(job))
    for load in on_outputs(job):
        if load.lowest is not None:
            lowest_said = f"down to {limit_volts(1000 * load.lowest)}"
            sentence = f"{does(load.name, 'works')} {lowest_said}"
            at, key = at_load(job, load.name, "lowest"), ("load lowest", load.name)
            yield Fact(key, "cranking", load.name, sentence, at, f"work {lowest_said}", _measure(job))


RULE = Rule(
    slug="cranking",
    protects="that the engine starts: unit, solenoid, ignition and pump hold while the starter pulls",
    about="start and run",
    source="cranking voltage 9.0 V: common practice, no source",
    wired_fit=_load,
    place_fit=_unit,
    facts=_facts,
)
