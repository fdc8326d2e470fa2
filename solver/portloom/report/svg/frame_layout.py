"""Where the frame's points lie in the picture: nearly to scale, front up, its left on the left."""

from collections.abc import Iterator, Sequence
from itertools import combinations
from math import gcd

from portloom.base.values import dataclass
from portloom.report.svg.frame_graph import CLEAR, FrameGraph, majorized, pushed_off_legs, stress
from portloom.report.svg.shapes import Box, Point, Segment, distance

STARTS = 6
STRETCH = 1.4
"""How much more a picture may be stretched one way than the other to use its room."""


@dataclass(frozen=True)
class Bearings:
    """Knots that tell which way round the frame is drawn, as far as its loads tell it."""

    front: tuple[int, ...]
    rear: tuple[int, ...]
    left: tuple[int, ...]
    right: tuple[int, ...]

    @property
    def told(self) -> bool:
        """Tell whether they say where the front is."""
        return bool(self.front or self.rear)


def layouts(graph: FrameGraph, bearings: Bearings, room: Box) -> list[list[Point]]:
    """Return where each knot lies within ``room``, in a few ways, best first: by crossings, then clearance."""
    found = [_one(graph, start, bearings, room) for start in _starts(graph, bearings)]
    return sorted(found, key=lambda points: _faults(graph, bearings, points))


def _one(graph: FrameGraph, start: Sequence[Point], bearings: Bearings, room: Box) -> list[Point]:
    points = majorized(graph.wanted, start)
    points = _filled(_turned(points, bearings), room)
    return pushed_off_legs(graph, points, room)


def _starts(graph: FrameGraph, bearings: Bearings) -> Iterator[list[Point]]:
    """Return a few different starts: from front to rear, and sideways or round a square in several orders."""
    knots = graph.knots
    steps = [step for step in range(1, 3 * knots + 2) if gcd(step, knots) == 1][:STARTS]
    for step in steps:
        turns = [number * step % knots / knots for number in range(knots)]
        square = [_on_a_square(turn, 1 + number / knots) for number, turn in enumerate(turns)]
        if bearings.front and bearings.rear:
            yield _from_the_front(graph, bearings, square)
        else:
            yield square


def _from_the_front(graph: FrameGraph, bearings: Bearings, square: Sequence[Point]) -> list[Point]:
    """Return a start by how much nearer each knot is to the front than to the rear; left and right as told."""
    span = max(map(max, graph.wanted))
    points = []
    for knot, (x, _) in enumerate(square):
        down = _nearest(graph, knot, bearings.front) - _nearest(graph, knot, bearings.rear)
        side = (knot in bearings.right) - (knot in bearings.left)
        points.append((span * (side or 0.4 * x), down / 2))
    return points


def _nearest(graph: FrameGraph, knot: int, knots: Sequence[int]) -> float:
    return min(graph.wanted[knot][other] for other in knots)


def _on_a_square(turn: float, size: float) -> Point:
    """Return a point on the edge of a square, ``turn`` of the way round it; no sines, the same on each machine."""
    along = turn * 4 % 1 * 2 - 1
    x, y = ((along, -1.0), (1.0, along), (-along, 1.0), (-1.0, -along))[int(turn * 4)]
    return x * size, y * size


# --- which way round


def _turned(points: list[Point], bearings: Bearings) -> list[Point]:
    """Turn the picture so that the front is up, then over where its left would be on the right."""
    ahead = _ahead(points, bearings)
    turned = [(y * ahead[0] - x * ahead[1], -(x * ahead[0] + y * ahead[1])) for x, y in points]
    left, right = _mean(turned, bearings.left), _mean(turned, bearings.right)
    mirrored = left is not None and right is not None and left[0] > right[0]
    return [(-x, y) for x, y in turned] if mirrored else turned


def _ahead(points: list[Point], bearings: Bearings) -> Point:
    """Return the direction from rear to front, of length one; without either, along the picture's longest way."""
    front, rear = _mean(points, bearings.front), _mean(points, bearings.rear)
    middle = _mean(points, range(len(points))) or (0.0, 0.0)
    if front is None and rear is None:
        front, rear = max(combinations(points, 2), key=lambda pair: distance(*pair), default=(middle, middle))
    front, rear = front or middle, rear or middle
    away = distance(front, rear)
    return ((front[0] - rear[0]) / away, (front[1] - rear[1]) / away) if away > 1e-6 else (0.0, -1.0)


def _mean(points: Sequence[Point], knots: Sequence[int] | range) -> Point | None:
    if not knots:
        return None
    return sum(points[knot][0] for knot in knots) / len(knots), sum(points[knot][1] for knot in knots) / len(knots)


# --- how large


def _filled(points: list[Point], room: Box) -> list[Point]:
    """Scale the picture to its room, a little more one way than the other if it must be."""
    span = _span(points)
    wide = (room.right - room.left) / max(span.right - span.left, 1e-6)
    high = (room.bottom - room.top) / max(span.bottom - span.top, 1e-6)
    least = min(wide, high)
    wide, high = min(wide, STRETCH * least), min(high, STRETCH * least)
    (x, y), (to_x, to_y) = span.middle, room.middle
    return [(to_x + (px - x) * wide, to_y + (py - y) * high) for px, py in points]


def _span(points: Sequence[Point]) -> Box:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Box(min(xs), min(ys), max(xs), max(ys))


# --- which is best


def _faults(graph: FrameGraph, bearings: Bearings, points: list[Point]) -> tuple[int, int, int, float]:
    """How many legs cross, how many points lie on or near a leg, how many on the wrong side, how far off scale."""
    legs = [Segment(points[one], points[other]) for one, other in graph.stretches()]
    crossings = sum(one.crosses(other) for one, other in combinations(legs, 2))
    near = sum(
        leg.gap(spot) < CLEAR / 2
        for leg, ends in zip(legs, graph.stretches(), strict=True)
        for knot, spot in enumerate(points)
        if knot not in ends
    )
    return crossings, near, _astray(bearings, points), stress(graph.wanted, points)


def _astray(bearings: Bearings, points: list[Point]) -> int:
    """Return how many points are above the front, below the rear, right of what is left or left of what is right."""
    ahead, behind = _mean(points, bearings.front), _mean(points, bearings.rear)
    above = sum(y < ahead[1] - CLEAR for _, y in points) if ahead else 0
    below = sum(y > behind[1] + CLEAR for _, y in points) if behind else 0
    middle = _mean(points, range(len(points))) or (0.0, 0.0)
    left = sum(points[knot][0] > middle[0] for knot in bearings.left if knot not in bearings.rear)
    right = sum(points[knot][0] < middle[0] for knot in bearings.right if knot not in bearings.rear)
    return above + below + left + right
