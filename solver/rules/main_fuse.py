"""The main fuse: above each circuit's trip, within what feed wire and unit take."""

from collections.abc import Sequence

from solver.electrics.fuses import STEPS, fuse_for
from solver.electrics.trip import trip_for
from solver.job.circuits import OutputCircuit
from solver.job.job import Job
from solver.job.site import Site
from solver.job.sizes import feed_conductor, feed_reels
from solver.job.wired import WiredOutput
from solver.rules.shapes import Rule, Said
from solver.words.figures import amperes
from solver.words.quantities import MilliAmps


def main_fuse(job: Job, rules: Sequence[Rule]) -> MilliAmps | None:
    """Give the main fuse, the same in every plan, or None where the largest step is too small.

    It is the smallest step that is 1.25 x the worst case or more, and above each load's lowest
    trip: the smallest that any output able to take the load alone offers.
    Source: steps of ISO 8820-3; 1.25 x common practice, no source.
    """
    lowest = [_lowest_trip(job, rules, job.circuit((load,))) for load in job.loads.on_unit]
    return fuse_for(job.worst, above=max(lowest, default=MilliAmps(0)))


def _lowest_trip(job: Job, rules: Sequence[Rule], circuit: OutputCircuit) -> MilliAmps:
    trips = [
        trip
        for output in job.unit.outputs
        if all(rule.output_fit is None or rule.output_fit(job, circuit, output) is None for rule in rules)
        and (trip := trip_for(output, circuit.current, circuit.inrush)) is not None
    ]
    return min(trips, default=MilliAmps(0))


def largest_for_unit(job: Job) -> MilliAmps:
    """Give the largest main fuse that protects the unit: the first step >= 1.25 x its feed limit."""
    return fuse_for(job.unit.feed.limit) or STEPS[-1]


def _above_trip(wired: WiredOutput) -> Said:
    fuse = wired.site.main_fuse
    if fuse is None or wired.trip < fuse:
        return None
    return (
        f"the trip of {amperes(wired.trip)} on {wired.output.name} for {wired.circuit.label} "
        f"is not below the main fuse of {amperes(fuse)}"
    )


def _within_feed(site: Site) -> Said:
    job, fuse = site.job, site.main_fuse
    if fuse is None:
        return f"the worst case of {amperes(job.worst)} needs a main fuse above {amperes(STEPS[-1])}"
    if fuse > largest_for_unit(job):
        return (
            f"the main fuse of {amperes(fuse)} is more than {amperes(largest_for_unit(job))}, "
            f"the most that protects a unit with a feed limit of {amperes(job.unit.feed.limit)}"
        )
    feed = feed_conductor(site)
    if not feed_reels(job) or feed.ampacity < fuse:
        return (
            f"the main fuse of {amperes(fuse)} does not protect the thickest feed wire that the terminal "
            f"takes, {feed.size.label} for {amperes(feed.ampacity)}"
        )
    return None


RULE = Rule(
    slug="main-fuse",
    protects="the feed from burning, and the bike from going dark when one circuit fails",
    source="ISO 8820-3 steps; 33 CFR 183.425 Table 5",
    wired_fit=_above_trip,
    place_fit=_within_feed,
)
