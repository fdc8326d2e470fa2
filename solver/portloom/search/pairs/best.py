"""The search for two units from end to end: two jobs of one bike in, the best assignment out."""

from collections.abc import Iterator, Sequence

from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.rules.shapes import Rule
from portloom.search.assign import assignment_of
from portloom.search.pairs.contender import PairContender
from portloom.search.pairs.joint import Wanted
from portloom.search.pairs.seats import Seat, seats_of
from portloom.search.places import Clock, Found, LimitReached, NoPlan, best_of


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


def _pairs(job: Job, first: Sequence[Seat], second: Sequence[Seat], *, equal: bool) -> Iterator[tuple[Seat, Seat]]:
    order = [place.name for place in job.bike.places]
    for one in first:
        for other in second:
            if one.place != other.place and not (equal and order.index(one.place) > order.index(other.place)):
                yield one, other
