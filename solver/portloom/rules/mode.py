"""Switch mode and dimming: the output can be driven as the loads want, and they take it."""

from collections.abc import Iterator, Sequence

from portloom.base.figures import listed, with_verb
from portloom.base.parts.loads import load_part
from portloom.base.unit import Output
from portloom.base.vocabulary import DIM, FLASH, INDUCTIVE, STEADY
from portloom.job.circuits import OutputCircuit
from portloom.job.job import Job
from portloom.job.kinds import PortDirection
from portloom.rules.facts import Fact, at_load
from portloom.rules.posted import OfPosts, PostedOutput
from portloom.rules.shapes import CommonNeed, Rule, Said


def _fit(job: Job, circuit: OutputCircuit, output: Output) -> Said:
    missing = sorted(circuit.modes - output.modes)
    if missing:
        return f"{circuit.said} {_must(missing)}, {_lacks(output.name, missing)}"
    stiff = [load.name for load in circuit.members if DIM in load.modes and not load.dims]
    if stiff:
        return f"{listed(stiff)} can't be dimmed: only filaments, heaters and LEDs with 'dims: true' can"
    return None


def _alone(job: Job, posted: PostedOutput) -> Iterator[str]:
    """Say what is wrong with parts that have one mode only, where no file says how loads are driven."""
    parts = [load_part(load.part) for load in posted.circuit.members]
    if all(part is not None and part.fixed is not None and not part.beam for part in parts):
        said = _fit(job, posted.circuit, posted.output)
        yield from () if said is None else (said,)


MUST = {DIM: "must be dimmed", FLASH: "must flash"}
LACKS = {DIM: "does not dim", FLASH: "does not flash"}
WANTED = {DIM: "a dimming output", FLASH: "a flashing output"}


def _must(modes: Sequence[str]) -> str:
    return (len(modes) == 1 and MUST.get(modes[0])) or f"must be driven in {_named(modes)}"


def _lacks(port: str, modes: Sequence[str]) -> str:
    more = "these modes" if len(modes) > 1 else "that mode"
    return with_verb(port, (len(modes) == 1 and LACKS.get(modes[0])) or f"lacks {more}")


def _named(modes: Sequence[str]) -> str:
    return f"{'modes' if len(modes) > 1 else 'mode'} {listed([repr(mode) for mode in modes])}"


def _common_need(job: Job, ports: PortDirection, names: Sequence[str]) -> CommonNeed | None:
    """Say what output loads need that all want some modes."""
    wanted = [load.modes for load in job.loads.on_unit if ports == "outputs" and load.name in names]
    common = frozenset[str].intersection(*wanted) if wanted else frozenset[str]()
    others = tuple(load.name for load in job.loads.on_unit if common <= load.modes)
    return CommonNeed(_output_for(sorted(common)), others) if common else None


def _output_for(modes: Sequence[str]) -> str:
    return (len(modes) == 1 and WANTED.get(modes[0])) or f"an output with {_named(modes)}"


def _facts(job: Job) -> Iterator[Fact]:
    for load in job.loads.on_unit:
        must = _must(sorted(load.modes))
        said = f"{load.name} {must}"
        yield Fact(("mode", load.name), "mode", load.name, said, at_load(job, load.name, "mode"), must)
        if DIM in load.modes and not load.dims and load.kind not in INDUCTIVE:
            sentence = f"{with_verb(load.name, 'is')} of kind '{load.kind}', which takes no dimming"
            yield Fact(("kind", load.name), "mode", load.name, sentence, at_load(job, load.name, "kind"))


def _eased(job: Job, name: str) -> str:
    """Say which other mode would do; a part whose mode must stay needs another unit."""
    load = next(load for load in job.loads.on_unit if load.name == name)
    if load.part is None and FLASH in load.modes:
        return "flash: say 'part: left indicator', or which lamp it is"
    part, special = load_part(load.part), sorted(load.modes - {STEADY})
    if not special or (part is not None and (part.fixed is not None or part.kept)):
        return ""
    return f"{special[0]}: say 'mode: steady' to do without it"


RULE = Rule(
    slug="mode",
    protects="loads from being driven in the wrong way, or by pulses that they can't take",
    source="common practice, no source",
    right="an output that has every mode of the load in its 'switch_modes', and the mode that the load's part asks "
    "for: 'portloom parts NAME' tells it",
    of_load=lambda part: part.fixed is not None,
    output_fit=_fit,
    eased=_eased,
    common_need=_common_need,
    facts=_facts,
    posts=OfPosts(needs="how each load is to be driven, but for parts that have one mode only", alone=_alone),
)
