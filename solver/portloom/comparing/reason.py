"""The shortest reason why a bike does not fit, by the cheap tests alone: no solver is asked.

Each test is a proof by counting or adding up. Where none of them tells, ``portloom why`` does, and takes longer.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial

from portloom.base.figures import amperes, counted, listed, with_verb
from portloom.base.quantities import MilliAmps
from portloom.comparing.prepared import BikeOnUnit
from portloom.comparing.row import Reason
from portloom.explaining.conflicts.crowds import input_crowds, output_crowds
from portloom.explaining.conflicts.kept import Instance, RelaxedInstance, relaxed_to
from portloom.explaining.conflicts.overloads import overloads
from portloom.explaining.telling.counts import counts_of
from portloom.explaining.telling.refused import Refused, refused
from portloom.job.kinds import PortDirection, port_names
from portloom.rules.book import in_short, place_clashes
from portloom.rules.fact_kinds import LOAD, is_thing, kind_of, ports_for
from portloom.rules.facts import Keys

MOST_NAMED = 3
"""So many loads of a sum are named."""
UNTOLD = Reason("no single cause: see portloom why", ())
"""Said where no cheap test tells."""


def short_reason(on: BikeOnUnit) -> Reason:
    """Return one reason why a bike of which it is proved that it has no plan has none, the simplest that is found."""
    instance = Instance(on.job, on.rules)
    relaxed = relaxed_to(instance, instance.everything)
    return next(_reasons(instance, relaxed), UNTOLD)


def _reasons(instance: Instance, relaxed: RelaxedInstance) -> Iterator[Reason]:
    crowds = sorted(
        (*_crowds(instance, output_crowds(relaxed)), *_crowds(instance, input_crowds(relaxed))), key=_things
    )
    yield from (_alone(instance, keys) for keys in crowds if _things(keys) == 1)
    yield from (_crowd(instance, keys) for keys in crowds if _things(keys) > 1)
    yield from _overloads(instance, relaxed)
    yield from _no_place(instance)
    yield from _no_wire(instance)


def _things(keys: Keys) -> int:
    return sum(is_thing(key) for key in keys)


# --- crowds


def _crowds(instance: Instance, crowds: Iterable[Keys]) -> Iterator[Keys]:
    """Leave only what is a fact of this bike."""
    for crowd in crowds:
        yield tuple(key for key in crowd if key in instance.everything)


def _alone(instance: Instance, keys: Keys) -> Reason:
    """Tell of a thing that no port takes."""
    (thing,) = (key for key in keys if is_thing(key))
    name = thing[1]
    return _no_port(ports_for(thing), name, [one.rule for one in refused(instance, keys) if name in one.things])


def _no_port(ports: PortDirection, name: str, rules: Sequence[str]) -> Reason:
    told = tuple(dict.fromkeys(rules))
    return Reason(f"no {ports.removesuffix('s')} takes {name}{by_rules(told)}", told)


def by_rules(rules: Sequence[str]) -> str:
    """Say in brackets which rules refuse something; nothing where none is known."""
    return f" ({'rules' if len(rules) > 1 else 'rule'} {listed(tuple(rules))})" if rules else ""


def _crowd(instance: Instance, keys: Keys) -> Reason:
    """Tell of more things than ports, as a count."""
    refusals = refused(instance, keys)
    counts = counts_of(instance, keys, partial(_closed, refusals))
    said = "; ".join(count.sentence.partition(". ")[0] for count in counts)
    return Reason(said, tuple(dict.fromkeys(instance.facts[key].rule for key in keys)))


def _closed(refusals: Sequence[Refused], name: str, rule: str = "") -> set[str]:
    """Return the ports that refuse a thing, by one rule or by any."""
    return {port for one in refusals if name in one.things and rule in ("", one.rule) for port in one.ports}


# --- sums


def _overloads(instance: Instance, relaxed: RelaxedInstance) -> Iterator[Reason]:
    """Tell of loads that draw more together than the unit, or the banks that they can be on, give."""
    drawn = {load.name: load.current for load in relaxed.job.loads.on_unit}
    in_force = {rule.slug for rule in instance.rules}
    for overload in overloads(relaxed):
        if overload.rule in in_force:
            yield Reason(f"{drawing(overload.loads, drawn)}, {overload.given}", (overload.rule,))


def drawing(names: Sequence[str], drawn: Mapping[str, MilliAmps]) -> str:
    """Say what loads draw together, in mA each."""
    total = amperes(MilliAmps(sum(drawn[name] for name in names)))
    return with_verb(named(names, LOAD.name), f"draws {total} together")


def named(names: Sequence[str], thing: str) -> str:
    """List a few loads or switches; count many."""
    return listed(tuple(names)) if len(names) <= MOST_NAMED else counted(len(names), thing)


# --- places and wires


def _no_place(instance: Instance) -> Iterator[Reason]:
    """Tell what keeps the unit from every place; where that differs, of the first."""
    clashes = [next(place_clashes(instance.rules, site), None) for site in instance.sites]
    first = clashes[0]
    if first is not None and None not in clashes:
        yield Reason(in_short(instance.rules, instance.sites[0], first), (first.rule,))


def _no_wire(instance: Instance) -> Iterator[Reason]:
    """Tell of a load or switch that every port refuses at every place, its wire to there included."""
    refusals = refused(instance, [key for key in instance.keys if not kind_of(key).counts_ports])
    unit = instance.job.unit
    for name in (load.name for load in instance.job.loads.on_unit):
        yield from _closed_everywhere("outputs", name, refusals, port_names(unit, "outputs"))
    for name in (switch.name for switch in instance.job.inputs):
        yield from _closed_everywhere("inputs", name, refusals, port_names(unit, "inputs"))


def _closed_everywhere(
    ports: PortDirection, name: str, refusals: Sequence[Refused], order: Sequence[str]
) -> Iterator[Reason]:
    if _closed(refusals, name).issuperset(order):
        yield _no_port(ports, name, [one.rule for one in refusals if name in one.things])
