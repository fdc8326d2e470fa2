"""A sheet written as HTML, the same words as on a screen; and what of a circuit lights up together.

Sections, lists and tables are the page's own. Lighting up is by style rules alone: where a browser lacks ':has'
(CSS Selectors 4), nothing lights up; all is there without it.
"""

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType

from portloom.base.values import dataclass
from portloom.documents.wiring.wire import EndKind, Wire, Wiring
from portloom.report.html.markup import Child, Html, TableRow, items, section, table, tag
from portloom.report.text.layout import Attributes, TableColumn


class WrittenPage:
    """Takes what is written on it; each heading begins a section."""

    def __init__(self, lit: Mapping[str, str] = MappingProxyType({}), under: str = "") -> None:
        """Take what lights up with rows whose first or second cell is one of these names.

        ``under`` is the heading that all of it stands under, if there is one.
        """
        self._under = under
        self._lit = lit
        self._sections: list[tuple[str, list[Child]]] = [("", [])]

    def line(self, text: str, style: Attributes = "") -> None:
        """Write a paragraph; a style on the screen is emphasis here."""
        words = text.strip()
        if words:
            self._put(tag("p", tag("strong", words) if style else words))

    def heading(self, text: str) -> None:
        """Begin a section."""
        self._sections.append((text, []))

    def items(self, texts: Sequence[str], mark: str = "-") -> None:
        """Write a list; what must not be overlooked is marked as such."""
        if texts:
            self._put(tag("div", items(texts), class_="marked" if mark == "!" else None))

    def table(self, columns: Sequence[TableColumn], rows: Sequence[Sequence[str]]) -> None:
        """Write a table, named after the section that it stands in."""
        lines = (
            TableRow(tuple(row), next((self._lit[cell] for cell in row[:2] if cell in self._lit), "")) for row in rows
        )
        section_title, pieces = self._sections[-1]
        title = f"{self._under}: {section_title}" if self._under else section_title
        caption = f"{title}, by {columns[0][0]}" if pieces else title
        self._put(table(caption, columns, lines, heard=not pieces))

    def _put(self, piece: Html) -> None:
        self._sections[-1][1].append(piece)

    def sections(self) -> list[tuple[str, Html]]:
        """Return each section with its title; what stood before the first heading has none."""
        return [
            (title, self._section(title, pieces) if title else tag("div", *pieces))
            for title, pieces in self._sections
            if pieces
        ]

    def _section(self, title: str, pieces: Sequence[Child]) -> Html:
        name = name_of(f"{self._under}: {title}" if self._under else title)
        return section(title, *pieces, name=name, rank="h3" if self._under else "h2")


def name_of(text: str) -> str:
    """Return a name that ids and attributes may have, the same for the same words, another for others."""
    return "n-" + "".join(letter if letter.isascii() and letter.isalnum() else f"_{ord(letter):x}_" for letter in text)


LIGHT = "background:var(--lit);filter:drop-shadow(0 0 3px #b36b00)"
WIRE = "stroke:#b36b00;stroke-opacity:1"


@dataclass(frozen=True)
class Lit:
    """A circuit, its wires, and the loads and switches that it ends at."""

    circuit: str
    wires: tuple[str, ...]
    loads: tuple[str, ...]
    switches: tuple[str, ...]


def lit_of(wiring: Wiring) -> tuple[Lit, ...]:
    """Return every circuit; what serves several points, such as a return, lights no loads."""
    return tuple(
        Lit(
            circuit,
            tuple(wire.key for wire in wires),
            () if wires[0].kind == "return" else _ends(wires, "load"),
            () if wires[0].kind == "return" else _ends(wires, "switch"),
        )
        for circuit, wires in wiring.circuits.items()
    )


def _ends(wires: Iterable[Wire], kind: EndKind) -> tuple[str, ...]:
    return tuple(dict.fromkeys(end.name for wire in wires for end in wire.ends if end.kind == kind))


def names_of(lit: Iterable[Lit]) -> Mapping[str, str]:
    """Return the circuit of each row that is named by its circuit or by a wire."""
    return {name: one.circuit for one in lit for name in (one.circuit, *one.wires)}


def rules(lit: Iterable[Lit]) -> str:
    """Return the style rules: pointing at any of a circuit's things, or reaching it by keyboard, lights them all."""
    return "".join(_rule(one) for one in lit)


def _rule(one: Lit) -> str:
    things = [
        f"[data-lit={_quoted(one.circuit)}]",
        *(f"[data-load={_quoted(name)}]" for name in one.loads),
        *(f"[data-switch={_quoted(name)}]" for name in one.switches),
    ]
    wires = f"[data-circuit={_quoted(one.circuit)}]"
    pointed = f"body:has(:is({','.join([*things, wires])}):is(:hover,:focus,:focus-within))"
    return f"{pointed} :is({','.join(things)}){{{LIGHT}}}{pointed} {wires} path{{{WIRE}}}"


def _quoted(name: str) -> str:
    """Write a name as a CSS string; all but plain letters, digits and blanks by their numbers (CSS Syntax 3, 4.3.7)."""
    return '"' + "".join(x if (x.isascii() and x.isalnum()) or x == " " else f"\\{ord(x):x} " for x in name) + '"'
