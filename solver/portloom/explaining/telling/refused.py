"""Who can go nowhere else: what refuses the things of a conflict on each port; the same reason told once."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from itertools import takewhile

from portloom.base.bike import Multiplexer, Switch
from portloom.base.figures import port_range, pronoun_for
from portloom.base.unit import Output, Port
from portloom.base.values import dataclass
from portloom.explaining.conflicts.kept import Instance, RelaxedInstance, named, relaxed_to
from portloom.explaining.telling.counts import ports_of, seats
from portloom.job.circuits import InputCircuit, OutputCircuit
from portloom.job.kinds import PortDirection, input_kinds, output_kinds
from portloom.job.losses import Losses
from portloom.job.site import Site
from portloom.job.wired import laid_shortest
from portloom.rules.book import input_clashes, output_clashes, way_clashes, wired_clashes
from portloom.rules.clash import Clash
from portloom.rules.facts import FactKey
from portloom.rules.faults import no_wire_to
from portloom.rules.shapes import Rule

# --- sentences put together


COMMA = ", "


def joined(sentences: Sequence[str]) -> str:
    """Say several sentences as one, what they begin with in common said once."""
    clauses = [sentence.split(COMMA) for sentence in sentences]
    same = takewhile(lambda together: len(set(together)) == 1, zip(*clauses, strict=False))
    common = [together[0] for together in same]
    rest = [COMMA.join(words[len(common) :]) for words in clauses]
    return COMMA.join((*common, *rest)) if common and all(rest) else "; ".join(sentences)


def at_places(labels: Sequence[str]) -> str:
    """Say at which places: "place 'under seat' or 'battery box'"."""
    return f"place {' or '.join(repr(label) for label in dict.fromkeys(labels))}"


def of_it(sentence: str, name: str) -> str:
    """Return a sentence about a thing that was named just before it."""
    rest = sentence.removeprefix(f"{name} ")
    return sentence if rest == sentence or rest.startswith("and ") else f"{pronoun_for(name)} {rest}"


# --- port by port


@dataclass(frozen=True)
class Refusal:
    """Ports that refuse, by one rule, and the sentence for the first of them."""

    ports: tuple[str, ...]
    clash: Clash


def refused_output(rules: Sequence[Rule], site: Site, circuit: OutputCircuit, output: Output) -> Clash | None:
    """Return what keeps a circuit from an output by itself, or None where nothing does."""
    clash = next(output_clashes(rules, site.job, circuit, output), None)
    if clash is not None:
        return clash
    wired = laid_shortest(site, Losses(site), circuit, output)
    if wired is None:
        return no_wire_to(site.face(output.face), circuit, site.job)
    return next(wired_clashes(rules, wired), None)


def refused_input(rules: Sequence[Rule], circuit: InputCircuit, port: Port) -> Clash | None:
    """Return what keeps switches from an input by themselves, or None where nothing does."""
    return next(input_clashes(rules, circuit, port), None)


def merged(refusals: Iterable[tuple[str, Clash | None]]) -> tuple[Refusal, ...]:
    """Tell ports that refuse by the same rule together; the sentence is that of the first."""
    by_rule: dict[str, list[tuple[str, Clash]]] = {}
    for port, clash in refusals:
        if clash is not None:
            by_rule.setdefault(clash.rule, []).append((port, clash))
    return tuple(Refusal(tuple(port for port, _ in group), group[0][1]) for group in by_rule.values())


# --- the things of a conflict


PortRefusal = Callable[[Site, str], Clash | None]
"""What refuses a thing on a port of one kind, at a site; the port goes by the name that is given."""
MOST_PLACES = 2
"""Of so many places it is told what refuses at each."""
ANY = "\0"
"""A name that no port has."""


@dataclass(frozen=True)
class Refused:
    """Ports, the rule by which they refuse, and the sentence for the first of the things that they refuse so."""

    rule: str
    things: tuple[str, ...]
    ports: tuple[str, ...]
    sentence: str
    first_place: bool = False
    """True where it is told of one place only, and others refuse as well."""


@dataclass(frozen=True)
class _Alike:
    """Ports of one kind, and what refuses a thing there."""

    names: tuple[str, ...]
    asked: PortRefusal


def refused(instance: Instance, keys: Sequence[FactKey]) -> tuple[Refused, ...]:
    """Tell what refuses each thing of a conflict, at every place, on ports that the conflict does not count.

    Things that the same ports refuse by the same rule are told together.
    """
    alike: dict[tuple[tuple[str, ...], str], list[Refused]] = {}
    for one in refused_each(instance, keys):
        alike.setdefault((one.ports, one.rule), []).append(one)
    return tuple(replace(group[0], things=tuple(n for one in group for n in one.things)) for group in alike.values())


def refused_each(instance: Instance, keys: Sequence[FactKey]) -> Iterator[Refused]:
    """Return the same for each thing by itself, with a sentence of its own."""
    relaxed = relaxed_to(instance, keys)
    for name, ports, kinds in _things(relaxed):
        counted, order = ports_of(instance, keys, ports), seats(instance, ports)
        able = [kind for kind in kinds if kind.names and kind.names[0] not in counted]
        yield from _of_thing(relaxed.sites, name, able, order)


def _things(relaxed: RelaxedInstance) -> Iterator[tuple[str, PortDirection, list[_Alike]]]:
    """Return each load and switch that is kept, with the kinds of port that it may go on."""
    unit = relaxed.job.unit
    for load in relaxed.job.loads.on_unit:
        asked = partial(_on_output, relaxed, relaxed.job.circuit((load,)))
        yield (
            load.name,
            "outputs",
            [_Alike(_own(kind.names), partial(asked, kind.like)) for kind in output_kinds(unit)],
        )
    for switch in relaxed.job.inputs:
        asked = partial(_on_input, relaxed, InputCircuit((switch,)))
        ports = [_Alike(_own(kind.names), partial(asked, kind.like)) for kind in input_kinds(unit)]
        boxes = [_Alike((box.name,), partial(_on_way, relaxed, switch, box)) for box in relaxed.job.bike.multiplexers]
        yield switch.name, "inputs", [*ports, *boxes]


def _own(names: Sequence[str]) -> tuple[str, ...]:
    """Leave away ports that were added to the unit's own."""
    return tuple(name for name in names if named(name) == name)


