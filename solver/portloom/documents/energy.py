"""Charging against what is drawn on the road, and battery days with the bike at rest."""

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from portloom.base.bike import Charging
from portloom.base.events import EXCLUSIVE, MAIN_BEAM, SOUNDING, EventRule, event_rules
from portloom.base.figures import plain
from portloom.base.quantities import BasisPoints, MicroAmps, MilliAmpHours, MilliWatts
from portloom.base.values import dataclass
from portloom.job.consumers import Consumer
from portloom.job.job import Job
from portloom.job.laid import Laid, WiredMultiplexer
from portloom.job.site import Site

HOURS_A_DAY = 24


def battery_days(capacity: MilliAmpHours, drawn: MicroAmps, self_discharge: BasisPoints) -> Fraction | None:
    """Return the days until half a battery's capacity is gone, or None where nothing draws on it.

    ``self_discharge`` is a share of the capacity a day. Source: EN 50342-7 capacity at the ten-hour
    rate; half of it as the end: common practice, no source.
    """
    a_day = HOURS_A_DAY * Fraction(drawn, 1000) + Fraction(capacity * self_discharge, 10_000)
    return Fraction(capacity, 2) / a_day if a_day else None


def share_of_time(duties: tuple[Fraction, ...]) -> Fraction:
    """Return the share of the time in which at least one of independent events comes."""
    none = Fraction(1)
    for duty in duties:
        none *= 1 - duty
    return 1 - none


RIDING = ("day", "night")
FEW_DAYS = 30
DUTY = {
    "braking": "braking duty",
    "indicating left": "indicating duty",
    "indicating right": "indicating duty",
    "fan running": "fan duty",
}
"""Events with a usual share of the time, by the name of the default."""
NEVER = ("hazard", SOUNDING, MAIN_BEAM, "flashing the main beam")
"""Events that count for nothing in the mean; the main beam takes the place of the dipped beam."""


@dataclass(frozen=True)
class Riding:
    """The mean power drawn in a state, against what the alternator gives."""

    state: str
    drawn: MilliWatts
    idle: MilliWatts | None
    cruise: MilliWatts | None
    ten_minutes: MilliAmpHours
    """What the battery gives in ten minutes at idle, rounded up; 0 where the alternator keeps up, or is not stated."""


@dataclass(frozen=True)
class Resting:
    """The current drawn with the bike at rest, and the days until half the battery is gone."""

    name: str
    drawn: MicroAmps
    days: Fraction | None


@dataclass(frozen=True)
class Energy:
    """The energy of a bike: by state on the road, asleep and awake."""

    riding: tuple[Riding, ...]
    resting: tuple[Resting, ...]
    capacity: MilliAmpHours
    """The battery's."""


def energy_of(laid: Laid) -> Energy:
    """Return the energy sums of a bike on its units."""
    job = laid.site.job
    awake = MicroAmps(sum(unit.job.unit.feed.awake or 0 for unit in laid.site.units))
    riding = tuple(_riding(job, state, awake) for state in RIDING)
    return Energy(riding, tuple(_resting(laid, awake)), job.bike.supply.battery.capacity)


# --- on the road


