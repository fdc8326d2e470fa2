"""The unit in the loom's picture: a box near the points that its faces meet, tied to each."""

from collections.abc import Iterator, Sequence

from portloom.base.values import dataclass
from portloom.report.svg.lettering import HEAD, SMALL, Style, folded, line, line_height, width
from portloom.report.svg.placing import PlacedLabel, Sheet
from portloom.report.svg.shapes import Box, Point, Segment, distance
from portloom.report.svg.svg import Element, element, group

WIDEST = 170.0
FACE = Style(SMALL, bold=True)
EDGE = 6.0


@dataclass(frozen=True)
class UnitBox:
    """The box, the words in it from the top, and the lines to the points that its faces meet."""

    box: Box
    words: tuple[tuple[str, Style], ...]
    ties: tuple[Segment, ...]

    @property
    def told(self) -> bool:
        """Tell whether it says which unit it is."""
        return self.words[1:-1] != FEW_WORDS


def unit_box(sheet: Sheet, words: Sequence[tuple[str, Style]], front: Point, rear: Point) -> UnitBox | None:
    """Find the unit's place: near the middle between the points of its faces; None where there is no room.

    ``words`` stand between the names of the faces; the upper face is tied to the upper point.
    """
    upper, lower = ("front", "rear") if front[1] <= rear[1] else ("rear", "front")
    every = ((upper, FACE), *words, (lower, FACE))
    wide = max(width(text, style) for text, style in every) + 2 * EDGE
    high = sum(line_height(style) for _, style in every) + 2 * EDGE
    ends = sorted((front, rear), key=lambda point: point[1])
    middle = ((front[0] + rear[0]) / 2, (front[1] + rear[1]) / 2)
    boxes = sheet.free_boxes(PlacedLabel(wide, high, (middle,), 30, 400))
    found = [UnitBox(box, every, _ties(box, ends)) for box in boxes]
    return min(found, key=lambda one: sum(sheet.tie_cost(tie) for tie in one.ties), default=None)


def all_words(unit: str, place: str) -> tuple[tuple[str, Style], ...]:
    """Return what a unit's box says where there is room for it: its name and its place."""
    name = [(text, HEAD) for text in folded(unit, WIDEST, HEAD)]
    return (*name, *((text, Style()) for text in folded(place, WIDEST)))


FEW_WORDS: tuple[tuple[str, Style], ...] = (("unit", HEAD),)
"""What it says where there is not."""


def _ties(box: Box, ends: Sequence[Point]) -> tuple[Segment, ...]:
    """Tie the upper point to the upper half of the box, the lower to its lower half, each at the nearest side."""
    fifth = (box.bottom - box.top) / 5
    halves = ((ends[0], box.top, box.top + fifth), (ends[1], box.bottom, box.bottom - fifth))
    return tuple(Segment(end, _nearest_side(box, end, edge, side)) for end, edge, side in halves)


def _nearest_side(box: Box, end: Point, edge: float, side: float) -> Point:
    sides = ((box.middle[0], edge), (box.left, side), (box.right, side))
    return min(sides, key=lambda point: distance(point, end))


def drawn_unit(unit: UnitBox) -> Iterator[Element]:
    """Draw the unit, and the lines from its faces."""
    yield group(_parts(unit), class_="unit")


def _parts(unit: UnitBox) -> Iterator[Element]:
    box = unit.box
    for tie in unit.ties:
        (x1, y1), (x2, y2) = tie.start, tie.end
        yield element(
            "path", d=f"M{x1:.2f} {y1:.2f}L{x2:.2f} {y2:.2f}", stroke="#000", stroke_width=4, stroke_dasharray="9 3"
        )
    yield element(
        "rect",
        x=box.left,
        y=box.top,
        width=box.right - box.left,
        height=box.bottom - box.top,
        fill="#eee",
        stroke="#000",
        stroke_width=3,
    )
    y = box.top + EDGE
    for text, style in unit.words:
        y += line_height(style)
        yield line(box.middle[0], y - 0.25 * line_height(style), text, style, "middle")
