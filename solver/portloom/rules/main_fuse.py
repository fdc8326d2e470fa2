"""The main fuse: above each circuit's trip, within what feed wire and unit take."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from portloom.base.figures import amperes
from portloom.base.fuses import STEPS, carries
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
from portloom.rules.facts import At, Fact, FactKey
from portloom.rules.fuse_size import charging_through, counted_most, feed_carries, fuse_above, largest_for_unit
from portloom.rules.growth import GrowthRoom, OfGrowth, Pairs, Saying, fixed_wire_short
from portloom.rules.margins import LimitMargin, among, amperes_left
from portloom.rules.posted import FirstLook, OfPosts, PostedPlan, PostFinding
from portloom.rules.shapes import Addend, Budget, BudgetRow, Key, Rule, Said
from portloom.rules.sums import worst_sum

FEED_TERMINAL: FactKey = ("terminal", "feed")


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
        return f"{needs}, but no wire on the reels is thin enough for the unit's supply terminal"
    if not feed_carries(site, feed, fuse):
        thickest = f"{feed.size.label}, the thickest feed wire {_taken(job)}"
        return f"{needs}, but {thickest}, carries {carried_alone(site, feed, site.borne(site.feed))}"
    return None


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
                yield (counted_most(fuse) - job.unit_current(case)) // times

    return rooms


# --- of a plan that somebody posted


def _posted_fuse(plan: PostedPlan, laid: Laid | None, fuse: MilliAmps) -> Iterator[tuple[str, str]]:
    """Say what is wrong with a posted main fuse (mA); where there is no bike's file, as far as the post tells."""
    if laid is not None:
        yield from (("main fuse", said) for said in _posted_wrong(laid, fuse))
        return
    if fuse > largest_for_unit(plan.job):
        yield "main fuse", _too_large_for_unit(plan.job, fuse)
    for port, trip in plan.trips.items():
        if trip >= fuse:
            yield port, f"the trip of {amperes(trip)} on {port} is not below the posted main fuse of {amperes(fuse)}"


def _posted_wrong(laid: Laid, fuse: MilliAmps) -> Iterator[str]:
    site, job = laid.site, laid.site.job
    said, drawn = f"the posted main fuse of {amperes(fuse)}", max(job.worst, charging_through(job))
    if not carries(fuse, drawn):
        least = amperes(MilliAmps(-(-5 * drawn // 4)))
        yield f"{said} is too small: {amperes(drawn)} flow in the worst case, which needs {least} (1.25 x) at least"
    if fuse > largest_for_unit(job):
        yield _too_large_for_unit(job, fuse)
    feed = (feed_reels(job) or job.reels)[-1]
    if not feed_carries(site, feed, fuse):
        carried = carried_alone(site, feed, site.borne(site.feed))
        yield f"{said} is too large: {feed.size.label}, the thickest feed wire that may be there, carries {carried}"
    for wired in laid.outputs:
        if wired.trip >= fuse:
            yield (
                f"the trip of {amperes(wired.trip)} on {wired.output.name} for {wired.circuit.said} is not below {said}"
            )


def _too_large_for_unit(job: Job, fuse: MilliAmps) -> str:
    limit, most = amperes(job.unit.feed.limit), amperes(largest_for_unit(job))
    return (
        f"the posted main fuse of {amperes(fuse)} is too large: a unit with a feed limit of {limit} is protected by "
        f"{most} at most"
    )


def _unfused(plan: PostedPlan) -> Iterator[tuple[str, str]]:
    """Say what is wrong where a post has none."""
    fuse = plan.site.main_fuse if plan.site else None
    asked = "put one there" if fuse is None else f"it must be {amperes(fuse)}, there"
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
    asked = "" if fuse is None else f": it must be {amperes(fuse)}, at the battery"
    return PostFinding(what, "look again", f"the post names none{asked}")


# --- the rule


def _in_short(site: Site, sentence: str) -> str:
    """Leave the sum away from which the main fuse follows."""
    if site.main_fuse is None:
        return f"{amperes(site.job.worst)} in the worst case are too much for a main fuse of {amperes(STEPS[-1])}"
    return f"the main fuse must be {amperes(site.main_fuse)}, but {sentence.rpartition(', but ')[2]}"


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


def _budgets(site: Site) -> list[Budget]:
    """Where another unit takes a part of the loads, the main fuse must carry what is on this one."""
    job, most = site.job, site.feed_most
    if most is None:
        return []
    rows: dict[Key, BudgetRow] = {
        number: BudgetRow(case.label, at_most=most, case=case) for number, case in enumerate(job.cases)
    }
    later = {later.consumer.name for later in job.loads.later}

    def drawn(wired: WiredOutput) -> Iterator[Addend]:
        circuit = wired.circuit
        if circuit.members[0].name not in later:
            yield from ((n, circuit.current) for n, case in enumerate(job.cases) if job.circuit_on(circuit, case))

    return [Budget(rows, _blows, output=drawn)]


def _blows(row: BudgetRow, found: int) -> str:
    carried = amperes(MilliAmps(row.at_most))
    return f"{row.subject}: {amperes(MilliAmps(found))} in all, the main fuse can carry {carried} continuously"


def _past_the_unit(job: Job) -> str:
    """The regulator may join the battery through a fuse of its own."""
    return "the regulator's lead to the battery, with 'joins: battery'" if charging_through(job) > job.worst else ""


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
    wanted, left = MilliAmps(-(-5 * most // 4)), MilliAmps(counted_most(fuse) - most)
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
    place_in_short=_in_short,
    whole=_feed_beside,
    posts=OfPosts(first=1, fuse=_posted_fuse, look=FirstLook(1, _look), wants=("main fuse", "trips"), unfused=_unfused),
    budgets=_budgets,
    by_main_fuse=True,
    margins=_margins,
    growth=OfGrowth(headroom=_headroom, unit=_too_small, beside=_beside),
    hint=_past_the_unit,
    facts=_facts,
)
