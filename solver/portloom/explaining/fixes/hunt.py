"""The hunt for fixes: the cheapest changes that may lift every known conflict, tried, until they do.

A choice of changes that fails shows a new conflict, which rules out every other choice that does not
touch it. So the first that works is the cheapest there is. This is an implicit hitting set.
Source: Moreno-Centeno and Karp (2013), 'The implicit hitting set approach to solve combinatorial
optimization problems', doi:10.1287/opre.1120.1139.
"""

from collections.abc import Sequence

from portloom.base.clock import TimeIsUp
from portloom.base.figures import counted
from portloom.base.saying import Say, silent
from portloom.base.unit import Unit
from portloom.base.values import dataclass
from portloom.explaining.conflicts.question import OutOfTime, Questions, Work
from portloom.explaining.fixes.change import Change
from portloom.explaining.fixes.fix import Fix
from portloom.explaining.fixes.lessons import Lessons
from portloom.explaining.fixes.ports import BIGGER
from portloom.explaining.fixes.sharing import Choice
from portloom.explaining.fixes.space import all_changes, most_helpful
from portloom.explaining.fixes.trials import Trials
from portloom.rules.facts import Keys

ENOUGH = 3
"""Fixes that are told, of different kinds where there are as many."""
AFTERWARDS = 3_000
"""Columns for something that works where no choice that was tried did."""
ALIKE = 3
"""Fixes of one kind that are looked for, of which the one with the cheapest plan is told."""


@dataclass(frozen=True)
class Fixes:
    """What was found, least effort first; ``complete`` unless a limit ended the hunt early."""

    found: tuple[Fix, ...]
    complete: bool


def fixes_of(questions: Questions, conflicts: Sequence[Keys], known: Sequence[Unit], say: Say = silent) -> Fixes:
    """Return different fixes of a bike that does not fit, none containing another, each with its plan.

    Where a limit ends the hunt early, the smallest unit that does may be told, or what is left of all that may help
    once nothing in it can be spared, with no proof that nothing cheaper does. ``say`` is told what is being tried.
    """
    clock, short = questions.clock, questions.instance.job.bike.is_small
    try:
        with clock.held(unless=short):
            hunt = _Hunt(questions, all_changes(questions.instance, known), conflicts, say)
    except TimeIsUp:
        return Fixes((), complete=False)
    try:
        with clock.held(unless=short):
            hunt.begin()
        hunt.go()
    except TimeIsUp:
        return Fixes((), complete=False)
    except (OutOfTime, TimeoutError):
        hunt.go_without_proof()
        return Fixes(hunt.best(), complete=False)
    return Fixes(hunt.best(), complete=True)


class _Hunt:
    """What is found so far, and what is to be tried next."""

    def __init__(
        self,
        questions: Questions,
        changes: Sequence[Change],
        conflicts: Sequence[Keys],
        say: Say,
    ) -> None:
        self._say = say
        self._trials = Trials(questions, changes, questions.work, list(conflicts))
        self._lessons = Lessons(self._trials)
        self._found: dict[tuple[int, ...], list[Fix]] = {}
        self._spare: Fix | None = None

    def begin(self) -> None:
        """Learn what is known before anything is tried."""
        self._lessons.begin()

    def go(self) -> None:
        """Hunt until there are enough fixes of different kinds; of too few kinds, until there are enough fixes."""
        while (chosen := self._lessons.cheapest()) is not None and not self._enough(chosen):
            like = self._found.get(self._pattern(chosen), [])
            if like and self._trials.effort(chosen) > like[0].effort:
                self._lessons.enough_of(self._pattern(chosen))
            else:
                self._try(chosen)
        self._lessons.allow_again()
        while sum(map(len, self._found.values())) < ENOUGH and (chosen := self._lessons.cheapest()) is not None:
            self._try(chosen)

    def go_without_proof(self) -> None:
        """Where too few fixes were found, look for something that works: the smallest unit that does by itself.

        Where nothing was found and no unit does: all that may help, less what can be spared.
        """
        trials = self._trials.with_work(Work(AFTERWARDS))
        try:
            if len(self._found) < ENOUGH:
                self._spare = _bigger_unit(trials)
            if not self._found and self._spare is None:
                self._spare = _by_all_means(trials)
        except OutOfTime:
            return

    def _enough(self, chosen: Choice) -> bool:
        return len(self._found) == ENOUGH and self._trials.effort(chosen) > self._dearest()

    def _dearest(self) -> int:
        return max(like[0].effort for like in self._found.values())

    def _pattern(self, chosen: Choice) -> tuple[int, ...]:
        """Return how many changes there are of each kind."""
        return tuple(sum(number in chosen for number in kind) for kind in self._lessons.kinds)

    def _try(self, chosen: Choice) -> None:
        """Make changes, and keep them as a fix or learn why they are none."""
        self._say(f"{self._so_far()}, trying an effort of {self._trials.effort(chosen)}")
        questions = self._trials.made(chosen)
        if self._lessons.is_no_bike(questions, chosen) or questions is None:
            return
        if self._lessons.is_counted_out(questions, chosen):
            return
        known = self._trials.conflict_in(questions) or self._trials.conflict_like_known(questions)
        # Most of what is impossible shows without wires, long before a search for the best plan would end.
        possible = known is None and questions.hangs_on_wires(questions.instance.keys)
        fix = self._trials.solved(chosen, least=True) if possible else None
        if fix is None:
            self._lessons.learn_from(questions, known, chosen)
        else:
            self._note(fix, chosen)
            self._lessons.exclude(chosen)

    def _so_far(self) -> str:
        found = len(self._found)
        return f"looking for fixes: {counted(found, 'sort')} found" if found else "looking for fixes"

    def _note(self, fix: Fix, chosen: Choice) -> None:
        """Keep a fix; of those with as many changes of each kind, and no more effort, only so many are looked for."""
        pattern = self._pattern(chosen)
        like = self._found.setdefault(pattern, [])
        like.append(fix)
        if len(like) == ALIKE:
            self._lessons.enough_of(pattern)

    def best(self) -> tuple[Fix, ...]:
        """Return the cheapest of each kind, then what else was found, least effort first."""
        kinds = [sorted(like, key=_rank) for like in self._found.values()]
        firsts = sorted((like[0] for like in kinds), key=_rank)
        others = sorted((fix for like in kinds for fix in like[1:]), key=_rank)
        told = (firsts + others)[:ENOUGH]
        if self._spare and len(told) < ENOUGH and all(fix.changes != self._spare.changes for fix in told):
            told.append(self._spare)
        return tuple(sorted(told, key=_rank))


def _bigger_unit(trials: Trials) -> Fix | None:
    """Return the smallest unit that does by itself."""
    for number, change in enumerate(trials.changes):
        if change.kind == BIGGER and trials.suits((number,)):
            return trials.solved((number,), least=False)
    return None


def _by_all_means(trials: Trials) -> Fix | None:
    """Return all that may help together, less what can be spared."""
    for chosen in most_helpful(trials.changes):
        if trials.suits(chosen):
            return trials.solved(trials.needed(trials.spared(chosen, chosen[::-1])), least=False)
    return None


def _rank(fix: Fix) -> tuple[int, int]:
    """Ties in effort are settled by what the plan costs."""
    return fix.effort, fix.plan.cost
