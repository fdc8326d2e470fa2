"""The one question of every proof: has the bike a plan if only these facts are kept."""

from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property

from portloom.base.clock import Clock
from portloom.explaining.conflicts.kept import Instance, relaxed_to
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.rules.fact_kinds import LOAD
from portloom.rules.facts import FactKey
from portloom.rules.sites import Sites
from portloom.search.best import all_pairs, runs_over
from portloom.search.enumeration import Runs
from portloom.search.feasibility import (
    Impossible,
    NotKnown,
    Possible,
    Verdict,
    any_outline,
    any_plan,
    core,
    leanest,
    unsized_plan,
)
from portloom.search.fuses import allowed_at
from portloom.search.in_turn import AtSite, InTurn
from portloom.search.outline import outline
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


class LastSite:
    """The site that had a plan last: the first to be tried next, of bikes that are much alike."""

    def __init__(self) -> None:
        """Know none yet."""
        self._label = ""

    def had(self, label: str) -> None:
        """Note that there was a plan at the site of this label."""
        self._label = label

    def first_of(self, labels: Sequence[str]) -> list[int]:
        """Return the numbers of sites in the order in which they are to be tried."""
        return sorted(range(len(labels)), key=lambda number: (labels[number] != self._label, number))


class Questions:
    """Asks and remembers; every answer is proved by the search's own loop."""

    def __init__(
        self, instance: Instance, clock: Clock, work: Work | None = None, last: LastSite | None = None
    ) -> None:
        """Take the whole bike, and the time and the work that all questions have together.

        ``last`` is shared by questions about bikes that are much alike.
        """
        self.instance = instance
        self.clock = clock
        self.work = work or Work()
        self.asked = 0
        """How many questions were put to the search."""
        self._known: dict[frozenset[FactKey], Verdict] = {}
        self.last = last or LastSite()

    @cached_property
    def _runs(self) -> Runs:
        """Shortest wires; the same serve any part of the bike."""
        return runs_over(self.instance.job, self.instance.sites)

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
        kept = frozenset(kept)
        place = self.place_of(kept)
        return None if place is None else self.least_at(place, kept, fact)

    def least_at(self, place: str, kept: Iterable[FactKey], fact: FactKey) -> Laid | None:
        """Return the same with the unit at one place, one way round; None also where the limit comes first."""
        part = self._part(kept)
        verdict = any_plan(part.relaxed.rules, part.choices(part.sites_at(place)), self.clock)
        return leanest(self.instance.rules, verdict, fact, self.clock).laid if isinstance(verdict, Possible) else None

    def unsized(self, kept: Iterable[FactKey]) -> Laid | None:
        """Return a plan whose wires may be too thin for what lies beside them; None where there is none either."""
        part = self._part(kept)
        plan = unsized_plan(part.choices(part.relaxed.sites), self.clock)
        return None if plan is None else laid_by(plan.choice, plan.chosen)

    def hangs_on_wires(self, kept: Iterable[FactKey]) -> bool:
        """Tell whether facts that have no plan might have one if no wire, opening, place or main fuse were judged.

        That they would have none is proved twice; raises Disagreement where the two proofs differ.
        """
        self.work.spend(QUESTION)
        return not isinstance(any_outline(self._part(kept).outline(), self.clock, twice=True), Impossible)

    def hangs_on_others(self, kept: Iterable[FactKey]) -> bool:
        """Tell whether facts that have no plan might have one if nothing else flowed on feed and returns."""
        self.work.spend(QUESTION)
        part = self._part(kept)
        alone = Sites(part.relaxed.job, self.instance.place)
        return not isinstance(part.in_turn(self.clock, twice=False).verdict(part.at(alone)), Impossible)

    def blamed(self, kept: Iterable[FactKey], place: str) -> frozenset[FactKey]:
        """Return facts that the search holds responsible for there being no plan at one place; a hint, no proof.

        Nothing where there is a plan, where the rules refuse the place, or at the limit.
        """
        part = self._part(kept)
        untaken = [LOAD.key(name) for here in part.at(part.sites_at(place)) for name in here.untaken()]
        if untaken:
            return frozenset(untaken)
        cores = (core(part.relaxed.rules, choice, self.clock) for choice in part.choices(part.sites_at(place)))
        return next((blamed for blamed in cores if blamed is not None), frozenset())

    def proved_twice(self, kept: Iterable[FactKey]) -> bool:
        """Prove anew, each way once, that there is no plan; raise OutOfTime, or Disagreement where they differ."""
        verdict = self._ask(frozenset(kept), twice=True)
        if isinstance(verdict, NotKnown):
            raise OutOfTime
        return isinstance(verdict, Impossible)

    def _ask(self, kept: frozenset[FactKey], *, twice: bool) -> Verdict:
        """First without wires, then with them, at one site after the other."""
        if self.clock.left() == 0:
            return NotKnown()
        self.asked += 1
        self.work.spend(QUESTION)
        part = self._part(kept)
        order = self.last.first_of(self.instance.sites.labels)
        sites = (part.relaxed.sites[number] for number in order)
        verdict = part.in_turn(self.clock, twice=twice).verdict(part.at(sites))
        if isinstance(verdict, Possible):
            self.last.had(verdict.choice.site.label)
        return verdict

    def _part(self, kept: Iterable[FactKey]) -> "_Part":
        return _Part(self.instance, frozenset(kept), self._runs, self.work)


class _Part:
    """The part of a bike that is kept, and who may go where in it."""

    def __init__(self, instance: Instance, kept: frozenset[FactKey], runs: Runs, work: Work) -> None:
        self.relaxed = relaxed_to(instance, kept)
        self.pairs = all_pairs(self.relaxed.job, self.relaxed.rules, runs, instance.ways)
        self._runs = runs
        self._work = work
        wish = instance.wish
        self._wish = wish if wish is not None and wish.fact(instance.job).key in kept else None

    def sites_at(self, place: str) -> list[Site]:
        """Return the site of this label."""
        return [site for site in self.relaxed.sites if site.label == place]

    def in_turn(self, clock: Clock, *, twice: bool) -> InTurn:
        """Return the question whether there is a plan, to be asked at some sites."""
        return InTurn(self.outline(), self.pairs, self.narrowed, self.relaxed.rules, clock, twice=twice)

    def outline(self) -> Tableau:
        """Return the choice without wires, as the wish has it where that is kept."""
        return self.narrowed(outline(self.relaxed.rules, self.relaxed.sites[0], self.pairs))

    def at(self, sites: Iterable[Site]) -> Iterator[AtSite]:
        """Return the sites at which the wish and the rules allow the unit."""
        for site in self._wish.sites(sites) if self._wish else sites:
            here = allowed_at(self.relaxed.rules, site)
            if here is not None:
                yield AtSite(here, self.relaxed.rules, self.pairs, self._runs, self._work.spend)

    def choices(self, sites: Iterable[Site]) -> Iterator[Tableau]:
        """Return the choice among all candidates at each site, as long as there is work left for it."""
        every = range(len(self.pairs.outputs))
        return (self.narrowed(here.choice(every)) for here in self.at(sites))

    def narrowed(self, choice: Tableau) -> Tableau:
        """Return a choice as the wish has it where that is kept."""
        return self._wish.narrowed(choice) if self._wish else choice
