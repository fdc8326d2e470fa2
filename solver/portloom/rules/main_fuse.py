"""The main fuse: a step that carries all that is on, above each circuit's trip, within what feed and unit take."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from portloom.base.figures import amperes, with_verb
from portloom.base.fuse_steps import STEPS, steps_beside
from portloom.base.fuses import carried_for_good, carries, fuse_for
from portloom.base.quantities import MilliAmps
from portloom.job.consumers import Consumer
from portloom.job.fixed import conductor_of
from portloom.job.fixed_wires import FixedWire
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.loading import Bundles, feed_demands
from portloom.job.site import Site, feed_reels
from portloom.job.sizing import Sized
from portloom.job.weakest import weakest_spot
from portloom.job.wired import WiredOutput
from portloom.rules.clash import Clash, broken_by
from portloom.rules.company import carried_alone, overloaded
from portloom.rules.cures import (
    Cures,
    charged_past_the_unit,
    larger_fuses,
    lower_trips,
    thicker_feeds,
    thicker_reels,
    thinner_reels,
)
from portloom.rules.facts import At, Fact, FactKey
from portloom.rules.fuse_size import carried_always, charging_through, largest_fuse_said, within_feed
from portloom.rules.growth import GrowthRoom, OfGrowth, Pairs, Saying, fixed_wire_short
from portloom.rules.margins import LimitMargin, among, amperes_left
from portloom.rules.posted import FirstLook, OfPosts, PostedPlan, PostFinding
from portloom.rules.shapes import Addend, Budget, BudgetRow, Capacities, Capacity, Key, Rule, Said
from portloom.rules.sums import worst_sum

FEED_TERMINAL: FactKey = ("terminal", "feed")
LARGEST_FUSE: FactKey = ("fuse", "unit")


def _above_trip(wired: WiredOutput) -> Said:
    fuses = wired.site.fuses
    if not fuses or wired.trip < fuses[-1]:
        return None
    trips = f"{amperes(wired.trip)} that {with_verb(wired.output.name, 'trips')} at for {wired.circuit.said}"
    if fuses[-1] == wired.site.largest:
        return f"no main fuse is above the {trips} and {_within(wired.site)}"
    return f"the main fuse of {amperes(fuses[-1])} is not above the {trips}"


def _within(site: Site) -> str:
    """Say what keeps the main fuse from being a step larger than the largest that the unit may have."""
    above = [step for step in STEPS if step > site.fuses[-1]]
    most = site.job.unit.feed.largest_fuse
    if above and above[0] > most:
        return f"within the {amperes(most)} that the unit takes"
    if above:
        thickest, carried = _thickest_feed(site)
        return f"within the {carried} that {thickest} carries"
    return f"within {amperes(STEPS[-1])}, the largest step"


def _thickest_feed(site: Site) -> tuple[str, str]:
    """Return the thickest feed wire that may be there, in words, and what that carries."""
    feed = (feed_reels(site.job) or site.job.reels)[-1]
    thickest = f"{feed.size.label}, the thickest feed wire {_taken(site.job)},"
    return thickest, carried_alone(site, feed, site.borne(site.feed))


def _at_place(site: Site) -> Said:
    if not site.fuses:
        return _none_possible(site)
    wrong = (said for fuse in site.fuses for _, said in _wrong(site, fuse, f"the main fuse of {amperes(fuse)}"))
    return next(wrong, None)


def _none_possible(site: Site) -> str:
    job, drawn = site.job, carried_always(site)
    if not feed_reels(job):
        return _no_thin_wire(job)
    least = fuse_for(drawn)
    if least is None:
        largest, carried = amperes(STEPS[-1]), amperes(carried_for_good(STEPS[-1]))
        return f"{_drawn(site)}, {largest}, the largest main fuse, carries {carried} continuously"
    step = f"1.25 x {amperes(drawn)} = {amperes(_needed(drawn))}, then the next step"
    needs = f"{_drawn(site)}, so the main fuse must be {amperes(least)} ({step}) or more"
    if least > job.unit.feed.largest_fuse:
        return f"{needs}, but {_unit_takes(job)}"
    thickest, carried = _thickest_feed(site)
    return f"{needs}, but {thickest} carries {carried}"


def _no_thin_wire(job: Job) -> str:
    takes = f"{_terminal_takes(job)}, the thinnest on the reels is {job.reels[0].size.label}"
    return f"no feed can be connected: {takes}"


def _terminal_takes(job: Job) -> str:
    terminal = job.unit.feed.wire_max
    return "" if terminal is None else f"the unit's supply terminal takes wire of up to {terminal.label}"


def _wrong(site: Site, fuse: MilliAmps, said: str) -> Iterator[tuple[str, str]]:
    """Say what is wrong with a main fuse at a site, whatever the plan; ``said`` names it."""
    job, drawn, subject = site.job, carried_always(site), "main fuse"
    if fuse not in STEPS:
        yield subject, f"{said} is no step of ISO 8820-3: there is {steps_beside(fuse)}"
    if not carries(fuse, drawn):
        least = amperes(_needed(drawn))
        yield (
            subject,
            f"{said} is too small: {amperes(drawn)} flow in the worst case, which needs {least} (1.25 x) at least",
        )
    if fuse > job.unit.feed.largest_fuse:
        yield subject, f"{said} is too large: {_unit_takes(job)}"
    if not within_feed(site, fuse):
        thickest, carried = _thickest_feed(site)
        yield subject, f"{said} is too large: {thickest} carries {carried}"


def _needed(drawn: MilliAmps) -> MilliAmps:
    """Return 1.25 x a current, rounded up."""
    return MilliAmps(-(-5 * drawn // 4))


def _unit_takes(job: Job) -> str:
    return f"the unit takes a main fuse of {amperes(job.unit.feed.largest_fuse)} at most"


# --- of a load that draws more


def _too_small(site: Site) -> Iterator[Saying]:
    fuse, worst = site.main_fuse, site.job.worst
    if fuse is not None and not carries(fuse, worst):
        sentence = (
            f"{amperes(worst)} in the worst case are more than the main fuse of {amperes(fuse)} can carry continuously"
        )
        yield "feed", sentence


def _beside(laid: Laid, wire: WiredOutput | FixedWire, bundles: Bundles) -> Iterator[Saying]:
    if isinstance(wire, FixedWire) and wire.kind == "feed":
        yield from fixed_wire_short(laid, wire, bundles)


def _headroom(laid: Laid) -> GrowthRoom:
    """The main fuse carries 1.25 x what flows in each case."""
    job, fuse = laid.site.job, laid.site.main_fuse

    def rooms(load: Consumer, _: Pairs) -> Iterator[int]:
        if fuse is None:
            return
        for case in job.cases:
            if times := job.on(load, case):
                yield (carried_for_good(fuse) - job.unit_current(case)) // times

    return rooms


# --- of a plan that somebody posted


def _posted_fuse(plan: PostedPlan, laid: Laid | None, fuse: MilliAmps) -> Iterator[tuple[str, str]]:
    """Say what is wrong with a posted main fuse (mA); where there is no bike's file, as far as the post tells."""
    said = f"the posted main fuse of {amperes(fuse)}"
    if laid is not None:
        yield from _wrong(laid.site, fuse, said)
        trips = [(wired.output.name, wired.trip, f" for {wired.circuit.said}") for wired in laid.outputs]
    else:
        yield from _wrong_alone(plan.job, fuse, said)
        trips = [(port, trip, "") for port, trip in plan.trips.items()]
    for port, trip, whose in trips:
        if trip >= fuse:
            subject = port if laid is None else "main fuse"
            yield subject, f"the trip of {amperes(trip)} on {port}{whose} is not below {said}"


