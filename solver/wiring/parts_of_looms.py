"""Parts that go round the looms: a sleeve for each leg, a grommet for each opening."""

from collections.abc import Iterator
from decimal import Decimal

from solver.job.laid import Laid
from solver.plans.looms import Loom, looms
from solver.rules.opening import sleeve_of
from solver.wiring.part import Part, pieces
from solver.words.bike import Leg
from solver.words.figures import plain
from solver.words.quantities import Micrometres


def sleeve_parts(laid: Laid) -> Iterator[Part]:
    """Return the sleeve of each leg in which wires lie: how wide inside, how long.

    It is cut as long as the leg with its share of margin; a leg whose sleeve adds nothing has none.
    """
    share = laid.site.job.bike.margin.share
    for leg, loom in _filled(laid):
        added = sleeve_of(laid.site.job, leg)
        if added:
            millimetres = -(-leg.length * (10_000 + share) // 10_000_000)
            wide = f"{_tenths(Micrometres(loom.diameter - added))} inside or more"
            note = "moves: slack, fine-stranded wire" if leg.moves else ""
            yield Part("sleeve", "sleeve", wide, Decimal(millimetres) / 1000, "m", leg.label, note)


def grommet_parts(laid: Laid) -> Iterator[Part]:
    """Return a grommet for each opening that a loom passes."""
    for leg, loom in _filled(laid):
        if leg.opening is not None:
            size = f"for an opening of {_tenths(leg.opening)}"
            yield pieces(
                "grommets", "grommet", size, 1, leg.label, f"the loom is {_tenths(loom.diameter)} with its sleeve"
            )


def _filled(laid: Laid) -> Iterator[tuple[Leg, Loom]]:
    return ((leg, loom) for leg, loom in zip(laid.site.job.network.legs, looms(laid), strict=True) if loom.wires)


def _tenths(length: Micrometres) -> str:
    """Write a diameter to a tenth of a millimetre, rounded up."""
    return f"{plain(Decimal(-(-length // 100)) / 10)} mm"
