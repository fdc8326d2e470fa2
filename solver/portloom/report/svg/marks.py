"""Small signs before a note and in the legend, told apart by their shape alone."""

from collections.abc import Callable, Iterator
from typing import Literal

from portloom.report.svg.svg import Element, element

Mark = Literal["load", "switch", "splice", "earth", "connector", "battery", "multiplexer", "unit", "none"]
MARK_ROOM = 18.0
"""The room that a mark takes before its note."""
SAID: dict[Mark, str] = {
    "load": "load",
    "switch": "switch or sensor",
    "splice": "splice",
    "earth": "earth point",
    "connector": "connector",
    "battery": "battery",
    "multiplexer": "multiplexer",
}


def stroke(path: str, wide: float = 1.6) -> Element:
    """Draw a line along a path."""
    return element("path", d=path, fill="none", stroke="#000", stroke_width=wide, class_="line")


def outline(path: str) -> Element:
    """Draw a line along a closed path, nothing seen through it."""
    return element("path", d=path, fill="#fff", stroke="#000", stroke_width=1.6, class_="paper line")


def solid(path: str) -> Element:
    """Fill a path."""
    return element("path", d=path, fill="#000", class_="fill")


def ring(x: float, y: float, radius: float, fill: str = "#fff") -> Element:
    """Draw a circle."""
    return element("circle", cx=x, cy=y, r=radius, fill=fill, stroke="#000", stroke_width=1.6, class_="line")


def mark(which: Mark, x: float, y: float) -> Iterator[Element]:
    """Draw a mark round a point."""
    yield from _DRAWN[which](x, y)


def _load(x: float, y: float) -> Iterator[Element]:
    yield ring(x, y, 5)
    yield stroke(f"M{x - 3.5:.2f} {y - 3.5:.2f}l7 7m0 -7l-7 7", 1.2)


def _switch(x: float, y: float) -> Iterator[Element]:
    yield stroke(f"M{x - 6:.2f} {y + 3:.2f}h3l6 -6M{x + 6:.2f} {y + 3:.2f}h-3")


def _splice(x: float, y: float) -> Iterator[Element]:
    yield ring(x, y, 3, "#000")
    yield stroke(f"M{x - 6:.2f} {y:.2f}h12")


def _earth(x: float, y: float) -> Iterator[Element]:
    yield stroke(f"M{x:.2f} {y - 6:.2f}v6M{x - 6:.2f} {y:.2f}h12m-10 3h8m-6 3h4", 1.4)


def _connector(x: float, y: float) -> Iterator[Element]:
    yield stroke(f"M{x - 6:.2f} {y - 4:.2f}l4 4l-4 4M{x - 1:.2f} {y - 4:.2f}l4 4l-4 4")


def _battery(x: float, y: float) -> Iterator[Element]:
    yield stroke(f"M{x - 6:.2f} {y:.2f}h4M{x - 2:.2f} {y - 5:.2f}v10M{x + 2:.2f} {y:.2f}h4", 1.4)
    yield stroke(f"M{x + 2:.2f} {y - 3:.2f}v6", 2.6)


def _multiplexer(x: float, y: float) -> Iterator[Element]:
    yield stroke(f"M{x - 4:.2f} {y - 6:.2f}l8 3v6l-8 3zM{x - 7:.2f} {y - 3:.2f}h3m0 6h-3m11 -3h3", 1.2)


def _unit(x: float, y: float) -> Iterator[Element]:
    yield stroke(f"M{x - 5:.2f} {y - 5:.2f}h10v10h-10z")


def _none(_x: float, _y: float) -> Iterator[Element]:
    return iter(())


_DRAWN: dict[Mark, Callable[[float, float], Iterator[Element]]] = {
    "load": _load,
    "switch": _switch,
    "splice": _splice,
    "earth": _earth,
    "connector": _connector,
    "battery": _battery,
    "multiplexer": _multiplexer,
    "unit": _unit,
    "none": _none,
}