def _on_output(relaxed: RelaxedInstance, circuit: OutputCircuit, output: Output, site: Site, name: str) -> Clash | None:
    return refused_output(relaxed.rules, site, circuit, output.model_copy(update={"name": name}))


def _on_input(relaxed: RelaxedInstance, circuit: InputCircuit, port: Port, site: Site, name: str) -> Clash | None:  # noqa: ARG001
    return refused_input(relaxed.rules, circuit, port.model_copy(update={"name": name}))


def _on_way(relaxed: RelaxedInstance, switch: Switch, box: Multiplexer, site: Site, name: str) -> Clash | None:  # noqa: ARG001
    return next(way_clashes(relaxed.rules, relaxed.job, switch, box), None)


# --- one thing


def _of_thing(sites: Sequence[Site], name: str, kinds: Sequence[_Alike], order: Sequence[str]) -> Iterator[Refused]:
    """For each rule what it says of a thing on all ports that it closes; kinds of which it says the same, once."""
    same: dict[tuple[Clash, ...], list[_Alike]] = {}
    for kind in kinds:
        clashes = tuple(clash for clash in (kind.asked(site, ANY) for site in sites) if clash is not None)
        if len(clashes) == len(sites):
            same.setdefault(clashes, []).append(kind)
    by_rule: dict[str, list[tuple[list[str], str, bool]]] = {}
    for clashes, group in same.items():
        ports = [port for kind in group for port in kind.names]
        told, places = _everywhere(sites, group[0].asked, port_range(ports, order))
        if len(same) > 1 and port_range(ports, order) not in told:
            told = f"{port_range(ports, order)}: {told}"
        by_rule.setdefault(clashes[0].rule, []).append((ports, told, places > MOST_PLACES))
    for rule, parts in by_rule.items():
        closed = tuple(sorted((port for ports, *_ in parts for port in ports), key=order.index))
        yield Refused(rule, (name,), closed, joined([told for _, told, _ in parts]), any(more for *_, more in parts))


def _everywhere(sites: Sequence[Site], asked: PortRefusal, ports: str) -> tuple[str, int]:
    """Say what refuses on ports at every site, with the places where that makes a difference; and how much it differs.

    Of more than a few places the first is told.
    """
    said: dict[str, list[str]] = {}
    for site in sites:
        clash = asked(site, ports)
        if clash is not None:
            said.setdefault(clash.sentence, []).append(site.label)
    told = [f"{at_places(labels)}: {sentence}" for sentence, labels in said.items()]
    if len(said) > MOST_PLACES:
        return told[0], len(said)
    return "; ".join(told) if len(said) > 1 else next(iter(said)), len(said)


def refusals_of(refused: Sequence[Refused], name: str) -> str:
    """Say all that refuses a thing which was named just before."""
    return "; ".join(of_it(one.sentence, name) for one in refused)
