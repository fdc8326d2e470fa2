"""An output in mode ``start`` only if the unit is told of neutral, clutch and side stand."""

from collections.abc import Iterator

from solver.job.circuits import OutputCircuit
from solver.job.job import Job
from solver.rules.shapes import Need, Rule, told
from solver.words.bike import Bike, Told
from solver.words.unit import Output

MODE = "start"


def _wanted(bike: Bike) -> Iterator[Told]:
    yield "neutral"
    if bike.clutch == "lever":
        yield "clutch"
    if bike.stand == "side":
        yield "side stand"


def _link(job: Job, circuit: OutputCircuit, output: Output) -> Iterator[Need]:
    if MODE in circuit.modes:
        for what in _wanted(job.bike):
            yield told(what, f"{circuit.label} must not crank a bike in gear")


RULE = Rule(
    slug="start",
    protects="the rider from a bike that jumps when it is started",
    source="common practice, no source",
    link=_link,
)
