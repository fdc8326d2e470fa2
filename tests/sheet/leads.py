"""The battery's own leads and the earth straps, by hand: which way they go, how thick, how long, what they lose.

What each may lose, and that none is shorter than 300 mm: common practice, no source. Heating by IEC 60949.
"""

from fractions import Fraction
from math import log, sqrt
from typing import NamedTuple

from .cutting import piece
from .entries import amount
from .frame import Frame, length_mm
from .tables import LEAD_MOHM_PER_M, F, hot
from .things import Bike, Leg

MOST_V = {"battery lead": F("0.3"), "engine strap": F("0.1"), "battery strap": F("0.2")}
SHORTEST_MM = F(300)
BEARS_A_PER_MM2 = 226 * sqrt(log((160 + 234.5) / (85 + 234.5)) / 10)
"""For 10 s of cranking, from 85 to 160 C: IEC 60949, copper K 226 A s^0.5/mm2 (from memory)."""


class Lead(NamedTuple):
    """One of the three, with what it is worked out to."""

    name: str
    draws_a: Fraction
    run_mm: Fraction
    cut_mm: int
    mm2: Fraction
    drop_v: Fraction
    most_v: Fraction


def leads_of(bike: Bike, frame: Frame) -> list[Lead]:
    """Return the lead to the starter, the engine's strap and the battery's; none where the file tells no current."""
    if bike.starter is None:
        return []
    sits, draws_a = bike.starter["at"], amount(bike.starter["draws"], "A")
    ends = (sits, bike.battery)
    near = {end: _nearest(bike, frame, end) for end in ends}
    ways = {
        "battery lead": (bike.battery, sits),
        "engine strap": (sits, near[sits]),
        "battery strap": (near[bike.battery], bike.battery),
    }
    return [_lead(bike, name, draws_a, frame.shortest(ends)) for name, ends in ways.items()]


def _nearest(bike: Bike, frame: Frame, point: str) -> str:
    """Return the nearest earth point, of equally near ones the first in the file."""
    return min(bike.earth, key=lambda earth: frame.shortest_mm((point, earth)))


def _lead(bike: Bike, name: str, draws_a: Fraction, legs: list[Leg]) -> Lead:
    """Return a lead in the thinnest size that loses little and stays cool."""
    run_mm = max(SHORTEST_MM, length_mm(legs))
    metres = sum((hot(max(F(85), leg.ambient_c)) * leg.length_mm for leg in legs), F(0)) / 1000
    metres += hot(F(85)) * (run_mm - length_mm(legs)) / 1000
    lost = {F(mm2): mohm * metres * draws_a / 1000 for mm2, mohm in LEAD_MOHM_PER_M.items()}
    mm2 = next(mm2 for mm2, v in lost.items() if v <= MOST_V[name] and float(draws_a) <= BEARS_A_PER_MM2 * float(mm2))
    cut = piece(bike, "battery", "earth", legs, run_mm - length_mm(legs))
    return Lead(name, draws_a, run_mm, cut.mm, mm2, lost[mm2], MOST_V[name])
