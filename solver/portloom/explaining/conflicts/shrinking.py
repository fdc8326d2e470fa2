"""From facts that can't hold together to a minimal conflict among them, in few questions, certified.

Source: Junker (2004), 'QUICKXPLAIN: preferred explanations and relaxations for over-constrained
problems', AAAI-04, 167-172. With n groups of which k are in the conflict it asks at most
2 k ceil(log2(n / k)) + 2 k questions.
"""

from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

from portloom.base.values import dataclass
from portloom.explaining.conflicts.question import Questions
from portloom.rules.fact_kinds import is_thing, of_a_load, of_a_switch, rank_of
from portloom.rules.facts import FactKey, Keys
from portloom.search.solving import Disagreement

# --- QuickXplain


Thing = TypeVar("Thing")


def quickxplain(things: Sequence[Thing], holds: Callable[[Sequence[Thing]], bool]) -> tuple[Thing, ...]:
    """Return a minimal part of ``things`` that does not hold, in their order.

    ``holds`` tells whether things can hold together; all together must not, none together must.
    Earlier things are kept rather than later ones.
    """
    if not things:
        return ()
    found = _within((), fresh=False, things=tuple(things), holds=holds)
    return tuple(thing for thing in things if any(thing is other for other in found))


def _within(
    background: tuple[Thing, ...],
    *,
    fresh: bool,
    things: tuple[Thing, ...],
    holds: Callable[[Sequence[Thing]], bool],
) -> tuple[Thing, ...]:
    """``fresh`` where the background has grown since it was last known to hold."""
    if fresh and not holds(background):
        return ()
    if len(things) == 1:
        return things
    first, second = things[: len(things) // 2], things[len(things) // 2 :]
    later = _within((*background, *first), fresh=True, things=second, holds=holds)
    earlier = _within((*background, *later), fresh=bool(later), things=first, holds=holds)
    return (*earlier, *later)


# --- certified


Proved = Callable[[Keys], None]
"""Is told facts that have no plan together, before it is known whether all of them are needed."""


def unheard(_: Keys) -> None:
    """Tell nobody."""


@dataclass(frozen=True)
class CertifiedConflict:
    """A minimal conflict: its facts alone have no plan, and have one without any of them."""

    keys: Keys
    places: tuple[str, ...]
    """For each fact a place where there is a plan without it."""


def grouped(questions: Questions, keys: Iterable[FactKey]) -> list[Keys]:
    """Group facts: limits one by one, then each load with its figures, the most current first, then each switch."""
    job = questions.instance.job
    drawn = {load.name: load.current for load in (*job.loads.on_unit, *job.loads.guests)}
    limits: list[Keys] = []
    loads: dict[str, Keys] = {}
    switches: dict[str, Keys] = {}
    for key in keys:
        if of_a_load(key):
            loads[key[1]] = (*loads.get(key[1], ()), key)
        elif of_a_switch(key):
            switches[key[1]] = (*switches.get(key[1], ()), key)
        else:
            limits.append((key,))
    limits.sort(key=lambda group: rank_of(group[0]))
    return [*limits, *sorted(loads.values(), key=lambda group: -drawn.get(group[0][1], 0)), *switches.values()]


def shrink(questions: Questions, keys: Iterable[FactKey], proved: Proved = unheard) -> CertifiedConflict:
    """Return a minimal conflict among facts that have no plan together; raise OutOfTime at the limit.

    ``proved`` is told of it as ``certified`` has it.
    """
    return certified(questions, shrunk(questions, keys), proved)


def shrunk(questions: Questions, keys: Iterable[FactKey]) -> Keys:
    """Return the same, not certified yet: first the groups without which there is a plan, then the facts in them."""

    def hold(groups: Sequence[Keys]) -> bool:
        return questions.holds(key for group in groups for key in group)

    entities = quickxplain(grouped(questions, keys), hold)
    needed = frozenset(key for group in entities for key in _hung_on(group))

    def facts_hold(facts: Sequence[Keys]) -> bool:
        return not needed.issubset(key for (key,) in facts) or hold(facts)

    facts = [(key,) for group in entities for key in group]
    found = quickxplain(sorted(facts, key=lambda group: rank_of(group[0])), facts_hold)
    return tuple(sorted((key for (key,) in found), key=questions.instance.keys.index))


def _hung_on(group: Keys) -> Keys:
    """Return the fact of a group on which all others hang: without it the whole group counts as dropped."""
    return group if len(group) == 1 else tuple(key for key in group if is_thing(key))


def certified(questions: Questions, keys: Sequence[FactKey], proved: Proved = unheard) -> CertifiedConflict:
    """Prove a conflict and that it is minimal; what it can do without is left away first.

    ``proved`` is told the facts as soon as it is proved that they have no plan together.
    Raises OutOfTime at the limit, and NoConflict where the facts have a plan.
    """
    keys = tuple(keys)
    if not questions.proved_twice(keys):
        raise NoConflict
    proved(keys)
    places: list[str] = []
    for key in keys:
        rest = tuple(other for other in keys if other != key)
        place = questions.place_of(rest)
        if place is None:
            return certified(questions, rest, proved)
        places.append(place)
    return CertifiedConflict(keys, tuple(places))


class NoConflict(Disagreement):
    """Facts that were to be a conflict have a plan."""
