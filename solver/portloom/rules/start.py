"""An output in mode ``start`` only if the unit is told of neutral, clutch and side stand."""

from collections.abc import Iterator, Mapping

from portloom.base.bike import Bike, Told
from portloom.base.figures import listed
from portloom.base.unit import Output
from portloom.job.circuits import OutputCircuit
from portloom.job.job import Job
from portloom.rules.posted import OfPosts
from portloom.rules.shapes import Need, Rule, told

MODE = "start"


def _wanted(bike: Bike) -> Iterator[Told]:
    yield "neutral"
    if bike.clutch == "lever":
        yield "clutch"
    if bike.stand == "side":
        yield "side stand"


def may_crank(at: Mapping[Told, str]) -> str:
    """Say when the engine may be cranked, from what is told, each with what is said after it: 'only in neutral'.

    In neutral, or in gear with the clutch pulled and the side stand up; with no clutch switch, in neutral with it up.
    """
    neutral = [f"in neutral{at['neutral']}"] if "neutral" in at else []
    clutch = [f"the clutch pulled{at['clutch']}"] if "clutch" in at else []
    stand = [f"the side stand up{at['side stand']}"] if "side stand" in at else []
    in_gear = f"with {listed(clutch + stand)}" if clutch + stand else ""
    joint = ", or " if neutral and clutch else " and "
    words = joint.join(filter(None, (*neutral, in_gear)))
    return f"only {words}" if words else ""


def _link(job: Job, circuit: OutputCircuit, output: Output) -> Iterator[Need]:
    if MODE in circuit.modes:
        for what in _wanted(job.bike):
            yield told(what, circuit, f"may crank {may_crank(dict.fromkeys(_wanted(job.bike), ''))}")


RULE = Rule(
    slug="start",
    protects="the rider from a bike that jumps when it is started",
    about="start and run",
    source="common practice, no source",
    link=_link,
    posts=OfPosts(needs="which inputs let it crank"),
)
