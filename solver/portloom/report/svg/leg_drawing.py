"""A leg as it is drawn: as thick as its loom, with its opening and what is written at it; and the legend below."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import pairwise

from portloom.base.figures import plain
from portloom.base.quantities import Micrometres
from portloom.documents.document import LegLine
from portloom.report.svg.lettering import SMALL, Style, line
from portloom.report.svg.marks import MARK_ROOM, SAID, mark
from portloom.report.svg.shapes import Point, Segment, distance
from portloom.report.svg.svg import Element, element, group

PER_MM = 0.75
"""Units of a leg's thickness for each millimetre of loom."""
THINNEST = 2.5
OUTLINE = 2.0
DARK, MIDDLE, LIGHT = "#333", "#bbb", "#fff"


def leg_width(diameter: Micrometres) -> float:
    """Return how wide a leg is drawn."""
    return max(THINNEST, PER_MM * diameter / 1000) + OUTLINE


def leg_words(line: LegLine, length: Micrometres) -> tuple[str, ...]:
    """Return what stands at a leg: its length, its loom, its opening."""
    words = [f"{tenths(length)} mm"]
    words.append(f"ø {tenths(line.diameter)} mm" if line.wires else "no wires")
    if line.wires and line.opening is not None:
        words.append(f"in {tenths(line.opening)} mm:")
        words.append(f"{filled(line)} % full")
    return tuple(words)


def tenths(length: Micrometres) -> str:
    """Write millimetres to a tenth, rounded up."""
    return plain(Decimal(-(-length // 100)) / 10)


def filled(line: LegLine) -> int:
    """Return how much of an opening's clear width the loom takes, in per cent, rounded up."""
    return -(-100 * line.diameter // (line.opening or line.diameter or 1))


def drawn_leg(line: LegLine, path: Sequence[Point], opening: float) -> Iterator[Element]:
    """Draw a leg along its straight stretches; ``opening`` is where on the longest one its opening is drawn."""
    way = "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in path)
    if not line.wires:
        yield _stroke(way, 1.4, DARK, "2 4")
        return
    wide = leg_width(line.diameter)
    yield _stroke(way, wide, DARK)
    yield _stroke(way, wide - OUTLINE, MIDDLE)
    if line.moves:
        yield _stroke(way, min(wide - OUTLINE, 3.0), LIGHT, "7 5")
    if line.opening is not None:
        yield from _opening(path, wide, opening)


def _stroke(way: str, wide: float, colour: str, dashes: str = "") -> Element:
    extra = {"stroke_dasharray": dashes} if dashes else {}
    return element("path", d=way, fill="none", stroke=colour, stroke_width=wide, stroke_linejoin="round", **extra)


def _opening(path: Sequence[Point], wide: float, share: float) -> Iterator[Element]:
    """Draw what a loom passes: two cheeks, one on each side of it."""
    stretch = max((Segment(*pair) for pair in pairwise(path)), key=lambda one: one.length)
    (x1, y1), (x2, y2), (x, y) = stretch.start, stretch.end, stretch.at(share)
    away = distance(stretch.start, stretch.end) or 1.0
    along, across = ((x2 - x1) / away, (y2 - y1) / away), (-(y2 - y1) / away, (x2 - x1) / away)
    for side in (1, -1):
        near, far = side * (wide / 2 + 1), side * (wide / 2 + 7)
        corners = [(near, -4), (far, -4), (far, 4), (near, 4)]
        spots = [(x + across[0] * off + along[0] * on, y + across[1] * off + along[1] * on) for off, on in corners]
        way = "M" + "L".join(f"{px:.2f} {py:.2f}" for px, py in spots) + "z"
        yield element("path", d=way, fill="#000", class_="fill")


LEGEND_HIGH = 172.0
SAMPLES = (
    ("leg", "a leg: its length, and ø the thickness of its loom with the sleeve"),
    ("moves", "a leg that moves with the steering or the suspension"),
    ("opening", "an opening: its clear width, and how much of it the loom takes"),
    ("face", "the frame points at the unit's front and rear face"),
)


def legend(top: float) -> Iterator[Element]:
    """Draw the legend."""
    yield group(_legend(top), class_="legend")


def _legend(top: float) -> Iterator[Element]:
    yield element("path", d=f"M16 {top + 6:.2f}H704", stroke="#555", stroke_width=1)
    for number, (which, words) in enumerate(SAID.items()):
        x, y = 16 + 174 * (number % 4), top + 28 + 22 * (number // 4)
        yield from mark(which, x + 6, y - 5)
        yield line(x + MARK_ROOM, y, words)
    for number, (sample, words) in enumerate(SAMPLES):
        y = top + 76 + 22 * number
        yield from _sample(sample, y - 5)
        yield line(70, y, words, Style(SMALL))


def _sample(which: str, y: float) -> Iterator[Element]:
    way = f"M16 {y:.2f}h44"
    if which == "face":
        yield _mark_stroke(way, 4, "#000", "9 3")
        return
    yield _mark_stroke(way, 9, DARK)
    yield _mark_stroke(way, 7, MIDDLE)
    if which == "moves":
        yield _mark_stroke(way, 3, LIGHT, "7 5")
    if which == "opening":
        yield element("path", d=f"M34 {y - 10:.2f}h8v5h-8zM34 {y + 5:.2f}h8v5h-8z", fill="#000", class_="fill")


def _mark_stroke(way: str, wide: float, colour: str, dashes: str = "none") -> Element:
    return element("path", d=way, fill="none", stroke=colour, stroke_width=wide, stroke_dasharray=dashes)
