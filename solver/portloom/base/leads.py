"""The battery's own leads and the earth straps: as thick as the starter's current asks.

Source: resistances IEC 60228 class 5, plain (25 mm2 and more from memory); heating IEC 60949 as in ``short_circuit``,
for 10 s of cranking; what each may lose is common practice, no source.
"""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from portloom.base.copper import BY_SIZE, resistance_at
from portloom.base.quantities import Micrometres, MicroOhms, MilliAmps, MilliCelsius, MilliVolts
from portloom.base.short_circuit import withstands
from portloom.base.sizes import WireSize, metric

THICKEST = {
    metric(Decimal(area)): MicroOhms(resistance) for area, resistance in (("25", 780), ("35", 554), ("50", 386))
}
"""Microohms a metre at 20 C of sizes that only such leads have."""
RESISTANCES: dict[WireSize, MicroOhms] = {
    **{metric(Decimal(area)): BY_SIZE[metric(Decimal(area))].resistance for area in ("6", "10", "16")},
    **THICKEST,
}
"""The sizes of battery leads and straps, thin to thick."""
CRANKING_SECONDS = 10.0
SHORTEST = Micrometres(300_000)
"""A lead is no shorter. Source: common practice, no source."""


LEAD = MilliVolts(300)
ENGINE_STRAP = MilliVolts(100)
BATTERY_STRAP = MilliVolts(200)
"""What each may lose while cranking. Source: common practice, no source."""


LeadStretch = tuple[Micrometres, MilliCelsius]
"""A part of a lead: its length, and the temperature at which its conductor works."""


def lead_drop(size: WireSize, current: MilliAmps, stretches: Sequence[LeadStretch]) -> Fraction:
    """Return the microvolts that a lead loses over all its stretches."""
    warm = sum((resistance_at(temperature) * length for length, temperature in stretches), Fraction(0))
    return RESISTANCES[size] * warm * current / 10**9


def lead_size(current: MilliAmps, stretches: Sequence[LeadStretch], may_lose: MilliVolts) -> WireSize | None:
    """Return the thinnest lead that bears a starter's current and loses no more than it may; None where none does."""
    return next(
        (
            size
            for size in RESISTANCES
            if lead_drop(size, current, stretches) <= 1000 * may_lose
            and withstands(size, current / 1000, CRANKING_SECONDS)
        ),
        None,
    )
