"""What a short circuit at a load does to the wires before the output trips.

Source: IEC 60949 adiabatic heating of copper, K = 226 A s^0.5/mm2, 234.5 K; from 85 C to
160 C; battery 10 mohm and 0.1 s without a trip curve (common practice).
"""

from fractions import Fraction
from math import log

from .catalogue import Wire
from .drive import Drive
from .electrics import holds_ms
from .things import Load, Output

BATTERY_MOHM = 10
USUAL_MS = 100.0
WITHSTOOD = 226**2 * log((160 + 234.5) / (85 + 234.5))  # A2 s/mm4


def withstands(area: Fraction, heat: float) -> bool:
    """Tell whether copper of so many mm2 stays at or below 160 C under a heat (A2 s)."""
    return heat <= WITHSTOOD * float(area) ** 2


def heat_a2s(drive: Drive, load: Load, wire: Wire) -> float:
    """Return I2 t (A2 s) with the short at a load, the run in this size; 0 where the trip is not passed."""
    driven_ma = drive.shape.shorted_ma(load, wire, drive.output.mohm + BATTERY_MOHM)
    fault_ma = min(driven_ma, Fraction(drive.output.peak_ma))
    if fault_ma <= drive.trip_ma:
        return 0.0
    amperes: float = fault_ma.numerator / (1000 * fault_ma.denominator)
    return amperes**2 * _lasts_ms(drive.output, fault_ma, drive.trip_ma) / 1000


def _lasts_ms(output: Output, fault_ma: Fraction, trip_ma: int) -> float:
    if not output.curve:
        return USUAL_MS
    last, shortest = output.curve[-1]
    multiple = fault_ma / trip_ma
    return float(shortest) if multiple > last else holds_ms(output.curve, multiple)


def serves_shorted(drive: Drive, wire: Wire) -> bool:
    """Tell whether run and tails of a circuit stand a short at each of its loads, and at each dash that shows one."""
    for load in drive.held.ends:
        alike = (other for other in drive.held.members if (other.at, other.own_switch) == (load.at, load.own_switch))
        tails = [other.leads.area for other in alike if other.leads]
        if not withstands(min([wire.area, *tails]), heat_a2s(drive, load, wire)):
            return False
    return True
