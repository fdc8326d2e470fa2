"""The shortest reason why a bike does not fit, by the cheap tests alone: no solver is asked.

Each test is a proof by counting or adding up. Where none of them tells, ``portloom why`` does, and takes longer.
"""

from collections.abc import Iterator, Mapping, Sequence
from functools import partial

from portloom.base.figures import amperes, counted, does, listed
from portloom.base.quantities import MilliAmps
from portloom.comparing.row import Reason
from portloom.comparing.workbench import OnUnit
from portloom.explaining.conflicts.crowds import input_crowds, output_crowds
from portloom.explaining.conflicts.kept import Part, Whole, part_of
from portloom.explaining.conflicts.overloads import overloads
from portloom.explaining.telling.counts import counts_of
from portloom.explaining.telling.refused import Refused, refused
from portloom.job.kinds import PortDirection, port_names
from portloom.rules.book import in_short, place_clashes
from portloom.rules.fact_kinds import LOAD, is_thing, kind_of, ports_for
from portloom.rules.facts import FactKey

Keys = tuple[FactKey, ...]
MOST_NAMED = 3
"""So many loads of a sum are named."""
UNTOLD = Reason("not one thing by itself: portloom why tells", ())
"""Said where no cheap test tells."""


def short_reason(on: OnUnit) -> Reason:
    """Return one reason why a bike of which it is proved that it has no plan has none, the simplest that is found."""
    whole = Whole(on.job, on.rules)
    part = part_of(whole, whole.everything)
    return next(_reasons(whole, part), UNTOLD)


def _reasons(whole: Whole, part: Part) -> Iterator[Reason]:
    crowds = sorted((*_crowds(whole, output_crowds(part)), *_crowds(whole, input_crowds(part))), key=_things)
    yield from (_alone(whole, keys) for keys in crowds if _things(keys) == 1)
    yield from _overloads(whole, part)
    yield from (_crowd(whole, keys) for keys in crowds if _things(keys) > 1)
    yield from _no_place(whole)
    yield from _no_wire(whole)


def _things(keys: Keys) -> int:
    return sum(is_thing(key) for key in keys)


# --- crowds


def _crowds(whole: Whole, crowds: Iterator[Keys]) -> Iterator[Keys]:
    """Leave only what is a fact of this bike."""
    for crowd in crowds:
        yield tuple(key for key in crowd if key in whole.everything)


def _alone(whole: Whole, keys: Keys) -> Reason:
    """Tell of a thing that no port takes."""
    (thing,) = (key for key in keys if is_thing(key))
    name = thing[1]
    return _no_port(ports_for(thing), name, [one.rule for one in refused(whole, keys) if name in one.things])


def _no_port(ports: PortDirection, name: str, rules: Sequence[str]) -> Reason:
    told = tuple(dict.fromkeys(rules))
    return Reason(f"no {ports.removesuffix('s')} takes {name}{by_rules(told)}", told)


def by_rules(rules: Sequence[str]) -> str:
    """Say in brackets which rules refuse something; nothing where none is known."""
    return f" ({'rules' if len(rules) > 1 else 'rule'} {listed(tuple(rules))})" if rules else ""


def _crowd(whole: Whole, keys: Keys) -> Reason:
    """Tell of more things than ports, as a count."""
    refusals = refused(whole, keys)
    counts = counts_of(whole, keys, partial(_closed, refusals))
    said = "; ".join(count.sentence.partition(". ")[0] for count in counts)
    return Reason(said, tuple(dict.fromkeys(whole.facts[key].rule for key in keys)))


def _closed(refusals: Sequence[Refused], name: str, rule: str = "") -> set[str]:
    """Return the ports that refuse a thing, by one rule or by any."""
    return {port for one in refusals if name in one.things and rule in ("", one.rule) for port in one.ports}


# --- sums


def _overloads(whole: Whole, part: Part) -> Iterator[Reason]:
    """Tell of loads that draw more together than the unit, or the banks that they can be on, give."""
    drawn = {load.name: load.current for load in part.job.loads.on_unit}
    in_force = {rule.slug for rule in whole.rules}
    for overload in overloads(part):
        if overload.rule in in_force:
            yield Reason(f"{drawing(overload.loads, drawn)}, {overload.given}", (overload.rule,))


def drawing(names: Sequence[str], drawn: Mapping[str, MilliAmps]) -> str:
    """Say what loads draw together, in mA each."""
    total = amperes(MilliAmps(sum(drawn[name] for name in names)))
    return does(named(names, LOAD.name), f"draws {total} together")


def named(names: Sequence[str], thing: str) -> str:
    """List a few loads or switches; count many."""
    return listed(tuple(names)) if len(names) <= MOST_NAMED else counted(len(names), thing)


# --- places and wires


def _no_place(whole: Whole) -> Iterator[Reason]:
    """Tell what keeps the unit from every place; where that differs, of the first."""
    clashes = [next(place_clashes(whole.rules, site), None) for site in whole.sites]
    first = clashes[0]
    if first is not None and None not in clashes:
        yield Reason(in_short(whole.rules, whole.sites[0], first), (first.rule,))


def _no_wire(whole: Whole) -> Iterator[Reason]:
    """Tell of a load or switch that every port refuses at every place, its wire to there included."""
    refusals = refused(whole, [key for key in whole.keys if not kind_of(key).counts_ports])
    unit = whole.job.unit
    for name in (load.name for load in whole.job.loads.on_unit):
        yield from _closed_everywhere("outputs", name, refusals, port_names(unit, "outputs"))
    for name in (switch.name for switch in whole.job.bike.inputs):
        yield from _closed_everywhere("inputs", name, refusals, port_names(unit, "inputs"))


def _closed_everywhere(
    ports: PortDirection, name: str, refusals: Sequence[Refused], order: Sequence[str]
) -> Iterator[Reason]:
    if _closed(refusals, name).issuperset(order):
        yield _no_port(ports, name, [one.rule for one in refusals if name in one.things])
