"""The one question of every proof: has the bike a plan if only these facts are kept."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from portloom.explaining.conflicts.kept import Instance, RelaxedInstance, relaxed_to
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.rules.facts import FactKey
from portloom.search.best import each_tableau, runs_over
from portloom.search.feasibility import Impossible, NotKnown, Possible, Verdict, any_plan, core, leanest, unsized_plan
from portloom.search.places import Clock
from portloom.search.sizing_cuts import laid_by
from portloom.search.tableau import Tableau


class OutOfTime(Exception):
    """A limit, of time or of work, was reached before a question was answered."""


QUESTION = 8
"""What a question takes before any column is set up, counted in columns (measured)."""


class Work:
    """What may still be worked out, counted in columns that are set up: the same on every machine, however quick."""

    def __init__(self, columns: int | None = None) -> None:
        """Take how many columns there may be, None for as many as are wanted."""
        self._left = columns

    def spend(self, columns: int) -> None:
        """Take away what is worked out next; raise OutOfTime where there is not so much left."""
        if self._left is None:
            return
        self._left -= columns
        if self._left < 0:
            raise OutOfTime


class Questions:
    """Asks and remembers; every answer is proved by the search's own loop."""

    def __init__(self, instance: Instance, clock: Clock, work: Work | None = None) -> None:
        """Take the whole bike, and the time and the work that all questions have together."""
        self.instance = instance
        self.clock = clock
        self.work = work or Work()
        self.asked = 0
        """How many questions were put to the search."""
        self._runs = runs_over(instance.job, instance.sites)
        self._known: dict[frozenset[FactKey], Verdict] = {}
        self._last = 0
        """The site that had a plan last: the first to be tried next."""

    def has_plan(self, kept: Iterable[FactKey]) -> bool:
        """Tell whether there is a plan; raise OutOfTime where the limit comes first."""
        verdict = self.verdict(kept)
        if isinstance(verdict, NotKnown):
            raise OutOfTime
        return isinstance(verdict, Possible)

    def place_of(self, kept: Iterable[FactKey]) -> str | None:
        """Return a place where there is a plan, None where it is proved that there is none; raise OutOfTime."""
        verdict = self.verdict(kept)
        if isinstance(verdict, NotKnown):
            raise OutOfTime
        return verdict.choice.site.label if isinstance(verdict, Possible) else None

    def verdict(self, kept: Iterable[FactKey]) -> Verdict:
        """Return a plan, the proof that there is none, or that the limit was reached."""
        key = frozenset(kept)
        if key not in self._known:
            self._known[key] = self._ask(key, twice=False)
        return self._known[key]

    def least(self, kept: Iterable[FactKey], fact: FactKey) -> Laid | None:
        """Return a plan that takes as little as can be of what a dropped fact limits; None where there is none.

        Raises OutOfTime at the limit.
        """
        verdict = self.verdict(kept)
        if isinstance(verdict, NotKnown):
            raise OutOfTime
        if not isinstance(verdict, Possible):
            return None
        return leanest(self.instance.rules, verdict, fact, self.clock).laid

    def least_at(self, place: str, kept: Iterable[FactKey], fact: FactKey) -> Laid | None:
        """Return the same with the unit at one place, one way round; None also where the limit comes first."""
        key = frozenset(kept)
        relaxed = relaxed_to(self.instance, key)
        sites = [site for site in relaxed.sites if site.label == place]
        verdict = any_plan(relaxed.rules, self._choices(relaxed, sites, key), self.clock)
        return leanest(self.instance.rules, verdict, fact, self.clock).laid if isinstance(verdict, Possible) else None

    def unsized(self, kept: Iterable[FactKey]) -> Laid | None:
        """Return a plan whose wires may be too thin for what lies beside them; None where there is none either."""
        key = frozenset(kept)
        relaxed = relaxed_to(self.instance, key)
        plan = unsized_plan(self._choices(relaxed, relaxed.sites, key), self.clock)
        return None if plan is None else laid_by(plan.choice, plan.chosen)

    def needs_wires(self, kept: Iterable[FactKey]) -> bool:
        """Tell whether facts that have no plan might have one if any wire would do, through any opening; else False."""
        self.work.spend(QUESTION)
        relaxed = relaxed_to(self.instance, frozenset(kept))
        rules = tuple(
            replace(rule, wired_fit=None, whole=None, budgets=None if rule.of_looms else rule.budgets)
            for rule in relaxed.rules
        )
        choices = self._paid(each_tableau(relaxed.job, rules, relaxed.sites, self._runs))
        return unsized_plan(choices, self.clock) is not None or self.clock.left() == 0

    def blamed(self, kept: Iterable[FactKey], place: str) -> frozenset[FactKey]:
        """Return facts that the search holds responsible for there being no plan at one place; a hint, no proof.

        Nothing where there is a plan, where the rules refuse the place, or at the limit.
        """
        key = frozenset(kept)
        relaxed = relaxed_to(self.instance, key)
        here = [site for site in relaxed.sites if site.label == place]
        cores = (core(relaxed.rules, choice, self.clock) for choice in self._choices(relaxed, here, key))
        return next((blamed for blamed in cores if blamed is not None), frozenset())

    def proved_twice(self, kept: Iterable[FactKey]) -> bool:
        """Prove anew, each way once, that there is no plan; raise OutOfTime, or Disagreement where they differ."""
        verdict = self._ask(frozenset(kept), twice=True)
        if isinstance(verdict, NotKnown):
            raise OutOfTime
        return isinstance(verdict, Impossible)

    def _ask(self, kept: frozenset[FactKey], *, twice: bool) -> Verdict:
        if self.clock.left() == 0:
            return NotKnown()
        self.asked += 1
        self.work.spend(QUESTION)
        relaxed = relaxed_to(self.instance, kept)
        order = sorted(range(len(relaxed.sites)), key=lambda number: (number != self._last, number))
        sites = [relaxed.sites[number] for number in order]
        verdict = any_plan(relaxed.rules, self._choices(relaxed, sites, kept), self.clock, twice=twice)
        if isinstance(verdict, Possible):
            self._last = relaxed.sites.index(next(s for s in relaxed.sites if s.label == verdict.choice.site.label))
        return verdict

    def _choices(self, relaxed: RelaxedInstance, sites: Sequence[Site], kept: frozenset[FactKey]) -> Iterable[Tableau]:
        """Return the choice at each site, as the wish has it where that is kept."""
        wish = self.instance.wish
        if wish is None or wish.fact(self.instance.job).key not in kept:
            return self._paid(each_tableau(relaxed.job, relaxed.rules, sites, self._runs))
        return self._paid(map(wish.narrowed, each_tableau(relaxed.job, relaxed.rules, wish.sites(sites), self._runs)))

    def _paid(self, choices: Iterable[Tableau]) -> Iterable[Tableau]:
        """Return the choices, as long as there is work left for them."""
        for choice in choices:
            self.work.spend(len(choice.columns))
            yield choice
