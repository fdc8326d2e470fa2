"""Which loads belong on one unit, and which switches a unit wants for its loads."""

from collections.abc import Iterable

from .guards import needs
from .parts import ENGINE, INDICATORS
from .reading import on_unit
from .things import Bike, Load, Switch

TOGETHER = (INDICATORS, ENGINE | {"starter solenoid"})


def together(bike: Bike) -> list[list[Load]]:
    """Return the loads that one unit must have all of: indicators of both sides; what the engine runs by."""
    return [[load for load in on_unit(bike) if load.counts_as in parts] for parts in TOGETHER]


def wanted_for(bike: Bike, switch: Switch) -> list[Load]:
    """Return the loads on an output for which a unit wants a switch: it operates them, or tells what they need."""
    return [load for load in on_unit(bike) if load.name in switch.operates or switch.tells & _asked(bike, load)]


def _asked(bike: Bike, load: Load) -> frozenset[str]:
    return frozenset(word for _, what in needs(bike, load) for word in what.split(" or "))


def wants(bike: Bike, names: Iterable[str], switch: Switch) -> bool:
    """Tell whether a unit with the loads of these names wants a switch."""
    return not {load.name for load in wanted_for(bike, switch)}.isdisjoint(names)
