"""What reaches lamps and what cranks; how the battery fares on the road and at rest."""

from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from .cases import Case, Currents
from .drops import MICRO, feed_uv, output_uv
from .loads import Load
from .tables import (
    DUTY,
    FILAMENT_EXPONENT,
    FLASH_DUTY,
    LIGHT_EXPONENT,
    RELAY_COIL_MA,
    SELF_DISCHARGE,
    STANDBY_MULTIPLEXER_MA,
    F,
)
from .things import Bike
from .wires import Plan

WITHOUT_MEAN = ("horn", "hazard", "main beam", "flashing the main beam")


def light(reached_v: Fraction, running_v: Fraction) -> float:
    """Return a filament's light as a share of what it gives at the running voltage."""
    return float(pow(float(reached_v / running_v), LIGHT_EXPONENT))


def at_voltage_ma(load: Load, volts: Fraction) -> float:
    """Return what a load draws at another voltage than that for which its current is told, by its kind."""
    ratio, steady = float(volts / load.told_v), load.steady_ma
    if load.kind == "filament":
        return float(steady * ratio**FILAMENT_EXPONENT)
    if load.kind in ("led", "electronics"):
        return steady / ratio
    return float(steady) if load.kind in ("motor", "horn") else steady * ratio


def share_of_time(bike: Bike, load: Load, state: str) -> Fraction:
    """Return the share of the time in which a load is on in a state; events that exclude each other add up."""
    if load.feeders:
        return sum((share_of_time(bike, bike.load(name), state) for name in load.feeders), F(0))
    level = FLASH_DUTY if load.mode == "flash" else load.dim_to
    if state in load.when:
        return level
    return level * sum((_duty(bike, event, state) for event in load.when), F(0))


def _duty(bike: Bike, event: str, state: str) -> Fraction:
    if event in WITHOUT_MEAN:
        return F(0)
    own = bike.events.get(event)
    return DUTY.get(event, F(1) if own and state in own["in"] else F(0))


def _coil_ma(load: Load) -> int:
    """Return what the coil of a load's relay takes where a switch of the load's own works it."""
    return RELAY_COIL_MA if load.fed == "relay" and load.own_switch else 0


def drawn_w(plan: Plan, state: str) -> Fraction:
    """Return the mean power drawn in a state, the unit awake."""
    bike = plan.bike
    mean_ma = sum((share_of_time(bike, load, state) * (load.steady_ma + _coil_ma(load)) for load in bike.loads), F(0))
    return (mean_ma + plan.unit.awake_ma) / 1000 * bike.running_v


def resting_ma(plan: Plan, *, awake: bool) -> Fraction:
    """Return what is drawn with nothing on, the unit asleep or awake."""
    boxes = STANDBY_MULTIPLEXER_MA * len(plan.boxes)
    return (plan.unit.awake_ma if awake else plan.unit.standby_ma) + boxes


def days(bike: Bike, drawn_ma: Fraction) -> Fraction:
    """Return the days until half the battery is gone. Source: EN 50342-7 capacity; half: common practice."""
    capacity_mah = bike.capacity_ah * 1000
    return capacity_mah / 2 / (drawn_ma * 24 + capacity_mah * SELF_DISCHARGE)


def cranking_v(plan: Plan) -> Iterator[tuple[str, float]]:
    """Return what is left of the cranking voltage, at the unit and at each load on an output that is on."""
    now = Cranked(plan.bike, Case("cranking", frozenset()))
    yield "the unit", float(plan.bike.cranking_v) - float(feed_uv(plan, now)) / MICRO
    for wire in plan.outputs:
        for load in plan.loads_of(wire.name):
            if now.of(load):
                yield load.name, float(plan.bike.cranking_v) - float(output_uv(plan, wire, load, now)) / MICRO


class Cranked(Currents):
    """What is drawn while the starter turns, to the microampere."""

    def of(self, load: Load, circuit: tuple[str, ...] = ()) -> Fraction:
        """Return what a load takes at the cranking voltage."""
        drawn = at_voltage_ma(load, self.bike.cranking_v) if super().of(load, circuit) else 0.0
        return F(ceil(drawn))

    def coil(self, load: Load) -> Fraction:
        """Return what the coil of a load's relay takes at the cranking voltage: in proportion."""
        return F(ceil(super().coil(load) * self.bike.cranking_v / self.bike.running_v))
