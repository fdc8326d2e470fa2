"""Plain text to a fixed width: headings, tables, lists, and what stands on every sheet."""

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from decimal import ROUND_HALF_UP, Decimal
from io import StringIO
from itertools import zip_longest
from typing import Literal, Protocol

from rich.cells import cell_len
from rich.console import Console
from rich.text import Text

from portloom.base.figures import plain
from portloom.base.letters import shown
from portloom.base.quantities import Micrometres, MilliAmps
from portloom.documents.fail_safe import FIRST

WIDTH = 100
"""Columns of a page that is on no screen."""
WIDEST = 140
"""Columns of the widest page: longer lines are hard to read."""
INDENT = 2
GAPS = (2, 1)
"""Blanks between two columns: as many as there is room for."""
BOUND = "\ue000"
"""Stands for a blank at which no line is folded, while a text is laid out."""
CUT = " ..."
"""Ends what is cut."""
UNITS = r"(?:[mk]?[AVWm]|mm2|m?s|k?Hz|Ah|AWG|m?ohm|C|g|%|x)(?![\w-])"
FIGURE = re.compile(rf"(?<=\d) (?={UNITS})|(?:(?<=\bline)|(?<=\bout)|(?<=\bin)) (?=\d)")
"""The blank between a number and its unit, and before the number of a line or a port."""
Attributes = Literal["", "bold", "bold red"]
"""How a line may look on a screen, where its words say all of it: no green, no yellow, which nobody reads on white."""
Side = Literal["left", "right"]
TableColumn = tuple[str, Side]
TablePart = tuple[Sequence[TableColumn], Sequence[Sequence[str]]]


class Page(Protocol):
    """What a sheet is written on."""

    def line(self, text: str, style: Attributes = "") -> None:
        """Write a line; blanks before it are its indent."""

    def heading(self, text: str) -> None:
        """Write a heading."""

    def items(self, texts: Sequence[str], mark: str = "-") -> None:
        """Write a list; '!' marks what must not be overlooked."""

    def table(self, columns: Sequence[TableColumn], rows: Sequence[Sequence[str]]) -> None:
        """Write a table; the first column names each row."""


class _NoRoomError(Exception):
    """More was written than there are lines for."""


class _Lines(StringIO):
    """Where so many lines can be written, and nothing is kept of them."""

    def __init__(self, lines: int) -> None:
        super().__init__()
        self._left = lines

    def write(self, text: str) -> int:
        self._left -= text.count("\n")
        if self._left < 0:
            raise _NoRoomError
        return len(text)


class TextPage:
    """Writes one sheet on a console, no line wider than it, none with blanks at its end."""

    def __init__(self, console: Console) -> None:
        """Take the console."""
        self._console = console

    def _write(self, lines: Iterable[str], style: Attributes = "") -> None:
        for line in lines:
            self._console.file.write(f"{self._styled(line.rstrip().replace(BOUND, ' '), style)}\n")

    def _styled(self, line: str, style: Attributes) -> str:
        if not style:
            return line
        with self._console.capture() as captured:
            self._console.print(Text(line, style), end="", soft_wrap=True)
        return captured.get()

    def _folded(self, text: str, width: int) -> list[str]:
        """Return the lines of a text, none wider than ``width``."""
        if "\n" not in text and cell_len(text) <= width:
            return [text]
        return [line.plain for line in Text(text).wrap(self._console, width, overflow="fold")]

    def line(self, text: str, style: Attributes = "") -> None:
        """Write a line, folded where it is too long, under its own indent."""
        indent = len(text) - len(text.lstrip())
        folded = self._folded(_whole(text.strip()), max(1, self._console.width - indent))
        self._write((" " * indent + line for line in folded), style)

    def heading(self, text: str) -> None:
        """Write a heading after an empty line."""
        self._write([""])
        self.line(text, "bold")

    def items(self, texts: Sequence[str], mark: str = "-") -> None:
        """Write a list, each entry with its mark and folded under itself."""
        first = f"  {mark} "
        for text in texts:
            folded = self._folded(_whole(text), max(1, self._console.width - len(first)))
            self._write((" " * len(first) if number else first) + line for number, line in enumerate(folded))

    def brief(self, texts: Sequence[str], mark: str = "-") -> None:
        """Write a list, a line an entry, what is longer cut after a word."""
        first = f"  {mark} "
        room = self._console.width - len(first)
        for text in texts:
            line, *more = self._folded(_whole(text), room)
            self._write([first + (self._folded(_whole(text), room - len(CUT))[0].rstrip() + CUT if more else line)])

    def fits(self, write: Callable[["TextPage"], None], lines: int) -> bool:
        """Tell whether something takes so many lines at most."""
        try:
            write(TextPage(Console(file=_Lines(lines), width=self._console.width, color_system=None)))
        except _NoRoomError:
            return False
        return True

    def table(self, columns: Sequence[TableColumn], rows: Sequence[Sequence[str]]) -> None:
        """Write a table, words folded under each other.

        One that is too wide all the same is two, the first column in both; else it is a line a row.
        """
        bound = [[_whole(cell) for cell in row] for row in rows]
        parts = self._parts(columns, bound)
        for part in parts:
            if part is not parts[0]:
                self._write([""])
            widths, gap = self._seated(*part) or ([], 0)
            self._write_table(*part, widths, gap)
        if not parts:
            self.items([_in_words(columns, row) for row in rows])

    def _parts(self, columns: Sequence[TableColumn], rows: Sequence[Sequence[str]]) -> list[TablePart]:
        """Return the whole table where it fits, two parts that do, each with two columns beside the first, or none."""
        if self._seated(columns, rows):
            return [(columns, rows)]
        for last in range(len(columns) - 2, 2, -1):
            halves = [_columns_of(columns, rows, range(1, last)), _columns_of(columns, rows, range(last, len(columns)))]
            if all(self._seated(*half) for half in halves):
                return halves
        return []

    def _seated(self, columns: Sequence[TableColumn], rows: Sequence[Sequence[str]]) -> tuple[list[int], int] | None:
        """Return the width of each column and the blanks between them; None where there is no room."""
        for gap in GAPS:
            widths = column_widths(columns, rows, self._console.width - INDENT - gap * (len(columns) - 1))
            if widths is not None:
                return widths, gap
        return None

    def _write_table(
        self, columns: Sequence[TableColumn], rows: Sequence[Sequence[str]], widths: Sequence[int], gap: int
    ) -> None:
        seats = [(side, width) for (_, side), width in zip(columns, widths, strict=True)]
        titles = self._folded_row([title for title, _ in columns], widths)
        high = max(map(len, titles))
        self._write(_beside([[""] * (high - len(title)) + title for title in titles], seats, gap), "bold")
        self._write([" " * INDENT + "-" * (sum(widths) + gap * (len(columns) - 1))])
        for row in rows:
            self._write(_beside(self._folded_row(row, widths), seats, gap))

    def _folded_row(self, cells: Sequence[str], widths: Sequence[int]) -> list[list[str]]:
        return [self._folded(cell, width) for cell, width in zip(cells, widths, strict=True)]


