"""What is told of random bikes for which nothing fits, and the independent program's word on it."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cache

from explained import Texts, questions_on
from oracle.facts import Key, all_facts
from oracle.kept import has_plan
from portloom.explaining.telling.told import why_nothing_fits
from portloom.rules.facts import by_default

Case = Callable[[int, str], Texts]
Conflict = frozenset[Key]


@dataclass(frozen=True)
class Told:
    """A bike and a unit that have no plan, and the conflicts that are told of them."""

    written: Texts
    conflicts: tuple[Conflict, ...]
    complete: bool

    @property
    def wrong(self) -> tuple[Conflict, ...]:
        """The conflicts that are none: their facts alone have a plan."""
        return tuple(conflict for conflict in self.conflicts if has_plan(*self.written, conflict))

    @property
    def spare(self) -> tuple[tuple[Key, Conflict], ...]:
        """Facts that a conflict could do without: the others have no plan either."""
        return tuple(
            (key, conflict)
            for conflict in self.conflicts
            for key in sorted(conflict)
            if not has_plan(*self.written, conflict - {key})
        )

    @property
    def rest_fits(self) -> bool:
        """Whether there is a plan without all the facts of all the conflicts."""
        return has_plan(*self.written, frozenset(all_facts(*self.written)).difference(*self.conflicts))


def told_of(case: Case, family: str, seeds: Iterable[int]) -> Iterator[Told]:
    """Return what is told of those of some random bikes that have no plan."""
    return (told for seed in seeds if (told := _told(case, family, seed)) is not None)


@cache
def _told(case: Case, family: str, seed: int) -> Told | None:
    written = case(seed, family)
    questions = questions_on(written)
    if questions.has_plan(questions.instance.everything):
        return None
    why = why_nothing_fits(questions, by_default)
    conflicts = tuple(frozenset(fact.key for fact in conflict.facts) for conflict in why.conflicts)
    return Told(written, conflicts, why.complete)
