"""Switch mode and dimming: the output can be driven as the loads want, and they take it."""

from solver.job.circuits import OutputCircuit
from solver.job.consumers import Consumer
from solver.job.job import Job
from solver.rules.shapes import Rule, Said
from solver.words.figures import listed
from solver.words.unit import Output

DIM = "dim"


def takes_dimming(load: Consumer) -> bool:
    """Tell whether a load can be dimmed: filament, heater, or an LED made for it."""
    return load.kind in ("filament", "heater") or (load.kind == "led" and load.dims)


def _fit(job: Job, circuit: OutputCircuit, output: Output) -> Said:
    missing = sorted(circuit.modes - output.modes)
    if missing:
        return f"{circuit.label} wants {listed(missing)}, {output.name} can't be driven so"
    stiff = [load.name for load in circuit.members if DIM in load.modes and not takes_dimming(load)]
    if stiff:
        return f"{listed(stiff)} can't be dimmed: only filament, heater, or an LED with 'dims: true'"
    return None


RULE = Rule(
    slug="mode",
    protects="that every load is driven as it must be, and no load by pulses that it does not take",
    source="common practice, no source",
    output_fit=_fit,
)
