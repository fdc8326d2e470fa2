"""The best plan where legs in use are worth something: over all sets of legs and all sites (FORMULATION.md, L)."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cached_property, partial

from portloom.base.clock import Clock, TimeIsUp
from portloom.base.quantities import Micrometres
from portloom.base.values import dataclass
from portloom.job.assignment import Assignment
from portloom.job.goal import cost_of_a_leg
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.rules.shapes import Rule
from portloom.rules.sites import site_at
from portloom.search.assign import assignment_of
from portloom.search.best import Choices, as_is, best_assignment, best_at_sites, left_out
from portloom.search.candidates import Candidates
from portloom.search.enumeration import Runs
from portloom.search.legs.bounds import LegBounds
from portloom.search.legs.branching import Branching, Candidate, Outcome, Weighing, candidate
from portloom.search.legs.joints import Legs
from portloom.search.places import Answer, Found, LimitReached, NoPlan
from portloom.search.prospects import Prospect, best_prospect
from portloom.search.sizing_cuts import in_true_sizes
from portloom.search.tableau import Tableau

Narrowed = Callable[[Tableau], Tableau]


@dataclass(frozen=True)
class OverLegs:
    """What the search over sets of legs comes to."""

    answer: Assignment | NoPlan | LimitReached
    """The best plan with the legs that it uses."""
    all_open: Answer
    """The best plan with every leg open, each wire its shortest way."""
    found: Found | None = None
    """The best plan as columns of its site."""


class LegChoice:
    """A bike on a unit of which the legs are chosen, too; what is worked out serves for every worth of a leg."""

    def __init__(
        self,
        job: Job,
        rules: Sequence[Rule],
        sites: Sequence[Site],
        clock: Clock,
        narrowed: Narrowed = as_is,
        without: str | None = None,
    ) -> None:
        """Take the bike with every leg open at its sites; ``narrowed`` may give each site's choice more rows.

        One multiplexer may be ``without`` use.
        """
        self._job = job
        self._rules = rules
        self._sites = tuple(sites)
        self._clock = clock
        self._narrowed = narrowed
        self._without = without
        self._plans: dict[tuple[int, Legs], tuple[int | None, Answer]] = {}
        """The best plans of sites with legs closed, each with what it was to cost at most."""

    def left_out(self, multiplexer: str) -> "LegChoice":
        """Return the same choice in which one multiplexer is not used."""
        return LegChoice(self._job, self._rules, self._sites, self._clock, without=multiplexer)

    @property
    def weights(self) -> Weighing:
        """How the bike's file weighs a leg in use."""
        return Weighing(cost_of_a_leg(self._job.bike.weights))

    @cached_property
    def all_open(self) -> Answer:
        """The best plan with every leg open, as of a bike whose file gives legs no worth."""
        choices = Choices(self._job, self._rules, self._sites)
        return best_at_sites(self._rules, choices, self._clock, self._more_rows, without=self._without)

    @cached_property
    def _bounds(self) -> LegBounds:
        return LegBounds(self._job, self._rules, self._sites, self._without)

    def best(self) -> OverLegs:
        """Return the best plan for the worth of a leg that the file has."""
        end = self.outcome(self.weights)
        match end:
            case Outcome(best=Candidate(found, legs), bound=int(bound)):
                return OverLegs(_assignment(found, legs, bound, proven=end.complete), self.all_open, found)
            case Outcome(complete=True):
                return OverLegs(NoPlan(), self.all_open)
            case _:
                return OverLegs(LimitReached(end.bound or 0), self.all_open)

    def outcome(self, weights: Weighing) -> Outcome:
        """Return the best plan where a leg in use is weighed so."""
        known = None
        try:
            if isinstance(self.all_open, Found):
                known = candidate(self.all_open)
            elif isinstance(self.all_open, NoPlan) and self._bounds.none_anywhere(self._clock):
                return Outcome(None, None, complete=True)
            with self._clock.held(unless=self._job.bike.is_small):
                self._bounds.begin()
            search = Branching(self._bounds, self._solved, weights, lambda: self._clock.left() == 0)
            return search.search(known)
        except TimeIsUp:
            return Outcome(known, 0 if known is None else weights.of(known.found.bound, 0), complete=False)

    def _solved(self, number: int, closed: Legs, most: int | None) -> Answer:
        """Return the best plan of a site with these legs closed; NoPlan where none costs ``most`` or less."""
        known = self._known(number, closed, most)
        if known is None:
            known = self._planned(number, closed, most)
            self._plans[number, closed] = most, known
        return known

    def _known(self, number: int, closed: Legs, most: int | None) -> Answer | None:
        first = self.all_open
        if not closed and isinstance(first, Found) and first.tableau.site.label == self._sites[number].label:
            return first
        tried, answer = self._plans.get((number, closed), (None, None))
        again = isinstance(answer, NoPlan) and tried is not None and (most is None or most > tried)
        return None if again else answer

    def _planned(self, number: int, closed: Legs, most: int | None) -> Answer:
        site, job = self._sites[number], self._job.over(self._job.network.without(closed))
        as_dealt = job.loads == self._job.loads
        if as_dealt:
            job = self._bounds.job(closed)
        here = site_at(job, site.place, turned=site.turned)
        choices = Choices(job, self._rules, [here], *(self._known_of(number, closed, most) if as_dealt else ()))
        least = self._bounds.least(number, closed)
        prospects = [
            Prospect(
                here.label,
                lambda: 0 if least is None else least.cost,
                partial(choices.narrowed, place, self._more_rows),
                partial(in_true_sizes, self._rules),
                self._clock,
                is_small=job.bike.is_small,
            )
            for place in range(len(choices))
        ]
        return best_prospect(prospects, self._clock, is_small=job.bike.is_small, most=most)

    def _known_of(self, number: int, closed: Legs, most: int | None) -> tuple[Runs, Candidates]:
        """Return the shortest wires with these legs closed, and who may go where for ``most`` or less."""
        pairs = self._bounds.pairs if most is None else self._bounds.affordable(number, closed, most)
        return self._bounds.runs(closed), pairs

    @property
    def _more_rows(self) -> Narrowed:
        return self._narrowed if self._without is None else left_out(self._without)


def best_over(
    job: Job,
    rules: Sequence[Rule],
    sites: Sequence[Site],
    clock: Clock,
    narrowed: Narrowed = as_is,
    runs: Runs | None = None,
) -> Assignment | NoPlan | LimitReached:
    """Return the best plan as the bike's file weighs it: over all sets of legs where a leg is worth something.

    Arguments as of ``best_assignment``.
    """
    if job.bike.weights.leg:
        return LegChoice(job, rules, sites, clock, narrowed).best().answer
    return best_assignment(job, rules, sites, clock, narrowed, runs)


def _assignment(found: Found, legs: Legs, bound: int, *, proven: bool) -> Assignment:
    """Return a plan in names, with its legs; no plan costs less than ``bound``."""
    plan = assignment_of(found)
    once = found.once and not proven
    return replace(plan, legs=tuple(sorted(legs)), bound=Micrometres(bound), proven=proven, once=once)
