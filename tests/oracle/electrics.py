"""Trip and inrush: what a port carries.

Source: 1.25 x steady is common practice.
"""

import math
from fractions import Fraction
from itertools import pairwise

from .circuits import Circuit
from .things import InPort, Load, Output, Switch

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
