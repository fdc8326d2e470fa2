"""Finding conflicts: the cheap tests first, each answer certified; then what is left when their facts are dropped.

Where no cheap test finds one, what the solver blames, place by place, with all that hangs on it, is the hint.
"""

from collections.abc import Collection, Iterable, Iterator, Sequence
from heapq import merge
from itertools import chain

from portloom.base.clock import TimeIsUp
from portloom.explaining.conflicts.crowds import input_crowds, output_crowds
from portloom.explaining.conflicts.kept import relaxed_to
from portloom.explaining.conflicts.overloads import overloads
from portloom.explaining.conflicts.question import OutOfTime, Questions
from portloom.explaining.conflicts.shrinking import (
    CertifiedConflict,
    NoConflict,
    Proved,
    certified,
    shrink,
    shrunk,
    unheard,
)
from portloom.rules.fact_kinds import BUILT, TOLD, WISH, is_thing, kind_of, of_a_load, of_a_switch
from portloom.rules.facts import FactKey, Keys
from portloom.search.feasibility import NotKnown, Possible
from portloom.search.hitting_sets import MapSolver

# --- what the solver blames


MUCH = 8
"""Where more facts than this are blamed at a place, the least that is blamed at others is likely nearer the cause."""


def blamed(questions: Questions, kept: Sequence[FactKey]) -> Keys | None:
    """Return facts of those kept that have no plan together, by way of what the solver blames; None where that fails.

    With each load and switch that is blamed at some place its figures; of limits those that are blamed, where these
    are too few also what no sum can show, and then all of them. Raises OutOfTime at the limit.
    """
    every, unseen = _limits(kept)
    things: set[str] = set()
    limits: frozenset[FactKey] = frozenset()
    while True:
        hint = tuple(_with(things, every, kept))
        verdict = questions.verdict(hint)
        if isinstance(verdict, NotKnown):
            raise OutOfTime
        if not isinstance(verdict, Possible):
            return hint
        blame = _least_blame(questions, kept, verdict.choice.site.label)
        more = set(_things(questions, blame))
        if more <= things:
            return None
        things |= more
        limits |= blame & every
        for some in (limits, limits | unseen) if limits else (unseen,):
            tight = tuple(_with(things, some, kept))
            if not questions.has_plan(tight):
                return tight


def _least_blame(questions: Questions, kept: Sequence[FactKey], place: str) -> frozenset[FactKey]:
    """Return what the solver blames at a place; where that is much, the least of what it blames at any."""
    blame = questions.blamed(kept, place)
    for other in (label for label in questions.instance.sites.labels if label != place):
        if len(blame) <= MUCH:
            break
        blame = min(blame, questions.blamed(kept, other) or blame, key=len)
    return blame


def _limits(kept: Iterable[FactKey]) -> tuple[frozenset[FactKey], frozenset[FactKey]]:
    """Return the facts that are of no load or switch; and of these what shows in no row of the model."""
    every = frozenset(key for key in kept if not (of_a_load(key) or of_a_switch(key)))
    return every, frozenset(key for key in every if kind_of(key).harmless or kind_of(key) is BUILT)


def _with(things: Collection[str], limits: frozenset[FactKey], kept: Iterable[FactKey]) -> Iterator[FactKey]:
    """Return some limits, and the facts about these things."""
    return (key for key in kept if key in limits or ((of_a_load(key) or of_a_switch(key)) and key[1] in things))


def _things(questions: Questions, facts: Iterable[FactKey]) -> Iterator[str]:
    """Return the loads and switches that facts are about, and those that a plan may hang on with them.

    Loads like them, what they feed, and the switches that work them or tell the unit anything.
    """
    job, facts = questions.instance.job, tuple(facts)
    named = {key[1] for key in facts if is_thing(key) or kind_of(key) is WISH}
    yield from named
    natures = {job.alike[name] for name in named if name in job.alike}
    for load in job.loads.on_unit:
        if job.alike[load.name] in natures:
            yield load.name
            yield from load.operated_by
            yield from (guest.name for guest in job.guests_of([load]))
    if any(kind_of(key) is TOLD for key in facts):
        yield from (switch.name for switch in job.bike.inputs if switch.tells)


# --- one conflict after the other


def disjoint_conflicts(questions: Questions, proved: Proved = unheard) -> Iterator[CertifiedConflict]:
    """Return conflicts that have no fact in common, until what is left of the bike has a plan.

    ``proved`` is told of each as ``certified`` has it.
    Raises OutOfTime at the limit.
    """
    kept = questions.instance.everything
    while (conflict := _conflict(questions, kept, proved)) is not None:
        yield conflict
        kept = kept.difference(conflict.keys)


