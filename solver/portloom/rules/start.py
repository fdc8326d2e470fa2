"""An output drives the starter only if the unit is told of neutral or clutch, and of the side stand's switch."""

from collections.abc import Iterator

from portloom.base.parts.loads import STARTER_SOLENOID
from portloom.base.unit import Output
from portloom.job.circuits import OutputCircuit
from portloom.job.job import Job
from portloom.rules.posted import OfPosts
from portloom.rules.practice import cranks, may_crank, wanted_to_crank
from portloom.rules.shapes import BRAKES, Need, Rule, told, told_either

OTHERWISE = {
    "clutch": "there is no clutch lever? write 'clutch: automatic'",
    "side stand": "there is no side stand? write 'stand: none'",
}
"""What the file says where there is no such switch."""


def _link(job: Job, circuit: OutputCircuit, output: Output) -> Iterator[Need]:
    if not cranks(circuit):
        return
    wanted = tuple(wanted_to_crank(job.bike))
    for what in wanted:
        yield told(what, circuit, f"may crank {may_crank(dict.fromkeys(wanted, ''))}", OTHERWISE.get(what, ""))
    if "neutral" not in wanted and job.bike.clutch == "automatic":
        yield told_either(("neutral", *BRAKES), circuit, "may crank only with a brake on", "neutral or a brake")
    elif "neutral" not in wanted and "clutch" not in wanted:
        yield told_either(("neutral", "clutch"), circuit, "may not crank in gear", "neutral or the clutch")


RULE = Rule(
    slug="start",
    protects="the rider from a bike that lurches when it is started",
    about="start and run",
    by_part=True,
    source="common practice, no source",
    right="neutral, clutch and side stand switch on inputs of the unit, as far as the bike has them; or 'clutch: "
    "automatic' in the bike's file, where there is no lever",
    of_load=lambda part: part is STARTER_SOLENOID,
    of_switch=lambda part: bool({"neutral", "clutch", "side stand"} & set(part.tells)),
    link=_link,
    posts=OfPosts(needs="which inputs let it crank", wants=("inputs",)),
)
