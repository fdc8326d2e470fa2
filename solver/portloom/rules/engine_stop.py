"""Where an output drives ignition, engine controller or fuel pump, the unit is told of the engine stop switch."""

from collections.abc import Iterator, Sequence

from portloom.base.figures import listed, with_verb
from portloom.base.parts.loads import RUNNING_ENGINE
from portloom.base.unit import Output
from portloom.base.vocabulary import Told
from portloom.job.circuits import OutputCircuit
from portloom.job.job import Job
from portloom.rules.clash import Clash, broken_by
from portloom.rules.posted import FirstLook, OfPosts, PostedPlan, PostFinding
from portloom.rules.practice import drives_engine
from portloom.rules.shapes import Need, Rule, told

STOP: Told = "engine stop"


def _link(job: Job, circuit: OutputCircuit, output: Output) -> Iterator[Need]:
    if drives_engine(circuit) and job.bike.engine_stop != "key":
        yield told(
            STOP, circuit, "must stop with the engine stop switch", "the key alone stops it? write 'engine_stop: key'"
        )


def _look(plan: PostedPlan, clashes: Sequence[Clash]) -> PostFinding:
    what = "ignition and pump cut by the engine stop"
    if plan.site is None:
        return PostFinding(
            what, "not judged", "can't tell from the post alone: that needs the bike's file and the inputs"
        )
    if wrong := broken_by(clashes, RULE.slug):
        return PostFinding(what, "wrong", wrong[0].sentence)
    fed = [name for name in plan.names(*RUNNING_ENGINE) if name in plan.ports]
    if open_ := _open(plan, fed):
        return PostFinding(what, "not judged", open_)
    if plan.job.bike.engine_stop == "key":
        return PostFinding(what, "look again", "the bike's file has no engine stop switch: the key alone stops it")
    stops = {switch.name for switch in plan.job.bike.inputs if STOP in switch.tells}
    at = [f"{name} on {port}" for port, held in plan.inputs.items() for name in held if name in stops]
    if not at and not stops:
        return PostFinding(what, "not judged", "no switch on an input tells the unit of it")
    if not at:
        return PostFinding(what, "look again", f"{with_verb(listed(sorted(stops)), 'is')} on no input in the post")
    return PostFinding(what, "right", f"{with_verb(listed(at), 'tells')} the unit, which feeds {listed(fed)}")


def _open(plan: PostedPlan, fed: Sequence[str]) -> str:
    """Say why nobody can judge it."""
    if unclear := plan.unclear():
        return unclear
    if not fed:
        return "neither of them is on an output"
    missing = [name for name in plan.names(*RUNNING_ENGINE) if name not in fed]
    if missing:
        return f"{listed(missing)} is on no output"
    return "" if plan.inputs else "the post names no inputs"


RULE = Rule(
    slug="engine-stop",
    protects="the rider's means to stop the engine without letting go of the bars",
    about="stopping and being seen",
    by_part=True,
    source="common practice, no source",
    right="an engine stop switch on an input of the unit; or 'engine_stop: key' in the bike's file, where the key "
    "alone stops the engine",
    of_load=lambda part: part.runs_engine,
    of_switch=lambda part: STOP in part.tells,
    link=_link,
    posts=OfPosts(
        needs="which input tells the unit of the engine stop", first=3, look=FirstLook(4, _look), wants=("inputs",)
    ),
)
