"""Points of a frame pushed off legs, and points, that they lie too near to."""

from solver.pictures.frame_graph import FrameGraph
from solver.pictures.shapes import Box, Point, Segment, distance

CLEAR = 44.0
"""How far a point should lie from a leg that does not end there, in units of the picture."""
EASING = 40
"""Steps, a fixed number."""


def eased(graph: FrameGraph, points: list[Point], room: Box) -> list[Point]:
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
