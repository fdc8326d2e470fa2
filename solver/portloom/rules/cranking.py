"""While cranking, the unit and each load that must work then get voltage enough."""

from collections.abc import Iterator
from fractions import Fraction

from portloom.base.drop import MicroVolts
from portloom.base.events import CRANKING
from portloom.base.figures import limit_volts, reached_volts, several, volts_left, with_verb
from portloom.base.quantities import MilliVolts
from portloom.job.as_wired import as_it_is
from portloom.job.consumers import Consumer
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.losses import Cranking, Losses
from portloom.job.site import Site
from portloom.job.wired import WiredOutput
from portloom.rules.facts import At, Fact, at_load, on_outputs
from portloom.rules.growth import OfGrowth, Saying
from portloom.rules.margins import LimitMargin, each_unit, volts_spare
from portloom.rules.posted import OfPosts
from portloom.rules.shapes import Rule, Said


def _unit(site: Site) -> Said:
    lowest = site.job.unit.feed.lowest
    cranking = Losses(site).cranking
    if lowest is None or cranking.at_unit() >= 1000 * lowest:
        return None
    return _short(cranking, lowest)


def _short(cranking: Cranking, lowest: MilliVolts) -> str:
    works, reached = f"the unit works down to {limit_volts(1000 * lowest)}", reached_volts(cranking.at_unit())
    return f"{works}, {_while_cranking(cranking)}, {reached} reaches it"


def _unit_as_wired(laid: Laid) -> Iterator[Saying]:
    """Say the same of the wires that are there."""
    lowest, cranking = laid.site.job.unit.feed.lowest, laid.losses.cranking
    if lowest is not None and cranking.at_unit() < 1000 * lowest:
        yield "the unit", _short(cranking, lowest)


def _load(wired: WiredOutput) -> Said:
    if all(load.lowest is None for load in wired.circuit.loads):
        return None
    cranking = wired.losses.cranking
    for load in wired.circuit.loads:
        reached = wired.while_cranking(load)
        if load.lowest is not None and reached is not None and reached < 1000 * load.lowest:
            works = f"{with_verb(load.name, 'works')} down to {limit_volts(1000 * load.lowest)}"
            them = "them" if several(load.name) else "it"
            reach = f"{reached_volts(reached)} reaches {them} from {wired.output.name}"
            return f"{works}, {_while_cranking(cranking)}, {reach}"
    return None


def _while_cranking(cranking: Cranking) -> str:
    return f"of the {limit_volts(1000 * cranking.voltage)} that the battery gives while cranking"


def _measure(job: Job) -> str:
    """Say that the battery's voltage may be measured, where it is assumed."""
    return "" if job.bike.supply.cranking else "measure the battery while cranking and write it as 'cranking:'"


def _margins(laid: Laid) -> Iterator[LimitMargin]:
    """Return what reaches each unit, and each load that must work then, against the lowest at which it works."""
    for unit in each_unit(laid):
        yield from _of_unit(unit)


def _of_unit(laid: Laid) -> Iterator[LimitMargin]:
    laid = as_it_is(laid)
    reached = laid.losses.cranking
    lowest = laid.site.job.unit.feed.lowest
    if not reached.cases:
        return
    if lowest is not None:
        at_unit = _reached("the unit", "the unit", reached.at_unit(), MicroVolts(Fraction(1000 * lowest)))
        yield at_unit.at(laid.site.own_name)
    for wired in laid.outputs:
        for load in wired.circuit.loads:
            yield from _reached_at(wired, load)


def _reached_at(wired: WiredOutput, load: Consumer) -> Iterator[LimitMargin]:
    there = wired.while_cranking(load, wired.drawn)
    if there is not None and load.lowest is not None:
        told = f"{load.name} on {wired.output.name}"
        yield _reached(load.name, told, there, MicroVolts(Fraction(1000 * load.lowest)))


def _reached(subject: str, told: str, there: MicroVolts, lowest: MicroVolts) -> LimitMargin:
    left = MicroVolts(there - lowest)
    sentence = (
        f"{told}: {volts_left(there)} left while cranking, it works down to {limit_volts(lowest)}, {volts_spare(left)}"
    )
    return LimitMargin(RULE.slug, subject, there, lowest, left, lowest / there, sentence)


def _facts(job: Job) -> Iterator[Fact]:
    lowest = job.unit.feed.lowest
    if lowest is not None:
        sentence = f"the unit works down to {limit_volts(1000 * lowest)}"
        at = At("unit", ("feed", "lowest"))
        yield Fact(("unit lowest", "unit"), "cranking", "unit", sentence, at, hint=_measure(job))
    for load in on_outputs(job):
        if load.lowest is not None:
            lowest_said = f"down to {limit_volts(1000 * load.lowest)}"
            sentence = f"{with_verb(load.name, 'works')} {lowest_said}"
            at, key = at_load(job, load.name, "lowest"), ("load lowest", load.name)
            yield Fact(key, "cranking", load.name, sentence, at, f"work {lowest_said}", _measure(job))


RULE = Rule(
    slug="cranking",
    protects="the start of the engine: unit, solenoid, ignition and pump must keep working while the starter cranks",
    about="start and run",
    source="cranking voltage 9.0 V: common practice, no source",
    right="a thicker or shorter wire; or measure the voltage while cranking, and write it as 'cranking' under "
    "'supply'; what works with less says so by 'lowest'",
    of_load=lambda part: CRANKING in part.when,
    wired_fit=_load,
    place_fit=_unit,
    margins=_margins,
    growth=OfGrowth(shared=_unit_as_wired),
    facts=_facts,
    posts=OfPosts(needs="what must work while the starter is cranking", wants=("sizes",)),
)
