"""Where an output drives ignition, engine controller or fuel pump, the unit is told of the engine stop switch."""

from collections.abc import Iterator

from solver.job.circuits import OutputCircuit
from solver.job.job import Job
from solver.rules.shapes import Need, Rule, told
from solver.words.bike import Part
from solver.words.unit import Output

ENGINE_PARTS: tuple[Part, ...] = ("ignition", "engine controller", "fuel pump")


def drives_engine(circuit: OutputCircuit) -> bool:
    """Tell whether a circuit keeps the engine running."""
    return any(load.part in ENGINE_PARTS for load in circuit.members)


def _link(job: Job, circuit: OutputCircuit, output: Output) -> Iterator[Need]:
    if drives_engine(circuit):
        yield told("engine stop", circuit, "must stop with the engine stop switch")


RULE = Rule(
    slug="engine-stop",
    protects="that the rider can stop the engine without letting go of the bars",
    about="stopping and being seen",
    source="common practice, no source",
    link=_link,
)
