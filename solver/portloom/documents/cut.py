"""What is cut for a piece of wire between two ends that are made up.

Length = run x (1 + share) + an allowance at each end + slack for each leg that moves, rounded up to a millimetre; no
piece is shorter than a hand can dress. Source: common practice, no source.
"""

from collections.abc import Sequence

from portloom.base.bike import Leg
from portloom.base.margin import Allowance
from portloom.base.quantities import BasisPoints, Micrometres
from portloom.job.job import Job

WHOLE = BasisPoints(10_000)
MILLIMETRE = 1000
NO_LENGTH = Micrometres(0)


def cut_length(
    job: Job, legs: Sequence[int], ends: tuple[Allowance, Allowance], over: Micrometres = NO_LENGTH
) -> Micrometres:
    """Return what is cut for a wire through some legs, which no connector parts, in whole millimetres.

    ``over`` is what it is longer than its legs: a feed is never shorter than it can be.
    """
    margin, along = job.bike.margin, [job.network.legs[number] for number in legs]
    added = sum(margin.at(end) for end in ends) + sum(slack(job, leg) for leg in along)
    run = over + sum(leg.length for leg in along)
    needed = max(run * (WHOLE + margin.share) + added * WHOLE, job.assume["shortest piece"] * WHOLE)
    return Micrometres(-(-needed // (WHOLE * MILLIMETRE)) * MILLIMETRE)


def slack(job: Job, leg: Leg) -> Micrometres:
    """Return what a wire needs beyond the length of a leg so that it can move: its travel, or what is usual."""
    if not leg.moves:
        return Micrometres(0)
    return job.bike.margin.moves if leg.travel is None else leg.travel
