"""An output in mode ``start`` only if the unit is told of neutral, clutch and side stand."""

from collections.abc import Iterator

from portloom.base.bike import Bike, Told
from portloom.base.unit import Output
from portloom.job.circuits import OutputCircuit
from portloom.job.job import Job
from portloom.rules.posted import OfPosts
from portloom.rules.practice import START, may_crank
from portloom.rules.shapes import Need, Rule, told


def _wanted(bike: Bike) -> Iterator[Told]:
    yield "neutral"
    if bike.clutch == "lever":
        yield "clutch"
    if bike.stand == "side":
        yield "side stand"


def _link(job: Job, circuit: OutputCircuit, output: Output) -> Iterator[Need]:
    if START in circuit.modes:
        for what in _wanted(job.bike):
            yield told(what, circuit, f"may crank {may_crank(dict.fromkeys(_wanted(job.bike), ''))}")


RULE = Rule(
    slug="start",
    protects="the rider from a bike that lurches when it is started",
    about="start and run",
    source="common practice, no source",
    link=_link,
    posts=OfPosts(needs="which inputs let it crank"),
)
