"""Why nothing fits: conflicts without a fact in common, each proved and put into words."""

from dataclasses import dataclass

from portloom.explaining.conflicts.find import disjoint_conflicts
from portloom.explaining.conflicts.question import OutOfTime, Questions
from portloom.explaining.telling.conflict import Conflict
from portloom.explaining.telling.told import Where, told


@dataclass(frozen=True)
class Why:
    """Conflicts; ``complete`` where what is left of the bike without their facts was proved to fit."""

    conflicts: tuple[Conflict, ...]
    complete: bool


def why_nothing_fits(questions: Questions, where: Where, most: int | None = None) -> Why:
    """Return the conflicts of a bike of which it is known that it has no plan, ``most`` at most; fewer at a limit."""
    found: list[Conflict] = []
    try:
        for conflict in disjoint_conflicts(questions):
            found.append(told(questions, conflict, where))
            if len(found) == most:
                return Why(tuple(found), complete=False)
    except OutOfTime:
        return Why(_fewest_first(found), complete=False)
    return Why(_fewest_first(found), complete=True)


def _fewest_first(found: list[Conflict]) -> tuple[Conflict, ...]:
    return tuple(sorted(found, key=lambda conflict: len(conflict.facts)))
