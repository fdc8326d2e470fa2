"""The frame as a picture draws it: its points and bends, its legs, and how far apart things should be."""

from dataclasses import dataclass
from itertools import pairwise

from solver.frame.network import Network

SHORTEST = 0.16
"""A leg is drawn no shorter than this share of the frame's longest way, so that its figures can stand at it."""
APART = 1.3
"""Parts of a frame that no leg joins are drawn this far from each other, as a share of the longest way."""


@dataclass(frozen=True)
class FrameGraph:
    """Knots by their number: first the frame points, then bends of legs that join the same two points."""

    names: tuple[str, ...]
    knots: int
    strands: tuple[tuple[int, ...], ...]
    """For each leg, in the order of the file, the knots that it passes."""
    wanted: tuple[tuple[float, ...], ...]
    """Wanted distances, of any unit, more than nothing between any two knots."""

    def stretches(self) -> list[tuple[int, int]]:
        """Return every straight stretch of every leg."""
        return [pair for strand in self.strands for pair in pairwise(strand)]


def frame_graph(network: Network) -> FrameGraph:
    """Return the graph of a frame."""
    number = {name: at for at, name in enumerate(network.points)}
    seen: dict[frozenset[str], int] = {}
    strands: list[tuple[int, ...]] = []
    knots = len(number)
    for leg in network.legs:
        ends, pair = (number[leg.between[0]], number[leg.between[1]]), frozenset(leg.between)
        seen[pair] = seen.get(pair, 0) + 1
        bent = seen[pair] > 1 or len(pair) == 1
        strands.append((ends[0], knots, ends[1]) if bent else ends)
        knots += bent
    lengths = [float(leg.length) for leg in network.legs]
    return FrameGraph(network.points, knots, tuple(strands), _wanted(knots, strands, lengths))


def _wanted(knots: int, strands: list[tuple[int, ...]], lengths: list[float]) -> tuple[tuple[float, ...], ...]:
    longest = max(d for row in _distances(knots, strands, lengths) for d in row if d < _FAR)
    least = [max(length, SHORTEST * longest) for length in lengths]
    drawn = _distances(knots, strands, least)
    far = APART * max(d for row in drawn for d in row if d < _FAR)
    return tuple(tuple(min(d, far) for d in row) for row in drawn)


_FAR = float("inf")


def _distances(knots: int, strands: list[tuple[int, ...]], lengths: list[float]) -> list[list[float]]:
    """Return the shortest ways between all knots.

    Source: Floyd (1962), 'Algorithm 97: Shortest path', doi:10.1145/367766.368168.
    """
    apart = [[0.0 if one == other else _FAR for other in range(knots)] for one in range(knots)]
    for strand, length in zip(strands, lengths, strict=True):
        for one, other in pairwise(strand):
            share = length / (len(strand) - 1)
            apart[one][other] = apart[other][one] = min(apart[one][other], share)
    for middle, onward in enumerate(apart):
        for row in apart:
            if row[middle] < _FAR:
                row[:] = [min(d, row[middle] + further) for d, further in zip(row, onward, strict=True)]
    return apart
