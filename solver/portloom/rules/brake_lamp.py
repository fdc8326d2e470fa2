"""The brake lamp alone on its output, and lit by both brakes where there are two."""

from collections.abc import Iterator, Sequence

from portloom.base.figures import listed
from portloom.base.parts.loads import BRAKE_LAMP
from portloom.base.unit import Output
from portloom.job.circuits import OutputCircuit
from portloom.job.consumers import Consumer
from portloom.job.job import Job
from portloom.rules import share
from portloom.rules.clash import Clash, broken_by
from portloom.rules.posted import FirstLook, OfPosts, PostedPlan, PostFinding
from portloom.rules.shapes import BRAKES, Need, Rule, Said, told, told_either

PART = BRAKE_LAMP.name


def _pair(one: Consumer, other: Consumer) -> Said:
    if PART not in (one.part, other.part):
        return None
    return f"{one.name} and {other.name} can't share an output: a brake lamp is alone on its output"


def _link(job: Job, circuit: OutputCircuit, output: Output) -> Iterator[Need]:
    if not any(load.part == PART for load in circuit.members):
        return
    if job.bike.brakes == "two":
        for brake in BRAKES:
            yield told(brake, circuit, "must light with both brakes")
    else:
        yield told_either(BRAKES, circuit, "must light with the brake", "the brake")


def _look(plan: PostedPlan, clashes: Sequence[Clash]) -> PostFinding:
    what, lamps, ports = "brake lamp alone on its output", plan.names(PART), plan.ports
    of_lamps = [clash for clash in clashes if any(clash.speaks_of(name) for name in lamps)]
    if wrong := broken_by(of_lamps, RULE.slug, share.RULE.slug) or broken_by(clashes, RULE.slug):
        return PostFinding(what, "wrong", wrong[0].sentence)
    missing = [name for name in lamps if name not in ports]
    if not lamps or missing:
        none = "no load on the unit has 'part: brake lamp'" if plan.site else "none is in the post"
        none = f"{listed(missing)} is on no output" if missing else none
        return PostFinding(what, "not judged", plan.unclear() or none)
    if unclear := plan.unclear(*(ports[name] for name in lamps)):
        return PostFinding(what, "not judged", unclear)
    return PostFinding(what, "right", listed([f"{name} on {ports[name]}" for name in lamps]))


RULE = Rule(
    slug="brake-lamp",
    protects="the rider from braking unseen, whichever brake is used",
    about="stopping and being seen",
    by_part=True,
    source="common practice, no source; UN R53 par. 6.4 (from memory)",
    right="an output that drives the brake lamp alone, and an input that reads the switch of each brake; both "
    "switches may share one",
    of_load=lambda part: part is BRAKE_LAMP,
    of_switch=lambda part: BRAKE_LAMP.name in part.works,
    pair=_pair,
    link=_link,
    posts=OfPosts(first=2, look=FirstLook(2, _look), wants=("inputs",), judged=lambda plan: bool(plan.names(PART))),
)
