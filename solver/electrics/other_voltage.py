"""Current and light at another voltage than the running one: cranking, a dropped supply, the bench.

Source: lamp engineering, from memory: filament current ~ V^0.55, light ~ V^3.4; heaters and coils
are resistances; an LED with its converter and electronics draw constant power; a motor constant current.
"""

from fractions import Fraction
from math import ceil

from solver.words.bike import Kind
from solver.words.quantities import MilliAmps, MilliVolts

CURRENT_EXPONENT: dict[Kind, float] = {
    "filament": 0.55,
    "heater": 1.0,
    "ignition coil": 1.0,
    "relay coil": 1.0,
    "horn": 1.0,
    "led": -1.0,
    "electronics": -1.0,
    "motor": 0.0,
}
LIGHT_EXPONENT = 3.4


def current_at(kind: Kind, steady: MilliAmps, known_at: MilliVolts, voltage: MilliVolts) -> MilliAmps:
    """Return the current at ``voltage`` of a load that draws ``steady`` at ``known_at``, rounded up to 1 mA."""
    exact = steady * (voltage / known_at) ** CURRENT_EXPONENT[kind]
    return MilliAmps(ceil(exact - 1e-9))


def light_left(supply: MilliVolts, lamp: Fraction) -> float:
    """Return the share of its light that a filament lamp keeps at ``lamp`` millivolts instead of ``supply``."""
    return float(pow(float(lamp / supply), LIGHT_EXPONENT))
