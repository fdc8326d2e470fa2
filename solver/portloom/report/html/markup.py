"""HTML put together piece by piece, and how pages look: on a screen, light or dark, on a phone, and on A4.

Every word that comes from outside is escaped here and nowhere else. Colours of text on their ground keep a contrast
of 4.5 to 1 and more. Source: WCAG 2.2, success criterion 1.4.3.
"""

from collections.abc import Iterable, Sequence
from html import escape

from portloom.base.letters import shown
from portloom.base.values import dataclass

LIGHT = {"ground": "#ffffff", "text": "#1b1b1b", "quiet": "#4d4d4d", "line": "#9a9a9a", "raised": "#f1f1ee",
         "warn": "#7a2e00", "lit": "#ffe08a"}  # fmt: skip
DARK = {"ground": "#151515", "text": "#ececec", "quiet": "#b8b8b8", "line": "#6f6f6f", "raised": "#222222",
        "warn": "#ffb37a", "lit": "#463900"}  # fmt: skip


def _colours(colours: dict[str, str]) -> str:
    return "".join(f"--{name}:{value};" for name, value in colours.items())


SCREEN = f"""
:root{{{_colours(LIGHT)}}}
@media (prefers-color-scheme:dark){{:root{{{_colours(DARK)}}}}}
*{{box-sizing:border-box}}
body{{margin:0 auto;padding:1rem;max-width:72rem;background:var(--ground);color:var(--text);
font:1rem/1.45 system-ui,sans-serif}}
h1{{font-size:1.6rem;margin:0 0 .3rem}}
h2{{font-size:1.2rem;margin:2rem 0 .5rem;border-bottom:2px solid var(--line)}}
h3{{font-size:1rem;margin:1.2rem 0 .3rem}}
p{{margin:.4rem 0}}
.quiet{{color:var(--quiet)}}
.caution{{border:2px solid var(--warn);padding:.5rem 1rem;margin:1rem 0}}
.caution h2{{border:0;margin:.2rem 0;color:var(--warn)}}
.wide{{overflow-x:auto;margin:.6rem 0}}
table{{border-collapse:collapse;font-size:.9rem;font-variant-numeric:tabular-nums}}
caption{{text-align:left;font-weight:600;padding:.3rem 0}}
.heard{{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}}
th,td{{text-align:left;vertical-align:top;padding:.2rem .7rem .2rem 0;border-bottom:1px solid var(--line)}}
th{{font-weight:600}}
.figure{{text-align:right;white-space:nowrap}}
figure{{margin:1rem 0;overflow-x:auto}}
figure svg{{max-width:100%;height:auto;background:#fff}}
@media screen and (max-width:45rem){{figure svg{{min-width:42rem}}tbody th{{min-width:6rem}}}}
nav ul{{display:flex;flex-wrap:wrap;gap:.2rem 1.2rem;list-style:none;padding:0}}
a{{color:inherit}}
:focus-visible{{outline:3px solid var(--text);outline-offset:2px}}
.fill{{display:block;white-space:nowrap}}
.marked li{{font-weight:600}}
.field{{display:inline-block;min-width:5.5rem;border-bottom:1px solid var(--text);height:1.3em}}
"""
# A section with a picture is a column of its own: as plain blocks, Chromium may leave the heading on the page before.
PRINT = """
@page{size:A4;margin:14mm}
@media print{
:root{--ground:#fff;--text:#000;--quiet:#333;--line:#888;--raised:#fff;--warn:#000;--lit:#fff}
body{max-width:none;padding:0;font-size:9.5pt}
h1{font-size:15pt}h2{font-size:12pt;break-after:avoid}h3{break-after:avoid}
table{font-size:8pt}
.field{min-width:3.8rem}
thead{display:table-header-group}
tr,figure,.caution,section:has(>figure),.wide:not(:has(tbody>tr:nth-child(16))){break-inside:avoid}
section:has(>figure){display:flex;flex-direction:column}
thead,tbody>tr:nth-child(-n+2){break-after:avoid}
tbody>tr:nth-last-child(-n+2){break-before:avoid}
.wide,figure{overflow:visible}
.heard{display:none}
figure{margin:0}
figure svg{max-height:225mm}
nav{display:none}
.own-page{break-before:page}
.one-page{columns:2;column-gap:8mm;font-size:7.8pt;line-height:1.2}
.one-page>div{break-inside:avoid-column}
.one-page h2,.one-page h3{font-size:10pt;margin:.4rem 0 .1rem}
.one-page ul{margin:.2rem 0;padding-left:1rem}
a{text-decoration:none}
}
"""


STYLE = SCREEN + PRINT


VOID = frozenset({"meta", "br", "hr", "col", "input"})
"""Elements that hold nothing and have no end. Source: HTML Living Standard, 'Void elements'."""


@dataclass(frozen=True)
class Html:
    """A piece of markup that is right as it stands."""

    markup: str


Child = Html | str
"""What an element holds: markup, or words that are still to be escaped."""


def words(text: str) -> Html:
    """Return words as markup. What can't be seen is shown, and so is what no HTML may hold.

    Source: HTML Living Standard, 'Preprocessing the input stream': no control characters, no surrogates.
    """
    return Html(escape(shown(text), quote=False))


def joined(children: Iterable[Child]) -> Html:
    """Return several pieces as one."""
    return Html("".join((child if isinstance(child, Html) else words(child)).markup for child in children))


def tag(element: str, /, *children: Child, **attributes: str | None) -> Html:
    """Return an element. ``class_`` and ``for_`` lose their underscore, others become dashes; None is left out."""
    given = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{escape(shown(value), quote=True)}"'
        for key, value in attributes.items()
        if value is not None
    )
    if element in VOID:
        return Html(f"<{element}{given}>")
    return Html(f"<{element}{given}>{joined(children).markup}</{element}>")


def table(caption: str, columns: Sequence[tuple[str, str]], rows: Iterable["TableRow"], *, heard: bool = False) -> Html:
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
class TableRow:
    """A line of a table; ``lit`` names what lights up with it."""

    cells: Sequence[Child]
    lit: str = ""


def items(entries: Iterable[Child]) -> Html:
    """Return a list."""
    return tag("ul", *(tag("li", entry) for entry in entries))


def caution_box(cautions: Iterable[str]) -> Html:
    """Return the cautions in the box that each page has them in."""
    return tag("div", tag("h2", "Caution"), items(cautions), class_="caution", role="note")


def first_box(warnings: Sequence[str], set_aside: Iterable[tuple[str, str]]) -> Html:
    """Return what stands first on every page: what can hurt, then the rules that the bike's file sets aside."""
    lines = [*warnings, *(f"Set aside: rule {rule}: {why}" for rule, why in set_aside)]
    if not lines:
        return Html("")
    return tag(
        "div", tag("h2", "First of all"), items(tag("strong", line) for line in lines), class_="caution", role="note"
    )


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
