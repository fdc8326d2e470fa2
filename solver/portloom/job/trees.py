"""The shortest tree that joins a face and the points of a circuit, exact, for all subsets at once.

Source: Dreyfus and Wagner (1971), 'The Steiner problem in graphs', doi:10.1002/net.3230010302, on
the metric closure. A point where a tree parts has three legs or more, so no others are looked at.
"""

from collections.abc import Iterable, Sequence
from operator import add

from portloom.job.network import NOWHERE, Network, Run, Weight

ClosedLegs = frozenset[int]
WeightRow = list[Weight]


class Trees:
    """Shortest trees from some roots through any subset of some points, closed legs left out."""

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
        best: WeightRow | None = None
        part = (rest - 1) & rest
        while True:
            sums = list(map(add, self._rows[part | lowest], self._rows[rest ^ part]))
            best = sums if best is None else list(map(min, best, sums))
            if part == 0:
                return best
            part = (part - 1) & rest

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
