"""What is lost from the battery to a load and back, in a case, at the sizes that are cut: in microvolts (mohm x mA)."""

from fractions import Fraction

from oracle.things import Load

from .cases import Currents
from .circuits import sums_ma, total_ma
from .returning import earth_ma, return_ma, return_of
from .tables import SMALL_FUSE_A, F, hot
from .things import Bike, stop
from .wires import DROPS_AT_C, Plan, Wire

MICRO = 1_000_000


def own_feed_mohm(plan: Plan, feed: Wire) -> Fraction:
    """Return a feed's own wire; short of 300 mm it counts as 300 mm, at the hottest of the legs that it meets."""
    wire = sum((feed.mohm(leg) for leg in feed.legs), F(0))
    short_mm = plan.bike.usual("shortest feed", "mm") - sum(leg.length_mm for leg in feed.legs)
    if short_mm <= 0:
        return wire
    met = feed.legs or [leg for leg in plan.bike.legs if feed.source in leg.ends]
    warm = max([DROPS_AT_C, *(leg.ambient_c for leg in met)])
    return wire + feed.copper.mohm_per_m * short_mm / 1000 * hot(warm)


def feed_mohm(plan: Plan, feed: Wire) -> Fraction:
    """Return a feed's own wire and connectors."""
    inside = [point for _, point in feed.way(plan.bike.battery)[:-1] if point in plan.bike.connectors]
    return own_feed_mohm(plan, feed) + len(inside) * plan.bike.mohm["connector"]


def fuse_mohm(bike: Bike, name: str, rating_a: Fraction) -> Fraction:
    """Return what a fuse resists by what it is assumed to lose at its rating."""
    return bike.usual(name, "V") / rating_a * 1000


def feed_uv(plan: Plan, now: Currents, unit: int = 0) -> Fraction:
    """Return what feed and main fuse lose; a guest counts once for each load that feeds it."""
    fuse = fuse_mohm(plan.bike, "main fuse drop", plan.seats[unit].main_fuse_a)
    return (feed_mohm(plan, plan.feeds[unit]) + fuse) * total_ma(plan, now, unit)


def run_uv(plan: Plan, wire: Wire, load: Load, now: Currents) -> Fraction:
    """Return what a circuit's wires lose on the way to a load: stretches, splices, connectors strictly inside.

    From its own switch a load has a wire to itself.
    """
    names = plan.circuits[wire.port]

    def beyond_ma(point: str) -> Fraction:
        return sum((now.at(tip, names) for tip in wire.beyond(point)), F(0))

    mohm, way = plan.bike.mohm, wire.way(stop(load))
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
    output = plan.seats[wire.unit].unit.outputs[wire.name]
    own = (output.mohm + mohm["unit plug"]) * sums_ma(plan, now, wire.unit)[wire.port]
    plug = (mohm["load plug"] + (mohm["own switch"] if load.own_switch else 0)) * now.of(load)
    return feed_uv(plan, now, wire.unit) + own + run_uv(plan, wire, load, now) + plug + behind_uv(plan, load, now)


def fed_uv(plan: Plan, wire: Wire, load: Load, now: Currents) -> Fraction:
    """Return what a load with a fuse of its own loses: fuse, relay or switch, wire, connectors, plug, return, earth."""
    mohm, drawn = plan.bike.mohm, now.of(load)
    rating = F(str(wire.row["fuse_a"]))
    fuse = "small fuse drop" if rating <= SMALL_FUSE_A else "fuse drop"
    own = fuse_mohm(plan.bike, fuse, rating) + mohm["load plug"]
    if load.fed == "relay" or load.own_switch:
        own += mohm["relay contact" if load.fed == "relay" else "own switch"]
    ways = [wire.way(load.at if last else load.own_switch) for wire, last in _stretches(plan, wire)]
    own += sum((wire.mohm(leg) for way in ways for leg, _ in way), F(0))
    own += sum(point in plan.bike.connectors for way in ways for _, point in way[:-1]) * mohm["connector"]
    return own * drawn + behind_uv(plan, load, now)


def _stretches(plan: Plan, fed: Wire) -> list[tuple[Wire, bool]]:
    """Return a fed load's stretches, each with whether it leads to the load."""
    found = plan.stretches(fed)
    return [(wire, wire is found[-1]) for wire in found]
