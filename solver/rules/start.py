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


def _why(bike: Bike) -> str:
    """Say when the engine may be cranked, by what the bike has."""
    stand = "the side stand up" if bike.stand == "side" else ""
    if bike.clutch == "lever":
        return f"may crank only in neutral, or with {' and '.join(filter(None, ('the clutch pulled', stand)))}"
    return f"may crank only in neutral{' and with ' * bool(stand)}{stand}"


def _link(job: Job, circuit: OutputCircuit, output: Output) -> Iterator[Need]:
    if MODE in circuit.modes:
        for what in _wanted(job.bike):
            yield told(what, circuit, _why(job.bike))


RULE = Rule(
    slug="start",
    protects="the rider from a bike that jumps when it is started",
    about="start and run",
    source="common practice, no source",
    link=_link,
)
