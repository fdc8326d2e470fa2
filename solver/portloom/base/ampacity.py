"""What a wire carries in its leg, and the thinnest that does.

Source of ampacities: 33 CFR 183.425 Table 5 (30 C ambient), Note 2 for bundles; the ambient formula is within 1 %
of Note 1's 0.85 for engine spaces (50 C) at 105 C insulation.
"""

from collections.abc import Sequence
from functools import lru_cache

from portloom.base.copper import Conductor
from portloom.base.drop import AmpereMetres, MicroVolts, wire_drop
from portloom.base.quantities import MilliAmps, MilliCelsius

TABLE_AMBIENT = MilliCelsius(30_000)
BRACKETS: tuple[tuple[int, int], ...] = ((3, 70), (4, 60), (7, 50), (25, 40))
"""From how many loaded wires on, and the per cent of its ampacity that each then keeps."""


def bundling_factor(loaded: int) -> int:
    """Return the per cent of its ampacity that each of ``loaded`` wires in one bundle keeps.

    Source: 33 CFR 183.425 Table 5, Note 2.
    """
    return next((share for least, share in reversed(BRACKETS) if loaded >= least), 100)


def carries_in_leg(
    ampacity: MilliAmps, insulation: MilliCelsius, ambient: MilliCelsius | None, loaded: int, current: MilliAmps
) -> bool:
    """Tell whether a wire carries ``current`` in a leg at ``ambient`` among ``loaded`` wires, exactly.

    ``ampacity`` x min(1, sqrt((insulation - ambient) / (insulation - 30 C))) x bundle share >= current,
    squared and in whole numbers. ``ambient`` must be below the insulation's temperature.
    """
    hot = max(TABLE_AMBIENT, TABLE_AMBIENT if ambient is None else ambient)
    left = (ampacity * bundling_factor(loaded)) ** 2 * (insulation - hot)
    return left >= (current * 100) ** 2 * (insulation - TABLE_AMBIENT)


def derated(ampacity: MilliAmps, insulation: MilliCelsius, ambient: MilliCelsius | None, loaded: int) -> MilliAmps:
    """Return the ampacity in a leg, rounded down to 1 mA; for print-outs and tests."""
    hot = max(TABLE_AMBIENT, TABLE_AMBIENT if ambient is None else ambient)
    factor = ((insulation - hot) / (insulation - TABLE_AMBIENT)) ** 0.5
    return MilliAmps(int(ampacity * factor * bundling_factor(loaded) / 100 + 1e-6))


@lru_cache(maxsize=4096)
def most_loaded(
    ampacity: MilliAmps, insulation: MilliCelsius, ambient: MilliCelsius | None, current: MilliAmps
) -> int | None:
    """Return how many loaded wires a leg may hold for a wire to carry ``current`` there.

    None where any number may lie there; 0 where the wire does not carry it even alone.
    """
    if not carries_in_leg(ampacity, insulation, ambient, 1, current):
        return 0
    for least, _ in BRACKETS:
        if not carries_in_leg(ampacity, insulation, ambient, least, current):
            return least - 1
    return None


def thinnest(
    reels: Sequence[Conductor], carries: MilliAmps, total: AmpereMetres, allowed: MicroVolts
) -> Conductor | None:
    """Return the thinnest of ``reels`` (thin to thick) that carries a current within a drop, or None."""
    return next((reel for reel in reels if reel.ampacity >= carries and wire_drop(reel, total) <= allowed), None)
