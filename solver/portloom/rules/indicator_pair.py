"""Front and rear indicators of a side: both there, both flashing, worked by the same switches."""

from portloom.base.figures import with_article
from portloom.base.parts.loads import SIDES
from portloom.base.parts.words import load_like
from portloom.base.unit import Output
from portloom.base.vocabulary import FLASH
from portloom.job.circuits import OutputCircuit
from portloom.job.consumers import Consumer
from portloom.job.job import Job
from portloom.rules.posted import OfPosts
from portloom.rules.shapes import Rule, Said


def _fit(job: Job, circuit: OutputCircuit, output: Output) -> Said:
    for side in SIDES:
        here = [load for load in circuit.members if load.part == side]
        if here and (said := _pair(job, here[0], [load for load in job.loads.on_unit if load.part == side])):
            return said
    return None


def _pair(job: Job, one: Consumer, side: list[Consumer]) -> Said:
    if len(side) + sum(load.part == one.part for load in job.loads.left_out) < 2:
        return f"{one.name} is the only {one.part} on the unit, front and rear must go together"
    still = [load.name for load in side if load.modes and FLASH not in load.modes]
    if still:
        return f"{still[0]} is a {one.part} and must flash"
    other = next((load for load in side if load.operated_by != one.operated_by), None)
    if other is not None:
        return f"{one.name} and {other.name} are worked by different switches, a side flashes as one"
    return None


def _other_end(job: Job) -> str:
    for load in job.loads.on_unit:
        called = load_like(load.name)
        if called in SIDES and load.part != called:
            return f"'{load.name}' is called {with_article(called)}: write 'part: {called}' there"
    return "front and rear indicators of a side, both with 'mode: flash', operated by the same switches"


RULE = Rule(
    slug="indicator-pair",
    protects="the rider from a turn signal that shows at one end only",
    about="stopping and being seen",
    by_part=True,
    source="UN R53 par. 6.3 (from memory); common practice, no source",
    right="front and rear indicator of a side both in mode flash and worked by the same switches, on one output or two",
    of_load=lambda part: part.name in SIDES,
    of_switch=lambda part: bool(set(SIDES) & set(part.works)),
    output_fit=_fit,
    posts=OfPosts(
        needs="which indicators sit at front and rear, and which switches work them",
        judged=lambda plan: bool(plan.names(*SIDES)),
    ),
    hint=_other_end,
)
