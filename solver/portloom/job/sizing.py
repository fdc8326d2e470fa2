"""Wire sizes once a plan is known: every wire carries what it must among all that lies beside it.

A wire only ever gets thicker than its first size, never thinner, and no drop is worked out again.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from portloom.base.copper import Conductor
from portloom.base.quantities import MilliAmps
from portloom.base.values import dataclass
from portloom.job.consumers import Return
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
    returning: dict[Return, list[WiredOutput]] = {}
    for wired in outputs:
        for way in wired.circuit.returns:
            returning.setdefault(way, []).append(wired)
    for wire in laid.site.fixed_wires:
        by_it = returning.get(wire.back, ()) if wire.kind == "return" else ()
        demands = tuple(fixed_demands(laid.site, wire, by_it))
        reels, legs = tuple(candidates(laid.site, wire, by_it)), laid.site.borne(wire)
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
    shop = feed_reels(site.owner(wire).job) if wire.kind == "feed" else site.job.reels
    reels = (*([first] if first not in shop else []), *shop)
    at = [wired for wired in outputs if wire.kind == "return" and wire.back in wired.circuit.returns]
    return (
        reel
        for reel in reels
        if reel.size >= first.size and all(wired.return_withstands(wire.back, reel.size) for wired in at)
    )


def _first_that_carries(
    site: Site, legs: Sequence[int], reels: Sequence[Conductor], demands: Sequence[Demand], bundles: Bundles
) -> Conductor | None:
    worst = tuple(_worst_in_each_leg(demands, legs, bundles))
    return next((r for r in reels if all(site.job.carries(r, *borne) for borne in worst)), None)


def _worst_in_each_leg(
    demands: Iterable[Demand], legs: Sequence[int], bundles: Bundles
) -> Iterator[tuple[int, int, MilliAmps]]:
    """Return for each leg and current the most loaded wires among which it must be borne: what bears that bears all."""
    most: dict[int | None, Demand] = {}
    for demand in demands:
        if demand.case not in most or demand.current > most[demand.case].current:
            most[demand.case] = demand
    of_current: dict[MilliAmps, list[Demand]] = {}
    for demand in most.values():
        of_current.setdefault(demand.current, []).append(demand)
    for current, alike in of_current.items():
        for leg in legs:
            yield leg, max(bundles.beside(leg, demand) for demand in alike), current


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
