"""How large the main fuse is: the step that it must be, the most that unit and feed take, what it carries."""

from collections.abc import Sequence

from portloom.base.copper import Conductor
from portloom.base.current import current_of_power
from portloom.base.fuses import STEPS, carries, fuse_for, trip_for
from portloom.base.quantities import MilliAmps, MilliWatts
from portloom.job.circuits import OutputCircuit
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.rules.shapes import Rule


def main_fuse(job: Job, rules: Sequence[Rule]) -> MilliAmps | None:
    """Return the main fuse, the same in every plan, or None where the largest step is too small.

    It is the smallest step that is 1.25 x the worst case (or the charging current that it passes) or more,
    and above each load's lowest trip: the smallest that any output able to take the load alone offers.
    Source: steps of ISO 8820-3; 1.25 x common practice, no source.
    """
    fuse = fuse_above(job, MilliAmps(0))
    for load in job.loads.on_unit:
        if fuse is not None:
            trip = lowest_trip(job, rules, job.circuit((load,)), fuse)
            fuse = fuse if trip < fuse else fuse_above(job, trip)
    return fuse


def fuse_above(job: Job, trip: MilliAmps) -> MilliAmps | None:
    """Return the smallest step that carries the worst case, or the charging current, and is above a trip."""
    return fuse_for(max(job.worst, charging_through(job)), above=trip)


def charging_through(job: Job) -> MilliAmps:
    """Return the charging current that the main fuse carries: none unless the regulator's lead joins the unit."""
    charging = job.bike.supply.charging
    if charging is None or charging.joins != "unit":
        return MilliAmps(0)
    most = max(charging.idle or 0, charging.cruise or 0)
    return current_of_power(MilliWatts(most), job.bike.supply.running)


def lowest_trip(job: Job, rules: Sequence[Rule], circuit: OutputCircuit, fuse: MilliAmps) -> MilliAmps:
    """Return the smallest trip that any output able to take a circuit offers; nothing where none takes it.

    Or the first that is below ``fuse``: where the main fuse is that at least, none of them decides.
    """
    fits = [rule.output_fit for rule in rules if rule.output_fit]
    lowest: MilliAmps | None = None
    for output in job.by_trip:
        if all(fit(job, circuit, output) is None for fit in fits):
            trip = trip_for(output, circuit.current, circuit.inrush)
            if trip is not None and (lowest is None or trip < lowest):
                lowest = trip
                if trip < fuse:
                    break
    return lowest or MilliAmps(0)


def largest_for_unit(job: Job) -> MilliAmps:
    """Return the largest main fuse that protects the unit: the first step >= 1.25 x its feed limit."""
    return fuse_for(job.unit.feed.limit) or STEPS[-1]


def feed_carries(site: Site, feed: Conductor, fuse: MilliAmps) -> bool:
    """Tell whether a feed wire carries what a main fuse (mA) lets through, by itself and in every leg it passes."""
    return feed.ampacity >= fuse and all(site.job.carries(feed, leg, 1, fuse) for leg in site.borne(site.feed))


def counted_most(fuse: MilliAmps) -> MilliAmps:
    """Return the most that a main fuse can carry continuously: it over 1.25, rounded down."""
    return MilliAmps(4 * fuse // 5)


def fuse_steps(job: Job) -> tuple[MilliAmps, ...]:
    """Return the steps of which the main fuse of one unit of several may be: those that carry the charging current."""
    return tuple(step for step in STEPS if carries(step, charging_through(job)))
