"""Points, lines and boxes of a picture, and whether they meet. Units of the picture; y goes down."""

from collections.abc import Iterable
from math import hypot

from portloom.base.values import dataclass

Point = tuple[float, float]


@dataclass(frozen=True)
class Box:
    """A box with upright sides."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def middle(self) -> Point:
        """Its middle."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def grown(self, by: float) -> "Box":
        """Return it with a margin all round."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def meets(self, other: "Box") -> bool:
        """Tell whether the two have more than an edge in common."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )

    def meets_any(self, others: Iterable["Box"]) -> bool:
        """Tell whether it meets one of several."""
        left, top, right, bottom = self.left, self.top, self.right, self.bottom
        return any(
            left < other.right and other.left < right and top < other.bottom and other.top < bottom for other in others
        )

    def holds(self, other: "Box") -> bool:
        """Tell whether the other lies inside."""
        return (
            self.left <= other.left
            and self.top <= other.top
            and other.right <= self.right
            and other.bottom <= self.bottom
        )

    def nearest(self, point: Point) -> Point:
        """Return its point nearest to ``point``."""
        return min(max(point[0], self.left), self.right), min(max(point[1], self.top), self.bottom)


@dataclass(frozen=True)
class Segment:
    """A straight line between two points."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        """Its length."""
        return distance(self.start, self.end)

    @property
    def box(self) -> Box:
        """The box that it spans."""
        (x1, y1), (x2, y2) = self.start, self.end
        return Box(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))

    def at(self, share: float) -> Point:
        """Return its point at a share of its length."""
        (x1, y1), (x2, y2) = self.start, self.end
        return x1 + (x2 - x1) * share, y1 + (y2 - y1) * share

    def passes(self, box: Box) -> bool:
        """Tell whether it passes through the inside of a box.

        Source: Liang and Barsky (1984), 'A new concept and method for line clipping', doi:10.1145/357332.357333.
        """
        (x, y), (x2, y2) = self.start, self.end
        if (x <= box.left and x2 <= box.left) or (x >= box.right and x2 >= box.right):
            return False
        if (y <= box.top and y2 <= box.top) or (y >= box.bottom and y2 >= box.bottom):
            return False
        first, last = 0.0, 1.0
        for step, low, high in ((x2 - x, box.left - x, box.right - x), (y2 - y, box.top - y, box.bottom - y)):
            if step == 0:
                if low >= 0 or high <= 0:
                    return False
                continue
            enter, leave = (low / step, high / step) if step > 0 else (high / step, low / step)
            first, last = max(first, enter), min(last, leave)
        return first < last

    def crosses(self, other: "Segment") -> bool:
        """Tell whether two lines cross inside both."""
        a, b = _side(self, other.start), _side(self, other.end)
        c, d = _side(other, self.start), _side(other, self.end)
        return a * b < 0 and c * d < 0

    def gap(self, point: Point) -> float:
        """Return the distance of a point from it."""
        (x1, y1), (x2, y2) = self.start, self.end
        square = (x2 - x1) ** 2 + (y2 - y1) ** 2
        if square == 0:
            return distance(self.start, point)
        share = ((point[0] - x1) * (x2 - x1) + (point[1] - y1) * (y2 - y1)) / square
        return distance(self.at(min(max(share, 0.0), 1.0)), point)


def distance(one: Point, other: Point) -> float:
    """Return the distance of two points."""
    return hypot(one[0] - other[0], one[1] - other[1])


def _side(line: Segment, point: Point) -> float:
    (x1, y1), (x2, y2) = line.start, line.end
    return (x2 - x1) * (point[1] - y1) - (y2 - y1) * (point[0] - x1)
