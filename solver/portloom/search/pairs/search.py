"""The search for two units from end to end: two jobs of one bike in, the best assignment out.

Two places for two units: what is best there with any main fuses is found by way of a relaxation (FORMULATION.md,
'Two units'). It knows every main fuse at once and wires at their thinnest, so no plan costs less than it says. Its
main fuses are tried in full, sizing loop and all; where the plan costs no more than the relaxation said it is the
best, else these two fuses are forbidden together and the relaxation is solved again.
"""

from collections.abc import Callable, Iterator, Sequence
from functools import cached_property, partial

from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.rules.shapes import Rule
from portloom.search.assign import assignment_of
from portloom.search.model import Goal, Model
from portloom.search.pairs.joint import Wanted, with_fuses
from portloom.search.pairs.relaxation import FuseRelaxation, Fuses, relaxation_of
from portloom.search.pairs.seats import SeatChoices, lower_bound_of, seats_of
from portloom.search.places import Clock, Contender, Found, LimitReached, NoPlan, best_of
from portloom.search.sizing_cuts import with_sizing_cuts
from portloom.search.solving import NewRun, Outcome, Solve, Status
from portloom.search.tableau import Check, Tableau
from portloom.search.ties import FirstPlan


def best_pair(job: Job, other: Job, rules: Sequence[Rule], clock: Clock) -> Assignment | NoPlan | LimitReached:
    """Return the proven best plan of two units, the proof that there is none, or what a time limit left.

    Both jobs are of the same bike. Every two different places are tried, each way round, and both orders of them
    unless the units are equal: exchanging two equal units changes nothing.
    """
    first = seats_of(job, rules)
    second = first if job.unit == other.unit else seats_of(other, rules)
    wanted = Wanted(rules, job)
    contenders = [
        PairContender(rules, wanted, seats, clock) for seats in _pairs(job, first, second, equal=first is second)
    ]
    answer = best_of(contenders, clock)
    return assignment_of(answer) if isinstance(answer, Found) else answer


def _pairs(
    job: Job, first: Sequence[SeatChoices], second: Sequence[SeatChoices], *, equal: bool
) -> Iterator[tuple[SeatChoices, SeatChoices]]:
    order = [place.name for place in job.bike.places]
    for one in first:
        for other in second:
            if one.place != other.place and not (equal and order.index(one.place) > order.index(other.place)):
                yield one, other


