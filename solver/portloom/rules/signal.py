"""Inputs: the port reads the signal, and switches that share a port say the same."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction

from portloom.base.bike import Switch
from portloom.base.drop import MicroVolts
from portloom.base.figures import amperes, limit_volts, lost_volts, plain, volts, with_verb
from portloom.base.quantities import MilliHertz, MilliVolts
from portloom.base.unit import Port, Pulse
from portloom.job.cases import named_for
from portloom.job.circuits import InputCircuit
from portloom.job.consumers import Return
from portloom.job.drops import Drops
from portloom.job.job import Job
from portloom.job.kinds import PortDirection
from portloom.job.laid import Laid
from portloom.job.losses import Losses
from portloom.job.site import Site, return_conductor
from portloom.rules.cures import Cures, earth_points, more_returns, thicker_reels
from portloom.rules.facts import Fact, at_switch
from portloom.rules.growth import GrowthRoom, OfGrowth, Saying
from portloom.rules.margins import NONE_LEFT, LimitMargin, volts_spare
from portloom.rules.posted import OfPosts
from portloom.rules.shapes import BRAKES, CommonNeed, Rule, Said
from portloom.rules.shared_losses import SharedLosses, lifts


def _fit(circuit: InputCircuit, port: Port) -> Said:
    for switch in circuit.switches:
        if switch.signal not in port.accepts:
            return f"{with_verb(switch.name, 'gives')} {_kind(switch)}, {with_verb(port.name, 'does')} not read that"
        if said := _pulses(switch, port):
            return said
    return None


def _pulses(switch: Switch, port: Port) -> Said:
    if switch.signal != "pulse" or port.pulse is None:
        return None
    if switch.level is not None and switch.level > port.pulse.up_to:
        pulses, takes = with_verb(switch.name, "pulses"), with_verb(port.name, "takes")
        return f"{pulses} up to {_volts(switch.level)}, {takes} {_volts(port.pulse.up_to)} at most"
    if switch.rate is not None and switch.rate > port.pulse.rate:
        pulses, counts = with_verb(switch.name, "pulses"), with_verb(port.name, "counts")
        return f"{pulses} at {_hertz(switch.rate)}, {counts} up to {_hertz(port.pulse.rate)}"
    return None


def _kind(switch: Switch) -> str:
    return f"a signal of kind '{switch.signal}'"


def _volts(voltage: MilliVolts) -> str:
    return f"{plain(Decimal(voltage) / 1000)} V"


def _hertz(rate: MilliHertz) -> str:
    return f"{plain(Decimal(rate) / 1000)} Hz"


def _pair(one: Switch, other: Switch) -> Said:
    both = f"{one.name} and {other.name} can't share an input"
    if one.share is None or one.share != other.share:
        return f"{both}: they have no share group in common"
    if set(one.operates) != set(other.operates) or _told(one) != _told(other):
        return f"{both}: they don't operate and tell the same things"
    if one.normally != other.normally:
        return f"{both}: one is open at rest, the other closed"
    if one.signal != other.signal:
        return f"{both}: they don't pull the same way"
    return None


def _told(switch: Switch) -> set[str]:
    """Return what a switch tells; front and rear brake count as the same."""
    return {"brake" if what in BRAKES else what for what in switch.tells}


def _earth_lift(site: Site) -> Said:
    """At a switch to earth, what else flows in the joint return must not lift the earth too far."""
    limit, losses = 1000 * site.job.assume["switch earth lift"], Losses(site)
    for switch in site.job.wired_inputs:
        for point in switch.at if switch.earthed_by_wire else ():
            if max(losses.behind(Return(point))) > limit:
                lifted = _lift_said(site.whole, point, switch.name)
                return f"{lifted}, an input reads it reliably up to {limit_volts(limit)}"
    return None


def _lift_said(site: Site, point: str, switch: str) -> str:
    """Say what flows back from a point of the whole bike, on what wire, when it lifts the earth of a switch most."""
    way = next(way for way in site.fixed_of("return") if way.back == Return(point))
    lifts = Losses(site).behind(way.back)
    back = [site.job.returned(way.back, case) for case in site.job.cases]
    worst = max(range(len(lifts)), key=lambda number: (lifts[number], back[number]))
    told = named_for(site.job.cases[worst], site.job.sent_back(way.back))
    carries = f"{way.said}, of {return_conductor(site, way).size.label}, carries {amperes(back[worst])} {told.said}"
    return f"{carries} and raises the earth of {switch} by {lost_volts(lifts[worst])}"


def _common_need(job: Job, ports: PortDirection, names: Sequence[str]) -> CommonNeed | None:
    """Say what input switches need that all give one signal."""
    signals = {switch.signal for switch in job.inputs if ports == "inputs" and switch.name in names}
    if len(signals) != 1:
        return None
    (signal,) = signals
    others = tuple(switch.name for switch in job.inputs if switch.signal == signal)
    return CommonNeed(f"an input that reads '{signal}'", others)


def _headroom(laid: Laid) -> GrowthRoom:
    return SharedLosses(laid, lifts(laid)).rooms


def _margins(laid: Laid) -> Iterator[LimitMargin]:
    yield from _of_earths(laid)
    for wired in laid.inputs:
        for switch in wired.circuit.switches:
            if switch.signal == "pulse" and wired.port.pulse is not None:
                yield from _of_pulses(switch, wired.port.name, wired.port.pulse)


def _of_pulses(switch: Switch, port: str, pulse: Pulse) -> Iterator[LimitMargin]:
    """Return how high and how fast what gives pulses gives them, against what its input takes."""
    told = f"{switch.name} on {port}: it pulses"
    if switch.level is not None:
        left = MilliVolts(pulse.up_to - switch.level)
        rest = f"{_volts(left)} left" if left else NONE_LEFT
        sentence = f"{told} up to {_volts(switch.level)}, {port} takes {_volts(pulse.up_to)}, {rest}"
        share = Fraction(switch.level, pulse.up_to)
        yield LimitMargin(RULE.slug, switch.name, switch.level, pulse.up_to, left, share, sentence)
    if switch.rate is not None:
        more = MilliHertz(pulse.rate - switch.rate)
        rest = f"{_hertz(more)} left" if more else NONE_LEFT
        sentence = f"{told} at {_hertz(switch.rate)}, {port} counts up to {_hertz(pulse.rate)}, {rest}"
        share = Fraction(switch.rate, pulse.rate)
        yield LimitMargin(RULE.slug, switch.name, switch.rate, pulse.rate, more, share, sentence)


def _of_earths(laid: Laid) -> Iterator[LimitMargin]:
    """Return for each point with switches to earth how far what flows in the joint return lifts it."""
    limit = MicroVolts(Fraction(1000 * laid.site.job.assume["switch earth lift"]))
    losses = Drops(laid).losses_of(laid.site)
    for point in _earthed_by_wire(laid.site.job):
        lift = MicroVolts(max(losses.behind(Return(point))))
        left = MicroVolts(limit - lift)
        told = f"switches at {point}"
        sentence = (
            f"{told}: the shared return raises their earth by {volts(lift)}, "
            f"they are read reliably up to {limit_volts(limit)}, {volts_spare(left)}"
        )
        yield LimitMargin(RULE.slug, told, lift, limit, left, lift / limit, sentence)


def _lifted(laid: Laid) -> Iterator[Saying]:
    """Say where what flows in a joint return lifts the earth of switches too far."""
    limit = 1000 * laid.site.job.assume["switch earth lift"]
    for point in _earthed_by_wire(laid.site.job):
        lift = max(laid.losses.behind(Return(point)))
        if lift > limit:
            raises = f"the shared return from {point} raises the earth of switches there by {lost_volts(lift)}"
            yield point, f"{raises}, they are read reliably up to {limit_volts(limit)}"


def _earthed_by_wire(job: Job) -> tuple[str, ...]:
    """Return the points with switches to earth, each once."""
    return tuple(dict.fromkeys(p for s in job.wired_inputs if s.earthed_by_wire for p in s.at))


def _facts(job: Job) -> Iterator[Fact]:
    for switch in job.inputs:
        pulse = [f"up to {_volts(switch.level)}"] if switch.level is not None else []
        pulse += [f"at {_hertz(switch.rate)}"] if switch.rate is not None else []
        of_kind = ", ".join((_kind(switch), *pulse))
        sentence = f"{with_verb(switch.name, 'gives')} {of_kind}"
        at = at_switch(job, switch.name, "signal")
        yield Fact(("signal", switch.name), "signal", switch.name, sentence, at, f"give {of_kind} each")


def _cures(job: Job) -> Iterator[Cures]:
    yield thicker_reels(job)
    yield more_returns(job)
    yield from earth_points(job)


RULE = Rule(
    slug="signal",
    protects="switches and sensors from being read wrongly, or not at all",
    source="the unit's profile; common practice, no source",
    right="an input that accepts the switch's signal, and counts its pulses as far and as fast as they come; "
    "switches share an input only where they do the same and pull the same way",
    input_pair=_pair,
    input_fit=_fit,
    place_fit=_earth_lift,
    common_need=_common_need,
    margins=_margins,
    growth=OfGrowth(headroom=_headroom, shared=_lifted),
    facts=_facts,
    cures=_cures,
    posts=OfPosts(needs="what signal each switch gives", wants=("inputs",)),
)
