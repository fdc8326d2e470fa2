"""While cranking, the unit and each load that must work then get voltage enough."""

from collections.abc import Iterator

from solver.job.cranking import Cranking, cranking_at
from solver.job.job import Job
from solver.job.losses import Losses
from solver.job.site import Site
from solver.job.wired import WiredOutput
from solver.rules.facts import At, Fact, at_load, on_outputs
from solver.rules.shapes import Rule, Said
from solver.words.figures import volts_left


def _unit(site: Site) -> Said:
    lowest = site.job.unit.feed.lowest
    cranking = Cranking(site, Losses(site))
    if lowest is None or cranking.at_unit() >= 1000 * lowest:
        return None
    return (
        f"while cranking {volts_left(cranking.at_unit())} reach the unit, it works down to {volts_left(1000 * lowest)}"
    )


def _load(wired: WiredOutput) -> Said:
    if all(load.lowest is None for load in wired.circuit.loads):
        return None
    cranking = cranking_at(wired.site, wired.losses)
    for load in wired.circuit.loads:
        reached = cranking.at_load(wired, load)
        if load.lowest is not None and reached is not None and reached < 1000 * load.lowest:
            return (
                f"while cranking {volts_left(reached)} reach {load.name} from {wired.output.name}, "
                f"it works down to {volts_left(1000 * load.lowest)}"
            )
    return None


def _facts(job: Job) -> Iterator[Fact]:
    lowest = job.unit.feed.lowest
    if lowest is not None:
        sentence = f"the unit works down to {volts_left(1000 * lowest)}"
        yield Fact(("unit lowest", "unit"), "cranking", "unit", sentence, At("unit", ("feed", "lowest")))
    for load in on_outputs(job):
        if load.lowest is not None:
            sentence = f"{load.name} works down to {volts_left(1000 * load.lowest)}"
            at = at_load(job, load.name, "lowest")
            yield Fact(("load lowest", load.name), "cranking", load.name, sentence, at)


RULE = Rule(
    slug="cranking",
    protects="that the engine starts: unit, solenoid, ignition and pump hold while the starter pulls",
    source="cranking voltage 9.0 V: common practice, no source",
    wired_fit=_load,
    place_fit=_unit,
    facts=_facts,
)
