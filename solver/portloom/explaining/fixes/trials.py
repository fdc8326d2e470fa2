"""Choices of changes made and tried: whether there is a plan with them, and which of them it can do without."""

from collections.abc import Sequence
from itertools import combinations

from portloom.documents.draw_up import draw_up
from portloom.explaining.conflicts.find import conflict_about
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.conflicts.question import OutOfTime, Questions, Work
from portloom.explaining.fixes.change import Change, Target
from portloom.explaining.fixes.fix import Fix, made, sentences
from portloom.explaining.fixes.sharing import Choice
from portloom.explaining.fixes.undone import taken_out
from portloom.explaining.solved import Solved, solve
from portloom.job.job import Job
from portloom.rules.book import rules_of
from portloom.rules.fact_kinds import is_thing
from portloom.rules.facts import Keys
from portloom.search.places import NoPlan


class Trials:
    """A bike, the changes that may be made to it by their numbers, and the work that trying them may take."""

    def __init__(self, base: Questions, changes: Sequence[Change], work: Work, known: list[Keys]) -> None:
        """Take the questions about the bike as it is, the changes, and conflicts that are known."""
        self.base = base
        self.changes = changes
        self.work = work
        self.known = known
        """Conflicts of the bike as it is, or as it was with changes that were tried."""
        job = base.instance.job
        self._target = Target(job.bike, job.unit, job.loom)

    def with_work(self, work: Work) -> "Trials":
        """Return the same with other work that may be done."""
        return Trials(self.base, self.changes, work, self.known)

    def effort(self, chosen: Choice) -> int:
        """Return the efforts of some changes, summed."""
        return sum(self.changes[number].effort for number in chosen)

    def made(self, chosen: Choice, either: Choice = ()) -> Questions | None:
        """Make changes; None where one of them has nothing left to change.

        Of the changes ``either``, which lead wires of the unit another way round, a plan may choose any.
        """
        target = made(self._target, [self.changes[number] for number in sorted(chosen)])
        if target is None:
            return None
        job = Job(target.bike, target.unit, built=target.built)
        ways: dict[str, frozenset[str]] = {}
        for number in either:
            _, load, leg = self.changes[number].slot
            ways[load] = ways.get(load, frozenset()) | {leg}
        instance = Instance(job, rules_of(job), self.base.instance.place, ways=ways)
        return Questions(instance, self.base.clock, self.work, self.base.last)

    def suits(self, chosen: Choice) -> bool:
        """Tell whether there is a plan with changes; raise OutOfTime at a limit."""
        questions = self.made(chosen)
        return questions is not None and self.conflict_in(questions) is None and has_plan(questions)

    def conflict_in(self, questions: Questions) -> Keys | None:
        """Return a known conflict that a changed bike still has, the latest first; raise OutOfTime at a limit.

        Where there is one the bike has no plan, and that is known by a few of its columns.
        """
        return next((keys for keys in reversed(self.known) if is_conflict(questions, keys)), None)

    def conflict_like_known(self, questions: Questions) -> Keys | None:
        """Return a conflict of the same loads and switches as a known one, the latest first; None without one.

        What lifts a conflict often leaves another of the same things. Raises OutOfTime at a limit.
        """
        things = dict.fromkeys(frozenset(key[1] for key in keys if is_thing(key)) for keys in reversed(self.known))
        keys = next(filter(None, (conflict_about(questions, some) for some in things)), None)
        if keys is not None:
            self.known.append(keys)
        return keys

    def needed(self, chosen: Choice) -> Choice:
        """Return the changes of a fix without which it is none."""
        for fewer in combinations(chosen, len(chosen) - 1):
            if self.suits(fewer):
                return self.needed(fewer)
        return chosen

    def spared(self, chosen: Choice, some: Choice) -> Choice:
        """Leave away those of some changes that a fix can do without, in halves, the first first."""
        rest = tuple(number for number in chosen if number not in some)
        if not some or self.suits(rest):
            return rest
        if len(some) == 1:
            return chosen
        half = len(some) // 2
        return self.spared(self.spared(chosen, some[:half]), some[half:])

    def solved(self, chosen: Choice, *, least: bool) -> Fix | None:
        """Return a fix with its best plan, checked; None where there is no plan; raise OutOfTime at a limit."""
        questions, changes = self.made(chosen), [self.changes[number] for number in sorted(chosen)]
        if questions is None:
            raise ValueError(chosen)
        instance = questions.instance
        self.work.spend(len(instance.job.loads.on_unit) * len(instance.job.unit.outputs))
        solved = solve(instance.job, instance.rules, instance.sites, self.base.clock)
        if isinstance(solved, NoPlan):
            return None
        if not isinstance(solved, Solved):
            raise OutOfTime
        said = tuple(sentences(self._target, changes, solved.assignment))
        plan = draw_up(solved.laid, solved.assignment)
        out = taken_out(self._target.built, instance.job.loom)
        return Fix(tuple(changes), said, instance.job.bike, instance.job.unit, plan, least, out)


def has_plan(questions: Questions) -> bool:
    """Tell whether the whole bike has a plan; raise OutOfTime at a limit."""
    return questions.has_plan(questions.instance.keys)


def is_conflict(questions: Questions, keys: Keys) -> bool:
    """Tell whether facts are all there and have no plan together; raise OutOfTime at a limit."""
    return questions.instance.everything.issuperset(keys) and not questions.has_plan(keys)
