"""The hunt for fixes: the cheapest changes that may lift every known conflict, tried, until they do.

A choice of changes that fails shows a new conflict, which rules out every other choice that does not
touch it. So the first that works is the cheapest there is. This is an implicit hitting set.
Source: Moreno-Centeno and Karp (2013), 'The implicit hitting set approach to solve combinatorial
optimization problems', doi:10.1287/opre.1120.1139.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from portloom.base.unit import Unit
from portloom.documents.draw_up import draw_up
from portloom.explaining.conflicts.find import any_conflict, counted
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.conflicts.question import OutOfTime, Questions
from portloom.explaining.fixes import loads, looms, ports
from portloom.explaining.fixes.change import Change, Known, Target, relief, relief_of_feed
from portloom.explaining.fixes.fix import Fix
from portloom.explaining.solved import Solved, solve
from portloom.job.job import Job
from portloom.rules.book import rules_of
from portloom.rules.facts import Keys
from portloom.search.hitting_sets import Clause, HittingSets

ENOUGH = 3
"""Fixes that are told, of different kinds where there are as many."""
MOST_TRIES = 40
"""Choices of changes that are tried, so that what is told does not hang on how quick a machine is."""
ALIKE = 3
"""Fixes of one kind that are looked for, of which the one with the cheapest plan is told."""


@dataclass(frozen=True)
class Fixes:
    """What was found, least effort first; ``complete`` unless the limit ended the hunt early."""

    found: tuple[Fix, ...]
    complete: bool


def all_changes(instance: Instance, known: Sequence[Unit]) -> tuple[Change, ...]:
    """Return every change that may be proposed for a bike, the least effort first."""
    proposals = (
        *ports.shared_outputs(instance),
        *looms.ways_round(instance),
        *loads.led_lamps(instance),
        *loads.suppressors(instance),
        *looms.places(instance),
        *looms.opened_up(instance),
        *ports.new_multiplexers(instance, known),
        *loads.feeds(instance),
        *loads.left_off(instance),
        *ports.bigger_units(instance, known),
    )
    return tuple(sorted(proposals, key=lambda change: change.effort))


def fixes_of(questions: Questions, conflicts: Sequence[Keys], known: Sequence[Unit]) -> Fixes:
    """Return different fixes of a bike that does not fit, none containing another, each with its plan.

    Where the limit ends the hunt early, the smallest unit that does may be told with no proof that
    nothing cheaper does.
    """
    hunt = _Hunt(questions, all_changes(questions.instance, known), conflicts)
    try:
        hunt.go()
    except (OutOfTime, TimeoutError):
        return Fixes(hunt.best(), complete=False)
    return Fixes(hunt.best(), complete=True)


def _one_after_another(changes: Sequence[Change]) -> list[Clause]:
    """Of changes that are alike the first comes first."""
    first = {change.slot: number for number, change in enumerate(changes)}
    return [((first[change.after],), (number,)) for number, change in enumerate(changes) if change.after]


class _Hunt:
    """What is known so far, and what is to be tried next."""

    def __init__(self, questions: Questions, changes: Sequence[Change], conflicts: Sequence[Keys]) -> None:
        self._base = questions
        self._clock = questions.clock
        self._changes = changes
        kinds = dict.fromkeys(change.kind for change in changes)
        self._kinds = [[n for n, change in enumerate(changes) if change.kind == kind] for kind in kinds]
        pairs = [(n, m) for (n, one), (m, other) in combinations(enumerate(changes), 2) if one.excludes(other)]
        self._choices = HittingSets(
            [change.effort for change in changes],
            pairs,
            self._kinds,
            clauses=_one_after_another(changes),
            sums=list(relief_of_feed(questions.instance, changes)),
        )
        self._found: dict[tuple[int, ...], list[Fix]] = {}
        self._spare: Fix | None = None
        self._tries = 0
        self._put_off: list[Clause] = []
        """Fixes of a kind of which there are enough, as clauses that rule them out."""
        self._known = [Known(keys, counted=counted(questions, keys)) for keys in conflicts]

    # --- the hunt

    def go(self) -> None:
        """Hunt until there are enough fixes of different kinds; of too few kinds, until there are enough fixes."""
        self._spare = self._bigger_unit()
        for conflict in self._known:
            self._learn(conflict, ())
        while (chosen := self._next()) is not None and not self._enough(chosen):
            alike = self._found.get(self._pattern(chosen), [])
            if alike and self._effort(chosen) > alike[0].effort:
                self._choices.patterns.append(self._pattern(chosen))
            else:
                self._try(chosen)
        self._choices.allow_again(self._put_off)
        while sum(map(len, self._found.values())) < ENOUGH and (chosen := self._next()) is not None:
            self._try(chosen)

    def _enough(self, chosen: Sequence[int]) -> bool:
        return len(self._found) == ENOUGH and self._effort(chosen) > self._dearest()

    def _pattern(self, chosen: Sequence[int]) -> tuple[int, ...]:
        """Return how many changes there are of each kind."""
        return tuple(sum(number in chosen for number in kind) for kind in self._kinds)

    def _next(self) -> tuple[int, ...] | None:
        self._tries += 1
        if self._tries > MOST_TRIES or self._clock.left() == 0:
            raise OutOfTime
        return self._choices.cheapest(self._clock)

    def _effort(self, chosen: Sequence[int]) -> int:
        return sum(self._changes[number].effort for number in chosen)

    def _dearest(self) -> int:
        return max(alike[0].effort for alike in self._found.values())

    def _bigger_unit(self) -> Fix | None:
        """Return the smallest unit that does by itself, for want of something better at the limit."""
        for number, change in enumerate(self._changes):
            if change.kind == ports.BIGGER and self._fits(self._made((number,))):
                return self._solved((number,), least=False)
        return None

    def _try(self, chosen: tuple[int, ...]) -> None:
        """Make changes, and keep them as a fix or learn a conflict."""
        questions = self._made(chosen)
        if ports.too_many_share(questions.instance.job):
            self._choices.clauses.append(((), chosen))
            return
        if not self._fits(questions):
            self._learn(self._still_holding(questions) or self._new(questions), chosen)
            return
        needed = self._needed(chosen)
        if needed == chosen:
            self._note(self._solved(chosen, least=True), chosen)
        else:
            self._put_off.append(((), needed))
        self._choices.clauses.append(((), needed))

    def _needed(self, chosen: tuple[int, ...]) -> tuple[int, ...]:
        """Return the changes of a fix without which it is none; fewer are a fix of a kind of which there are enough."""
        for fewer in combinations(chosen, len(chosen) - 1):
            if self._fits(self._made(fewer)):
                return self._needed(fewer)
        return chosen

    def _note(self, fix: Fix, chosen: Sequence[int]) -> None:
        """Keep a fix; of those with as many changes of each kind, and no more effort, only so many are looked for."""
        pattern = self._pattern(chosen)
        alike = self._found.setdefault(pattern, [])
        alike.append(fix)
        if len(alike) == ALIKE:
            self._choices.patterns.append(pattern)

    def best(self) -> tuple[Fix, ...]:
        """Return the cheapest of each kind, then what else was found, least effort first."""
        kinds = [sorted(alike, key=_rank) for alike in self._found.values()]
        firsts = sorted((alike[0] for alike in kinds), key=_rank)
        others = sorted((fix for alike in kinds for fix in alike[1:]), key=_rank)
        told = (firsts + others)[:ENOUGH]
        if self._spare and len(told) < ENOUGH and all(fix.changes != self._spare.changes for fix in told):
            told.append(self._spare)
        return tuple(sorted(told, key=_rank))

    # --- making changes

    def _made(self, chosen: Sequence[int]) -> Questions:
        """Make changes."""
        base = self._base.instance.job
        target: Target = (base.bike, base.unit)
        for number in chosen:
            target = self._changes[number].make(target)
        job = Job(*target)
        return Questions(Instance(job, rules_of(job), self._base.instance.place), self._clock)

    @staticmethod
    def _fits(questions: Questions) -> bool:
        return questions.has_plan(questions.instance.keys)

    def _solved(self, chosen: Sequence[int], *, least: bool) -> Fix:
        """Return a fix with its best plan, checked; raise OutOfTime at the limit."""
        instance = self._made(chosen).instance
        solved = solve(instance.job, instance.rules, instance.sites, self._clock)
        if not isinstance(solved, Solved):
            raise OutOfTime
        changes = tuple(self._changes[number] for number in chosen)
        return Fix(changes, instance.job.bike, instance.job.unit, draw_up(solved.laid, solved.assignment), least)

    # --- learning

    def _still_holding(self, questions: Questions) -> Known | None:
        """Return a known conflict that a choice touches and does not lift: found by one question, a new one by many."""
        return next((one for one in reversed(self._known) if _is_conflict(questions, one)), None)

    def _new(self, questions: Questions) -> Known:
        keys = any_conflict(questions, questions.instance.everything)
        self._known.append(Known(keys, counted=counted(questions, keys)))
        return self._known[-1]

    def _learn(self, conflict: Known, chosen: Sequence[int]) -> None:
        """Note that a choice must touch a conflict, or do without a change that it hangs on.

        Changes that touch it and do not lift it either, all together, need not be tried: they count as chosen.
        """
        hangs_on = list(chosen)
        for number in chosen:
            change, rest = self._changes[number], [other for other in hangs_on if other != number]
            if not change.only_helps and not change.touches(conflict) and self._holds(conflict, rest):
                hangs_on = rest
        idle = {*hangs_on, *self._idle(conflict, hangs_on)}
        touching = (n for n, change in enumerate(self._changes) if change.touches(conflict))
        self._choices.clauses.append(
            (
                tuple(number for number in touching if number not in idle),
                tuple(number for number in hangs_on if not self._changes[number].only_helps),
            )
        )
        if not chosen or self._holds(conflict, ()):
            needed = relief(self._base.instance, conflict, self._changes)
            self._choices.sums.extend([needed] if needed else [])

    def _idle(self, conflict: Known, chosen: Sequence[int]) -> tuple[int, ...]:
        """Return changes that make nothing worse and touch a conflict, which holds with all of them and the chosen."""
        helping = (n for n, change in enumerate(self._changes) if change.only_helps and change.touches(conflict))
        return self._still_idle(conflict, tuple(chosen), tuple(n for n in helping if n not in chosen))

    def _still_idle(self, conflict: Known, chosen: tuple[int, ...], more: tuple[int, ...]) -> tuple[int, ...]:
        """Add changes to the chosen ones in halves, as long as a conflict holds."""
        if not more or self._holds(conflict, chosen + more):
            return chosen + more
        if len(more) == 1:
            return chosen
        half = len(more) // 2
        return self._still_idle(conflict, self._still_idle(conflict, chosen, more[:half]), more[half:])

    def _holds(self, conflict: Known, chosen: Sequence[int]) -> bool:
        """Tell whether facts are a conflict of the bike with these changes, too.

        A share group larger than a file may have is not looked into: that takes too long.
        """
        questions = self._made(chosen)
        return not ports.too_many_share(questions.instance.job) and _is_conflict(questions, conflict)


def _is_conflict(questions: Questions, conflict: Known) -> bool:
    """Tell whether the facts of a conflict are all there, and have no plan together."""
    return questions.instance.everything.issuperset(conflict.keys) and not questions.has_plan(conflict.keys)


def _rank(fix: Fix) -> tuple[int, int]:
    """Ties in effort are settled by what the plan costs."""
    return fix.effort, fix.plan.cost
