"""Where an output keeps the engine running, the unit is told of the side stand's switch, and of neutral with it."""

from collections.abc import Iterator

from portloom.base.unit import Output
from portloom.job.circuits import OutputCircuit
from portloom.job.job import Job
from portloom.rules.posted import OfPosts
from portloom.rules.practice import drives_engine, tells
from portloom.rules.shapes import Need, Rule, told


def _link(job: Job, circuit: OutputCircuit, output: Output) -> Iterator[Need]:
    if job.bike.stand != "side" or not tells(job.bike, "side stand") or not drives_engine(circuit):
        return
    why = "must stop when the bike is ridden off on its side stand"
    yield told("side stand", circuit, why, "there is no side stand? write 'stand: none'")
    if tells(job.bike, "neutral"):  # without it the stand stops the engine in neutral too
        yield told("neutral", circuit, why)


RULE = Rule(
    slug="run",
    protects="the rider from riding off with the side stand down",
    about="start and run",
    by_part=True,
    source="common practice, no source",
    right="the side stand switch on an input of the unit, and the neutral switch with it; or in the bike's file "
    "'stand: none' or 'stand: no switch', as the bike is",
    of_load=lambda part: part.runs_engine,
    of_switch=lambda part: bool({"side stand", "neutral"} & set(part.tells)),
    link=_link,
    posts=OfPosts(needs="which inputs tell it of side stand and neutral", wants=("inputs",)),
)
