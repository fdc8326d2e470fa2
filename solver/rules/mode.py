"""Switch mode and dimming: the output can be driven as the loads want, and they take it."""

from collections.abc import Iterator, Sequence

from solver.job.circuits import OutputCircuit
from solver.job.job import Job
from solver.rules.facts import Fact, at_load
from solver.rules.inductive import INDUCTIVE
from solver.rules.shapes import Rule, Said
from solver.words.figures import listed
from solver.words.unit import Output

DIM = "dim"


def _fit(job: Job, circuit: OutputCircuit, output: Output) -> Said:
    missing = sorted(circuit.modes - output.modes)
    if missing:
        return f"{circuit.label} wants {listed(missing)}, {output.name} can't be driven so"
    stiff = [load.name for load in circuit.members if DIM in load.modes and not load.dims]
    if stiff:
        return f"{listed(stiff)} can't be dimmed: only filament, heater, or an LED with 'dims: true'"
    return None


WANTED = {DIM: "a dimming output", "flash": "a flashing output"}


def output_for(modes: Sequence[str]) -> str:
    """Say what loads that all want these modes need."""
    return (
        WANTED.get(modes[0], f"an output in mode '{modes[0]}'")
        if len(modes) == 1
        else f"an output in modes {listed(list(modes))}"
    )


def _facts(job: Job) -> Iterator[Fact]:
    for load in job.loads.on_unit:
        wants = f"{load.name} wants {listed(sorted(load.modes))}"
        yield Fact(("mode", load.name), "mode", load.name, wants, at_load(job, load.name, "mode"))
        if DIM in load.modes and not load.dims and load.kind not in INDUCTIVE:
            sentence = f"{load.name} is of kind '{load.kind}', which takes no dimming"
            yield Fact(("kind", load.name), "mode", load.name, sentence, at_load(job, load.name, "kind"))


RULE = Rule(
    slug="mode",
    protects="that every load is driven as it must be, and no load by pulses that it does not take",
    source="common practice, no source",
    output_fit=_fit,
    facts=_facts,
)
