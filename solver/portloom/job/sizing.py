"""Wire sizes once a plan is known: every wire carries what it must among all that lies beside it.

A wire only ever gets thicker than its first size, never thinner, and no drop is worked out again.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from portloom.base.copper import Conductor
from portloom.base.values import dataclass
from portloom.job.fixed import first_conductor
from portloom.job.fixed_wires import FixedWire, FixedWireKey
from portloom.job.laid import Laid
from portloom.job.loading import Bundles, Demand, fed_demands, feed_demands, output_demands, return_demands
from portloom.job.site import Site, feed_reels
from portloom.job.wired import WiredOutput


@dataclass(frozen=True)
class Unprotected:
    """A wire that no reel is thick enough for, and what it would have to carry where."""

    wire: WiredOutput | FixedWire
    thickest: Conductor
    leg: int
    loaded: int
    demand: Demand


@dataclass(frozen=True)
class Sized:
    """A plan with every wire at its size, and the wires for which there is none."""

    laid: Laid
    unprotected: tuple[Unprotected, ...]


def size_wires(laid: Laid) -> Sized:
    """Size every wire of a plan by what lies beside it."""
    bundles = Bundles(laid)
    missing: list[Unprotected] = []
    outputs = []
    for wired in laid.outputs:
        demands = tuple(output_demands(laid.site.job, wired))
        size = _first_that_carries(laid.site, wired.run.legs, wired.serving, demands, bundles)
        if size is None and wired.serving:
            missing.append(_unprotected(laid.site, wired, wired.run.legs, wired.serving[-1], demands, bundles))
        outputs.append(wired if size is None else wired.sized(size))
    sizes = dict(_fixed(laid, tuple(outputs), bundles, missing))
    return Sized(replace(laid, site=laid.site.with_sizes(sizes), outputs=tuple(outputs)), tuple(missing))


def _fixed(
    laid: Laid, outputs: Sequence[WiredOutput], bundles: Bundles, missing: list[Unprotected]
) -> Iterator[tuple[FixedWireKey, Conductor]]:
    for wire in laid.site.fixed_wires:
        demands = tuple(fixed_demands(laid.site, wire, outputs))
        reels, legs = tuple(candidates(laid.site, wire, outputs)), laid.site.borne(wire)
        if not reels and legs and demands:
            thickest = laid.site.job.reels[-1]
            missing.append(Unprotected(wire, thickest, legs[0], 1, demands[-1]))
        size = _first_that_carries(laid.site, legs, reels, demands, bundles)
        if size is not None:
            yield wire.key, size
        elif reels and legs:
            missing.append(_unprotected(laid.site, wire, legs, reels[-1], demands, bundles))
            yield wire.key, reels[-1]


def fixed_demands(site: Site, wire: FixedWire, outputs: Iterable[WiredOutput]) -> Iterable[Demand]:
    """Return what a fixed wire must carry; nothing for switch, data and sender wires and what is not ours."""
    if wire.kind == "feed":
        return feed_demands(site.owner(wire))
    if wire.kind == "return":
        return return_demands(site.job, wire, outputs)
    return fed_demands(site, wire) if wire.kind == "fed load" else ()


def candidates(site: Site, wire: FixedWire, outputs: Iterable[WiredOutput]) -> Iterable[Conductor]:
    """Return the reels that a fixed wire may be of: its first size or thicker, and none that a fault melts."""
    if wire.kind == "alongside":
        return ()
    first = first_conductor(site, wire)
    reels = feed_reels(site.owner(wire).job) if wire.kind == "feed" else site.job.reels
    at = [wired for wired in outputs if wire.kind == "return" and wire.back in wired.circuit.returns]
    return (
        reel
        for reel in reels
        if reel.size >= first.size and all(wired.return_withstands(wire.back, reel.size) for wired in at)
    )


def carries(site: Site, conductor: Conductor, legs: Iterable[int], demand: Demand, bundles: Bundles) -> bool:
    """Tell whether a wire carries a demand in every leg among the wires that are loaded in its case."""
    return all(site.job.carries(conductor, leg, bundles.beside(leg, demand), demand.current) for leg in legs)


def _first_that_carries(
    site: Site, legs: Sequence[int], reels: Sequence[Conductor], demands: Sequence[Demand], bundles: Bundles
) -> Conductor | None:
    most = _most_in_each_case(demands)
    return next((r for r in reels if all(carries(site, r, legs, demand, bundles) for demand in most)), None)


def _most_in_each_case(demands: Iterable[Demand]) -> Iterable[Demand]:
    """Return the largest demand in each case: what carries it carries the others there."""
    most: dict[int | None, Demand] = {}
    for demand in demands:
        if demand.case not in most or demand.current > most[demand.case].current:
            most[demand.case] = demand
    return most.values()


def _unprotected(
    site: Site,
    wire: WiredOutput | FixedWire,
    legs: Sequence[int],
    reel: Conductor,
    demands: Sequence[Demand],
    bundles: Bundles,
) -> Unprotected:
    """Name the first leg and demand that even the thickest reel does not bear."""
    demand, leg = next(
        (demand, leg)
        for demand in demands
        for leg in legs
        if not site.job.carries(reel, leg, bundles.beside(leg, demand), demand.current)
    )
    return Unprotected(wire, reel, leg, bundles.beside(leg, demand), demand)