def _wrong_alone(job: Job, fuse: MilliAmps, said: str) -> Iterator[tuple[str, str]]:
    """Say what is wrong with a posted main fuse where the unit alone is known."""
    if fuse not in STEPS:
        yield "main fuse", f"{said} is no step of ISO 8820-3: there is {steps_beside(fuse)}"
    if fuse > job.unit.feed.largest_fuse:
        yield "main fuse", f"{said} is too large: {_unit_takes(job)}"


def _unfused(plan: PostedPlan) -> Iterator[tuple[str, str]]:
    """Say what is wrong where a post has none."""
    fuse = plan.site.main_fuse if plan.site else None
    asked = "put one there" if fuse is None else f"it must be {amperes(fuse)} or more, there"
    yield "main fuse", f"there is no main fuse: a feed that chafes through burns. It belongs at the battery; {asked}"


def _posted_look(plan: PostedPlan, fuse: MilliAmps) -> PostFinding:
    """Tell how a posted main fuse stands with which nothing is wrong so far."""
    what, said = "main fuse", f"{amperes(fuse)} at the battery"
    if plan.site is None:
        return PostFinding(what, "not judged", f"{said}: whether it carries all that is on, the post alone can't tell")
    return PostFinding(what, "right", said)


def _look(plan: PostedPlan, clashes: Sequence[Clash]) -> PostFinding:
    what = "main fuse"
    if wrong := broken_by(clashes, RULE.slug):
        return PostFinding(what, "wrong", wrong[0].sentence)
    if unclear := plan.unclear():
        return PostFinding(what, "not judged", unclear)
    if plan.main_fuse is not None:
        return _posted_look(plan, plan.main_fuse)
    fuse = plan.site.main_fuse if plan.site else None
    asked = "" if fuse is None else f": it must be {amperes(fuse)} or more, at the battery"
    return PostFinding(what, "look again", f"the post names none{asked}")