class PairContender:
    """Two seats, the first unit's and the second's."""

    def __init__(
        self, rules: Sequence[Rule], wanted: Wanted, seats: tuple[SeatChoices, SeatChoices], clock: Clock
    ) -> None:
        """Take the seats and the time that is left; nothing is set up until it must be solved."""
        self._rules = rules
        self._wanted = wanted
        self._clock = clock
        self._seats = seats
        self.check: Check = partial(with_sizing_cuts, rules)
        self._choices: dict[Fuses, Tableau] = {}
        self._without_plan: list[Contender] = []
        """What was tried and has no plan that is cheap enough."""
        self._left: FuseRelaxation | None = None
        """What the last solve left of the relaxation."""
        self._best: Tableau | None = None
        """The choice with the main fuses of the best plan, once one is found."""

    @property
    def choice(self) -> Tableau:
        """The choice with the main fuses of the best plan; with any fuses until one is found."""
        return self._best or self._relaxation.choice

    @cached_property
    def _relaxation(self) -> FuseRelaxation:
        return relaxation_of(self._rules, self._wanted, *self._seats)

    @property
    def label(self) -> str:
        """Say where the units are."""
        return " and ".join(seat.sites[0].seat for seat in self._seats)

    @property
    def lower_bound(self) -> int:
        """A cost that no plan is below, in micrometres."""
        return lower_bound_of(*self._seats)

    def solve(self, goal: Goal, most: Callable[[], int | None], run: NewRun) -> Outcome:
        """Solve until the best plan is proved, or none is left that costs ``most`` or less, or at the limit."""
        bound, at_most = self.lower_bound, most()
        if at_most is not None and bound > at_most:
            return Outcome(Status.IMPOSSIBLE, None, bound, ())
        if self._clock.left() == 0:
            return Outcome(Status.UNKNOWN, None, bound, ())
        search = _Search(self._relaxation, bound, most, run)
        while (fuses := search.next()) is not None:
            tried = self._with(fuses)
            found = tried.solve(goal, search.most, partial(run, plans=False, bounds=False))
            if search.take(fuses, found):
                self._best = tried.choice
            elif found.status is Status.IMPOSSIBLE:
                self._without_plan.append(tried)
        self._left = search.relaxation
        return search.end()

    def _with(self, fuses: Fuses) -> Contender:
        if fuses not in self._choices:
            one, other = (seat.with_fuse(fuse) for seat, fuse in zip(self._seats, fuses, strict=True))
            self._choices[fuses] = with_fuses(self._rules, self._wanted, one, other)
        return Contender(self._choices[fuses], self.check)

    def prove_again(self, clock: Clock) -> Outcome:
        """Solve once more with other settings: a second proof that there is no plan."""
        end = Model((self._left or self._relaxation).tableau).solve(Solve(clock.left(), presolve=True))
        for tried in self._without_plan if end.status is Status.IMPOSSIBLE else ():
            end = tried.prove_again(clock)
            if end.status is not Status.IMPOSSIBLE:
                break
        return end

    def first_of(self, value: int, clock: Clock) -> FirstPlan | Status:
        """Return the plan that costs ``value``, its proven least, with the smallest main fuses that allow it.

        The first unit's fuse goes before the second's. Ties are broken as with one unit. Where there is none,
        IMPOSSIBLE; where the limit is reached, UNKNOWN.
        """
        left = (self._left or self._relaxation).with_all()
        while not isinstance(fuses := left.smallest(value, clock), Status):
            first = self._with(fuses).first_of(value, clock)
            if first is not Status.IMPOSSIBLE:
                return first
            left = left.without(fuses)
        return fuses


class _Search:
    """The search over main fuses at two seats: the best so far, what is left, and the bound that is proved."""

    def __init__(self, whole: FuseRelaxation, least: int, most: Callable[[], int | None], run: NewRun) -> None:
        self.relaxation = whole
        self._allowed = most
        self._run = run
        self._best: Outcome | None = None
        self._bound = least
        self._limited = False
        self._aimed_at: int | None = None
        """What the relaxation says that its best costs."""

    def most(self) -> int | None:
        """Return what a plan may cost to be worth finding."""
        most = self._allowed()
        if self._best is None or self._best.value is None:
            return most
        return self._best.value - 1 if most is None else min(most, self._best.value - 1)

    def next(self) -> Fuses | None:
        """Return the main fuses to try next, None where nothing cheaper is left or the limit is reached."""
        if self._limited or (self._best is not None and self._best.value == self._aimed_at):
            return None
        left = Contender(self.relaxation.tableau, self.relaxation.check)
        end = left.solve("cost", self.most, partial(self._run, plans=False))
        self.relaxation = self.relaxation.with_cuts_of(left.choice)
        self._bound, self._aimed_at = max(self._bound, end.bound), end.value
        self._limited = end.status in (Status.FOUND, Status.UNKNOWN)
        return self.relaxation.fuses_of(end.chosen) if end.status is Status.BEST else None

    def take(self, fuses: Fuses, found: Outcome) -> bool:
        """Take what was found with main fuses; tell whether it is the best so far."""
        self._limited = found.status in (Status.FOUND, Status.UNKNOWN)
        self.relaxation = self.relaxation.without(fuses)
        if found.value is None:
            return False
        self._best = found
        return True

    def end(self) -> Outcome:
        """Return the best with what is proved of it."""
        value, chosen = (None, ()) if self._best is None else (self._best.value, self._best.chosen)
        if self._limited:
            return Outcome(Status.UNKNOWN if value is None else Status.FOUND, value, self._bound, chosen)
        if value is None:
            return Outcome(Status.IMPOSSIBLE, None, self._bound, ())
        return Outcome(Status.BEST, value, value, chosen)
