"""The shortest reason why a bike does not fit: what is in the way with its figures, and what may help.

Each cheap test is a proof by counting or adding up: no solver is asked. Where none of them tells, a conflict does.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial

from portloom.base.clock import Clock
from portloom.base.figures import amperes, counted, listed, number_word, with_verb
from portloom.base.parts.loads import is_watched
from portloom.base.quantities import MilliAmps
from portloom.comparing.prepared import BikeOnUnit
from portloom.comparing.row import Reason
from portloom.explaining.conflicts.crowds import input_crowds, output_crowds
from portloom.explaining.conflicts.kept import Instance, RelaxedInstance, relaxed_to
from portloom.explaining.conflicts.overloads import overloads
from portloom.explaining.conflicts.question import Questions
from portloom.explaining.telling.counts import CrowdCount, counts_of
from portloom.explaining.telling.refused import Refused, refusals_of, refused, refused_each
from portloom.explaining.telling.told import why_nothing_fits
from portloom.job.kinds import PortDirection, port_names
from portloom.rules.book import eased, in_short, place_clashes
from portloom.rules.fact_kinds import LOAD, is_thing, kind_of, ports_for
from portloom.rules.facts import Keys, by_default

MOST_NAMED = 3
"""So many loads of a sum are named."""
UNTOLD = Reason("proved; the time limit left no time to look for what is in the way", ())
"""Said where no cheap test tells, and there is no time for more."""
LONG = 200
"""Letters: what makes a reason longer is named by its rule alone."""
TAKE_ANOTHER = "take a unit that has it"
"""Said where nothing that the bike's file may say helps."""


def reason_why_not(on: BikeOnUnit, clock: Clock) -> Reason:
    """Return one reason why a bike of which it is proved that it has no plan has none: a cheap one, or a conflict."""
    return short_reason(on) or _conflict(on, clock)


def short_reason(on: BikeOnUnit) -> Reason | None:
    """Return the simplest reason that cheap tests find, None where they tell none."""
    instance = Instance(on.job, on.rules)
    relaxed = relaxed_to(instance, instance.everything)
    return next(_reasons(instance, relaxed), None)


def _conflict(on: BikeOnUnit, clock: Clock) -> Reason:
    """Return the first conflict that the search proves, with what lifts it or may help."""
    why = why_nothing_fits(Questions(Instance(on.job, on.rules), clock), by_default, most=1)
    if not why.conflicts:
        return UNTOLD
    (conflict,) = why.conflicts
    helps = [lift.said for lift in conflict.lifted_by[:1]] or list(conflict.hints[:1])
    return Reason(conflict.sentence.rstrip("."), conflict.rules, tuple(helps))


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
    return _no_port(instance, ports_for(thing), thing[1], refused(instance, keys))


def _no_port(instance: Instance, ports: PortDirection, name: str, refusals: Iterable[Refused]) -> Reason:
    """Tell what refuses a thing on every port, and what the bike's file may say so that one takes it."""
    own = [_in_brief(one) for one in refusals if name in one.things]
    rules = tuple(dict.fromkeys(one.rule for one in own))
    enough = [one for number, one in enumerate(own) if not number or len(refusals_of(own[: number + 1], name)) <= LONG]
    said = f"no {ports.removesuffix('s')} takes {name}: {refusals_of(enough, name)}{by_rules(rules)}"
    return Reason(said, rules, tuple(eased(instance.job, rules, name)) or (TAKE_ANOTHER,))


def _in_brief(refused: Refused) -> Refused:
    """Return a refusal by one rule on many ports with what is said of the first of them, where all of it is long."""
    sentence = refused.sentence
    return replace(refused, sentence=sentence.partition("; ")[0]) if len(sentence) > LONG else refused


def by_rules(rules: Sequence[str]) -> str:
    """Say in brackets which rules refuse something; nothing where none is known."""
    return f" ({'rules' if len(rules) > 1 else 'rule'} {listed(tuple(rules))})" if rules else ""


def _crowd(instance: Instance, keys: Keys) -> Reason:
    """Tell of more things than ports, as a count."""
    refusals = refused(instance, keys)
    counts = counts_of(instance, keys, partial(_closed, refusals))
    said = "; ".join(count.sentence.partition(". ")[0] for count in counts)
    rules = tuple(dict.fromkeys(instance.facts[key].rule for key in keys))
    return Reason(said, rules, tuple(said for count in counts for said in _more_ports(instance, keys, count)))


def _more_ports(instance: Instance, keys: Keys, count: CrowdCount) -> Iterator[str]:
    """Say what may make a crowd smaller: another way to drive its things, or fewer things on the unit's ports."""
    things = [key for key in keys if is_thing(key)]
    for_all = [tuple(eased(instance.job, (count.rule,), name)) for _, name in things] if count.rule else []
    if for_all and all(for_all):
        yield for_all[0][0]
    if count.too_many < 1:
        return
    shared = f"{number_word(count.too_many)} of them shared ('share')"
    if kind_of(things[0]) is not LOAD:
        yield f"{shared} or on a multiplexer"
        return
    parts = {load.name: load.part for load in instance.job.loads.on_unit}
    free = [name for _, name in things if not is_watched(parts.get(name))]
    yield f"{shared} or past the unit ('fed: relay', 'fed: fuse')" if len(free) >= count.too_many else shared


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
    refusals = tuple(refused_each(instance, [key for key in instance.keys if not kind_of(key).counts_ports]))
    for name in (load.name for load in instance.job.loads.on_unit):
        yield from _closed_everywhere(instance, "outputs", name, refusals)
    for name in (switch.name for switch in instance.job.inputs):
        yield from _closed_everywhere(instance, "inputs", name, refusals)


def _closed_everywhere(
    instance: Instance, ports: PortDirection, name: str, refusals: Sequence[Refused]
) -> Iterator[Reason]:
    if _closed(refusals, name).issuperset(port_names(instance.job.unit, ports)):
        yield _no_port(instance, ports, name, refusals)
