"""The main fuse: above each circuit's trip, within what feed wire and unit take."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from solver.electrics.ampacity import derated
from solver.electrics.copper import Conductor
from solver.electrics.current import current_of_power
from solver.electrics.fuses import STEPS, fuse_for
from solver.electrics.trip import carries, trip_for
from solver.job.bundles import Bundles
from solver.job.circuits import OutputCircuit
from solver.job.demands import feed_demands
from solver.job.fixed import conductor_of
from solver.job.job import Job
from solver.job.laid import Laid
from solver.job.site import Site
from solver.job.sizes import feed_reels
from solver.job.sizing import Sized
from solver.job.wired import WiredOutput
from solver.job.wires import Way
from solver.rules.company import carried_alone, overloaded
from solver.rules.facts import At, Fact, FactKey
from solver.rules.margins import Margin, among, amperes_left
from solver.rules.shapes import Budget, Entry, Key, Row, Rule, Said
from solver.rules.sums import worst_sum
from solver.words.figures import amperes
from solver.words.quantities import MilliAmps, MilliWatts

FEED_TERMINAL: FactKey = ("terminal", "feed")


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


def _above_trip(wired: WiredOutput) -> Said:
    fuse = wired.site.whole.main_fuse
    if fuse is None or wired.trip < fuse:
        return None
    return (
        f"the trip of {amperes(wired.trip)} on {wired.output.name} for {wired.circuit.said} "
        f"is not below the main fuse of {amperes(fuse)}"
    )


def _within_feed(site: Site) -> Said:
    job, fuse = site.job, site.main_fuse
    if fuse is None:
        return f"{_drawn(job)}, a main fuse is {amperes(STEPS[-1])} at most"
    needs = _needed(job, fuse)
    unit = f"a unit with a feed limit of {amperes(job.unit.feed.limit)}"
    if fuse > largest_for_unit(job):
        return f"{needs}, but {unit} is protected by {amperes(largest_for_unit(job))} at most"
    feed = (feed_reels(job) or job.reels)[-1]
    if not feed_reels(job):
        return f"{needs}, but no wire on the reels is as thin as the unit's supply terminal takes"
    if not feed_carries(site, feed, fuse):
        thickest = f"{feed.size.label}, the thickest feed wire {_taken(job)}"
        return f"{needs}, but {thickest}, carries {carried_alone(site, feed, site.feed.run.legs)}"
    return None


def _drawn(job: Job) -> str:
    """Say what the main fuse must carry."""
    charging = charging_through(job)
    if charging > job.worst:
        return f"the regulator charges through the unit with up to {amperes(charging)}"
    return worst_sum(job)


def _needed(job: Job, fuse: MilliAmps) -> str:
    """Say how the main fuse comes about."""
    if fuse != fuse_above(job, MilliAmps(0)):
        return f"the main fuse must be {amperes(fuse)}, the next step above each load's lowest trip"
    drawn = max(job.worst, charging_through(job))
    step = f"1.25 x {amperes(drawn)} = {amperes(MilliAmps(-(-5 * drawn // 4)))}, then the next step"
    return f"{_drawn(job)}, so the main fuse must be {amperes(fuse)} ({step})"


def _taken(job: Job) -> str:
    """Say what keeps the feed from being thicker."""
    terminal = job.unit.feed.wire_max
    by_terminal = terminal is not None and terminal.area < job.reels[-1].size.area
    return "that the unit's supply terminal takes" if by_terminal else "on the reels"


def feed_carries(site: Site, feed: Conductor, fuse: MilliAmps) -> bool:
    """Tell whether a feed wire carries what a main fuse (mA) lets through, by itself and in every leg it passes."""
    return feed.ampacity >= fuse and all(site.carries(feed, leg, 1, fuse) for leg in site.feed.run.legs)


def counted_most(fuse: MilliAmps) -> MilliAmps:
    """Return the most that a main fuse carries for good: it over 1.25, rounded down."""
    return MilliAmps(4 * fuse // 5)


def fuse_steps(job: Job) -> tuple[MilliAmps, ...]:
    """Return the steps of which the main fuse of one unit of several may be: those that carry the charging current."""
    return tuple(step for step in STEPS if carries(step, charging_through(job)))


def _budgets(site: Site) -> list[Budget]:
    """Where another unit takes a part of the loads, the main fuse must carry what is on this one."""
    job, most = site.job, site.feed_most
    if most is None:
        return []
    rows: dict[Key, Row] = {number: Row(case.label, at_most=most, case=case) for number, case in enumerate(job.cases)}
    later = {later.consumer.name for later in job.loads.later}

    def drawn(wired: WiredOutput) -> Iterator[Entry]:
        circuit = wired.circuit
        if circuit.members[0].name not in later:
            yield from ((n, circuit.current) for n, case in enumerate(job.cases) if job.circuit_on(circuit, case))

    return [Budget(rows, _blows, output=drawn)]


def _blows(row: Row, found: int) -> str:
    carried = amperes(MilliAmps(row.at_most))
    return f"{row.subject}: {amperes(MilliAmps(found))} in all, the main fuse carries {carried} for good"


def _past_the_unit(job: Job) -> str:
    """The regulator may join the battery through a fuse of its own."""
    return "the regulator's lead to the battery, with 'joins: battery'" if charging_through(job) > job.worst else ""


def _feed_beside(sized: Sized) -> Iterator[tuple[str, str]]:
    for wire in sized.unprotected:
        if isinstance(wire.wire, Way) and wire.wire.kind == "feed":
            yield "feed", overloaded(sized, wire)


def _margins(laid: Laid) -> Iterator[Margin]:
    """Return each main fuse against what its feed carries where it is weakest, unless its unit allows less still."""
    bundles = Bundles(laid)
    for unit in laid.site.units:
        site = unit.settle(laid.site.settled)
        yield from (margin.at(site.own_name) for margin in _margin(site, bundles))


def _margin(site: Site, bundles: Bundles) -> Iterator[Margin]:
    weakest = min(_feed_carries(site, bundles), default=None)
    if weakest is None or site.main_fuse is None or weakest[0] > largest_for_unit(site.job):
        return
    carries, leg, loaded = weakest
    left = MilliAmps(carries - site.main_fuse)
    sentence = (
        f"main fuse {amperes(site.main_fuse)}: the feed of {conductor_of(site, site.feed).size.label} carries "
        f"{amperes(carries)} in {site.job.network.legs[leg].label}{among(loaded)}, {amperes_left(left)}"
    )
    yield Margin(RULE.slug, "feed", site.main_fuse, carries, left, Fraction(site.main_fuse, carries), sentence)


def _feed_carries(site: Site, bundles: Bundles) -> Iterator[tuple[MilliAmps, int, int]]:
    """Return what the feed carries in each leg and case, derated, with the leg and the loaded wires in it."""
    ampacity = conductor_of(site, site.feed).ampacity
    for demand in feed_demands(site):
        for leg in site.feed.run.legs:
            loaded = 1 if demand.case is None else max(1, bundles.loaded(leg, demand.case))
            yield derated(ampacity, site.job.insulation, site.job.network.legs[leg].ambient, loaded), leg, loaded


def _facts(job: Job) -> Iterator[Fact]:
    terminal = job.unit.feed.wire_max
    if terminal is not None:
        sentence = f"the unit's supply terminal takes wire of up to {terminal.label}"
        yield Fact(FEED_TERMINAL, "main-fuse", "feed", sentence, At("unit", ("feed", "wire_max")))


RULE = Rule(
    slug="main-fuse",
    protects="the feed from burning, and the bike from going dark when one circuit fails",
    about="fire",
    source="ISO 8820-3 steps; 33 CFR 183.425 Table 5",
    wired_fit=_above_trip,
    place_fit=_within_feed,
    whole=_feed_beside,
    budgets=_budgets,
    margins=_margins,
    hint=_past_the_unit,
    facts=_facts,
)
