"""What each circuit draws, how high it jumps, where it trips; each case's sum; what is left unused on a port."""

from collections.abc import Iterator
from fractions import Fraction

from .cases import Currents
from .entries import Entry, amount, several
from .loads import Load
from .tables import INRUSH, F
from .wires import Plan

AMPERE_MM, ABILITY_MM, LATER_MM = F(50), F(100), F(2000)
"""What an ampere, an ability and a later load are worth in wire, unless the file says otherwise. No source."""


def steady_ma(loads: list[Load]) -> int:
    """Return what a circuit draws with all of it on."""
    return sum(load.steady_ma for load in loads)


def inrush(loads: list[Load]) -> tuple[Fraction, int]:
    """Return how high a circuit's current jumps (mA), and for how long (ms)."""
    rows = [(load, *INRUSH[load.surge]) for load in loads]
    return sum((times * load.steady_ma for load, times, _ in rows), F(0)), max(ms for *_, ms in rows)


def least_trip_a(loads: list[Load], output: Entry) -> Fraction:
    """Return the smallest trip that the output offers from 1.25 x steady on."""
    offered = [amount(trip, "A") for trip in output["trip"]]
    return min(trip for trip in offered if trip * 1000 >= F(5, 4) * steady_ma(loads))


def sums_ma(plan: Plan, now: Currents) -> dict[str, Fraction]:
    """Return what the whole unit gives in a case, by port; a guest counts on each port that feeds it."""
    circuits = plan.circuits.items()
    return {port: sum((now.of(plan.bike.load(name), names) for name in names), F(0)) for port, names in circuits}


def bank_ma(plan: Plan, by_port: dict[str, Fraction], bank: str) -> Fraction:
    """Return what the outputs of a bank give together."""
    return sum((drawn for port, drawn in by_port.items() if plan.unit.ports[port].get("bank") == bank), F(0))


def abilities(output: Entry) -> set[str]:
    """Return what an output can do."""
    modes = set(several(output.get("switch_modes", "steady")))
    return modes | ({"dim"} if output["pwm"] == "true" else set())


def spare_mm(plan: Plan) -> Fraction:
    """Return what is left unused, as wire: amperes, abilities, and later loads for which there is no room."""
    return sum(_spare(plan), F(0))


def _spare(plan: Plan) -> Iterator[Fraction]:
    for port in plan.circuits:
        loads, output = plan.loads_of(port), plan.unit.ports[port]
        yield (amount(output["limit"], "A") - F(steady_ma(loads), 1000)) * AMPERE_MM
        yield len(abilities(output) - {load.mode for load in loads}) * ABILITY_MM
    for entry in plan.bike.later:
        if entry.get("name", entry.get("part")) in plan.printed["no_room_for"]:
            yield amount(entry["worth"], "m") * 1000 if "worth" in entry else LATER_MM
