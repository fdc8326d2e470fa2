"""First sizes of feed and returns: without derating and without fault, the same in every plan at a place.

The drop of every run is counted with them; what thickens them later never thins them.
"""

from portloom.base.ampacity import thinnest
from portloom.base.copper import Conductor
from portloom.base.drop import Moment, share_of
from portloom.base.quantities import MilliAmps, MilliVolts
from portloom.job.consumers import WHOLE
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.job.wires import FixedWire


def feed_reels(job: Job) -> tuple[Conductor, ...]:
    """Return the reels that the unit's supply terminal takes, thin to thick."""
    terminal = job.unit.feed.wire_max
    return tuple(reel for reel in job.reels if terminal is None or reel.size.area <= terminal.area)


def feed_conductor(site: Site) -> Conductor:
    """Return the thinnest that carries the main fuse within the feed's own drop, else the thickest.

    Where the terminal takes no reel at all, any reel stands in; the rules refuse it.
    """
    job = site.job
    reels = feed_reels(job) or job.reels
    fuse = site.main_fuse or job.worst
    total = Moment(site.through_feed(job.worst) * site.moment_of_one(site.feed.run))
    allowed = share_of(MilliVolts(job.assume["feed drop"]), WHOLE)
    return thinnest(reels, fuse, total, allowed) or reels[-1]


def return_conductor(site: Site, wire: FixedWire) -> Conductor:
    """Return the thinnest that carries 1.25 x its worst sum within a return's own drop, else the thickest.

    A sender's return carries next to nothing: the thinnest reel.
    """
    job = site.job
    if wire.kind == "sender return":
        return job.reels[0]
    worst = max(job.returned_at(wire.name, case) for case in job.cases)
    total = Moment(worst * site.moment_of_one(wire.run))
    allowed = share_of(MilliVolts(job.assume["return drop"]), WHOLE)
    return thinnest(job.reels, MilliAmps(-(-5 * worst // 4)), total, allowed) or job.reels[-1]
