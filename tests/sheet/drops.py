"""What is lost from the battery to a load and back, in a case, at the sizes that are cut: in microvolts (mohm x mA)."""

from fractions import Fraction

from .cases import Currents
from .circuits import sums_ma
from .loads import Load
from .returning import earth_ma, return_ma, return_of
from .tables import MAIN_FUSE_V, SHORTEST_FEED_MM, SMALL_FUSE_A, SMALL_FUSE_V, F, hot
from .wires import DROPS_AT_C, Plan, Wire

MICRO = 1_000_000


def own_feed_mohm(plan: Plan, feed: Wire) -> Fraction:
    """Return a feed's own wire; short of 300 mm it counts as 300 mm, at the hottest of the legs that it meets."""
    wire = sum((feed.mohm(leg) for leg in feed.legs), F(0))
    short_mm = SHORTEST_FEED_MM - sum(leg.length_mm for leg in feed.legs)
    if short_mm <= 0:
        return wire
    met = feed.legs or [leg for leg in plan.bike.legs if feed.source in leg.ends]
    warm = max([DROPS_AT_C, *(leg.ambient_c for leg in met)])
    return wire + feed.copper.mohm_per_m * short_mm / 1000 * hot(warm)


def feed_mohm(plan: Plan) -> Fraction:
    """Return the feed's own wire and connectors."""
    inside = [point for _, point in plan.feed.way(plan.bike.battery)[:-1] if point in plan.bike.connectors]
    return own_feed_mohm(plan, plan.feed) + len(inside) * plan.bike.mohm["connector"]


def feed_uv(plan: Plan, now: Currents) -> Fraction:
    """Return what feed and main fuse lose; a guest counts once for each load that feeds it."""
    fuse_mohm = MAIN_FUSE_V / plan.main_fuse_a * 1000
    return (feed_mohm(plan) + fuse_mohm) * sum(sums_ma(plan, now).values(), F(0))


def run_uv(plan: Plan, wire: Wire, load: Load, now: Currents) -> Fraction:
    """Return what a circuit's wires lose on the way to a load: stretches, splices, connectors strictly inside.

    From its own switch a load has a wire to itself.
    """
    names = plan.circuits[wire.name]

    def beyond_ma(point: str) -> Fraction:
        return sum((now.of(plan.bike.load(tip.name), names) for tip in wire.beyond(point)), F(0))

    mohm, way = plan.bike.mohm, wire.way(load.stop)
    lost = sum((wire.mohm(leg) * beyond_ma(point) for leg, point in way), F(0))
    met = [wire.source, *(point for _, point in way)]
    lost += sum(mohm["splice"] * beyond_ma(point) for point in met if wire.meeting(point) > 2)
    inside = [point for point in met[1:-1] if point in plan.bike.connectors]
    lost += sum(mohm["connector"] * beyond_ma(point) for point in inside)
    return lost + sum(
        (_alone_mohm(plan, one) * now.of(load, names) for one in plan.onward_of(wire) if one.ends_at(load)), F(0)
    )


def _alone_mohm(plan: Plan, wire: Wire) -> Fraction:
    """Return what a wire that nothing joins resists, its connectors included."""
    way = wire.way(wire.tips[0].point)
    inside = [point for _, point in way[:-1] if point in plan.bike.connectors]
    return sum((wire.mohm(leg) for leg, _ in way), F(0)) + len(inside) * plan.bike.mohm["connector"]


def behind_uv(plan: Plan, load: Load, now: Currents) -> Fraction:
    """Return what is lost from a load back to the battery: return, its splice and connectors, earth point."""
    mohm, wire = plan.bike.mohm, return_of(plan, load)
    if wire is None:
        return mohm["earth point"] * now.of(load)
    inside = [point for _, point in wire.way(str(wire.row["from"]))[:-1] if point in plan.bike.connectors]
    own = sum((wire.mohm(leg) for leg in wire.legs), F(0)) + mohm["splice"] * bool(wire.legs)
    own += len(inside) * mohm["connector"]
    return own * return_ma(plan, wire, now) + mohm["earth point"] * earth_ma(plan, wire.source, now)


def output_uv(plan: Plan, wire: Wire, load: Load, now: Currents) -> Fraction:
    """Return what a load on an output loses over its whole path."""
    mohm = plan.bike.mohm
    own = (mohm["output"] + mohm["unit plug"]) * sums_ma(plan, now)[wire.name]
    plug = (mohm["load plug"] + (mohm["own switch"] if load.own_switch else 0)) * now.of(load)
    return feed_uv(plan, now) + own + run_uv(plan, wire, load, now) + plug + behind_uv(plan, load, now)


def fed_uv(plan: Plan, wire: Wire, load: Load, now: Currents) -> Fraction:
    """Return what a load with a fuse of its own loses: fuse, relay or switch, wire, connectors, plug, return, earth."""
    mohm, drawn = plan.bike.mohm, now.of(load)
    rating = F(str(wire.row["fuse_a"]))
    fuse_mohm = (SMALL_FUSE_V if rating <= SMALL_FUSE_A else MAIN_FUSE_V) / rating * 1000
    own = fuse_mohm + mohm["load plug"] + mohm["relay contact" if wire.row["by"] == "relay" else "own switch"]
    own += sum((wire.mohm(leg) for leg in wire.legs), F(0)) + passed(plan, wire) * mohm["connector"]
    return own * drawn + behind_uv(plan, load, now)


def passed(plan: Plan, fed: Wire) -> int:
    """Return how many connectors lie strictly inside a fed load's wire, a stretch at a time."""
    ways = [wire.way(wire.tips[0].point) for wire in plan.stretches(fed)]
    return sum(point in plan.bike.connectors for way in ways for _, point in way[:-1])
