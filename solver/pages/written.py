"""A sheet written as HTML: the same words as on a screen, with sections, lists and tables of their own."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from solver.pages.markup import Child, Html, Row, items, section, table, tag
from solver.sheets.layout import Column


class WrittenPage:
    """Takes what is written on it; each heading begins a section."""

    def __init__(self, lit: Mapping[str, str] = MappingProxyType({}), under: str = "") -> None:
        """Take what lights up with rows whose first or second cell is one of these names.

        ``under`` is the heading that all of it stands under, if there is one.
        """
        self._under = under
        self._lit = lit
        self._sections: list[tuple[str, list[Child]]] = [("", [])]

    def line(self, text: str, style: str = "") -> None:
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

    def table(self, columns: Sequence[Column], rows: Sequence[Sequence[str]]) -> None:
        """Write a table, named after the section that it stands in."""
        lines = (Row(tuple(row), next((self._lit[cell] for cell in row[:2] if cell in self._lit), "")) for row in rows)
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
