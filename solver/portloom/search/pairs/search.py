"""The search for two units from end to end: two jobs of one bike in, the best assignment out."""

from collections.abc import Iterator, Sequence
from functools import partial

from portloom.base.clock import Clock, TimeIsUp
from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.rules.shapes import Rule
from portloom.search.assign import assignment_of
from portloom.search.pairs.joint import Wanted, joint_choice
from portloom.search.pairs.seats import SeatChoices, lower_bound_of, seats_of
from portloom.search.places import Found, LimitReached, NoPlan
from portloom.search.prospects import Prospect, best_prospect
from portloom.search.sizing_cuts import in_true_sizes


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
            prospects = [prospect(rules, wanted, seats, clock) for seats in pairs]
    except TimeIsUp:
        return LimitReached(0)
    answer = best_prospect(prospects, clock, is_small=job.bike.is_small)
    return assignment_of(answer) if isinstance(answer, Found) else answer


def _pairs(
    job: Job, first: Sequence[SeatChoices], second: Sequence[SeatChoices], *, equal: bool
) -> Iterator[tuple[SeatChoices, SeatChoices]]:
    order = [place.name for place in job.bike.places]
    for one in first:
        for other in second:
            if one.place != other.place and not (equal and order.index(one.place) > order.index(other.place)):
                yield one, other


def prospect(rules: Sequence[Rule], wanted: Wanted, seats: tuple[SeatChoices, SeatChoices], clock: Clock) -> Prospect:
    """Return two seats, the first unit's and the second's, of which nothing but a glance is set up yet."""
    return Prospect(
        " and ".join(seat.site.seat for seat in seats),
        partial(lower_bound_of, *seats),
        partial(joint_choice, rules, wanted, *seats),
        partial(in_true_sizes, rules),
        clock,
        is_small=False,
    )
