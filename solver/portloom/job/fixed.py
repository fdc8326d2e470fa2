"""The fixed wires of a site with their sizes: feed, unit earth, returns, fed loads, supply, alongside."""

from collections.abc import Iterator

from portloom.base.copper import Conductor
from portloom.base.drop import AmpereMetres, MicroVolts, fuse_drop, resistance_drop, wire_drop
from portloom.base.fuses import SMALL_FUSE, fuse_for
from portloom.base.quantities import Micrometres, MicroOhms, MilliAmps, MilliVolts
from portloom.job.consumers import FedLoad
from portloom.job.fixed_as_built import new_part
from portloom.job.fixed_wires import FixedWire, SizedFixedWire, carrying_parts
from portloom.job.losses import Losses
from portloom.job.site import RETURNS, Site, feed_conductor, return_conductor


def sized_fixed_wires(site: Site) -> tuple[SizedFixedWire, ...]:
    """Return every wire that no assignment changes; one of no length is no wire."""
    return tuple(_sized(site, wire) for wire in site.fixed_wires if wire.run.length)


def lying(site: Site) -> Iterator[tuple[tuple[int, ...], Micrometres, int]]:
    """Return the legs, the diameter and the count of wires that lie in looms whatever is chosen.

    New ones of no port, and all that was built before, in use or not.
    """
    for wire in sized_fixed_wires(site):
        new = wire.wire.run if wire.conductor is None else new_part(wire.wire, wire.conductor)
        yield new.legs, wire.diameter, wire.count
    for legs, piece in site.job.built.bundle if site.job.built is not None else ():
        if piece.size is not None:
            yield legs, site.job.catalogue[piece.size].diameter, 1


def _sized(site: Site, wire: FixedWire) -> SizedFixedWire:
    if wire.kind == "alongside":
        return _alongside(site, wire)
    conductor = conductor_of(site, wire)
    return SizedFixedWire(wire, conductor.diameter, conductor)


def conductor_of(site: Site, wire: FixedWire) -> Conductor:
    """Return the wire size of a fixed wire: as it is in a plan, else its first size."""
    return site.sizes.get(wire.key) or first_conductor(site, wire)


def first_conductor(site: Site, wire: FixedWire) -> Conductor:
    """Return the first size of a fixed wire, worked out once."""
    owner = site.owner(wire)
    return owner.first_sizes.of(wire, lambda: _no_thinner(owner, wire, _first(owner, wire)))


def _no_thinner(site: Site, wire: FixedWire, needed: Conductor) -> Conductor:
    """Return the built size of a wire where that is enough; it is the only one that it has as built."""
    if wire.old_size is None:
        return needed
    built = site.job.catalogue[wire.old_size]
    return built if built.size >= needed.size else needed


def _alongside(site: Site, wire: FixedWire) -> SizedFixedWire:
    entry = next(entry for entry in site.job.bike.alongside if entry.name == wire.name)
    if entry.size is None:
        return SizedFixedWire(wire, entry.diameter or Micrometres(0), None, entry.count)
    conductor = site.job.catalogue[entry.size]
    return SizedFixedWire(wire, conductor.diameter, conductor, entry.count)


def _first(site: Site, wire: FixedWire) -> Conductor:
    """Supply to switches takes the thinnest reel; the unit's earth the thinnest that may be it, else the thickest."""
    if wire.kind == "feed":
        return feed_conductor(site)
    if wire.kind in RETURNS:
        return return_conductor(site, wire)
    if wire.kind == "fed load":
        return fed_conductor(site, wire) or site.job.reels[-1]
    if wire.kind == "unit earth":
        least = site.job.assume["unit earth"]
        return next((reel for reel in site.job.reels if reel.size.area >= least), site.job.reels[-1])
    return site.job.reels[0]


def fed_load(site: Site, wire: FixedWire) -> FedLoad:
    """Return the load that a wire from the battery feeds."""
    return next(fed for fed in site.job.loads.fed if fed.consumer.name == wire.name)


def fed_conductor(site: Site, wire: FixedWire) -> Conductor | None:
    """Return the thinnest wire that carries a fed load's fuse within its drop, or None where none does."""
    fuse = fuse_for(fed_load(site, wire).consumer.current)
    if fuse is None:
        return None
    limit = fed_load(site, wire).consumer.drop_limit
    return next((r for r in site.job.reels if r.ampacity >= fuse and fed_drop(site, wire, r, fuse) <= limit), None)


def fed_drop(
    site: Site, wire: FixedWire, conductor: Conductor, fuse: MilliAmps, losses: Losses | None = None
) -> MicroVolts:
    """Return what a fed load loses over its whole path, in its worst case: as judged, unless ``losses`` are given."""
    known, load = losses or Losses(site), fed_load(site, wire).consumer
    own = fed_path_drop(site, wire, conductor, fuse, known.flow.draws(load))
    return MicroVolts(own + known.at_load(load) + known.behind_only(load))


def fed_path_drop(site: Site, wire: FixedWire, conductor: Conductor, fuse: MilliAmps, current: MilliAmps) -> MicroVolts:
    """Return what ``current`` loses from the battery to the plug of a fed load: on fuse, relay, wire and connectors."""
    assume, fed = site.job.assume, fed_load(site, wire)
    carrying = carrying_parts(site.job.network, wire)
    parted = sum(site.parted(part) for part in carrying)
    moment = AmpereMetres(sum(site.moment(part, current) for part in carrying))
    at_rating = MilliVolts(assume["small fuse drop" if fuse <= SMALL_FUSE else "fuse drop"])
    contact = assume["relay contact"] if fed.by == "relay" else 0
    return MicroVolts(
        fuse_drop(at_rating, fuse, current)
        + resistance_drop(MicroOhms(contact + parted), current)
        + wire_drop(conductor, moment)
    )
