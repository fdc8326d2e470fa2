"""Labels set beside what they name: near it, on nothing else, with a line to it where it is some way off."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import field

from portloom.base.values import dataclass
from portloom.report.svg.shapes import Box, Point, Segment

DIRECTIONS: tuple[Point, ...] = tuple(
    (x / (x * x + y * y) ** 0.5, y / (x * x + y * y) ** 0.5)
    for x, y in ((1, 0), (2, 1), (1, 1), (1, 2), (0, 1), (-1, 2), (-1, 1), (-2, 1))
    for x, y in ((x, y), (-x, -y))
)
STEP = 12.0
GAP = 5.0
"""Clear room round a label."""
OVER_LEG = 110.0
"""A leader that crosses a leg is as bad as one that is so much longer."""
OVER_LEADER = 150.0
ALONG = 14.0
"""A line that runs nearer to a leg than this looks like a part of it."""


@dataclass(frozen=True)
class Obstacle:
    """A leg or another line that no label may lie on: half its thickness, and its own number."""

    segment: Segment
    half: float
    whose: int
    bounds: Box


def obstacle(segment: Segment, half: float, whose: int) -> Obstacle:
    """Return a line that is in the way of labels."""
    return Obstacle(segment, half, whose, segment.box.grown(half + GAP))


@dataclass(frozen=True)
class PlacedLabel:
    """What wants a place: its size, the points that it may be tied to, and how near and far it may be."""

    wide: float
    high: float
    anchors: tuple[Point, ...]
    nearest: float
    farthest: float
    on: int | None = None
    """The number of the line that it may interrupt, centred on one of its anchors."""


@dataclass(frozen=True)
class Spot:
    """Where a label lies, the line that ties it to its anchor, and what it costs: about that line's length."""

    box: Box
    leader: Segment
    cost: float


@dataclass
class Sheet:
    """What is on the paper already: its edge, lines, marks, and the spots of labels."""

    edge: Box
    lines: Sequence[Obstacle]
    marks: Sequence[Box]
    spots: list[Spot] = field(default_factory=list)

    def keep_free(self, lines: Iterable[Obstacle], mark: Box) -> None:
        """Let no label lie on some more lines and one more mark."""
        self.lines = [*self.lines, *lines]
        self.marks = [*self.marks, mark]

    def lay(self, spots: Iterable[Spot]) -> None:
        """Put these labels in the place of all that lie here."""
        self.spots = list(spots)

    def best(self, label: PlacedLabel) -> Spot | None:
        """Return the cheapest spot for a label, the first of equal ones; None where there is no room."""
        return self.on_its_line(label) or self._beside(label)

    def on_its_line(self, label: PlacedLabel) -> Spot | None:
        """Return the first free spot for a label on the line that it may interrupt."""
        if label.on is None:
            return None
        for x, y in label.anchors:
            box = Box(x - label.wide / 2, y - label.high / 2, x + label.wide / 2, y + label.high / 2)
            if self._free(box, label.on):
                return Spot(box, Segment((x, y), (x, y)), 0.0)
        return None

    def _beside(self, label: PlacedLabel) -> Spot | None:
        best: Spot | None = None
        for box, leader, away in _candidates(label):
            if best is not None and leader.length >= best.cost:
                if away > best.cost + max(label.wide, label.high):
                    break
                continue
            if self._free(box) and self._open(leader):
                cost = self._cost(leader)
                if best is None or cost < best.cost:
                    best = Spot(box, leader, cost)
        return best

    def free_boxes(self, label: PlacedLabel) -> Iterator[Box]:
        """Return the boxes near a label's anchors that are free, nearest first."""
        return (box for box, _, _ in _candidates(label) if self._free(box))

    def tie_cost(self, tie: Segment) -> float:
        """What a line costs that must lead to a point: its length, and more for what is in its way or close by."""
        marks = sum(tie.passes(mark) for mark in self.marks if not _inside(mark, tie.start))
        along = sum(line.segment.gap(tie.at(0.6)) < line.half + ALONG for line in self.lines)
        return self._cost(tie) + OVER_LEADER * (marks + along)

    def _free(self, box: Box, own: int | None = None) -> bool:
        wide = box.grown(GAP)
        if not self.edge.holds(box) or wide.meets_any(self.marks) or wide.meets_any(spot.box for spot in self.spots):
            return False
        if any(spot.leader.passes(wide) for spot in self.spots):
            return False
        return not any(
            box.meets(line.bounds) and line.segment.passes(box.grown(line.half + GAP / 2))
            for line in self.lines
            if line.whose != own
        )

    def _open(self, leader: Segment) -> bool:
        """Tell whether a leader passes no label; marks that it starts from do not count."""
        if any(leader.passes(spot.box.grown(GAP / 2)) for spot in self.spots):
            return False
        return not any(leader.passes(mark) for mark in self.marks if not _inside(mark, leader.start))

    def _cost(self, leader: Segment) -> float:
        legs = sum(leader.crosses(line.segment) for line in self.lines)
        leaders = sum(leader.crosses(spot.leader) for spot in self.spots)
        return leader.length + OVER_LEG * legs + OVER_LEADER * leaders


def _inside(box: Box, point: Point) -> bool:
    return box.left <= point[0] <= box.right and box.top <= point[1] <= box.bottom


def _candidates(label: PlacedLabel) -> Iterator[tuple[Box, Segment, float]]:
    """Return boxes ring by ring, each with its leader and how far the ring is."""
    away = label.nearest
    while away <= label.farthest:
        for anchor in label.anchors:
            for x, y in DIRECTIONS:
                left = anchor[0] + x * (away + label.wide / 2) - label.wide / 2
                top = anchor[1] + y * (away + label.high / 2) - label.high / 2
                box = Box(left, top, left + label.wide, top + label.high)
                yield box, Segment(anchor, box.nearest(anchor)), away
        away += STEP
