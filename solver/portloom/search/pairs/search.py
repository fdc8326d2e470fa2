"""The search for two units from end to end: two jobs of one bike in, the best assignment out."""

from collections.abc import Callable, Iterator, Sequence
from functools import cached_property, partial

from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.rules.shapes import Rule
from portloom.search.assign import assignment_of
from portloom.search.model import Goal
from portloom.search.pairs.joint import Wanted, joint_choice
from portloom.search.pairs.seats import SeatChoices, lower_bound_of, seats_of
from portloom.search.places import Clock, Contender, Found, LimitReached, NoPlan, best_of
from portloom.search.sizing_cuts import with_sizing_cuts
from portloom.search.solving import Outcome, Solve, Status
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
    """Two seats, the first unit's and the second's; the choice is set up only once it must be solved."""

    def __init__(
        self, rules: Sequence[Rule], wanted: Wanted, seats: tuple[SeatChoices, SeatChoices], clock: Clock
    ) -> None:
        """Take the seats and the time that is left."""
        self._rules = rules
        self._wanted = wanted
        self._clock = clock
        self._seats = seats
        self.check: Check = partial(with_sizing_cuts, rules)

    @cached_property
    def _set_up(self) -> Contender:
        return Contender(joint_choice(self._rules, self._wanted, *self._seats), self.check)

    @property
    def choice(self) -> Tableau:
        """The choice that its best plan is of."""
        return self._set_up.choice

    @property
    def label(self) -> str:
        """Say where the units are."""
        return " and ".join(seat.site.seat for seat in self._seats)

    @cached_property
    def lower_bound(self) -> int:
        """A cost that no plan is below, in micrometres."""
        return lower_bound_of(*self._seats)

    def solve(self, goal: Goal, most: Callable[[], int | None], run: Callable[[], Solve]) -> Outcome:
        """Solve until the best plan is proved, or none is left that costs ``most`` or less, or at the limit."""
        at_most = most()
        if at_most is not None and self.lower_bound > at_most:
            return Outcome(Status.IMPOSSIBLE, None, self.lower_bound, ())
        if self._clock.left() == 0:
            return Outcome(Status.UNKNOWN, None, self.lower_bound, ())
        end = self._set_up.solve(goal, most, run)
        bound = end.bound if end.status is Status.BEST else max(end.bound, self.lower_bound)
        return Outcome(end.status, end.value, bound, end.chosen)

    def prove_again(self, clock: Clock) -> Outcome:
        """Solve once more with other settings: a second proof that there is no plan."""
        return self._set_up.prove_again(clock)

    def first_of(self, value: int, clock: Clock) -> FirstPlan | Status:
        """Return the plan that costs ``value``, its proven least, ties broken; IMPOSSIBLE, or UNKNOWN at the limit."""
        return self._set_up.first_of(value, clock)
