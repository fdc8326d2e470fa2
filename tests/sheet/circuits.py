"""What each circuit draws, how high it jumps, where it trips; each case's sum; what is left unused on a port."""

from collections.abc import Iterator
from fractions import Fraction

from oracle.circuits import Circuit
from oracle.electrics import trip_ma
from oracle.things import Load, Output

from .cases import Currents
from .tables import F
from .wires import Plan, Port


def steady_ma(loads: list[Load]) -> int:
    """Return what a circuit draws with all of it on."""
    return sum(load.current_ma for load in loads)


def inrush(loads: list[Load]) -> tuple[Fraction, Fraction]:
    """Return how high a circuit's current jumps (mA), and for how long (ms)."""
    return sum((load.inrush_ma for load in loads), F(0)), max(load.inrush_ms for load in loads)


def least_trip_a(loads: list[Load], output: Output) -> Fraction | None:
    """Return the smallest trip that the output offers from 1.25 x steady on and that holds the inrush."""
    guests = tuple(load for load in loads if load.feeders)
    found = trip_ma(Circuit(tuple(load for load in loads if not load.feeders), guests), output)
    return None if found is None else F(found, 1000)


def sums_ma(plan: Plan, now: Currents, unit: int = 0) -> dict[Port, Fraction]:
    """Return what a whole unit gives in a case, by port; a guest counts on each port that feeds it."""
    circuits = [(port, names) for port, names in plan.circuits.items() if port[0] == unit]
    return {port: sum((now.of(plan.bike.load(name), names) for name in names), F(0)) for port, names in circuits}


def total_ma(plan: Plan, now: Currents, unit: int) -> Fraction:
    """Return what a whole unit gives in a case."""
    return sum(sums_ma(plan, now, unit).values(), F(0))


def bank_ma(plan: Plan, by_port: dict[Port, Fraction], bank: str) -> Fraction:
    """Return what the outputs of a bank give together."""
    return sum((ma for (unit, port), ma in by_port.items() if plan.seats[unit].unit.outputs[port].bank == bank), F(0))


def spare_mm(plan: Plan) -> Fraction:
    """Return what is left unused, as wire: amperes, abilities, and later loads for which there is no room."""
    return sum(_spare(plan), F(0))


def _spare(plan: Plan) -> Iterator[Fraction]:
    worth = plan.bike.read
    for unit, port in plan.circuits:
        loads, output = plan.loads_of((unit, port)), plan.seats[unit].unit.outputs[port]
        used = frozenset().union(*(load.modes for load in loads if not load.feeders))
        loss_um = F((output.limit_ma - steady_ma(loads)) * worth.ampere_um, 1000)
        yield F(int(loss_um + len(output.abilities - used) * worth.ability_um), 1000)
    yield from (F(plan.bike.later[name].worth_um, 1000) for name in plan.printed["no_room_for"])
