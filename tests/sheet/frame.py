"""Ways through the frame: the shortest wire that joins some points, by opening every loop somewhere."""

from collections.abc import Iterable, Sequence
from collections.abc import Set as AbstractSet
from fractions import Fraction
from itertools import combinations

from .things import Bike, Leg


def length_mm(legs: Iterable[Leg]) -> Fraction:
    """Return the length of some legs."""
    return sum((leg.length_mm for leg in legs), Fraction(0))


def _reached(legs: Sequence[Leg], start: str) -> set[str]:
    reached = {start}
    while more := {end for leg in legs if reached & set(leg.ends) for end in leg.ends} - reached:
        reached |= more
    return reached


def _without_ends(legs: Sequence[Leg], points: AbstractSet[str]) -> list[Leg]:
    """Return the legs of a tree that lead to one of the points."""
    left = list(legs)
    while True:
        ends = [end for leg in left for end in leg.ends]
        loose = [leg for leg in left if any(ends.count(end) == 1 and end not in points for end in leg.ends)]
        if not loose:
            return left
        left = [leg for leg in left if leg not in loose]


class Frame:
    """A bike's legs, and every tree that is left when each loop is opened."""

    def __init__(self, bike: Bike) -> None:
        """Take a bike."""
        self.legs = bike.legs
        points = {end for leg in self.legs for end in leg.ends}
        loops = len(self.legs) - len(points) + 1
        opened = ([leg for leg in self.legs if leg not in out] for out in combinations(self.legs, loops))
        self._known: dict[tuple[frozenset[str], frozenset[str]], list[Leg]] = {}
        self.trees = [tree for tree in opened if len(_reached(tree, bike.battery)) == len(points)]

    def shortest(self, points: Iterable[str], avoid: Iterable[str] = ()) -> list[Leg]:
        """Return the legs of the shortest wire that joins some points."""
        wanted, barred = frozenset(points), frozenset(avoid)
        if (wanted, barred) not in self._known:
            wires = (_without_ends(tree, wanted) for tree in self.trees)
            allowed = (wire for wire in wires if not barred & {leg.name for leg in wire})
            self._known[wanted, barred] = min(allowed, key=self._rank)
        return self._known[wanted, barred]

    def _rank(self, legs: Sequence[Leg]) -> tuple[Fraction, list[int]]:
        """Rank ways by length; of equal ones that goes first whose legs come first in the file."""
        return length_mm(legs), sorted(map(self.legs.index, legs))

    def shortest_mm(self, points: Iterable[str], avoid: Iterable[str] = ()) -> Fraction:
        """Return its length (mm)."""
        return length_mm(self.shortest(points, avoid))
