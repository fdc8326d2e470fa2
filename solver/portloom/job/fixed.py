"""The fixed wires of a site with their sizes: feed, unit earth, returns, fed loads, supply, alongside."""

from portloom.base.copper import Conductor
from portloom.base.drop import MicroVolts, Moment, fuse_drop, resistance_drop, wire_drop
from portloom.base.fuses import fuse_for
from portloom.base.quantities import Micrometres, MilliAmps, MilliVolts
from portloom.job.consumers import FedLoad
from portloom.job.losses import Losses
from portloom.job.site import Site
from portloom.job.sizes import feed_conductor, return_conductor
from portloom.job.wires import FixedWire, Way


def fixed_wires(site: Site) -> tuple[FixedWire, ...]:
    """Return every wire that no assignment changes; one that ends where it starts is no wire."""
    return tuple(_sized(site, way) for way in site.ways if way.run.legs)


def _sized(site: Site, way: Way) -> FixedWire:
    if way.kind == "alongside":
        return _alongside(site, way)
    conductor = conductor_of(site, way)
    return FixedWire(way, conductor.diameter, conductor)


def conductor_of(site: Site, way: Way) -> Conductor:
    """Return the wire size of a fixed wire: as settled for a plan, else its first size."""
    return site.settled.get(way.key) or first_conductor(site, way)


def first_conductor(site: Site, way: Way) -> Conductor:
    """Return the first size of a fixed wire, worked out once."""
    owner = site.owner(way)
    return owner.first_sizes.of(way, lambda: _first(owner, way))


def _alongside(site: Site, way: Way) -> FixedWire:
    entry = next(entry for entry in site.job.bike.alongside if entry.name == way.name)
    if entry.size is None:
        return FixedWire(way, entry.diameter or Micrometres(0), None, entry.count)
    conductor = site.job.catalogue[entry.size]
    return FixedWire(way, conductor.diameter, conductor, entry.count)


def _first(site: Site, way: Way) -> Conductor:
    """Supply to switches and the unit's earth take the thinnest reel."""
    if way.kind == "feed":
        return feed_conductor(site)
    if way.kind in ("return", "sender return"):
        return return_conductor(site, way)
    if way.kind == "fed load":
        return fed_conductor(site, way) or site.job.reels[-1]
    return site.job.reels[0]


def fed_load(site: Site, way: Way) -> FedLoad:
    """Return the load that a wire from the battery feeds."""
    return next(fed for fed in site.job.loads.fed if fed.consumer.name == way.name)


def fed_conductor(site: Site, way: Way) -> Conductor | None:
    """Return the thinnest wire that carries a fed load's fuse within its drop, or None where none does."""
    fuse = fuse_for(fed_load(site, way).consumer.current)
    if fuse is None:
        return None
    limit = fed_load(site, way).consumer.drop_limit
    return next((r for r in site.job.reels if r.ampacity >= fuse and fed_drop(site, way, r, fuse) <= limit), None)


def fed_drop(site: Site, way: Way, conductor: Conductor, fuse: MilliAmps) -> MicroVolts:
    """Return what a fed load loses on its fuse, its wire, its return and the earth point."""
    load = fed_load(site, way).consumer
    own = wire_drop(conductor, Moment(load.current * site.moment_of_one(way.run)))
    at_rating = MilliVolts(site.job.assume["main fuse drop"])
    lost = own + fuse_drop(at_rating, fuse, load.current) + resistance_drop(site.parted(way), load.current)
    return MicroVolts(lost + Losses(site).behind_only(load))