def any_conflict(questions: Questions, kept: frozenset[FactKey]) -> Keys:
    """Return a conflict that need not be minimal, from the first test that finds one; proved, but not certified."""
    for hint in _in_time(questions, chain(_cheap(questions, kept), _dearer(questions, kept))):
        if not questions.has_plan(hint):
            return hint if counted(questions, hint) else shrunk(questions, hint)
    everything = _in_order(questions, _in_the_way(questions, kept))
    return shrunk(questions, blamed(questions, everything) or everything)


def conflict_about(questions: Questions, things: Collection[str]) -> Keys | None:
    """Return a conflict of some loads and switches with any limits; None where these have a plan by themselves.

    It is proved, but neither certified nor surely minimal. Raises OutOfTime at the limit.
    """
    kept = questions.instance.keys
    every, few = (tuple(_with(things, some, kept)) for some in _limits(kept))
    if questions.has_plan(every):
        return None
    return shrunk(questions, every if questions.has_plan(few) else few)


def counted(questions: Questions, keys: Keys) -> bool:
    """Tell whether counting ports alone proves that facts can't hold together, wherever the unit sits."""
    relaxed = relaxed_to(questions.instance, keys)
    return any(True for _ in chain(output_crowds(relaxed), input_crowds(relaxed)))


def first_conflict(questions: Questions, kept: frozenset[FactKey]) -> CertifiedConflict:
    """Return a conflict among facts that have no plan together."""
    conflict = _conflict(questions, kept)
    if conflict is None:
        raise NoConflict
    return conflict


def _in_time(questions: Questions, hints: Iterator[Keys]) -> Iterator[Keys]:
    """Return hints as long as the limit allows to look for them; raise OutOfTime after it."""
    short = questions.instance.job.bike.is_small
    while True:
        try:
            with questions.clock.held(unless=short):
                hint = next(hints, None)
        except TimeIsUp as up:
            raise OutOfTime from up
        if hint is None:
            return
        yield hint


def _conflict(questions: Questions, kept: frozenset[FactKey], proved: Proved = unheard) -> CertifiedConflict | None:
    """Return a conflict among facts, None where they have a plan together: that is asked once no test finds one."""
    for hint in _in_time(questions, _cheap(questions, kept)):
        try:
            return certified(questions, hint, proved)
        except NoConflict:
            continue
    for hint in _in_time(questions, _dearer(questions, kept)):
        if not questions.has_plan(hint):
            return shrink(questions, hint, proved)
    everything = _in_order(questions, _in_the_way(questions, kept))
    blame = blamed(questions, everything)
    if blame is None and questions.has_plan(everything):
        return None
    return shrink(questions, blame or everything, proved)


def _in_the_way(questions: Questions, kept: frozenset[FactKey]) -> frozenset[FactKey]:
    """Return facts without what is built of a loom, where they have no plan without that either: it is not to blame."""
    others = frozenset(key for key in kept if kind_of(key) is not BUILT)
    return kept if others == kept or questions.has_plan(others) else others


def _cheap(questions: Questions, kept: frozenset[FactKey]) -> Iterator[Keys]:
    """Return crowds of loads and switches; a thing that no port takes is a crowd of one."""
    relaxed = relaxed_to(questions.instance, kept)
    for crowd in merge(output_crowds(relaxed), input_crowds(relaxed), key=lambda keys: sum(map(is_thing, keys))):
        yield _in_order(questions, kept.intersection(crowd))


def _dearer(questions: Questions, kept: frozenset[FactKey]) -> Iterator[Keys]:
    """Return loads that draw more than the banks they can be on, or than the unit passes."""
    for overload in overloads(relaxed_to(questions.instance, kept)):
        yield _in_order(questions, kept.intersection(overload.keys))


def _in_order(questions: Questions, keys: Iterable[FactKey]) -> Keys:
    wanted = set(keys)
    return tuple(key for key in questions.instance.keys if key in wanted)


# --- every one


def every_conflict(questions: Questions) -> Iterator[CertifiedConflict]:
    """Return every minimal conflict; raise OutOfTime at the limit."""
    keys = questions.instance.keys
    explored = MapSolver(len(keys))
    try:
        while (seed := explored.largest(questions.clock)) is not None:
            kept = frozenset(keys[number] for number in seed)
            if questions.has_plan(kept):
                explored.holds(seed)
            else:
                conflict = first_conflict(questions, kept)
                explored.conflict(keys.index(key) for key in conflict.keys)
                yield conflict
    except TimeoutError as error:
        raise OutOfTime from error