def _riding(job: Job, state: str, awake: MicroAmps) -> Riding:
    running, charging = job.bike.supply.running, job.bike.supply.charging or Charging()
    loads = (*_all(job), *_coils(job))
    current = Fraction(awake, 1000) + sum(_share(job, load, state) * load.current for load in loads)
    drawn = MilliWatts(round(current * running / 1000))
    lacking = 0 if charging.idle is None else max(0, drawn - charging.idle)
    ten_minutes = MilliAmpHours(-(-1000 * lacking // (6 * running)))
    return Riding(state, drawn, charging.idle, charging.cruise, ten_minutes)


def _all(job: Job) -> tuple[Consumer, ...]:
    return (*job.loads.on_unit, *job.loads.guests, *(fed.consumer for fed in job.loads.fed))


def _coils(job: Job) -> Iterator[Consumer]:
    """Return the coils of relays that no output drives: each is on with its load."""
    return (fed.coil for fed in job.loads.fed if fed.coil is not None)


def _share(job: Job, load: Consumer, state: str) -> Fraction:
    """Return the share of its steady current that a load draws on average in a state."""
    feeding = [x for x in (*job.loads.on_unit, *(fed.consumer for fed in job.loads.fed)) if x.name in load.feeders]
    feeding = feeding or [load]
    feeding = [x for x in feeding if state not in x.except_]
    if not feeding:
        return Fraction(0)
    events = [rule for rule in event_rules(job.bike.events) if state in rule.states]
    when = frozenset(moment for x in feeding for moment in x.when)
    on = Fraction(1) if state in when else share_of_time(_duties(job, when, events))
    off = share_of_time(_duties(job, frozenset.intersection(*(x.except_ for x in feeding)), events))
    return on * (1 - off) * max(_level(job, x) for x in feeding)


def _duties(job: Job, moments: frozenset[str], events: list[EventRule]) -> tuple[Fraction, ...]:
    """Return the shares of the time of some events; those of which only one can come at a time are one, added up."""
    named = [event.name for event in events if event.name in moments]
    one_of = sum((_duty(job, name) for name in named if name in EXCLUSIVE), Fraction(0))
    return (one_of, *(_duty(job, name) for name in named if name not in EXCLUSIVE))


def _duty(job: Job, event: str) -> Fraction:
    if event in NEVER:
        return Fraction(0)
    return Fraction(job.assume[DUTY[event]], 10_000) if event in DUTY else Fraction(1)


def _level(job: Job, load: Consumer) -> Fraction:
    flash = Fraction(job.assume["flash duty"], 10_000) if "flash" in load.modes else Fraction(1)
    dimmed = Fraction(load.dim_to, 10_000) if "dim" in load.modes and load.dim_to is not None else Fraction(1)
    return flash * dimmed


# --- at rest


def _resting(laid: Laid, awake: MicroAmps) -> Iterator[Resting]:
    job = laid.site.job
    coils = (coil for coil in _coils(job) if "asleep" in job.states_of(coil))
    always = sum(1000 * load.current for load in (*on_asleep(job), *coils)) + multiplexers_asleep(laid)
    yield _rest(job, "asleep", MicroAmps(sum(_unit_asleep(laid, unit) for unit in laid.site.units) + always))
    yield _rest(job, "awake, nothing on", MicroAmps(awake + always))


def multiplexers_asleep(laid: Laid) -> MicroAmps:
    """Return what the multiplexers in use draw with the bike asleep."""
    return MicroAmps(sum(_box_asleep(laid.site.job, box) for box in laid.multiplexers))


def _box_asleep(job: Job, box: WiredMultiplexer) -> int:
    own = box.stand.multiplexer.standby
    return job.assume["multiplexer standby"] if own is None else own


def _unit_asleep(laid: Laid, unit: Site) -> int:
    feed = unit.job.unit.feed
    return (feed.awake if kept_awake(laid, unit) else feed.standby) or 0


def kept_awake(laid: Laid, unit: Site) -> bool:
    """Tell whether a unit never sleeps, for one of its outputs is on with the bike asleep."""
    driven = (load for wired in laid.outputs if wired.site.shares(unit) for load in wired.circuit.members)
    return any("asleep" in laid.site.job.states_of(load) for load in driven)


def on_asleep(job: Job) -> tuple[Consumer, ...]:
    """Return the loads that are on with the bike asleep, whatever feeds them."""
    return tuple(load for load in _all(job) if "asleep" in job.states_of(load))


def _rest(job: Job, name: str, drawn: MicroAmps) -> Resting:
    lost = BasisPoints(job.assume["self-discharge"])
    return Resting(name, drawn, battery_days(job.bike.supply.battery.capacity, drawn, lost))


def energy_warnings(energy: Energy) -> Iterator[str]:
    """Return a warning where the alternator does not keep up or the battery does not last."""
    worst = max(energy.riding, key=lambda line: line.drawn)
    yield from _cruising(worst)
    if worst.ten_minutes:
        yield (
            f"{worst.state}, at idle: {watts(worst.drawn)} drawn, the alternator supplies {watts(worst.idle or 0)}: "
            f"in ten minutes the battery gives {ampere_hours(worst.ten_minutes)} of its {ampere_hours(energy.capacity)}"
        )
    for rest in energy.resting[:1]:
        if rest.days is not None and rest.days < FEW_DAYS:
            yield f"{rest.name}: the battery is half empty after {days(rest.days)}"


def _cruising(line: Riding) -> Iterator[str]:
    """Most of what the alternator gives must not be all that is drawn: 90 % at most, common practice, no source."""
    if line.cruise is None or 10 * line.drawn <= 9 * line.cruise:
        return
    drawn = f"{line.state}, cruising: {watts(line.drawn)} drawn"
    if line.drawn > line.cruise:
        yield f"{drawn}, the alternator supplies {watts(line.cruise)}: the battery runs down on the road"
    else:
        yield (
            f"{drawn}, more than 90 % of the {watts(line.cruise)} that the alternator supplies: little is left to "
            "charge the battery (common practice, no source)"
        )


def ampere_hours(charge: int) -> str:
    """Write a charge in mAh to a tenth of an ampere hour, rounded up."""
    return f"{plain(Decimal(-(-charge // 100)) / 10)} Ah"


def watts(power: MilliWatts | int) -> str:
    """Write a power to a tenth of a watt."""
    return f"{plain((Decimal(power) / 1000).quantize(Decimal('0.1')))} W"


def days(number: Fraction) -> str:
    """Write a number of days, to a tenth."""
    return f"{plain((Decimal(number.numerator) / number.denominator).quantize(Decimal('0.1')))} days"
