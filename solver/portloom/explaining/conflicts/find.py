"""Finding conflicts: the cheap tests first, each answer certified; then what is left when their facts are dropped."""

from collections.abc import Iterable, Iterator

from portloom.explaining.conflicts.blame import blamed
from portloom.explaining.conflicts.crowds import input_crowds, output_crowds
from portloom.explaining.conflicts.kept import relaxed_to
from portloom.explaining.conflicts.overloads import overloads
from portloom.explaining.conflicts.question import Questions
from portloom.explaining.conflicts.shrinking import CertifiedConflict, NoConflict, certified, shrink, shrunk
from portloom.rules.fact_kinds import is_thing
from portloom.rules.facts import FactKey, Keys


def disjoint_conflicts(questions: Questions) -> Iterator[CertifiedConflict]:
    """Return conflicts that have no fact in common, until what is left of the bike has a plan.

    Raises OutOfTime at the limit.
    """
    kept = questions.instance.everything
    while (conflict := _conflict(questions, kept)) is not None:
        yield conflict
        kept = kept.difference(conflict.keys)


def any_conflict(questions: Questions, kept: frozenset[FactKey]) -> Keys:
    """Return a conflict that need not be minimal, from the first test that finds one; proved, but not certified."""
    for hint in (*_cheap(questions, kept), *_dearer(questions, kept)):
        if not questions.has_plan(hint):
            return hint if counted(questions, hint) else shrunk(questions, hint)
    everything = _in_order(questions, kept)
    return shrunk(questions, blamed(questions, everything) or everything)


def counted(questions: Questions, keys: Keys) -> bool:
    """Tell whether counting ports alone proves that facts can't hold together, wherever the unit sits."""
    relaxed = relaxed_to(questions.instance, keys)
    return any(True for _ in (*output_crowds(relaxed), *input_crowds(relaxed)))


def first_conflict(questions: Questions, kept: frozenset[FactKey]) -> CertifiedConflict:
    """Return a conflict among facts that have no plan together."""
    conflict = _conflict(questions, kept)
    if conflict is None:
        raise NoConflict
    return conflict


def _conflict(questions: Questions, kept: frozenset[FactKey]) -> CertifiedConflict | None:
    """Return a conflict among facts, None where they have a plan together: that is asked once no test finds one."""
    for hint in _cheap(questions, kept):
        try:
            return certified(questions, hint)
        except NoConflict:
            continue
    for hint in _dearer(questions, kept):
        if not questions.has_plan(hint):
            return shrink(questions, hint)
    everything = _in_order(questions, kept)
    blame = blamed(questions, everything)
    if blame is None and questions.has_plan(everything):
        return None
    return shrink(questions, blame or everything)


def _cheap(questions: Questions, kept: frozenset[FactKey]) -> Iterator[Keys]:
    """Return crowds of loads and switches; a thing that no port takes is a crowd of one."""
    relaxed = relaxed_to(questions.instance, kept)
    crowds = [*output_crowds(relaxed), *input_crowds(relaxed)]
    for crowd in sorted(crowds, key=lambda keys: sum(is_thing(key) for key in keys)):
        yield _in_order(questions, kept.intersection(crowd))


def _dearer(questions: Questions, kept: frozenset[FactKey]) -> Iterator[Keys]:
    """Return loads that draw more than the banks they can be on, or than the unit passes."""
    for overload in overloads(relaxed_to(questions.instance, kept)):
        yield _in_order(questions, kept.intersection(overload.keys))


def _in_order(questions: Questions, keys: Iterable[FactKey]) -> Keys:
    wanted = set(keys)
    return tuple(key for key in questions.instance.keys if key in wanted)
