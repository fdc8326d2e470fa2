"""Where an output keeps the engine running, the unit is told of side stand and neutral."""

from collections.abc import Iterator

from portloom.base.unit import Output
from portloom.job.circuits import OutputCircuit
from portloom.job.job import Job
from portloom.rules.posted import OfPosts
from portloom.rules.practice import drives_engine
from portloom.rules.shapes import Need, Rule, told


def _link(job: Job, circuit: OutputCircuit, output: Output) -> Iterator[Need]:
    if job.bike.stand == "side" and drives_engine(circuit):
        why = "must stop when the bike is ridden off on its side stand"
        yield told("side stand", circuit, why)
        yield told("neutral", circuit, why)


RULE = Rule(
    slug="run",
    protects="the rider from riding off with the side stand down",
    about="start and run",
    source="common practice, no source",
    link=_link,
    posts=OfPosts(needs="which inputs tell it of side stand and neutral"),
)
