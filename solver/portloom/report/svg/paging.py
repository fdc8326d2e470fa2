"""The paper of a picture, and its sections down the page and on to the next."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Protocol

from portloom.base.values import dataclass
from portloom.report.svg.lettering import FONTS, HEAD, line
from portloom.report.svg.svg import NAMESPACE, Element, element, group, written

WIDE = 720.0
"""Units across a picture: 190 mm across an A4 page held upright, with margins of 10 mm."""
HIGHEST = 1040.0
"""Units down a picture that still fills no more than an A4 page held upright: 275 mm."""


def picture(prefix: str, title: str, described: str, high: float, parts: Iterable[Element]) -> Element:
    """Return a picture; ids in it begin with ``prefix``, so that several can stand in one page."""
    return element(
        "svg",
        element("title", title, id=f"{prefix}-title"),
        element("desc", described, id=f"{prefix}-desc"),
        element("rect", width=WIDE, height=high, fill="#fff", class_="paper"),
        *parts,
        xmlns=NAMESPACE,
        id=prefix,
        role="img",
        aria_labelledby=f"{prefix}-title {prefix}-desc",
        viewBox=f"0 0 {WIDE:g} {high:g}",
        width="100%",
        font_family=FONTS,
    )


def svg_text(root: Element) -> str:
    """Write a picture as the text of a file."""
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{written(root)}\n'


TOP = 20.0
HEADING = 34.0
AFTER = 8.0


class Drawable(Protocol):
    """A circuit, or whatever else takes its turn down the page."""

    @property
    def high(self) -> float:
        """Its height."""

    def drawn(self, top: float) -> Iterator[Element]:
        """Draw it."""


@dataclass(frozen=True)
class Section:
    """A part of the diagram: its heading, the circuits in it, whether a box of the unit's stands on the left."""

    heading: str
    blocks: tuple[Drawable, ...]
    boxed: bool


@dataclass(frozen=True)
class PagePart:
    """A section, or as much of it as stands on one page, with its top."""

    section: Section
    top: float

    @property
    def bottom(self) -> float:
        """Where it ends."""
        return self.top + HEADING + sum(block.high for block in self.section.blocks) + AFTER


def paged(sections: Iterable[Section]) -> Iterator[list[PagePart]]:
    """Put sections on pages, none parted within a circuit."""
    page: list[PagePart] = []
    for section in sections:
        left = list(section.blocks)
        while left:
            start = page[-1].bottom if page else TOP
            fitting = _fitting(left, HIGHEST - start - HEADING - AFTER)
            if not fitting and page:
                yield page
                page = []
                continue
            fitting = fitting or 1
            begun = len(left) < len(section.blocks)
            heading = f"{section.heading}, continued" if begun else section.heading
            page.append(PagePart(Section(heading, tuple(left[:fitting]), section.boxed), start))
            left = left[fitting:]
    if page:
        yield page


def _fitting(blocks: Sequence[Drawable], room: float) -> int:
    """Return how many of the first blocks fit."""
    used = 0.0
    for number, one in enumerate(blocks):
        used += one.high
        if used > room:
            return number
    return len(blocks)


def drawn_part(part: PagePart, boxed: float) -> Iterator[Element]:
    """Draw a part; where a box of the unit's stands on the left, it reaches to ``boxed``."""
    yield line(16, part.top + 22, part.section.heading, HEAD)
    if part.section.boxed:
        yield _box(part, boxed)
    top = part.top + HEADING
    for one in part.section.blocks:
        yield group(one.drawn(top), class_="circuit")
        top += one.high


def _box(part: PagePart, right: float) -> Element:
    return element(
        "rect",
        x=16,
        y=part.top + HEADING,
        width=right - 16,
        height=part.bottom - part.top - HEADING - AFTER,
        fill="#eee",
        stroke="#000",
        stroke_width=2,
        class_="unit",
    )
