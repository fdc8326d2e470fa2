"""What the builder has decided: on which ports loads and switches are, on which they are not, and which are dead."""

from collections.abc import Iterator, Sequence

from portloom.base.bike import Multiplexer, Switch
from portloom.base.figures import counted, listed
from portloom.base.nearest import or_list
from portloom.base.unit import AnyPort, Output, Port
from portloom.job.circuits import InputCircuit, OutputCircuit
from portloom.job.consumers import Consumer
from portloom.job.job import Job
from portloom.rules.fact_kinds import BUILT, OUT_OF_USE, PIN, SWITCH_PIN, FactKind
from portloom.rules.facts import At, Fact, FactKey, OnPorts, at_load, at_switch
from portloom.rules.posted import OfPosts
from portloom.rules.shapes import Rule, Said


def _output_fit(_: Job, circuit: OutputCircuit, output: Output) -> Said:
    return _fit(circuit.members, output)


def _input_fit(circuit: InputCircuit, port: Port) -> Said:
    return _fit(circuit.switches, port)


def _switch_fit(_: Job, switch: Switch, multiplexer: Multiplexer) -> Said:
    """What is held to an input of the unit is on no way of a multiplexer."""
    return f"{switch.name} must be on {or_list(switch.on)}, not on {multiplexer.name}" if switch.on else None


def _multiplexer_fit(_: Multiplexer, port: Port) -> Said:
    return _dead(port)


def _fit(things: Sequence[Consumer | Switch], port: AnyPort) -> Said:
    name = port.decided.name if port.decided else None
    for thing in things:
        if thing.on and name not in thing.on:
            return f"{thing.name} must be on {or_list(thing.on)}"
        if name in thing.not_on:
            return f"{thing.name} must not be on {name}"
    return _dead(port)


def _dead(port: AnyPort) -> Said:
    if port.decided is None or port.decided.out_of_use is None:
        return None
    return f"{port.decided.name} is out of use: {port.decided.out_of_use}"


def _facts(job: Job) -> Iterator[Fact]:
    for load in job.loads.on_unit:
        yield from _of_thing(PIN, load, at_load(job, load.name))
    for switch in job.inputs:
        yield from _of_thing(SWITCH_PIN, switch, at_switch(job, switch.name))
    for port, why in job.bike.out_of_use.items():
        said, at = f"{port} is out of use: {why}", At("bike", ("out_of_use", port))
        yield Fact(OUT_OF_USE.key(port), RULE.slug, port, said, at)
    yield from _built(job)


def _built(job: Job) -> Iterator[Fact]:
    """Return all that lies in a built loom: each circuit that could be taken out of it, in use or not."""
    for name, pieces in ({} if job.built is None else job.built.loom.circuits).items():
        sizes = dict.fromkeys(piece.size.label for piece in pieces if piece.size is not None)
        legs = tuple(dict.fromkeys(leg for piece in pieces for leg in piece.legs))
        lying = f" in {listed(legs)}" if legs else ""
        said = f"{name} is built: {counted(len(pieces), 'wire')} of {listed(tuple(sizes))}{lying}"
        at = At("built", (job.built.loom.file if job.built else "", pieces[0].line))
        yield Fact(BUILT.key(name), RULE.slug, name, said, at)


def _of_thing(kind: FactKind, thing: Consumer | Switch, at: At) -> Iterator[Fact]:
    must = [f"must be on {or_list(thing.on)}"] if thing.on else []
    must += [f"must not be on {or_list(thing.not_on)}"] if thing.not_on else []
    if must:
        own = At(at.file, (*at.path, "on" if thing.on else "not_on"))
        said = listed(must)
        yield Fact(kind.key(thing.name), RULE.slug, thing.name, f"{thing.name} {said}", own, said)


def _breaks(job: Job, on: OnPorts) -> Iterator[FactKey]:
    every: tuple[Consumer | Switch, ...] = (*job.inputs, *job.loads.on_unit)
    things = {thing.name: thing for thing in every}
    for port, names in on.items():
        for name in names:
            thing = things.get(name)
            if thing is not None and ((thing.on and port not in thing.on) or port in thing.not_on):
                yield (SWITCH_PIN if isinstance(thing, Switch) else PIN).key(name)
        if port in job.bike.out_of_use:
            yield OUT_OF_USE.key(port)


RULE = Rule(
    slug="decided",
    protects="what is built already, and what the builder has decided",
    source="the bike's file",
    right="change or take out 'on', 'not_on' or 'out_of_use' in the bike's file; 'portloom why BIKE --unit UNIT "
    "--pins' tells what each costs",
    output_fit=_output_fit,
    eased=lambda _, name: f"take out 'on' or 'not_on' of {name}, or 'out_of_use'",
    input_fit=_input_fit,
    by_signal=False,
    switch_fit=_switch_fit,
    multiplexer_fit=_multiplexer_fit,
    facts=_facts,
    breaks=_breaks,
    posts=OfPosts(judged=lambda plan: bool(plan.job.bike.decided_ports)),
)
