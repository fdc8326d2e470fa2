"""Trip, inrush, main fuse, fused feeds: what a port and a fuse carry.

Source: 1.25 x steady is common practice; fuse steps ISO 8820-3.
"""

import math
from fractions import Fraction
from itertools import pairwise

from .circuits import Circuit, circuit
from .guards import States, output_takes
from .reading import on_unit
from .things import Bike, InPort, Load, Output, Switch, Unit

STEPS_MA = tuple(
    int(Fraction(step) * 1000)
    for step in ("1", "2", "3", "4", "5", "7.5", "10", "15", "20", "25", "30", "35", "40", "50", "60", "70", "80")
)
DIMMABLE = frozenset({"filament", "heater"})
Curve = tuple[tuple[Fraction, Fraction], ...]


def holds_ms(curve: Curve, multiple: Fraction) -> float:
    """Return how long (ms) a trip holds a multiple of itself, straight on log scales.

    Under the first point its time holds, beyond the last nothing does.
    """
    if multiple <= 1:
        return math.inf
    if multiple <= curve[0][0]:
        return float(curve[0][1])
    for (low, long), (high, short) in pairwise(curve):
        if multiple == high:
            return float(short)
        if multiple < high:
            along = math.log(multiple / low) / math.log(high / low)
            return float(long) * math.pow(float(short / long), along)
    return 0.0


def mode_fits(held: Circuit, output: Output) -> bool:
    """Tell whether an output can drive a circuit in its mode, and dim what it must dim."""
    return held.asked <= output.abilities and all(dims(load) for load in held.loads if "dim" in load.asked)


def dims(load: Load) -> bool:
    """Tell whether a load can be dimmed, or need not be judged."""
    return load.any_kind or load.kind in DIMMABLE or (load.kind == "led" and load.dims)


def trip_ma(held: Circuit, output: Output) -> int | None:
    """Return the trip (mA) of an output for a circuit; None where mode, peak or limit refuse."""
    if not mode_fits(held, output) or held.inrush_ma > output.peak_ma:
        return None
    able = [trip for trip in output.trips_ma if trip <= output.limit_ma and 4 * trip >= 5 * held.steady_ma]
    return next((trip for trip in able if _holds(held, output, trip)), None)


def _holds(held: Circuit, output: Output, trip: int) -> bool:
    if not output.curve or held.inrush_ms <= output.peak_ms:
        return True
    return holds_ms(output.curve, held.inrush_ma / trip) >= held.inrush_ms


def step_above(at_least: Fraction, above: int = 0) -> int | None:
    """Return the smallest fuse step (mA) from `at_least` up and above `above`; None if beyond."""
    return next((step for step in STEPS_MA if step >= at_least and step > above), None)


def main_fuse_ma(bike: Bike, unit: Unit, states: States, worst_ma: int) -> int | None:
    """Return the main fuse (mA), whatever the unit takes; None where no step does.

    `worst_ma` is the most that the unit draws. The fuse is above each load's lowest trip.
    """
    trips = (lowest_trip_ma(bike, unit, states, circuit(bike, [load])) for load in on_unit(bike))
    return fuse_above_ma(bike, worst_ma, max(trips, default=0))


def lowest_trip_ma(bike: Bike, unit: Unit, states: States, held: Circuit) -> int:
    """Return the smallest trip (mA) of those outputs that take a circuit; 0 where none does."""
    able = (output for output in unit.outputs if output_takes(bike, states, held, output))
    return min((trip for output in able if (trip := trip_ma(held, output)) is not None), default=0)


def fuse_above_ma(bike: Bike, worst_ma: int, trip: int) -> int | None:
    """Return the step (mA) for the worst case, or for what is charged through it, and above a trip; None beyond."""
    return step_above(Fraction(5 * max(worst_ma, bike.charging_ma), 4), trip)


def most_fuse_ma(unit: Unit) -> int:
    """Return the largest main fuse (mA) that a unit takes."""
    return step_above(Fraction(5 * unit.limit_ma, 4)) or STEPS_MA[-1]


def input_fits(switch: Switch, port: InPort) -> bool:
    """Tell whether an input takes a signal, its pulse level and rate."""
    if switch.any_signal:
        return True
    if switch.signal not in port.accepts:
        return False
    return switch.signal != "pulse" or (
        _within(switch.level_mv, port.up_to_mv) and _within(switch.rate_hz, port.rate_hz)
    )


def _within(value: Fraction | None, most: Fraction | None) -> bool:
    return value is None or most is None or value <= most
