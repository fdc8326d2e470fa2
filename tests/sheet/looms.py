"""What lies in each leg, and how thick that is."""

from fractions import Fraction
from math import sqrt

from .entries import Entry
from .frame import Frame
from .tables import F
from .things import Leg
from .wires import Plan


def alongside_legs(frame: Frame, entry: Entry) -> list[Leg]:
    """Return the legs of what lies alongside: the shortest way."""
    return frame.shortest((entry["from"], entry["to"]))


def in_leg(plan: Plan, leg: Leg) -> list[Fraction]:
    """Return the diameters (mm) of all that lies in a leg; what passes it twice counts twice."""
    ours = [F(wire.copper.diameter_um, 1000) for wire in plan.wires for passed in wire.legs if passed == leg]
    beside = zip(plan.bike.alongside, plan.bike.read.alongside, strict=True)
    here = [read for entry, read in beside if leg in alongside_legs(plan.frame, entry)]
    return ours + [F(read.diameter_um, 1000) for read in here for _ in range(read.count)]


def thick_mm(diameters: list[Fraction], leg: Leg) -> float:
    """Return the diameter of a leg with its sleeve; nothing has none. Common practice; two wires lie side by side."""
    if not diameters:
        return 0.0
    round_bundle = 1.25 * sqrt(sum(one * one for one in diameters))
    return max(round_bundle, float(sum(sorted(diameters)[-2:]))) + float(leg.sleeve_mm)
