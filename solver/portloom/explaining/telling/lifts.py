"""What lifts a conflict: changes that its rules name, each tried on its facts alone, then on the whole bike.

What is told is proved of this conflict; that the bike fits then, only where that is said.
"""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from contextlib import suppress
from itertools import dropwhile

from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.conflicts.question import OutOfTime, Questions, Work
from portloom.explaining.fixes.change import Change, Target
from portloom.explaining.fixes.loads import feeds
from portloom.explaining.telling.conflict import Lift
from portloom.job.job import Job
from portloom.job.kinds import output_kinds
from portloom.rules.cures import Cure, Cures
from portloom.rules.fact_kinds import is_thing, kind_of, of_a_load, of_the_feed
from portloom.rules.facts import FactKey

ENOUGH = 3_000
"""Columns that are set up for each conflict at most: a second, on a usual machine."""


def lifts(
    questions: Questions, keys: Sequence[FactKey], refusing: Sequence[str], involved: Sequence[str]
) -> tuple[Lift, ...]:
    """Return what lifts a conflict of some facts; less is told at a limit.

    ``refusing`` are the rules that refuse something in it, ``involved`` these and those of its facts. Of a series of
    changes it is the least with which the whole bike fits, else the least that lifts the conflict.
    """
    trying = _Trying(questions, keys)
    told: dict[int, Lift] = {}
    with suppress(OutOfTime):
        left: dict[int, Sequence[Cure]] = {}
        every = tuple(_cures(questions.instance, keys, refusing, involved))
        for number, cures in enumerate(every):
            if series := trying.from_the_least(cures):
                left[number], told[number] = series, Lift(series[0].said, weighed=cures.weighed)
        for number, series in left.items():
            if enough := next(filter(trying.fits, series), None):
                told[number] = Lift(enough.said, fits=True, weighed=every[number].weighed)
    return tuple(dict.fromkeys(told.values()))


def _cures(
    instance: Instance, keys: Sequence[FactKey], refusing: Sequence[str], involved: Sequence[str]
) -> Iterator[Cures]:
    """Return what may lift a conflict: of changes that bear on facts, only those with one of these in it."""
    here = set(keys)
    for rule in instance.rules:
        if rule.cures and rule.slug in involved:
            for cures in rule.cures(instance.job):
                if not here.isdisjoint(cures.of) or (not cures.of and rule.slug in refusing):
                    yield cures
    if any(of_the_feed(key) or kind_of(key).of_the_path for key in keys):
        yield from _past_the_unit(instance, [key[1] for key in keys if of_a_load(key)])


def _past_the_unit(instance: Instance, names: Sequence[str]) -> Iterator[Cures]:
    """Return each load of a conflict fed past the unit, which then carries less; one that feeds others stays on it."""
    for change in feeds(instance):
        alone = change.slot[1] in names and not change.needs
        made = change.make(Target(instance.job.bike, instance.job.unit)) if alone else None
        if made is not None:
            yield Cures((Cure(_said(change), made.bike, made.unit),), weighed=True)


def _said(change: Change) -> str:
    """Say a load's way past the unit as what is there: 'winch fed through a relay'."""
    how = change.sentence.removeprefix(f"feed {change.slot[1]} ")
    return f"{change.slot[1]} fed {how}"


class _Trying:
    """Asks of changed bikes, by their words, whether a conflict's facts, or all facts, have a plan; and remembers."""

    def __init__(self, questions: Questions, keys: Sequence[FactKey]) -> None:
        self._before, self._clock, self._keys = questions.instance, questions.clock, keys
        self._work = Work(ENOUGH)
        self._asked: dict[str, Questions] = {}

    def from_the_least(self, cures: Cures) -> Sequence[Cure]:
        """Return a series from the first on that lifts the conflict; nothing where none does."""
        series = cures.series
        if not cures.rising:
            return tuple(dropwhile(lambda cure: not self.lifts(cure), series))
        first = bisect_left(series, True, key=self.lifts)  # noqa: FBT003 - each lifts, or does not
        return series[first:]

    def lifts(self, cure: Cure) -> bool:
        """Tell whether the facts have a plan with a change, and what it brings.

        What else the unit's feed must pass is kept, and the whole bike must have a main fuse where that is what it is
        about. A change by which a fact of a port is none any more is not told.
        """
        after = self._after(cure).instance
        if any(of_the_feed(key) for key in self._keys) and not any(site.fuses for site in after.sites):
            return False
        gone = [key for key in self._keys if key not in after.everything]
        if not all(of_a_load(key) and not is_thing(key) for key in gone):
            return False
        return self._after(cure).has_plan(key for key in after.keys if self._is_kept(key))

    def fits(self, cure: Cure) -> bool:
        """Tell whether the whole bike has a plan with a change."""
        return self._after(cure).has_plan(self._after(cure).instance.everything)

    def _is_kept(self, key: FactKey) -> bool:
        return key in self._keys or of_the_feed(key) or key not in self._before.everything

    def _after(self, cure: Cure) -> Questions:
        if cure.said not in self._asked:
            self._asked[cure.said] = Questions(self._instance(cure), self._clock, self._work)
        return self._asked[cure.said]

    def _instance(self, cure: Cure) -> Instance:
        """Return a changed bike with its facts: those of before, where it has the same loads and kinds of ports."""
        before = self._before
        bike = before.job.bike
        network = before.job.network if cure.bike.frame == bike.frame else None
        job = Job(cure.bike, cure.unit, network=network, built=before.job.loom)
        kinds = [[kind.names for kind in output_kinds(unit)] for unit in (before.job.unit, cure.unit)]
        if cure.bike.loads == bike.loads and kinds[0] == kinds[1]:
            return before.altered(job)
        return Instance(job, before.rules, before.place, before.wish, before.ways)
