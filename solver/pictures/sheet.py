"""The paper of a picture: its size, its title and description for those who do not see it."""

from collections.abc import Iterable

from solver.pictures.lettering import FONTS
from solver.pictures.svg import NAMESPACE, Element, element, written

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
