"""The frame as a picture draws it, its points laid nearly to scale and pushed off its legs.

Source: Gansner, Koren and North (2004), 'Graph drawing by stress majorization',
doi:10.1007/978-3-540-31843-9_25, its localized optimization with weights of 1 / distance squared.
"""

from collections.abc import Sequence
from itertools import pairwise

from portloom.base.values import dataclass
from portloom.job.network import Network
from portloom.report.svg.shapes import Box, Point, Segment, distance

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


CLEAR = 44.0
"""How far a point should lie from a leg that does not end there, in units of the picture."""
EASING = 40
"""Steps, a fixed number."""


def pushed_off_legs(graph: FrameGraph, points: list[Point], room: Box) -> list[Point]:
    """Push points off legs and points that they lie too near to, step by step, a fixed number of times."""
    for _ in range(EASING):
        pushes = [(0.0, 0.0)] * len(points)
        for knot, spot in enumerate(points):
            for one, other in graph.stretches():
                if knot not in (one, other):
                    _push_off(pushes, points, knot, spot, (one, other))
            for other in range(knot):
                _push_apart(pushes, points, knot, other)
        points = [_within(room, x + dx, y + dy) for (x, y), (dx, dy) in zip(points, pushes, strict=True)]
    return points


def _push_off(pushes: list[Point], points: list[Point], knot: int, spot: Point, ends: tuple[int, int]) -> None:
    leg = Segment(points[ends[0]], points[ends[1]])
    gap = leg.gap(spot)
    if 1e-6 < gap < CLEAR:
        foot = _foot(leg, spot)
        share = 0.25 * (CLEAR - gap) / gap
        push = ((spot[0] - foot[0]) * share, (spot[1] - foot[1]) * share)
        _add(pushes, knot, push, 1.0)
        for end in ends:
            _add(pushes, end, push, -0.5)


def _push_apart(pushes: list[Point], points: list[Point], one: int, other: int) -> None:
    gap = distance(points[one], points[other])
    if 1e-6 < gap < 2 * CLEAR:
        share = 0.15 * (2 * CLEAR - gap) / gap
        push = ((points[one][0] - points[other][0]) * share, (points[one][1] - points[other][1]) * share)
        _add(pushes, one, push, 1.0)
        _add(pushes, other, push, -1.0)


def _add(pushes: list[Point], knot: int, push: Point, share: float) -> None:
    x, y = pushes[knot]
    pushes[knot] = (x + share * push[0], y + share * push[1])


def _foot(leg: Segment, point: Point) -> Point:
    (x1, y1), (x2, y2) = leg.start, leg.end
    square = (x2 - x1) ** 2 + (y2 - y1) ** 2
    share = ((point[0] - x1) * (x2 - x1) + (point[1] - y1) * (y2 - y1)) / square if square else 0.0
    return leg.at(min(max(share, 0.0), 1.0))


def _within(room: Box, x: float, y: float) -> Point:
    return min(max(x, room.left), room.right), min(max(y, room.top), room.bottom)


MOVES = 3000
"""How often points are moved in all, a fixed number: a small frame's more often each than a large one's."""
LEAST, MOST = 80, 400
"""Rounds in which each point is moved once."""
Distances = Sequence[Sequence[float]]


def majorized(wanted: Distances, start: Sequence[Point]) -> list[Point]:
    """Move points from where they start, a fixed number of rounds, until distances are nearly as wanted."""
    points = list(start)
    for _ in range(min(max(MOVES // max(len(points), 1), LEAST), MOST)):
        for number in range(len(points)):
            points[number] = _moved(number, points, wanted[number])
    return points


def stress(wanted: Distances, points: Sequence[Point]) -> float:
    """Return the mean square of what distances are off at the best scale, as a share of what is wanted.

    1 less the square of the mean share that is reached over the mean of its square: nothing where all is to scale.
    """
    pairs = [(one, other) for one in range(len(points)) for other in range(one)]
    shares = [distance(points[one], points[other]) / wanted[one][other] for one, other in pairs]
    squares = sum(share * share for share in shares) * len(shares)
    return 1 - sum(shares) ** 2 / squares if squares else 0.0


def _moved(number: int, points: Sequence[Point], wanted: Sequence[float]) -> Point:
    x, y = points[number]
    sum_x = sum_y = weights = 0.0
    for other, (other_x, other_y) in enumerate(points):
        if other == number:
            continue
        weight = 1 / wanted[other] ** 2
        share = wanted[other] / max(distance((x, y), (other_x, other_y)), 1e-6)
        sum_x += weight * (other_x + share * (x - other_x))
        sum_y += weight * (other_y + share * (y - other_y))
        weights += weight
    return (sum_x / weights, sum_y / weights) if weights else (x, y)
