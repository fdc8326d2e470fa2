"""What lies in each leg, and how thick that is."""

from fractions import Fraction
from math import sqrt

from .entries import Entry, amount
from .frame import Frame
from .tables import WIRE
from .things import Leg
from .wires import Plan


def alongside_legs(frame: Frame, entry: Entry) -> list[Leg]:
    """Return the legs of what lies alongside: the shortest way."""
    return frame.shortest((entry["from"], entry["to"]))


def _diameters(entry: Entry) -> list[Fraction]:
    size = entry.get("size")
    one = WIRE[size.split(" ")[0]].diameter_mm if size else amount(entry["diameter"], "mm")
    return [one] * int(entry.get("count", "1"))


def in_leg(plan: Plan, leg: Leg) -> list[Fraction]:
    """Return the diameters (mm) of all that lies in a leg; what passes it twice counts twice."""
    ours = [wire.copper.diameter_mm for wire in plan.wires for passed in wire.legs if passed == leg]
    beside = [entry for entry in plan.bike.alongside if leg in alongside_legs(plan.frame, entry)]
    return ours + [one for entry in beside for one in _diameters(entry)]


def thick_mm(diameters: list[Fraction], leg: Leg) -> float:
    """Return the diameter of a leg with its sleeve. Common practice; two wires lie side by side."""
    round_bundle = 1.25 * sqrt(sum(one * one for one in diameters))
    return max(round_bundle, float(sum(sorted(diameters)[-2:]))) + float(leg.sleeve_mm)
