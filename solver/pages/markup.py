"""HTML put together piece by piece; every word that comes from outside is escaped here and nowhere else."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape

VOID = frozenset({"meta", "br", "hr", "col", "input"})
"""Elements that hold nothing and have no end. Source: HTML Living Standard, 'Void elements'."""


@dataclass(frozen=True)
class Html:
    """A piece of markup that is right as it stands."""

    markup: str


Child = Html | str
"""What an element holds: markup, or words that are still to be escaped."""


def words(text: str) -> Html:
    """Return words as markup. Letters that no HTML may hold are left out: controls but tab and line ends."""
    return Html(escape(_allowed(text), quote=False))


def _allowed(text: str) -> str:
    """Source: HTML Living Standard, 'Preprocessing the input stream': no control characters, no surrogates."""
    return "".join(
        letter
        for letter in text
        if letter in "\t\n" or (letter >= " " and not "\x7f" <= letter <= "\x9f" and not "\ud800" <= letter <= "\udfff")
    )


def joined(children: Iterable[Child]) -> Html:
    """Return several pieces as one."""
    return Html("".join((child if isinstance(child, Html) else words(child)).markup for child in children))


def tag(element: str, /, *children: Child, **attributes: str | None) -> Html:
    """Return an element. ``class_`` and ``for_`` lose their underscore, others become dashes; None is left out."""
    given = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{escape(_allowed(value), quote=True)}"'
        for key, value in attributes.items()
        if value is not None
    )
    if element in VOID:
        return Html(f"<{element}{given}>")
    return Html(f"<{element}{given}>{joined(children).markup}</{element}>")


def table(caption: str, columns: Sequence[tuple[str, str]], rows: Iterable["Row"], *, heard: bool = False) -> Html:
    """Return a table with a caption and a header for each column and row; a column is its title and 'left' or 'right'.

    A caption that is only ``heard`` stands for a heading that is seen just before it.
    """
    head = tag("tr", *(tag("th", title, scope="col", class_=_side(side)) for title, side in columns))
    body = [
        tag(
            "tr",
            tag("th", row.cells[0], scope="row"),
            *(tag("td", cell, class_=_side(side)) for cell, (_, side) in zip(row.cells[1:], columns[1:], strict=True)),
            data_lit=row.lit or None,
            tabindex="0" if row.lit else None,
        )
        for row in rows
    ]
    made = tag(
        "table", tag("caption", caption, class_="heard" if heard else None), tag("thead", head), tag("tbody", *body)
    )
    return tag("div", made, class_="wide", role="region", aria_label=caption, tabindex="0")


def _side(side: str) -> str | None:
    return "figure" if side == "right" else None


@dataclass(frozen=True)
class Row:
    """A line of a table; ``lit`` names what lights up with it."""

    cells: Sequence[Child]
    lit: str = ""


def items(entries: Iterable[Child]) -> Html:
    """Return a list."""
    return tag("ul", *(tag("li", entry) for entry in entries))


def caution_box(cautions: Iterable[str]) -> Html:
    """Return the cautions in the box that each page has them in."""
    return tag("div", tag("h2", "Caution"), items(cautions), class_="caution", role="note")


def section(title: str, *children: Child, name: str = "", rank: str = "h2") -> Html:
    """Return a part of a page under its heading."""
    return tag("section", tag(rank, title, id=name or None), *children)


def document(title: str, style: str, *body: Child) -> str:
    """Return a whole page. It names its language, loads nothing and runs nothing."""
    head = tag(
        "head",
        tag("meta", charset="utf-8"),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("meta", name="color-scheme", content="light dark"),
        tag("title", title),
        Html(f"<style>{style}</style>"),
    )
    return f"<!doctype html>\n{tag('html', head, tag('body', tag('main', *body)), lang='en').markup}\n"
