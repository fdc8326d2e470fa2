"""A line of the parts list."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from solver.electrics.assumptions import PRACTICE

Group = Literal[
    "units", "wire", "terminals", "splices", "connectors", "sleeve", "grommets", "fuses", "relays", "diodes",
    "suppressors", "earth straps",
]  # fmt: skip
BASIS: dict[Group, str] = {
    "terminals": "widths of tabs are those of ISO 8092-1 and IEC 61210 (from memory); which width for which wire and "
    f"current: {PRACTICE}",
    "splices": "chosen by the sum of the areas that they join; glued heat-shrink over each",
    "connectors": "sealed, both halves; several smaller ones that can't be swapped will do as well",
    "sleeve": "as long as the leg and its share of the bike's margin",
    "fuses": "type C up to 40 A, type E above (from memory)",
    "relays": f"a diode or resistor across the coil inside each: {PRACTICE}",
    "diodes": f"what flows may pass to the load, never back from circuit to circuit; 200 V: {PRACTICE}",
    "suppressors": "a diode has its ring towards '+'; across an ignition coil never a plain diode, which costs the "
    f"spark, but what is made for it: {PRACTICE}",
}
"""What the lines of a group rest on."""


@dataclass(frozen=True)
class Part:
    """Something to have at hand: what, how large, how much of it, where it goes."""

    group: Group
    what: str
    size: str
    quantity: Decimal
    measure: Literal["pieces", "m"]
    where: str
    note: str = ""


def pieces(group: Group, what: str, size: str, count: int, where: str, note: str = "") -> Part:
    """Return a part of which there are so many."""
    return Part(group, what, size, Decimal(count), "pieces", where, note)
