"""Which wire leads which load's current back: the nearest earth point, and how loads are dealt to joint returns."""

from fractions import Fraction

from oracle.returns import pins
from oracle.things import Load

from .cases import Currents
from .frame import Frame
from .tables import JUDGED_RETURN_V, F, hot
from .things import Bike, Leg
from .wires import DROPS_AT_C, Plan, Wire


def nearest_earth(bike: Bike, frame: Frame, point: str) -> str:
    """Return the earth point that a return takes: the nearest, of equals the first in the file.

    Where the starter motor sits only what sits there is earthed, if there is another point.
    """
    quiet = [earth for earth in bike.earth if earth != bike.read.starter or earth == point] or bike.earth
    return min(quiet, key=lambda earth: frame.shortest_mm((point, earth)))


def dealt(bike: Bike, point: str, legs: tuple[Leg, ...], every: list[Currents]) -> list[list[str]]:
    """Return the loads of each return from a point: each is filled while a reel of the thickest return at most serves.

    The first leads back the coils of relays too that switches there earth.
    """
    coils = [load for load in bike.loads if load.fed == "relay" and load.own_switch == point]
    returns: list[list[Load]] = []
    for together in pins(bike.read, point):
        more = coils if len(returns) == 1 else []
        if returns and _serves(bike, [*returns[-1], *together], more, legs, every):
            returns[-1] += together
        else:
            returns.append([*together])
    return [[load.name for load in bike.loads if load in found] for found in returns]


def _serves(bike: Bike, loads: list[Load], coils: list[Load], legs: tuple[Leg, ...], every: list[Currents]) -> bool:
    """Tell whether a wire of the thickest size serves, by its ampacity and by what it loses."""
    most_ma = max(sum((*map(now.of, loads), *map(now.coil, coils)), F(0)) for now in every)
    most_mm2 = bike.usual("thickest return", "mm2")
    row = next((reel for reel in reversed(bike.reels) if reel.area <= most_mm2), None)
    if row is None:
        return False
    mohm = sum((row.mohm_per_m * leg.length_mm / 1000 * hot(max(DROPS_AT_C, leg.ambient_c)) for leg in legs), F(0))
    return F(5, 4) * most_ma <= row.carries_ma and mohm * most_ma <= JUDGED_RETURN_V * 1_000_000


def return_ma(plan: Plan, wire: Wire, now: Currents) -> Fraction:
    """Return what comes back through a return in a case; a guest once, and coils that switches there earth."""
    return sum((now.of(plan.bike.load(name)) for name in wire.row["loads"]), F(0)) + _coils_ma(plan.bike, wire, now)


def _coils_ma(bike: Bike, wire: Wire, now: Currents) -> Fraction:
    """Return what the coils of relays draw that switches earth by this return: the first of its point."""
    here = [load for load in bike.loads if load.fed == "relay" and load.own_switch == wire.name]
    return sum((now.coil(load) for load in here if wire.row["number"] == 1), F(0))


def earth_ma(plan: Plan, earth: str, now: Currents) -> Fraction:
    """Return what all returns that end at an earth point lead there in a case."""
    return sum((return_ma(plan, wire, now) for wire in plan.returns if wire.source == earth), F(0))


def return_of(plan: Plan, load: Load) -> Wire | None:
    """Return the wire that leads a load's current back, None where the frame does."""
    return next((wire for wire in plan.returns if load.name in wire.row["loads"]), None)


def must_carry_ma(plan: Plan, wire: Wire, now: Currents) -> Fraction:
    """Return what a return must carry in a case: 1.25 x its sum; each circuit at its trip, with the others beside it.

    A circuit, or a load with a fuse of its own, is taken at its trip where something of it comes back here.
    """
    here = [plan.bike.load(name) for name in wire.row["loads"]]
    sound = return_ma(plan, wire, now)
    faults = [sound * F(5, 4)]
    for port, names in plan.circuits.items():
        mine = [load for load in here if load.name in names and now.of(load, names)]
        if mine:
            faults.append(sound - sum(now.of(load) for load in mine) + plan.trips_a[port] * 1000)
    for row in plan.printed["fed"]:
        fed = plan.bike.load(row["name"])
        if fed in here and now.of(fed):
            faults.append(sound - now.of(fed) + F(str(row["fuse_a"])) * 1000)
    return max(faults)
