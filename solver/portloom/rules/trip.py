"""Trip, limit and peak: the output carries the circuit and lets its inrush pass."""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from functools import cache

from portloom.base.figures import amperes, listed, milliseconds, peak_amperes, verb_for, with_verb
from portloom.base.fuses import peak_of, trip_for, trip_values
from portloom.base.parts.loads import is_watched
from portloom.base.quantities import MicroAmps, MilliAmps
from portloom.base.unit import Output
from portloom.job.as_wired import at_each_trip
from portloom.job.circuits import OutputCircuit
from portloom.job.consumers import Consumer
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.loading import Bundles
from portloom.job.wired import WiredOutput
from portloom.rules import wire
from portloom.rules.as_posted import set_wrong
from portloom.rules.clash import Clash, broken_by
from portloom.rules.facts import At, Fact, at_load, drawing_key, every_load, on_outputs
from portloom.rules.growth import GrowthRoom, OfGrowth, Pairs, Saying, bears
from portloom.rules.margins import NONE_LEFT, LimitMargin
from portloom.rules.posted import FirstLook, OfPosts, PostedOutput, PostedPlan, PostFinding
from portloom.rules.shapes import Rule, Said


def _fit(job: Job, circuit: OutputCircuit, output: Output) -> Said:
    inrush = circuit.inrush
    if inrush.height > 1000 * peak_of(output):
        return (
            f"{with_verb(circuit.said, 'draws')} {peak_amperes(inrush.height)} at switch-on, "
            f"{output.name} can pass {amperes(peak_of(output))} at most"
        )
    if trip_for(output, circuit.current, inrush) is not None:
        return None
    wanted = MilliAmps(-(-5 * circuit.current // 4))
    highest = max(trip_values(output), default=MilliAmps(0))
    if highest < wanted:
        return (
            f"{with_verb(circuit.said, 'draws')} {amperes(circuit.current)} and {verb_for(circuit.said, 'needs')} "
            f"a trip of {amperes(wanted)} (1.25 x), {output.name} can be set to {amperes(highest)} at most"
        )
    return (
        f"{with_verb(circuit.said, 'draws')} {peak_amperes(inrush.height)} for {milliseconds(inrush.lasts)} "
        f"at switch-on, {with_verb(output.name, 'trips')} on that at every setting"
    )


def _margins(laid: Laid) -> Iterator[LimitMargin]:
    """Return for each output its circuit's 1.25 x steady current and its inrush, against what it gives at most."""
    for wired in laid.outputs:
        yield _steady(wired)
        yield _inrush(wired)


def _steady(wired: WiredOutput) -> LimitMargin:
    circuit, port = wired.circuit, wired.output.name
    highest = max(trip_values(wired.output), default=wired.output.limit)
    wanted = MilliAmps(-(-5 * circuit.current // 4))
    left = MilliAmps(4 * highest // 5 - circuit.current)
    more = f"{amperes(left)} more may be drawn" if left else "no more may be drawn"
    sentence = (
        f"{circuit.label} on {port}: for {amperes(circuit.current)} a trip of {amperes(wanted)} is needed, "
        f"{port} goes up to {amperes(highest)}, {more}"
    )
    return LimitMargin(
        RULE.slug, circuit.label, wanted, highest, left, Fraction(5 * circuit.current, 4 * highest), sentence
    )


def _inrush(wired: WiredOutput) -> LimitMargin:
    circuit, port = wired.circuit, wired.output.name
    height, peak = circuit.inrush.height, MicroAmps(1000 * peak_of(wired.output))
    left = MicroAmps(peak - height)
    rest = f"{peak_amperes(left)} left" if left else NONE_LEFT
    sentence = (
        f"{circuit.label} on {port}: {peak_amperes(height)} when switched on, "
        f"{port} can pass {peak_amperes(peak)} for a moment, {rest}"
    )
    return LimitMargin(RULE.slug, circuit.label, height, peak, left, Fraction(height, peak), sentence)


# --- of a load that draws more


def _peak(wired: WiredOutput) -> Iterator[Saying]:
    """Say that an output does not pass its circuit's inrush."""
    height, peak = wired.circuit.inrush.height, 1000 * peak_of(wired.output)
    if height > peak:
        label, port = wired.circuit.label, wired.output.name
        sentence = f"{label}: {peak_amperes(height)} when switched on, {port} can pass {peak_amperes(peak)}"
        yield label, sentence


def _headroom(laid: Laid) -> GrowthRoom:
    """A trip is 1.25 x the steady current, and one that the wire bears; the peak holds the inrush."""
    bundles = Bundles(laid)

    @cache
    def highest(output: str) -> int:
        """Return the highest trip that the wire on an output bears as it is."""
        wired = next(wired for wired in laid.outputs if wired.output.name == output)
        tries = at_each_trip(wired.site, wired.losses, wired, wired.circuit)
        return max((one.trip for one in tries if one.serving and bears(one, bundles)), default=0)

    def rooms(_: Consumer, pairs: Pairs) -> Iterator[int]:
        for wired, one_more in pairs:
            inrush = wired.circuit.inrush.height
            yield 4 * highest(wired.output.name) // 5 - wired.circuit.current
            if each := one_more.circuit.inrush.height - inrush:
                yield (1000 * peak_of(wired.output) - inrush) // each

    return rooms


# --- of a plan that somebody posted


def _posted(posted: PostedOutput) -> Iterable[str]:
    return () if posted.trip is None else set_wrong(posted.circuit, posted.output, posted.trip)


def _look(plan: PostedPlan, clashes: Sequence[Clash]) -> PostFinding:
    what = "trip against wire"
    of_returns = wire.of_returns(plan, clashes)
    if wrong := [clash for clash in broken_by(clashes, wire.RULE.slug, RULE.slug) if clash not in of_returns]:
        return PostFinding(what, "wrong", wrong[0].sentence)
    if unclear := plan.unclear():
        return PostFinding(what, "not judged", unclear)
    if plan.used and {*plan.used} <= {*plan.trips} & {*plan.sizes}:
        held = "each posted trip carries its loads, and the wire on it can take that trip"
        return PostFinding(what, "right", held if plan.site else f"{held}, as far as the post says")
    return PostFinding(what, "not judged", listed(list(_not_posted(plan))) or "nothing is on an output")


def _not_posted(plan: PostedPlan) -> Iterator[str]:
    for said, settings in (("trip", plan.trips), ("wire size", plan.sizes)):
        lacking = [port for port in plan.used if port not in settings]
        if lacking:
            yield f"no {said} is posted" + (f" for {listed(lacking)}" if settings else "")


def _facts(job: Job) -> Iterator[Fact]:
    for load in every_load(job):
        drawn = amperes(load.current)
        said = f"{with_verb(load.name, 'draws')} {drawn}"
        yield Fact(("current", load.name), "trip", load.name, said, _at_current(job, load.name), f"draw {drawn} each")
    for load in on_outputs(job):
        drawn = f"{peak_amperes(load.inrush.height)} for {milliseconds(load.inrush.lasts)}"
        said = f"{with_verb(load.name, 'draws')} {drawn} at switch-on"
        hint = f"measure what {load.name} draws at switch-on and write it as 'inrush:' and 'inrush_for:'"
        at = at_load(job, load.name, "inrush")
        yield Fact(("inrush", load.name), "trip", load.name, said, at, f"draw {drawn} each at switch-on", hint)


def _at_current(job: Job, name: str) -> At:
    """A relay's coil draws what is assumed, unless the file says otherwise."""
    load = next((load for load in job.bike.loads if load.name == name), None)
    return At("bike", ("assume", "relay coil current")) if load is None else at_load(job, name, drawing_key(load))


def _eased(job: Job, name: str) -> str:
    """Say what takes it off the outputs, where nobody need watch over it there."""
    load = next(load for load in job.loads.on_unit if load.name == name)
    return "" if is_watched(load.part) else "say 'fed: relay'"


RULE = Rule(
    slug="trip",
    protects="outputs from overload, and loads from an output that trips when they come on",
    about="fire",
    source="trip >= 1.25 x steady current: common practice, no source",
    right="an output with a higher limit or peak, a load that draws less, or one behind a relay: 'fed: relay'",
    output_fit=_fit,
    eased=_eased,
    margins=_margins,
    growth=OfGrowth(headroom=_headroom, port=_peak),
    posts=OfPosts(output=_posted, look=FirstLook(7, _look), wants=("trips",)),
    facts=_facts,
)
