"""Trip, limit and peak: the output carries the circuit and lets its inrush pass."""

from solver.electrics.trip import peak_of, trip_for, trip_values
from solver.job.circuits import OutputCircuit
from solver.job.job import Job
from solver.rules.shapes import Rule, Said
from solver.words.figures import amperes, milliseconds, peak_amperes
from solver.words.quantities import MilliAmps
from solver.words.unit import Output


def _fit(job: Job, circuit: OutputCircuit, output: Output) -> Said:
    inrush = circuit.inrush
    if inrush.height > 1000 * peak_of(output):
        return (
            f"{circuit.label} draws {peak_amperes(inrush.height)} at switch-on, "
            f"{output.name} passes {amperes(peak_of(output))}"
        )
    if trip_for(output, circuit.current, inrush) is not None:
        return None
    wanted = MilliAmps(-(-5 * circuit.current // 4))
    highest = max(trip_values(output), default=MilliAmps(0))
    if highest < wanted:
        return (
            f"{circuit.label} draws {amperes(circuit.current)} and needs a trip of {amperes(wanted)}, "
            f"{output.name} gives {amperes(highest)} at most"
        )
    return (
        f"{circuit.label} draws {peak_amperes(inrush.height)} for {milliseconds(inrush.lasts)} at switch-on, "
        f"{output.name} trips on that at every value"
    )


RULE = Rule(
    slug="trip",
    protects="outputs from overload, and loads from an output that trips when they come on",
    source="trip >= 1.25 x steady current: common practice, no source",
    output_fit=_fit,
)
