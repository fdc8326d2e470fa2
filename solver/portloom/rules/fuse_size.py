"""Which main fuses a unit may have: what they must carry, and the most that unit and feed take."""

from portloom.base.copper import Conductor
from portloom.base.current import current_of_power
from portloom.base.figures import amperes
from portloom.base.fuse_steps import STEPS
from portloom.base.fuses import carried_for_good, carries
from portloom.base.quantities import MilliAmps, MilliWatts
from portloom.base.unit import Unit
from portloom.job.job import Job
from portloom.job.site import Site, feed_reels


def charging_through(job: Job) -> MilliAmps:
    """Return the charging current that the main fuse carries: none unless the regulator's lead joins the unit."""
    charging = job.bike.supply.charging
    if charging is None or charging.joins != "unit":
        return MilliAmps(0)
    most = max(charging.idle or 0, charging.cruise or 0)
    return current_of_power(MilliWatts(most), job.bike.supply.running)


def carried_always(site: Site) -> MilliAmps:
    """Return what its main fuse carries in every plan: all that the bike draws at worst, or what is charged through it.

    Where another unit takes a part of the loads, what this one feeds follows from the plan.
    """
    drawn = site.job.worst if site.feed_most is None else MilliAmps(0)
    return max(drawn, charging_through(site.job))


def feed_carries(site: Site, feed: Conductor, fuse: MilliAmps) -> bool:
    """Tell whether a feed wire carries what a main fuse (mA) lets through, by itself and in every leg it passes."""
    return feed.ampacity >= fuse and all(site.job.carries(feed, leg, 1, fuse) for leg in site.borne(site.feed))


def within_feed(site: Site, fuse: MilliAmps) -> bool:
    """Tell whether some feed wire that the unit's terminal takes carries a main fuse."""
    return any(feed_carries(site, reel, fuse) for reel in feed_reels(site.job)[-1:])


def possible_fuses(site: Site) -> tuple[MilliAmps, ...]:
    """Return the main fuses that a unit may have at its site, small to large, whatever the plan.

    Each carries 1.25 x what it does in every plan, the unit takes it, and so does a feed wire.
    Source: steps of ISO 8820-3; 1.25 x common practice, no source.
    """
    able = (step for step in STEPS if carries(step, carried_always(site)) and step <= site.job.unit.feed.largest_fuse)
    return tuple(step for step in able if within_feed(site, step))


def largest_fuse_said(unit: Unit) -> str:
    """Say the largest main fuse that a unit takes; where its file says none, how that comes about."""
    feed = unit.feed
    said = f"the unit takes a main fuse of up to {amperes(feed.largest_fuse)}"
    if feed.fuse_max is not None:
        return said
    carried = amperes(carried_for_good(feed.largest_fuse))
    return f"{said}, the largest step within its limit, and so carries {carried} of {amperes(feed.limit)}"
