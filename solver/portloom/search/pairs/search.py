"""The search for two units from end to end: two jobs of one bike in, the best assignment out."""

from collections.abc import Callable, Iterator, Sequence
from functools import cached_property, partial

from portloom.base.clock import Clock, TimeIsUp
from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.rules.shapes import Rule
from portloom.search.assign import assignment_of
from portloom.search.model import Goal
from portloom.search.pairs.joint import Wanted, joint_choice
from portloom.search.pairs.seats import SeatChoices, lower_bound_of, seats_of
from portloom.search.places import Contender, Found, LimitReached, NoPlan, best_of
from portloom.search.sizing_cuts import with_sizing_cuts
from portloom.search.solving import Outcome, Solve, Status
from portloom.search.tableau import Check, Tableau
from portloom.search.ties import FirstPlan


def best_pair(job: Job, other: Job, rules: Sequence[Rule], clock: Clock) -> Assignment | NoPlan | LimitReached:
    """Return the proven best plan of two units, the proof that there is none, or what a time limit left.

    Both jobs are of the same bike. Every two different places are tried, each way round, and both orders of them
    unless the units are equal: exchanging two equal units changes nothing.
    """
    try:
        with clock.held(unless=job.bike.is_small):
            first = seats_of(job, rules)
            second = first if job.unit == other.unit else seats_of(other, rules)
            wanted = Wanted(rules, job)
            pairs = _pairs(job, first, second, equal=first is second)
            contenders = [PairContender(rules, wanted, seats, clock) for seats in pairs]
            for contender in contenders:
                contender.lower_bound  # noqa: B018 - worked out while it can be broken off
    except TimeIsUp:
        return LimitReached(0)
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
    """Two seats, the first unit's and the second's; the choice is set up only once it must be solved."""

    def __init__(
        self, rules: Sequence[Rule], wanted: Wanted, seats: tuple[SeatChoices, SeatChoices], clock: Clock
    ) -> None:
        """Take the seats and the time that is left."""
        self._rules = rules
        self._wanted = wanted
        self._clock = clock
        self._seats = seats
        self._contender: Contender | None = None
        """Both seats together, once that is set up."""
        self.check: Check = partial(with_sizing_cuts, rules)

    @property
    def _set_up(self) -> Contender:
        if self._contender is None:
            choice = joint_choice(self._rules, self._wanted, *self._seats)
            self._contender = Contender(choice, self.check, self._clock)
        return self._contender

    @property
    def choice(self) -> Tableau:
        """The choice that its best plan is of."""
        return self._set_up.choice

    @property
    def label(self) -> str:
        """Say where the units are."""
        return " and ".join(seat.site.seat for seat in self._seats)

    @cached_property
    def _glance(self) -> int:
        return lower_bound_of(*self._seats)

    @property
    def lower_bound(self) -> int:
        """A cost that no plan is below, in micrometres; before the choice is set up, what a glance tells."""
        return self._glance if self._contender is None else max(self._glance, self._contender.lower_bound)

    def at_once(self) -> Outcome | None:
        """Return its best plan where the linear relaxation is one; raise TimeIsUp where the limit comes first."""
        with self._clock.held():
            return self._set_up.at_once()

    def solve(self, goal: Goal, most: Callable[[], int | None], run: Callable[[], Solve]) -> Outcome:
        """Solve until the best plan is proved, or none is left that costs ``most`` or less, or at the limit."""
        if self._clock.left() == 0:
            return Outcome(Status.UNKNOWN, None, self.lower_bound, ())
        with self._clock.held():
            bound = self._set_up.lower_bound
        at_most = most()
        if at_most is not None and bound > at_most:
            return Outcome(Status.IMPOSSIBLE, None, self.lower_bound, ())
        end = self._set_up.solve(goal, most, run)
        bound = end.bound if end.status is Status.BEST else max(end.bound, self.lower_bound)
        return Outcome(end.status, end.value, bound, end.chosen)

    def prove_again(self, most: int | None, run: Callable[[], Solve]) -> Status:
        """Prove, in another way, that no plan costs ``most`` or less, None for none at all."""
        if most is not None and self.lower_bound > most:
            return Status.IMPOSSIBLE
        if self._clock.left() == 0:
            return Status.UNKNOWN
        return self._set_up.prove_again(most, run)

    def first_of(self, value: int, run: Callable[[], Solve]) -> FirstPlan | Status:
        """Return the plan that costs ``value``, its proven least, ties broken; IMPOSSIBLE, or UNKNOWN at the limit."""
        return self._set_up.first_of(value, run)
