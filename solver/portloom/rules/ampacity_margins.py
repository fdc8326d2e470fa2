"""How much of what each wire carries is asked of it where it is weakest: runs, load tails, returns, fed wires."""

from collections.abc import Iterator
from fractions import Fraction

from portloom.base.figures import amperes
from portloom.base.quantities import MilliAmps
from portloom.base.sizes import WireSize
from portloom.job.fixed import conductor_of
from portloom.job.fixed_wires import FixedWire, carrying_parts
from portloom.job.laid import Laid
from portloom.job.loading import Bundles, output_demands
from portloom.job.site import Site
from portloom.job.sizing import candidates, fixed_demands
from portloom.job.weakest import WeakSpot, weakest_spot
from portloom.job.wired import WiredOutput
from portloom.rules.company import demanded, leg_said
from portloom.rules.margins import LimitMargin, among, amperes_left


def margins_of_ampacity(slug: str, laid: Laid) -> Iterator[LimitMargin]:
    """Return a margin for each wire but the feeds, and for each load's own tails where the file gives them."""
    bundles = Bundles(laid)
    for wired in laid.outputs:
        yield from _of_output(slug, laid.site, wired, bundles)
        yield from _of_tails(slug, wired)
    for kind in ("fed load", "return"):
        for wire in laid.site.fixed_wires:
            if wire.kind == kind:
                yield from _of_fixed(slug, laid, wire, bundles)


def _of_output(slug: str, site: Site, wired: WiredOutput, bundles: Bundles) -> Iterator[LimitMargin]:
    spot = weakest_spot(site.job, wired.drawn, wired.run.legs, output_demands(site.job, wired), bundles)
    if spot is not None:
        thicker = any(reel.size > wired.drawn.size for reel in wired.serving)
        whose = f"{wired.circuit.label} on {wired.output.name}"
        must = demanded(wired, spot.demand)
        yield _margin(slug, site, wired.circuit.label, whose, wired.drawn.size, must, spot, thicker=thicker)


def _of_fixed(slug: str, laid: Laid, wire: FixedWire, bundles: Bundles) -> Iterator[LimitMargin]:
    site, conductor = laid.site, conductor_of(laid.site, wire)
    legs = [leg for part in carrying_parts(site.job.network, wire) for leg in part.run.legs]
    spot = weakest_spot(site.job, conductor, legs, fixed_demands(site, wire, laid.outputs), bundles)
    if spot is not None:
        thicker = any(reel.size > conductor.size for reel in candidates(site, wire, laid.outputs))
        must = demanded(wire, spot.demand)
        yield _margin(slug, site, wire.name, wire.said, conductor.size, must, spot, thicker=thicker)


def _margin(
    slug: str, site: Site, subject: str, whose: str, size: WireSize, must: str, spot: WeakSpot, *, thicker: bool
) -> LimitMargin:
    left = MilliAmps(spot.carries - spot.demand.current)
    allowed = "; it may be thicker" if thicker else ""
    sentence = (
        f"{whose}: {must} on {size.label} that carries {amperes(spot.carries)} in {leg_said(site, spot.leg)}"
        f"{among(spot.loaded)}, {amperes_left(left)}{allowed}"
    )
    return LimitMargin(slug, subject, spot.demand.current, spot.carries, left, spot.share, sentence, thicker)


def _of_tails(slug: str, wired: WiredOutput) -> Iterator[LimitMargin]:
    """A load's own tails must carry the trip; nobody makes them thicker."""
    for load in wired.circuit.loads:
        if load.leads is not None:
            carries, trip = wired.site.job.catalogue[load.leads].ampacity, wired.trip
            left = MilliAmps(carries - trip)
            sentence = (
                f"{load.name}: its tails of {load.leads.label} carry {amperes(carries)}, {wired.output.name} trips at "
                f"{amperes(trip)}, {amperes_left(left)}"
            )
            share = Fraction(trip, carries)
            yield LimitMargin(slug, load.name, trip, carries, left, share, sentence)
