"""What each wire may carry beside its neighbours, and what it must carry: 33 CFR 183.425 Table 5 with its notes.

Ambient: times the root of (insulation - ambient) / (insulation - 30 C), which agrees with Note 1 within 1 %. Note 2:
1 or 2 loaded wires 1.0, 3 0.7, 4 to 6 0.6, 7 to 24 0.5, more 0.4. A wire below 1 A heats no other, and cranking is
too short to count: common practice.
"""

from fractions import Fraction
from math import isqrt
from typing import NamedTuple

from oracle.catalogue import Wire as Size

from .cases import Currents
from .circuits import sums_ma, total_ma
from .entries import amount
from .looms import alongside_legs
from .returning import must_carry_ma, return_ma
from .tables import TABLE_C, F
from .things import Bike, Leg
from .wires import Plan, Wire

LOADED_MA = 1000


class Stress(NamedTuple):
    """A wire in a leg in a case: what it must carry and may carry (mA), and how many loaded wires lie there."""

    must_ma: Fraction
    may_ma: int
    leg: str
    loaded: int
    state: str


def bundle(loaded: int) -> Fraction:
    """Return the share that is left by Note 2."""
    return next(
        F(share) for least, share in ((25, "0.4"), (7, "0.5"), (4, "0.6"), (3, "0.7"), (0, "1")) if loaded >= least
    )


def may_carry_ma(bike: Bike, size: Size, leg: Leg, loaded: int) -> int:
    """Return what a size may carry in a leg, rounded down to the mA."""
    insulation_c = bike.read.stock.insulation_c
    flat = size.carries_ma * bundle(loaded)
    heat = min(F(1), (insulation_c - leg.ambient_c) / (insulation_c - TABLE_C))
    return isqrt(int(flat * flat * heat))


def flowing_ma(plan: Plan, wire: Wire, leg: Leg, now: Currents) -> Fraction:
    """Return what a wire carries in a leg in a case: a circuit's wire what is on beyond that leg."""
    if wire.kind == "onward":
        return now.at(wire.tips[0], plan.circuits[wire.port])
    if wire.kind == "output":
        names = plan.circuits[wire.port]
        far = next(point for ways in wire.onward.values() for one, point in ways if one == leg)
        return sum((now.at(tip, names) for tip in wire.beyond(far)), F(0))
    if wire.kind == "return":
        return return_ma(plan, wire, now)
    if wire.kind == "feed":
        return sum(sums_ma(plan, now, wire.unit).values(), F(0))
    if wire.kind != "fed":
        return F(0)
    load = plan.bike.load(wire.name)  # nothing flows on the way to a dash that shows it
    ways = [one.way(tip.point) for one in plan.stretches(wire) for tip in one.tips[:1]]
    return now.of(load) if any(leg == on for way in ways for on, _ in way) else F(0)


def _heating_ma(plan: Plan, wire: Wire, leg: Leg, now: Currents) -> Fraction:
    """Return what a wire counts with among those that are loaded.

    Each feed of two counts with all that the bike draws, as far as its unit's largest main fuse carries it for good:
    the same in every plan.
    """
    if wire.kind != "feed" or len(plan.seats) == 1:
        return flowing_ma(plan, wire, leg, now)
    largest = plan.seats[wire.unit].unit.read.fuse_max_ma
    return min(sum((total_ma(plan, now, seat.number) for seat in plan.seats), F(0)), F(largest * 4, 5))


def loaded_in(plan: Plan, leg: Leg, now: Currents) -> int:
    """Return how many wires in a leg carry 1 A or more in a case."""
    if now.case.state == "cranking":
        return 0
    ours = [wire for wire in plan.wires for passed in wire.legs if passed == leg]
    count = sum(_heating_ma(plan, wire, leg, now) >= LOADED_MA for wire in ours)
    for entry, read in zip(plan.bike.alongside, plan.bike.read.alongside, strict=True):
        hot = "current" in entry and amount(entry["current"], "A") * 1000 >= LOADED_MA
        if hot and now.case.has(read.when) and leg in alongside_legs(plan.frame, entry):
            count += read.count
    return count


def stresses(plan: Plan, wire: Wire, leg: Leg, now: Currents, loaded: int) -> Stress:
    """Return how a wire is stressed in a leg in a case; a feed of no length lies there as one wire more."""
    more = wire.kind == "feed" and not wire.legs
    may = may_carry_ma(plan.bike, wire.copper, leg, loaded + more)
    return Stress(must_ma(plan, wire, leg, now), may, leg.name, loaded + more, now.case.state)


def alone(plan: Plan, wire: Wire, leg: Leg) -> Stress:
    """Return how a feed, or a circuit's wire, that is never on is stressed: by its fuse or trip, nothing beside it."""
    most_a = plan.seats[wire.unit].main_fuse_a if wire.kind == "feed" else plan.trips_a[wire.port]
    return Stress(most_a * 1000, may_carry_ma(plan.bike, wire.copper, leg, 1), leg.name, 1, "")


def must_ma(plan: Plan, wire: Wire, leg: Leg, now: Currents) -> Fraction:
    """Return what a wire must carry: feed and fed wires their fuse, circuits their trip while they are on.

    A trip protects every branch of its circuit, one to a dash, where nothing is drawn, too.
    """
    if wire.kind == "return":
        return must_carry_ma(plan, wire, now)
    if wire.kind in ("output", "onward"):
        on = any(now.of(load, plan.circuits[wire.port]) for load in plan.loads_of(wire.port))
        return plan.trips_a[wire.port] * 1000 if on else F(0)
    if wire.kind == "fed":
        return F(str(wire.row["fuse_a"])) * 1000 if now.of(plan.bike.load(wire.name)) else F(0)
    if not flowing_ma(plan, wire, leg, now):
        return F(0)
    if wire.kind == "feed":
        return plan.seats[wire.unit].main_fuse_a * 1000
    return F(0)
