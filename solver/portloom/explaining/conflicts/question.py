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
from portloom.search.best import all_pairs, runs_from
from portloom.search.candidates import Candidates
from portloom.search.enumeration import Runs, Wires
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
from portloom.search.near import Seats, near, seats_of
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
        self._holding: list[frozenset[FactKey]] = []
        """Facts that have a plan together."""
        self._seats: Seats | None = None
        """Who is where in the plan that was found last."""
        self.last = last or LastSite()
        self._wires = Wires()

    @cached_property
    def _runs(self) -> Runs:
        """Shortest wires; the same serve any part of the bike."""
        return runs_from(self.instance.job, self.instance.sites.faces)

    def has_plan(self, kept: Iterable[FactKey]) -> bool:
        """Tell whether there is a plan; raise OutOfTime where the limit comes first."""
        verdict = self.verdict(kept)
        if isinstance(verdict, NotKnown):
            raise OutOfTime
        return isinstance(verdict, Possible)

    def holds(self, kept: Iterable[FactKey]) -> bool:
        """Tell the same, unasked of a part of facts that were found to hold together: what is left asks for less.

        Raises OutOfTime as has_plan does.
        """
        key = frozenset(kept)
        return any(key <= whole for whole in self._holding) or self.has_plan(key)

    def place_of(self, kept: Iterable[FactKey]) -> str | None:
        """Return a place where there is a plan, None where it is proved that there is none; raise OutOfTime.

        A plan is likely, and first looked for near the one that was found last.
        """
        key = frozenset(kept)
        if key not in self._known and (plan := self._near(key)) is not None:
            self._known[key] = plan
        verdict = self.verdict(key)
        if isinstance(verdict, NotKnown):
            raise OutOfTime
        return verdict.choice.site.label if isinstance(verdict, Possible) else None

    def verdict(self, kept: Iterable[FactKey]) -> Verdict:
        """Return a plan, the proof that there is none, or that the limit was reached."""
        key = frozenset(kept)
        if key not in self._known:
            self._known[key] = self._ask(key, twice=False)
        return self._known[key]

    def _near(self, kept: frozenset[FactKey]) -> Possible | None:
        """Return a plan near the one that was found last; None where none is found, or there was none before."""
        if self._seats is None:
            return None
        self.asked += 1
        self.work.spend(QUESTION)
        part = self._part(kept)
        found = any_plan(part.relaxed.rules, part.near(self._seats), self.clock)
        if not isinstance(found, Possible):
            return None
        self._note(kept, found)
        return found

    def _note(self, kept: frozenset[FactKey], plan: Possible) -> None:
        """Keep what helps with further questions."""
        self._holding.append(kept)
        self._seats = seats_of(plan)

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
        """Prove anew, each way once, that there is no plan; raise OutOfTime, or Disagreement where they differ.

        What counting alone has shown is not proved anew.
        """
        key = frozenset(kept)
        if self.is_certain(key):
            return True
        verdict = self._ask(key, twice=True)
        if isinstance(verdict, NotKnown):
            raise OutOfTime
        return isinstance(verdict, Impossible)

    def is_certain(self, kept: Iterable[FactKey]) -> bool:
        """Tell whether it is known that there is no plan, and no second proof is wanted for that."""
        verdict = self._known.get(frozenset(kept))
        return isinstance(verdict, Impossible) and verdict.certain

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
            self._note(kept, verdict)
        return verdict

    def _part(self, kept: Iterable[FactKey]) -> "_Part":
        return _Part(self.instance, frozenset(kept), self._runs, self._wires, self.work)


class _Part:
    """The part of a bike that is kept, and who may go where in it."""

    def __init__(self, instance: Instance, kept: frozenset[FactKey], runs: Runs, wires: Wires, work: Work) -> None:
        self._instance = instance
        self.relaxed = relaxed_to(instance, kept)
        self._runs = runs
        self._wires = wires
        self._work = work
        wish = instance.wish
        self._wish = wish if wish is not None and wish.fact(instance.job).key in kept else None

    @cached_property
    def pairs(self) -> Candidates:
        """Who may go where."""
        return all_pairs(self.relaxed.job, self.relaxed.rules, self._runs, self._instance.ways)

    def sites_at(self, place: str) -> list[Site]:
        """Return the site of this label."""
        labels = self._instance.sites.labels
        return [self.relaxed.sites[number] for number, label in enumerate(labels) if label == place]

    def in_turn(self, clock: Clock, *, twice: bool) -> InTurn:
        """Return the question whether there is a plan, to be asked at some sites."""
        return InTurn(self.outline(), self.pairs, self.narrowed, self.relaxed.rules, clock, twice=twice)

    def outline(self) -> Tableau:
        """Return the choice without wires, as the wish has it where that is kept."""
        return self.narrowed(outline(self.relaxed.rules, self.relaxed.sites[0], self.pairs))

    def at(self, sites: Iterable[Site], pairs: Candidates | None = None) -> Iterator[AtSite]:
        """Return the sites at which the wish and the rules allow the unit; of all ``pairs`` unless given."""
        for site in self._wish.sites(sites) if self._wish else sites:
            here = allowed_at(self.relaxed.rules, site)
            if here is not None:
                yield AtSite(here, self.relaxed.rules, pairs or self.pairs, self._runs, self._wires, self._work.spend)

    def choices(self, sites: Iterable[Site]) -> Iterator[Tableau]:
        """Return the choice among all candidates at each site, as long as there is work left for it."""
        return (self.narrowed(here.choice_of_all()) for here in self.at(sites))

    def near(self, seats: Seats) -> Iterator[Tableau]:
        """Return the choice, at its site, among what is near another plan; none where a load finds no output so."""
        pairs = near(seats, self.relaxed.job, self.relaxed.rules, self._instance.ways)
        if pairs is not None:
            self._runs.learn([circuit for circuit, _ in pairs.outputs])
            fused = [site.with_fuses(seats.fuse) for site in self.sites_at(seats.site) if seats.fuse in site.fuses]
            yield from (self.narrowed(here.choice_of_all()) for here in self.at(fused, pairs))

    def narrowed(self, choice: Tableau) -> Tableau:
        """Return a choice as the wish has it where that is kept."""
        return self._wish.narrowed(choice) if self._wish else choice
