"""What is learnt of choices that do not help: clauses and sums that every fix meets (FORMULATION.md, F2 to F6)."""

from collections.abc import Sequence

from portloom.explaining.conflicts.find import any_conflict, counted
from portloom.explaining.conflicts.question import QUESTION, Questions
from portloom.explaining.fixes.reach import Blame, blame_of
from portloom.explaining.fixes.relief import Crowds, of_the_feed
from portloom.explaining.fixes.sharing import Choice, containing, crowded, kept_apart
from portloom.explaining.fixes.space import alike, excluded, gone_by, implied
from portloom.explaining.fixes.trials import Trials
from portloom.rules.facts import Keys
from portloom.search.hitting_sets import HittingSets


class Lessons:
    """What is known so far of the changes of a bike."""

    def __init__(self, trials: Trials, conflicts: Sequence[Keys]) -> None:
        """Take the changes, and conflicts of the bike as it is."""
        self._trials = trials
        self._changes = trials.changes
        self.kinds = alike(trials.changes)
        self._choices = HittingSets(
            [change.effort for change in trials.changes],
            tuple(excluded(trials.changes)),
            self.kinds,
            clauses=list(implied(trials.changes)),
        )
        self._conflicts = conflicts
        self._known: list[Blame] = []
        self._crowds: dict[int | None, Crowds] = {}

    def begin(self) -> None:
        """Note what counting tells of each unit that the bike may have, and the conflicts that are known.

        Raises OutOfTime at a limit.
        """
        units = (number for number, change in enumerate(self._changes) if change.acts == "unit")
        for unit, chosen in ((None, ()), *((unit, (unit,)) for unit in units)):
            questions = self._trials.made(chosen)
            if questions is not None:
                self._crowds[unit] = Crowds(questions.instance, self._changes, unit)
                self._choices.sums.extend(self._crowds[unit].all_here())
                self._choices.sums.extend(of_the_feed(questions.instance, self._changes, unit))
        self._known = [_blame(self._trials.base, keys) for keys in self._conflicts]
        for conflict in self._known:
            self._learn(conflict, ())

    def cheapest(self) -> Choice | None:
        """Return the choice of least effort that may be a fix, None where there is none; raise OutOfTime at a limit."""
        self._trials.work.spend(QUESTION)
        return self._choices.cheapest(self._trials.base.clock)

    # --- what is told already

    def exclude(self, fix: Choice) -> None:
        """Rule out a fix, and all that is as much or more."""
        self._choices.clauses.extend(((), way) for way in containing(self._changes, fix))

    def enough_of(self, pattern: tuple[int, ...]) -> None:
        """Rule out choices with so many changes of each kind, or more."""
        self._choices.patterns.append(pattern)

    def allow_again(self) -> None:
        """Allow every kind."""
        self._choices.patterns.clear()

    # --- what does not help

    def is_no_bike(self, questions: Questions | None, chosen: Choice) -> bool:
        """Tell whether changes have nothing to change, or make a share group that no file may have, and note it."""
        if questions is None:
            self._choices.clauses.append(((), chosen))
            return True
        job = questions.instance.job
        loads = crowded(job) or kept_apart(self._trials.base.instance.job, job)
        if loads is None:
            return False
        figures = (n for n, change in enumerate(self._changes) if change.acts == "figures" and change.slot[1] in loads)
        joined = tuple(number for number in chosen if any(self._changes[number].joins))
        self._choices.clauses.append(((*gone_by(self._changes, loads), *figures), joined))
        return True

    def is_counted_out(self, questions: Questions, chosen: Choice) -> bool:
        """Tell whether counting shows that a choice does not help, and note what every fix must come up to."""
        unit = next((number for number in chosen if self._changes[number].acts == "unit"), None)
        sums = tuple(self._crowds[unit].seen_with(questions.instance)) if unit in self._crowds else ()
        self._choices.sums.extend(sums)
        return not all(needed.met_by(chosen) for needed in sums)

    def learn_from(self, questions: Questions, chosen: Choice) -> None:
        """Note why a choice does not help: a known conflict that it does not lift, or a new one."""
        self._learn(self._still_holding(questions) or self._new(questions), chosen)

    def _still_holding(self, questions: Questions) -> Blame | None:
        """Return a known conflict that holds: found by one question, a new one by many."""
        found = next((one for one in reversed(self._known) if _is_conflict(questions, one)), None)
        return found and _blame(questions, found.keys)

    def _new(self, questions: Questions) -> Blame:
        blame = _blame(questions, any_conflict(questions, questions.instance.everything))
        self._known.append(blame)
        return blame

    def _learn(self, conflict: Blame, chosen: Choice) -> None:
        """Note that a choice must touch a conflict, or do without a change that it hangs on.

        Changes that touch it and do not lift it either, all together, need not be tried: they count as chosen.
        """
        hangs_on = list(chosen)
        for number in chosen:
            change, rest = self._changes[number], tuple(other for other in hangs_on if other != number)
            if not change.only_helps and not change.touches(conflict) and self._holds(conflict, rest):
                hangs_on = list(rest)
        idle = {*hangs_on, *self._idle(conflict, tuple(hangs_on))}
        touching = (number for number, change in enumerate(self._changes) if change.touches(conflict))
        self._choices.clauses.append(
            (
                tuple(number for number in touching if number not in idle),
                tuple(number for number in hangs_on if not self._changes[number].only_helps),
            )
        )

    def _idle(self, conflict: Blame, chosen: Choice) -> Choice:
        """Return changes that make nothing worse and touch a conflict, which holds with all of them and the chosen.

        Of a conflict that is a count, sums know more.
        """
        if conflict.counted:
            return chosen
        helping = (n for n, change in enumerate(self._changes) if change.only_helps and change.touches(conflict))
        return self._still_idle(conflict, chosen, tuple(n for n in helping if n not in chosen))

    def _still_idle(self, conflict: Blame, chosen: Choice, more: Choice) -> Choice:
        """Add changes to the chosen ones in halves, as long as a conflict holds."""
        if not more or self._holds(conflict, chosen + more):
            return chosen + more
        if len(more) == 1:
            return chosen
        half = len(more) // 2
        return self._still_idle(conflict, self._still_idle(conflict, chosen, more[:half]), more[half:])

    def _holds(self, conflict: Blame, chosen: Choice) -> bool:
        """Tell whether facts are a conflict of the bike with these changes, too.

        A share group larger than a file may have is not looked into: that takes too long.
        """
        questions = self._trials.made(chosen)
        return questions is not None and crowded(questions.instance.job) is None and _is_conflict(questions, conflict)


def _blame(questions: Questions, keys: Keys) -> Blame:
    return blame_of(questions, keys, counted=counted(questions, keys))


def _is_conflict(questions: Questions, conflict: Blame) -> bool:
    """Tell whether the facts of a conflict are all there, and have no plan together."""
    return questions.instance.everything.issuperset(conflict.keys) and not questions.has_plan(conflict.keys)
