"""Motors, horns and coils only on an output that takes them, or with a suppressor of their own."""

from collections.abc import Iterator

from portloom.base.figures import listed, with_verb
from portloom.base.unit import Output
from portloom.base.vocabulary import INDUCTIVE
from portloom.job.circuits import OutputCircuit
from portloom.job.job import Job
from portloom.rules.facts import Fact, at_load, on_outputs
from portloom.rules.posted import OfPosts
from portloom.rules.shapes import Rule, Said


def _fit(job: Job, circuit: OutputCircuit, output: Output) -> Said:
    bare = [load.name for load in circuit.loads if load.kind in INDUCTIVE and not load.suppressed]
    if output.inductive is not False or not bare:
        return None
    port = with_verb(output.name, "can't take that without a suppressor")
    return f"{with_verb(listed(bare), 'kicks back')} when switched off, {port}"


def _facts(job: Job) -> Iterator[Fact]:
    for load in on_outputs(job):
        if load.kind in INDUCTIVE and not load.suppressed:
            kind = f"{with_verb(load.name, 'is')} of kind '{load.kind}'"
            sentence = f"{kind}, without a suppressor"
            yield Fact(("kind", load.name), "inductive", load.name, sentence, at_load(job, load.name, "kind"))


RULE = Rule(
    slug="inductive",
    protects="outputs from the voltage kick of a coil when it is switched off",
    source="the unit's profile; common practice, no source",
    right="an output whose profile says 'inductive: true'; or fit a diode or a suppressor at the load, and write "
    "'suppressed: true'",
    of_load=lambda part: part.kind in INDUCTIVE,
    output_fit=_fit,
    eased=lambda _, name: f"fit a diode or a suppressor at {name}, say 'suppressed: true'",
    facts=_facts,
    posts=OfPosts(
        judged=lambda plan: any(load.kind in INDUCTIVE for one in plan.drives() for load in one.circuit.loads)
    ),
)
