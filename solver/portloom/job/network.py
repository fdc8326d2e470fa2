"""The frame as a network: shortest wires and shortest trees, exact, with ties broken by the order of the file.

Lengths and leg numbers are carried in one whole number, a *weight*: the length shifted left by one
bit a leg, less one bit for each leg used, the first leg of the file the highest. So of equally long
wires the one whose sorted leg numbers come first as a list weighs least; and since no two sets of
legs share their bits, the weight itself tells which legs a wire follows.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property
from heapq import heappop, heappush
from operator import add

from portloom.base.bike import Leg
from portloom.base.drop import AmpereMetres, ampere_metres, conductor_temperature
from portloom.base.quantities import Micrometres, MilliAmps
from portloom.base.values import dataclass

Weight = int


@dataclass(frozen=True)
class Run:
    """A wire's way: its length and the numbers of its legs (order of the file), sorted."""

    length: Micrometres
    legs: tuple[int, ...]

    def with_(self, other: "Run") -> "Run":
        """Return two runs as one; a leg of both is there twice."""
        return Run(Micrometres(self.length + other.length), tuple(sorted(self.legs + other.legs)))

    def without(self, part: "Run") -> "Run":
        """Return what is left of a run once a part of it is gone."""
        left = Counter(self.legs) - Counter(part.legs)
        return Run(Micrometres(self.length - part.length), tuple(sorted(left.elements())))


NOWHERE = Run(Micrometres(0), ())
"""The run of a wire that starts where it ends."""


class Network:
    """Frame points and legs, with shortest wires between any two points."""

    def __init__(self, legs: Iterable[Leg], closed: frozenset[int] = frozenset()) -> None:
        """Take the legs in the order of the file, and the numbers of those that no wire of ours may follow."""
        self.legs = tuple(legs)
        self.closed = closed
        self.points: tuple[str, ...] = tuple(dict.fromkeys(point for leg in self.legs for point in leg.between))
        self._bits = len(self.legs)
        self._unreachable: Weight = (1 + sum(leg.length for leg in self.legs)) << self._bits
        """More than any wire weighs: no way leads there."""
        self._at: dict[str, list[tuple[int, str]]] = {point: [] for point in self.points}
        for number, leg in enumerate(self.legs):
            one, other = leg.between
            self._at[one].append((number, other))
            self._at[other].append((number, one))
        self._numbers: dict[str, list[int]] = {}
        for number, leg in enumerate(self.legs):
            self._numbers.setdefault(leg.label, []).append(number)
        self._weights = tuple(self._leg_weight(number) for number in range(self._bits))
        self._known: dict[tuple[str, frozenset[int]], dict[str, Weight]] = {}

    def _leg_weight(self, number: int) -> Weight:
        return (self.legs[number].length << self._bits) - (1 << (self._bits - 1 - number))

    def without(self, closed: frozenset[int]) -> "Network":
        """Return the same frame with these legs closed, and no others."""
        return Network(self.legs, closed)

    @cached_property
    def whole(self) -> "Network":
        """The same frame with no leg closed, for what the builder has laid already."""
        return self.without(frozenset()) if self.closed else self

    def degree(self, point: str) -> int:
        """Tell how many legs meet at ``point``."""
        return len(self._at[point])

    def legs_at(self, point: str) -> tuple[int, ...]:
        """Return the numbers of the legs that end at ``point``, in their order."""
        return tuple(sorted(number for number, _ in self._at[point]))

    def weights_from(self, start: str, closed: frozenset[int] = frozenset()) -> Mapping[str, Weight]:
        """Return the weight of the shortest wire from ``start`` to every point, never by a closed leg.

        Source: Dijkstra (1959), doi:10.1007/BF01386390.
        """
        key = (start, closed | self.closed)
        if key not in self._known:
            self._known[key] = self._search_from(*key)
        return self._known[key]

    def _search_from(self, start: str, closed: frozenset[int]) -> dict[str, Weight]:
        best = dict.fromkeys(self.points, self._unreachable)
        best[start] = 0
        queue = [(0, start)]
        while queue:
            weight, point = heappop(queue)
            if weight > best[point]:
                continue
            for number, other in self._at[point]:
                further = weight + self._weights[number]
                if number not in closed and further < best[other]:
                    best[other] = further
                    heappush(queue, (further, other))
        return best

    def run_of(self, weight: Weight) -> Run | None:
        """Return the run that ``weight`` stands for, or None where no way leads there."""
        if weight >= self._unreachable:
            return None
        bits = -weight % (1 << self._bits)
        legs = tuple(n for n in range(self._bits) if bits >> (self._bits - 1 - n) & 1)
        return Run(Micrometres((weight + bits) >> self._bits), legs)

    def wire(self, start: str, end: str, closed: frozenset[int] = frozenset()) -> Run | None:
        """Return the shortest wire from ``start`` to ``end``, or None where closed legs leave no way."""
        return self.run_of(self.weights_from(start, closed)[end])

    def within(self, run: Run, start: str, end: str) -> Run:
        """Return the part of a tree that leads from one of its points to another."""
        outside = frozenset(range(len(self.legs))).difference(run.legs)
        return self.whole.wire(start, end, outside) or NOWHERE

    def joining(self, run: Run, start: str, ends: Iterable[str]) -> Run:
        """Return the part of a tree that joins one of its points to some others."""
        legs = sorted({leg for end in ends for leg in self.within(run, start, end).legs})
        return Run(Micrometres(sum(self.legs[number].length for number in legs)), tuple(legs))

    def inside(self, run: Run) -> frozenset[str]:
        """Return the points strictly inside a run that is one way from one point to another."""
        ends = Counter(point for number in run.legs for point in self.legs[number].between)
        return frozenset(point for point, count in ends.items() if count > 1)

    def nearest(self, start: str, ends: Iterable[str]) -> tuple[str, Run]:
        """Return the nearest of ``ends`` and the wire to it; of equally near ones the first.

        Only lengths decide which end is nearest. Raises ValueError where none can be reached.
        """
        runs = [(end, run) for end in ends if (run := self.wire(start, end)) is not None]
        return min(runs, key=lambda pair: pair[1].length)

    def moment_of_one(self, run: Run) -> AmpereMetres:
        """Return the moment of 1 mA over the whole of a run."""
        legs = (self.legs[number] for number in run.legs)
        one = MilliAmps(1)
        return AmpereMetres(sum(ampere_metres(one, leg.length, conductor_temperature(leg.ambient)) for leg in legs))

    def numbers_of(self, labels: Iterable[str]) -> frozenset[int]:
        """Return the numbers of the legs that are called ``labels``."""
        return frozenset(number for label in labels for number in self._numbers[label])

    def still(self, start: str) -> frozenset[str]:
        """Return the points that can be reached from ``start`` without a leg that moves."""
        moving = frozenset(number for number, leg in enumerate(self.legs) if leg.moves)
        return frozenset(p for p, weight in self.weights_from(start, moving).items() if weight < self._unreachable)


