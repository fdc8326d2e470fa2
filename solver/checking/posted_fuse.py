"""A main fuse that somebody posted: above every trip, large enough, no more than unit and feed take."""

from collections.abc import Iterator

from solver.electrics.trip import carries
from solver.job.job import Job
from solver.job.laid import Laid
from solver.job.sizes import feed_reels
from solver.rules.company import carried_alone
from solver.rules.main_fuse import charging_through, feed_carries, largest_for_unit
from solver.words.figures import amperes
from solver.words.quantities import MilliAmps


def main_fuse_wrong(laid: Laid, fuse: MilliAmps) -> Iterator[str]:
    """Say what is wrong with a posted main fuse (mA)."""
    site, job = laid.site, laid.site.job
    said, drawn = f"the posted main fuse of {amperes(fuse)}", max(job.worst, charging_through(job))
    if not carries(fuse, drawn):
        least = amperes(MilliAmps(-(-5 * drawn // 4)))
        yield f"{said} is too small: {amperes(drawn)} flow in the worst case, which asks for {least} (1.25 x) at least"
    if fuse > largest_for_unit(job):
        yield too_large_for_unit(job, fuse)
    feed = (feed_reels(job) or job.reels)[-1]
    if not feed_carries(site, feed, fuse):
        carried = carried_alone(site, feed, site.feed.run.legs)
        yield f"{said} is too large: {feed.size.label}, the thickest feed wire that may be there, carries {carried}"
    for wired in laid.outputs:
        if wired.trip >= fuse:
            yield (
                f"the trip of {amperes(wired.trip)} on {wired.output.name} for {wired.circuit.said} is not below {said}"
            )


def too_large_for_unit(job: Job, fuse: MilliAmps) -> str:
    """Say that a posted main fuse (mA) is larger than any that protects the unit."""
    limit, most = amperes(job.unit.feed.limit), amperes(largest_for_unit(job))
    return (
        f"the posted main fuse of {amperes(fuse)} is too large: a unit with a feed limit of {limit} is protected by "
        f"{most} at most"
    )
