"""Flat tabs and the receptacles on them: which width a wire takes.

Source: the widths are those of ISO 8092-1 and IEC 61210 (from memory). Which wire and current goes on which is
common practice, no source: where a maker's sheet says otherwise, it is right.
"""

from dataclasses import dataclass
from decimal import Decimal

from solver.words.quantities import Micrometres, MilliAmps
from solver.words.sizes import WireSize, metric


@dataclass(frozen=True)
class Blade:
    """A tab by its width: the thickest wire that its receptacle is crimped on, and the most that it carries."""

    width: Micrometres
    thickest: WireSize
    most: MilliAmps


def _blade(width: str, thickest: str, amperes: int) -> Blade:
    return Blade(Micrometres(int(1000 * Decimal(width))), metric(Decimal(thickest)), MilliAmps(1000 * amperes))


BLADES: tuple[Blade, ...] = (
    _blade("2.8", "1", 6),
    _blade("4.8", "1.5", 10),
    _blade("6.3", "2.5", 20),
    _blade("9.5", "6", 35),
)
RELAY_TAB = BLADES[2]
"""Relays have tabs of 6.3 mm or more (ISO 7588-1, from memory)."""


def blade_for(size: WireSize, current: MilliAmps) -> Blade | None:
    """Return the narrowest tab for a wire and what it carries, or None where a bolted ring terminal is needed."""
    return next((one for one in BLADES if size.area <= one.thickest.area and current <= one.most), None)
