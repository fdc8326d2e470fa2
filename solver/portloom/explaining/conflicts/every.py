"""Every minimal conflict, one after the other, up to a bound."""

from collections.abc import Iterator

from portloom.explaining.conflicts.find import first_conflict
from portloom.explaining.conflicts.question import OutOfTime, Questions
from portloom.explaining.conflicts.shrinking import CertifiedConflict
from portloom.search.unexplored import Map


def every_conflict(questions: Questions) -> Iterator[CertifiedConflict]:
    """Return every minimal conflict; raise OutOfTime at the limit."""
    keys = questions.instance.keys
    explored = Map(len(keys))
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
