"""How long each wire is cut, piece by piece, and what the copper weighs."""

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from oracle.catalogue import Wire as Size

from .frame import length_mm
from .tables import DENSITY_G_PER_CM3, F, rounded_up
from .things import Bike, Leg
from .wires import Plan, Wire

NOTHING = F(0)


class Piece(NamedTuple):
    """What is cut: its length, and its size where that is not its wire's."""

    mm: int
    size: Size | None = None


def piece(
    bike: Bike, start: str, end: str, legs: list[Leg], more_mm: Fraction = NOTHING, size: Size | None = None
) -> Piece:
    """Return what is cut for a piece with no connector inside: run, a share more, both ends, legs that move."""
    added = bike.ends_mm[start] + bike.ends_mm[end] + sum(leg.slack_mm for leg in legs)
    whole = rounded_up((length_mm(legs) + more_mm) * (1 + bike.share) + added)
    return Piece(max(rounded_up(bike.usual("shortest piece", "mm")), whole), size)


def cut_mm(plan: Plan, wire: Wire) -> int:
    """Return what a wire of the plan is cut from, all its pieces together."""
    return sum(one.mm for part in (wire, *plan.onward_of(wire)) for one in _pieces(plan, part))


def _pieces(plan: Plan, wire: Wire) -> Iterator[Piece]:
    if wire.kind == "feed":
        yield piece(plan.bike, "battery", "battery", [])
        yield from _tree(plan, wire, more_mm=max(F(0), plan.bike.usual("shortest feed", "mm") - length_mm(wire.legs)))
    elif wire.kind == "fed":
        yield from [piece(plan.bike, "battery", "battery", [])] * (2 if wire.row["by"] == "relay" else 1)
        for stretch in plan.stretches(wire):
            yield from _tree(plan, stretch)
    elif wire.kind == "return" and not wire.legs:
        yield from (piece(plan.bike, tip.end, "earth", [], size=tip.size) for tip in wire.tips)
    else:
        fused = {"supply": 1, "coil lead": 2}
        yield from [piece(plan.bike, "battery", "battery", [])] * fused.get(wire.kind, 0)
        yield from _tree(plan, wire)


def _tree(plan: Plan, wire: Wire, more_mm: Fraction = NOTHING) -> Iterator[Piece]:
    yield from _from(plan, wire, wire.source, wire.start, [], more_mm)


def _from(
    plan: Plan, wire: Wire, point: str, start: str, legs: list[Leg], more_mm: Fraction = NOTHING
) -> Iterator[Piece]:
    """Return the pieces from where the knife has come to: a point, what the piece began at, its legs so far."""
    tips, onward = [tip for tip in wire.tips if tip.point == point], wire.onward.get(point, [])
    parted = point in plan.bike.connectors and point != wire.source
    if not tips and len(onward) == 1:
        if parted:
            yield piece(plan.bike, start, "connector", legs)
            start, legs = "connector", []
        leg, other = onward[0]
        yield from _from(plan, wire, other, start, [*legs, leg], more_mm)
    elif len(tips) == 1 and not onward:
        yield piece(plan.bike, start, tips[0].end, legs, more_mm)
    else:
        yield from _fork(plan, wire, point, start, legs, parted=parted)


def _fork(plan: Plan, wire: Wire, point: str, start: str, legs: list[Leg], *, parted: bool) -> Iterator[Piece]:
    """Return the pieces at a splice: before a connector if something is joined there, else beyond it."""
    tips, onward = [tip for tip in wire.tips if tip.point == point], wire.onward.get(point, [])
    if parted and not tips:
        yield piece(plan.bike, start, "connector", legs)
        start, legs = "connector", []
    yield piece(plan.bike, start, "splice", legs)
    yield from [piece(plan.bike, "splice", "splice", [])] * (splices(plan.bike, wire, point) - 1)
    for tip in tips:
        yield piece(plan.bike, "splice", tip.end, [], size=tip.size)
    for leg, other in onward:
        begin = "splice"
        if parted and tips:
            yield piece(plan.bike, "splice", "connector", [])
            begin = "connector"
        yield from _from(plan, wire, other, begin, [leg])


def splices(bike: Bike, wire: Wire, point: str) -> int:
    """Return how many splices join the wires of a run at a point: each 5 wires and 6 mm2 at most, three at least.

    A return with more has an earth block there. Common practice, no source.
    """
    if wire.kind == "return":
        return 1
    within = int(bike.usual("splice area", "mm2") / wire.mm2)
    at_most = max(3, min(int(bike.assumed["splice wires"]), within))
    return max(1, rounded_up(F(wire.meeting(point) - 2, at_most - 2)))


def every_piece(plan: Plan) -> Iterator[tuple[int, Fraction]]:
    """Return every piece that is cut for a plan: mm and mm2."""
    return ((one.mm, (one.size or wire.copper).area) for wire in plan.wires for one in _pieces(plan, wire))


def copper_g(plan: Plan) -> Fraction:
    """Return what all pieces weigh."""
    return sum((weight_g(mm, mm2) for mm, mm2 in every_piece(plan)), F(0))


def weight_g(mm: Fraction | int, mm2: Fraction) -> Fraction:
    """Return what copper weighs: mm x mm2 x g/cm3, a thousandth of it in g."""
    return mm * mm2 * DENSITY_G_PER_CM3 / 1000