def _beside(cells: Sequence[Sequence[str]], seats: Sequence[tuple[Side, int]], gap: int) -> Iterator[str]:
    """Return the lines of a row, whose cells have lines of their own."""
    for line in zip_longest(*cells, fillvalue=""):
        filled = (_filled(text, side, width) for text, (side, width) in zip(line, seats, strict=True))
        yield " " * INDENT + (" " * gap).join(filled)


def _filled(text: str, side: Side, width: int) -> str:
    """Return a text with blanks to a width, which stand before it where it stands on the right."""
    blanks = " " * (width - cell_len(text))
    return text + blanks if side == "left" else blanks + text


def _whole(text: str) -> str:
    """Show what can't be seen, and keep figures and their units on one line."""
    return FIGURE.sub(BOUND, shown(text))


def column_widths(columns: Sequence[TableColumn], rows: Sequence[Sequence[str]], room: int) -> list[int] | None:
    """Return each column's width, ``room`` in all: figures stay whole, texts and titles fold between words; else None.

    A cell may have several lines.
    """
    cells = list(zip(*([title for title, _ in columns], *rows), strict=True))
    widths = [_widest(column) for column in cells]
    words = [_widest(_words(column)) for column in cells]
    least = [
        words[at] if side == "left" else max(words[at], _widest(cells[at][1:])) for at, (_, side) in enumerate(columns)
    ]
    over_figures = [least[at] if side == "right" else widths[at] for at, (_, side) in enumerate(columns)]
    for floor in (over_figures, least):  # titles over figures fold first, then texts
        while sum(widths) > room:
            loose = [at for at, width in enumerate(widths) if width > floor[at]]
            if not loose:
                break
            widths[max(loose, key=lambda at: widths[at])] -= 1
    return widths if sum(widths) <= room else None


def _widest(texts: Iterable[str]) -> int:
    return max((cell_len(line) for text in texts for line in text.split("\n")), default=0)


def _words(texts: Iterable[str]) -> list[str]:
    """Return what folds nowhere: a figure with its unit is one word."""
    return [word for text in texts for word in re.split(r"[ \n]+", text)]


def _columns_of(columns: Sequence[TableColumn], rows: Sequence[Sequence[str]], wanted: range) -> TablePart:
    """Return some columns of a table, the first before them."""
    kept = (0, *wanted)
    return [columns[at] for at in kept], [[row[at] for at in kept] for row in rows]


def _in_words(columns: Sequence[TableColumn], row: Sequence[str]) -> str:
    rest = [
        f"{title} {' '.join(cell.split())}"
        for (title, _), cell in zip(columns[1:], row[1:], strict=True)
        if cell not in ("", "-")
    ]
    return f"{row[0]}: {'; '.join(rest)}" if rest else row[0]


CAUTION = "CAUTION"
"""The heading over the cautions."""


def write_first(warnings: Sequence[str], set_aside: Iterable[tuple[str, str]], page: Page) -> None:
    """Write what stands first on every sheet: what can hurt, then the rules that a bike file sets aside."""
    if warnings:
        page.line(FIRST, "bold red")
        page.items(warnings, "!")
        page.line("")
    lines = [f"rule {rule}: {reason}" for rule, reason in set_aside]
    if lines:
        page.line("SET ASIDE by the bike file:", "bold red")
        page.items(lines, "!")
        page.line("")


def write_cautions(cautions: tuple[str, ...], page: Page) -> None:
    """Write the cautions, last and on every sheet."""
    page.heading(CAUTION)
    page.items(cautions, "!")


def amperes(current: MilliAmps) -> str:
    """Write a current to a hundredth of an ampere."""
    return f"{plain((Decimal(current) / 1000).quantize(Decimal('0.01'), ROUND_HALF_UP))} A"


def metres(length: Micrometres) -> str:
    """Write a length in metres, to the millimetre."""
    return f"{Decimal(length) / 1_000_000:.3f} m"


def tenths(length: Micrometres) -> str:
    """Write a diameter in millimetres, to a tenth, rounded up."""
    return f"{Decimal(-(-length // 100)) / 10:.1f} mm"