# --- trees

ClosedLegs = frozenset[int]
WeightRow = list[Weight]


class Trees:
    """Shortest trees from some roots (faces) through any subset of some points, for all subsets at once, exact.

    Closed legs are left out. Source: Dreyfus and Wagner (1971), 'The Steiner problem in graphs',
    doi:10.1002/net.3230010302, on the metric closure. A point where a tree parts has three legs or more, so no
    others are looked at.
    """

    def __init__(
        self, network: Network, points: Sequence[str], roots: Iterable[str], closed: ClosedLegs = frozenset()
    ) -> None:
        """Take the ``points`` that circuits may join and the ``roots`` (faces) that they may start from."""
        self._network = network
        self._points = tuple(dict.fromkeys(points))
        self._bit = {point: 1 << number for number, point in enumerate(self._points)}
        ends = dict.fromkeys((*self._points, *roots))
        self._vertices = tuple(p for p in network.points if p in ends or network.degree(p) > 2)
        self._number = {vertex: number for number, vertex in enumerate(self._vertices)}
        self._ways = [self._from(vertex, closed) for vertex in self._vertices]
        self._rows: dict[int, WeightRow] = {bit: self._from(point, closed) for point, bit in self._bit.items()}

    def _from(self, start: str, closed: ClosedLegs) -> WeightRow:
        weights = self._network.weights_from(start, closed)
        return [weights[vertex] for vertex in self._vertices]

    def tree(self, points: Iterable[str], root: str) -> Run | None:
        """Return the shortest tree that joins ``points`` to ``root``, or None where no way leads there."""
        subset = 0
        for point in points:
            subset |= self._bit[point]
        if not subset:
            return NOWHERE
        return self._network.run_of(self._row(subset)[self._number[root]])

    def _row(self, subset: int) -> WeightRow:
        if subset not in self._rows:
            for part in _parts_of(subset):
                if part not in self._rows:
                    self._rows[part] = self._spread(self._merged(part))
        return self._rows[subset]

    def _merged(self, subset: int) -> WeightRow:
        """Join the best two trees that meet at each vertex and together hold ``subset``."""
        lowest = subset & -subset
        rest = subset ^ lowest
        part = (rest - 1) & rest
        sums = [map(add, self._rows[part | lowest], self._rows[rest ^ part])]
        while part:
            part = (part - 1) & rest
            sums.append(map(add, self._rows[part | lowest], self._rows[rest ^ part]))
        return list(map(min, *sums)) if len(sums) > 1 else list(*sums)

    def _spread(self, merged: WeightRow) -> WeightRow:
        """Let each merged tree reach every vertex by its shortest wire."""
        return [min(map(add, merged, ways)) for ways in self._ways]


def _parts_of(subset: int) -> list[int]:
    """Return all subsets of ``subset`` with two members or more, each after its own parts."""
    parts = []
    part = subset
    while part:
        if part & (part - 1):
            parts.append(part)
        part = (part - 1) & subset
    return parts[::-1]
