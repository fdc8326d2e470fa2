"""The legend below the loom."""

from collections.abc import Iterator

from solver.pictures.leg_drawing import DARK, LIGHT, MIDDLE
from solver.pictures.lettering import SMALL, Style, line
from solver.pictures.marks import MARK_ROOM, SAID, mark
from solver.pictures.svg import Element, element, group

LEGEND_HIGH = 172.0
SAMPLES = (
    ("leg", "a leg: its length, and ø the thickness of its loom with the sleeve"),
    ("moves", "a leg that moves when the bike steers or springs"),
    ("opening", "an opening: its clear width, and how much of it the loom takes"),
    ("face", "the frame points that the unit's front and rear face meet"),
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
        yield _stroke(way, 4, "#000", "9 3")
        return
    yield _stroke(way, 9, DARK)
    yield _stroke(way, 7, MIDDLE)
    if which == "moves":
        yield _stroke(way, 3, LIGHT, "7 5")
    if which == "opening":
        yield element("path", d=f"M34 {y - 10:.2f}h8v5h-8zM34 {y + 5:.2f}h8v5h-8z", fill="#000", class_="fill")


def _stroke(way: str, wide: float, colour: str, dashes: str = "none") -> Element:
    return element("path", d=way, fill="none", stroke=colour, stroke_width=wide, stroke_dasharray=dashes)