# --- the rule


def _in_short(site: Site, sentence: str) -> str:
    """Leave the sum away from which the main fuse follows."""
    if sentence.startswith(_drawn(site)):
        return sentence.removeprefix(_drawn(site)).removeprefix(", so ").removeprefix(", ")
    return sentence


def _drawn(site: Site) -> str:
    """Say what the main fuse must carry."""
    charging = charging_through(site.job)
    if site.feed_most is not None or charging > site.job.worst:
        return f"the regulator charges through the unit with up to {amperes(charging)}"
    return worst_sum(site.job)


def _taken(job: Job) -> str:
    """Say what keeps the feed from being thicker."""
    terminal = job.unit.feed.wire_max
    by_terminal = terminal is not None and terminal.area < job.reels[-1].size.area
    return "that the unit's supply terminal takes" if by_terminal else "on the reels"


def _budgets(site: Site) -> list[Budget]:
    """Where another unit takes a part of the loads, the main fuse must carry what is on this one.

    What a smaller fuse carries less than the largest counts as taken.
    """
    if site.feed_most is None or not site.fuses:
        return []
    job, most = site.job, carried_for_good(site.fuses[-1])
    rows: dict[Key, BudgetRow] = {
        number: BudgetRow(case.label, at_most=most, case=case) for number, case in enumerate(job.cases)
    }
    later = {later.consumer.name for later in job.loads.later}

    def drawn(wired: WiredOutput) -> Iterator[Addend]:
        circuit = wired.circuit
        if circuit.members[0].name not in later:
            yield from ((n, circuit.current) for n, case in enumerate(job.cases) if job.circuit_on(circuit, case))

    def less(unit: Site) -> Iterator[Addend]:
        if (fewer := most - carried_for_good(unit.fuses[-1])) > 0:
            yield from ((number, fewer) for number in rows)

    return [Budget(rows, _blows, output=drawn, fuse=less)]


def _blows(row: BudgetRow, found: int) -> str:
    carried = amperes(MilliAmps(row.at_most))
    return f"{row.subject}: {amperes(MilliAmps(found))} in all, the main fuse can carry {carried} continuously"


def _cures(job: Job) -> Iterator[Cures]:
    yield larger_fuses(job, LARGEST_FUSE)
    yield thicker_feeds(job, FEED_TERMINAL)
    yield from lower_trips(job)
    yield thicker_reels(job)
    if not feed_reels(job):
        yield thinner_reels(job)
    if charging_through(job) > job.worst:
        yield charged_past_the_unit(job)


def _feed_beside(sized: Sized) -> Iterator[tuple[str, str]]:
    for wire in sized.unprotected:
        if isinstance(wire.wire, FixedWire) and wire.wire.kind == "feed":
            yield "feed", overloaded(sized, wire)


