"""What reaches lamps and what cranks; how the battery fares on the road and at rest."""

from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from oracle.flow import cranking_ma
from oracle.reading import EXCLUSIVE
from oracle.things import Load

from .cases import Currents, cases_of
from .drops import MICRO, feed_uv, output_uv
from .entries import amount
from .tables import DUTIES, LIGHT_EXPONENT, RELAY_COIL_MA, F
from .things import Bike
from .wires import Plan, Wire

WITHOUT_MEAN = ("horn", "hazard", "main beam", "flashing the main beam")


def light(reached_v: Fraction, running_v: Fraction) -> float:
    """Return a filament's light as a share of what it gives at the running voltage."""
    return float(pow(float(reached_v / running_v), LIGHT_EXPONENT))


def share_of_time(bike: Bike, load: Load, state: str) -> Fraction:
    """Return the share of its current that a load draws on average in a state, what feeds it if something does.

    Events that exclude each other add up; others come by themselves, so that none comes in the product of the rest.
    """
    feeding = [bike.load(name) for name in sorted(load.feeders)] or [load]
    feeding = [one for one in feeding if state not in one.barred]
    if not feeding:
        return F(0)
    when = frozenset().union(*(one.when for one in feeding))
    barred = frozenset.intersection(*(one.barred for one in feeding))
    on = F(1) if state in when else _any_of(bike, when, state)
    return on * (1 - _any_of(bike, barred, state)) * max(_level(bike, one) for one in feeding)


def _level(bike: Bike, load: Load) -> Fraction:
    """Return the mean of what flashes or is dimmed."""
    flash = bike.usual("flash duty", "%") / 100 if "flash" in load.modes else F(1)
    return flash * (bike.dim_to.get(load.name, F(1)) if "dim" in load.modes else 1)


def _any_of(bike: Bike, words: frozenset[str], state: str) -> Fraction:
    """Return the share of the time in which at least one of some events comes."""
    events = [name for name, states in bike.read.events.items() if name in words and state in states]
    sides = [name for name in events if name in EXCLUSIVE]
    none = 1 - sum((_duty(bike, name) for name in sides), F(0))
    for name in events:
        none *= 1 if name in sides else 1 - _duty(bike, name)
    return 1 - none


def _duty(bike: Bike, event: str) -> Fraction:
    if event in WITHOUT_MEAN:
        return F(0)
    return bike.usual(DUTIES[event], "%") / 100 if event in DUTIES else F(1)


def _coil_ma(load: Load) -> int:
    """Return what the coil of a load's relay takes where a switch of the load's own works it."""
    return RELAY_COIL_MA if load.fed == "relay" and load.own_switch else 0


def drawn_w(plan: Plan, state: str) -> Fraction:
    """Return the mean power drawn in a state, the unit awake."""
    bike = plan.bike
    mean_ma = sum((share_of_time(bike, load, state) * (load.current_ma + _coil_ma(load)) for load in bike.loads), F(0))
    return (mean_ma + sum(seat.unit.awake_ma for seat in plan.seats)) / 1000 * bike.running_v


def resting_ma(plan: Plan, *, awake: bool) -> Fraction:
    """Return what is drawn at rest: the units, asleep or awake, multiplexers, and what is on in any case of asleep."""
    own = sum(
        seat.unit.awake_ma if awake or _kept_awake(plan, seat.number) else seat.unit.standby_ma for seat in plan.seats
    )
    boxes = [
        amount(plan.bike.multiplexers[box.name].get("standby", plan.bike.assumed["multiplexer standby"]), "mA")
        for box in plan.boxes
    ]
    on = [load for load in plan.bike.loads if load.name in _asleep(plan.bike)]
    return own + sum(boxes, F(0)) + sum(load.current_ma + _coil_ma(load) for load in on)


def _asleep(bike: Bike) -> set[str]:
    """Return the loads that are on in a case of asleep."""
    return {name for case in cases_of(bike) if case.state == "asleep" for name in Currents(bike, case).on}


def _kept_awake(plan: Plan, unit: int) -> bool:
    """Tell whether an output of a unit is on with the bike asleep."""
    asleep = _asleep(plan.bike)
    return any(asleep & set(names) for (number, _), names in plan.circuits.items() if number == unit)


def days(bike: Bike, drawn_ma: Fraction) -> Fraction | None:
    """Return the days until half the battery is gone. Source: EN 50342-7 capacity; half: common practice."""
    capacity_mah = bike.capacity_ah * 1000
    a_day = drawn_ma * 24 + capacity_mah * bike.usual("self-discharge", "%") / 100
    return capacity_mah / 2 / a_day if a_day else None


def cranking_v(plan: Plan, unit: int) -> Iterator[tuple[str, Fraction]]:
    """Return what is left of the cranking voltage, at a unit and at each load on an output of it that is on then.

    Nothing is told where nothing is on while the starter turns.
    """
    every = [Cranked(plan.bike, case) for case in cases_of(plan.bike) if case.state == "cranking"]
    every = [now for now in every if now.on]
    if not every:
        return
    most_v = plan.bike.cranking_v
    yield "the unit", min(most_v - feed_uv(plan, now, unit) / MICRO for now in every)
    for wire in (wire for wire in plan.outputs if wire.unit == unit):
        for load in plan.loads_of(wire.port):
            left = [most_v - output_uv(plan, wire, load, now) / MICRO for now in every if _on(plan, wire, load, now)]
            if left:
                yield load.name, min(left)


def _on(plan: Plan, wire: Wire, load: Load, now: Currents) -> bool:
    return bool(now.of(load, plan.circuits[wire.port]))


class Cranked(Currents):
    """What is drawn while the starter turns: by the kind, each load rounded up to the mA."""

    def of(self, load: Load, circuit: tuple[str, ...] = ()) -> Fraction:
        """Return what a load takes at the cranking voltage."""
        return F(cranking_ma(load, self.bike.read) if super().of(load, circuit) else 0)

    def coil(self, load: Load) -> Fraction:
        """Return what the coil of a load's relay takes at the cranking voltage: in proportion."""
        return F(ceil(super().coil(load) * self.bike.cranking_v / self.bike.running_v))
