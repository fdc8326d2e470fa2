"""Conflicts in words: one sentence over a conflict, one line a fact, every figure from a rule's own module.

Conflicts of a bike are told that have no fact in common, each proved.
"""

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet

from portloom.base.figures import counted, listed, port_range
from portloom.base.saying import Say, silent
from portloom.base.values import dataclass
from portloom.explaining.conflicts.find import disjoint_conflicts
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.conflicts.question import OutOfTime, Questions
from portloom.explaining.conflicts.shrinking import CertifiedConflict
from portloom.explaining.telling.conflict import PROVED, Conflict, ToldFact
from portloom.explaining.telling.counts import ports_of
from portloom.explaining.telling.headline import headline
from portloom.explaining.telling.lifts import lifts
from portloom.explaining.telling.refused import COMMA, Refused, of_it, refused
from portloom.job.kinds import port_names
from portloom.rules.fact_kinds import LOAD, SWITCH, TOLD, kind_of, of_a_load, of_a_switch
from portloom.rules.facts import FactKey, Keys, Where
from portloom.search.solving import Disagreement

DEFAULT = 10**9
"""What no file says comes after its last line."""


def told(questions: Questions, conflict: CertifiedConflict, where: Where) -> Conflict:
    """Put a certified conflict into words."""
    instance = questions.instance
    refusals = refused(instance, conflict.keys)
    over = headline(questions, conflict.keys, refusals)
    places = dict(zip(conflict.keys, conflict.places, strict=True))
    facts = tuple(_fact(instance, key, places[key], where) for key in _in_order(instance, conflict.keys, where))
    rules = (*over.rules, *(one.rule for one in over.unsaid), *(fact.rule for fact in facts))
    return Conflict(
        sentence=over.sentence,
        facts=facts,
        rules=tuple(dict.fromkeys(rules)),
        proof=PROVED,
        detail=tuple(_refusal(one, {fact.sentence for fact in facts}) for one in over.unsaid),
        places=tuple(site.label for site in instance.sites),
        lifted_by=lifts(questions, conflict.keys, over.rules, rules),
        hints=tuple(dict.fromkeys((*_hints_of_rules(instance, over.rules), *_hints(instance, conflict.keys)))),
    )


def _in_order(instance: Instance, keys: Sequence[FactKey], where: Where) -> list[FactKey]:
    """Return what the bike's file says, what is taken by default, what the unit's profile says; ports come last."""

    def rank(key: FactKey) -> tuple[bool, bool, int]:
        at = instance.facts[key].at
        _, colon, line = where(at).rpartition(":")
        return kind_of(key).counts_ports, at.file == "unit", int(line) if colon else DEFAULT

    return sorted(keys, key=rank)


def _fact(instance: Instance, key: FactKey, place: str, where: Where) -> ToldFact:
    fact, kind = instance.facts[key], kind_of(key)
    name = fact.subject
    if kind.counts_ports and kind.ports is not None:
        name = port_range(ports_of(instance, [key], kind.ports), port_names(instance.job.unit, kind.ports))
    return ToldFact(
        key, fact.rule, fact.subject, fact.sentence, where(fact.at), place, kind.dropped, fact.together, name
    )


def _refusal(one: Refused, known: AbstractSet[str]) -> str:
    """Say what refuses the first of the things, less what is known already, and who else is refused alike."""
    more = "; no other place will do" if one.first_place else ""
    if len(one.things) > 1:
        return f"nowhere else: {one.sentence}{more}; likewise {listed(one.things[1:])}"
    (name,) = one.things
    first, comma, rest = one.sentence.partition(COMMA)
    return f"nowhere else for {name}: {rest if comma and first in known else of_it(one.sentence, name)}{more}"


def _hints_of_rules(instance: Instance, slugs: Sequence[str]) -> Iterator[str]:
    for rule in instance.rules:
        hint = rule.hint(instance.job) if rule.hint and rule.slug in slugs else ""
        if hint:
            yield hint


def _hints(instance: Instance, keys: Sequence[FactKey]) -> Iterator[str]:
    """Return what may help; where the unit is not told one thing, all that the same rule asks for in vain."""
    told = {what for switch in instance.job.bike.inputs for what in switch.tells}
    rules = {key[1] for key in keys if kind_of(key) is TOLD}
    for key, fact in instance.facts.items():
        also = kind_of(key) is TOLD and key[1] in rules and key[2] not in told
        if fact.hint and (key in keys or also):
            yield fact.hint


# --- all conflicts of a bike


@dataclass(frozen=True)
class Why:
    """Conflicts; ``complete`` where what is left of the bike without their facts was proved to fit."""

    conflicts: tuple[Conflict, ...]
    complete: bool


NAMED = 3
"""So many loads and switches are named of what is in the way, before there is a sentence for it."""


def in_the_way(keys: Keys) -> str:
    """Say what is in the way, while it is looked whether all of it is needed."""
    loads = list(dict.fromkeys(key[1] for key in keys if of_a_load(key)))
    switches = list(dict.fromkeys(key[1] for key in keys if of_a_switch(key)))
    limits = sum(not (of_a_load(key) or of_a_switch(key)) for key in keys)
    names = [*loads, *switches]
    if len(names) > NAMED:
        names = [counted(len(loads), LOAD.name)] if loads else []
        names += [counted(len(switches), SWITCH.name)] if switches else []
    others = [counted(limits, "limit")] if limits else []
    return f"in the way: {listed([*names, *others])}; proving that nothing of it can be spared"


def why_nothing_fits(questions: Questions, where: Where, most: int | None = None, say: Say = silent) -> Why:
    """Return the conflicts of a bike of which it is known that it has no plan, ``most`` at most; fewer at a limit.

    ``say`` is told of each as soon as it is proved, before it is known to be minimal.

    Raises Disagreement where the bike has a plan after all.
    """
    found: list[Conflict] = []
    try:
        for conflict in disjoint_conflicts(questions, lambda keys: say(in_the_way(keys))):
            found.append(told(questions, conflict, where))
            if len(found) == most:
                return Why(tuple(found), complete=False)
    except OutOfTime:
        return Why(_fewest_first(found), complete=False)
    if not found:
        raise Disagreement("nothing fits, and yet no facts are in the way")
    return Why(_fewest_first(found), complete=True)


def _fewest_first(found: list[Conflict]) -> tuple[Conflict, ...]:
    return tuple(sorted(found, key=lambda conflict: len(conflict.facts)))
