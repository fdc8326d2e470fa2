"""The thinnest wire for the job, from ampacity and own drop."""

from collections.abc import Sequence

from solver.electrics.copper import Conductor
from solver.electrics.drop import MicroVolts, Moment, wire_drop
from solver.words.quantities import MilliAmps


def thinnest(reels: Sequence[Conductor], carries: MilliAmps, total: Moment, allowed: MicroVolts) -> Conductor | None:
    """Return the thinnest of ``reels`` (thin to thick) that carries a current within a drop, or None."""
    return next((reel for reel in reels if reel.ampacity >= carries and wire_drop(reel, total) <= allowed), None)