def _margins(laid: Laid) -> Iterator[LimitMargin]:
    """Return 1.25 x each unit's worst case against its main fuse, and that against what its feed carries."""
    bundles = Bundles(laid)
    for unit in laid.site.units:
        site = unit.with_sizes(laid.site.sizes)
        on_it = (*_of_sum(site, laid.of(unit)), *_of_feed(site, bundles))
        yield from (margin.at(site.own_name) for margin in on_it)


def _of_sum(site: Site, laid: Laid) -> Iterator[LimitMargin]:
    job, fuse = site.job, site.main_fuse
    if fuse is None:
        return
    drawn = [sum(one.circuit.current for one in laid.outputs if job.circuit_on(one.circuit, c)) for c in job.cases]
    most = MilliAmps(max(*drawn, charging_through(job)))
    wanted, left = MilliAmps(-(-5 * most // 4)), MilliAmps(carried_for_good(fuse) - most)
    more = f"{amperes(left)} more may be drawn" if left else "no more may be drawn"
    sentence = f"main fuse: 1.25 x {amperes(most)} in the worst case are {amperes(wanted)} of {amperes(fuse)}, {more}"
    yield LimitMargin(RULE.slug, "main fuse", wanted, fuse, left, Fraction(5 * most, 4 * fuse), sentence)


def _of_feed(site: Site, bundles: Bundles) -> Iterator[LimitMargin]:
    conductor, fuse = conductor_of(site, site.feed), site.main_fuse
    spot = weakest_spot(site.job, conductor, site.borne(site.feed), feed_demands(site), bundles)
    if spot is None or fuse is None:
        return
    left = MilliAmps(spot.carries - fuse)
    thicker = any(reel.size > conductor.size for reel in feed_reels(site.job))
    sentence = (
        f"main fuse {amperes(fuse)}: the feed of {conductor.size.label} carries {amperes(spot.carries)} in "
        f"{site.job.network.legs[spot.leg].label}{among(spot.loaded)}, {amperes_left(left)}"
        f"{'; it may be thicker' if thicker else ''}"
    )
    yield LimitMargin(RULE.slug, "feed", fuse, spot.carries, left, spot.share, sentence, thicker)


def _capacities(job: Job) -> Iterator[Capacity]:
    carried = carried_for_good(job.unit.feed.largest_fuse)
    if carried:  # else no fuse is as small as the unit's limit, and nothing can be on it
        yield Capacity(LARGEST_FUSE, carried, frozenset(output.name for output in job.unit.outputs))


def _together(capacities: Sequence[Capacity], units: int) -> str:
    carried = amperes(MilliAmps(sum(capacity.limit for capacity in capacities)))
    if units > 1:
        return f"the main fuses that both units take carry {carried} continuously"
    return f"the largest main fuse that the unit takes carries {carried} continuously"


def _facts(job: Job) -> Iterator[Fact]:
    yield Fact(LARGEST_FUSE, "main-fuse", "unit", largest_fuse_said(job.unit), At("unit", ("feed", "fuse_max")))
    if said := _terminal_takes(job):
        yield Fact(FEED_TERMINAL, "main-fuse", "feed", said, At("unit", ("feed", "wire_max")))


RULE = Rule(
    slug="main-fuse",
    protects="the feed from burning, and the bike from going dark when one circuit fails",
    about="fire",
    source="ISO 8820-3 steps; 33 CFR 183.425 Table 5",
    right="a thicker or shorter feed, a unit that takes a larger fuse, a smaller trip, or a load fed past the unit:"
    " 'fed: relay' or 'fed: fuse'",
    wired_fit=_above_trip,
    place_fit=_at_place,
    place_in_short=_in_short,
    whole=_feed_beside,
    posts=OfPosts(first=1, fuse=_posted_fuse, look=FirstLook(1, _look), wants=("main fuse", "trips"), unfused=_unfused),
    budgets=_budgets,
    capacities=Capacities(_capacities, _together),
    margins=_margins,
    growth=OfGrowth(headroom=_headroom, unit=_too_small, beside=_beside),
    cures=_cures,
    facts=_facts,
)
