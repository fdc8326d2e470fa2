"""Wires that lie in the looms and never touch the unit: whether each carries its own current there."""

from collections.abc import Iterator

from portloom.base.bike import Alongside
from portloom.base.figures import amperes
from portloom.base.quantities import MilliAmps
from portloom.job.fixed_wires import FixedWire
from portloom.job.laid import Laid
from portloom.job.loading import Bundles, Demand
from portloom.job.weakest import WeakSpot, weakest_spot
from portloom.rules.company import leg_said
from portloom.rules.margins import among


def alongside_warnings(laid: Laid) -> Iterator[str]:
    """Return a warning for each wire whose current is more than it may carry where it is weakest, derated."""
    bundles = Bundles(laid)
    for wire, entry in zip(laid.site.fixed_of("alongside"), laid.site.job.bike.alongside, strict=True):
        spot = _weakest(laid, wire, entry, bundles)
        if entry.size is not None and spot is not None and spot.demand.current > spot.carries:
            each = " in each wire" if entry.count > 1 else ""
            where = f"{leg_said(laid.site, spot.leg)}{among(spot.loaded)}"
            yield (
                f"{entry.name}: {amperes(spot.demand.current)}{each} on {entry.size.label}, which may carry "
                f"{amperes(spot.carries)} in {where}: use thicker wire, or lead it another way"
            )


def _weakest(laid: Laid, wire: FixedWire, entry: Alongside, bundles: Bundles) -> WeakSpot | None:
    """Return where such a wire is weakest in all cases that last; None where its current or size is not known."""
    job = laid.site.job
    if entry.current is None or entry.size is None:
        return None
    drawn = MilliAmps(entry.current)
    on = (number for number, case in enumerate(job.steady) if job.alongside_on(entry.name, case))
    demands = [Demand(drawn, number) for number in on]
    return weakest_spot(job, job.catalogue[entry.size], wire.run.legs, demands, bundles)
