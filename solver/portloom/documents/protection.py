"""What each wire carries where it is weakest: the table, the heat and the company that it has there."""

from collections.abc import Iterator

from portloom.base.ampacity import TABLE_AMBIENT
from portloom.base.copper import Conductor
from portloom.base.quantities import MilliAmps, MilliCelsius
from portloom.base.sizes import WireSize
from portloom.base.values import dataclass
from portloom.job.fixed import conductor_of
from portloom.job.fixed_wires import FixedWire
from portloom.job.laid import Laid
from portloom.job.loading import Bundles, Demand, output_demands
from portloom.job.site import Site
from portloom.job.sizing import fixed_demands
from portloom.job.weakest import weakest_spot


@dataclass(frozen=True)
class ProtectionLine:
    """A wire at its weakest: what it must carry, and what it carries there."""

    wire: str
    size: WireSize
    must: MilliAmps
    carries: MilliAmps
    leg: str
    loaded: int
    ambient: MilliCelsius


def unit_protection(laid: Laid, unit: Site) -> Iterator[ProtectionLine]:
    """Return a line for a unit's feed and each of its outputs; ``laid`` is the whole plan."""
    bundles = Bundles(laid)
    for wire in laid.site.fixed_of("feed"):
        if laid.site.owner(wire).shares(unit):
            yield from _fixed(laid, bundles, wire, "feed")
    for wired in laid.outputs:
        if wired.site.shares(unit):
            demands = tuple(output_demands(laid.site.job, wired))
            yield from _weakest(laid, bundles, wired.output.name, wired.drawn, wired.run.legs, demands)


def other_protection(laid: Laid) -> Iterator[ProtectionLine]:
    """Return a line for each fed load and each return that is a wire."""
    bundles = Bundles(laid)
    for wire in laid.site.fixed_of("fed load"):
        yield from _fixed(laid, bundles, wire, wire.name)
    for wire in laid.site.fixed_of("return"):
        yield from _fixed(laid, bundles, wire, wire.said.removeprefix("the "))


def _fixed(laid: Laid, bundles: Bundles, wire: FixedWire, name: str) -> Iterator[ProtectionLine]:
    demands = tuple(fixed_demands(laid.site, wire, laid.outputs))
    yield from _weakest(laid, bundles, name, conductor_of(laid.site, wire), laid.site.borne(wire), demands)


def _weakest(
    laid: Laid, bundles: Bundles, name: str, conductor: Conductor, legs: tuple[int, ...], demands: tuple[Demand, ...]
) -> Iterator[ProtectionLine]:
    job = laid.site.job
    spot = weakest_spot(job, conductor, legs, demands, bundles)
    if spot is not None:
        leg = job.network.legs[spot.leg]
        ambient = TABLE_AMBIENT if leg.ambient is None else leg.ambient
        must = spot.demand.current
        yield ProtectionLine(name, conductor.size, must, spot.carries, leg.label, spot.loaded, ambient)
