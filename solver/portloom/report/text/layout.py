"""Plain text to a fixed width: headings, tables, lists, and what stands on every sheet."""

import re
from collections.abc import Iterable, Sequence
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal, Protocol

from rich.box import SIMPLE_HEAD, Box
from rich.cells import cell_len
from rich.console import Console, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from portloom.base.figures import plain
from portloom.base.letters import shown
from portloom.base.quantities import Micrometres, MilliAmps
from portloom.documents.fail_safe import FIRST

WIDTH = 100
INDENT = 2
GAPS = (2, 1)
"""Blanks between two columns: as many as there is room for."""
RULED = Box(str(SIMPLE_HEAD).replace("\u2500", "-"), ascii=True)
BOUND = "\ue000"
"""Stands for a blank at which no line is folded, while a text is laid out."""
UNITS = r"(?:[mk]?[AVWm]|mm2|m?s|k?Hz|Ah|AWG|m?ohm|C|g|%|x)(?![\w-])"
FIGURE = re.compile(rf"(?<=\d) (?={UNITS})|(?:(?<=\bline)|(?<=\bout)|(?<=\bin)) (?=\d)")
"""The blank between a number and its unit, and before the number of a line or a port."""
Side = Literal["left", "right"]
TableColumn = tuple[str, Side]


class Page(Protocol):
    """What a sheet is written on."""

    def line(self, text: str, style: str = "") -> None:
        """Write a line; blanks before it are its indent."""

    def heading(self, text: str) -> None:
        """Write a heading."""

    def items(self, texts: Sequence[str], mark: str = "-") -> None:
        """Write a list; '!' marks what must not be overlooked."""

    def table(self, columns: Sequence[TableColumn], rows: Sequence[Sequence[str]]) -> None:
        """Write a table; the first column names each row."""


class TextPage:
    """Writes one sheet on a console, no line wider than it, none with blanks at its end."""

    def __init__(self, console: Console) -> None:
        """Take the console."""
        self._console = console

    def _write(self, thing: RenderableType) -> None:
        with self._console.capture() as captured:
            self._console.print(thing)
        text = "\n".join(line.rstrip() for line in captured.get().replace(BOUND, " ").split("\n"))
        self._console.file.write(text)

    def line(self, text: str, style: str = "") -> None:
        """Write a line, folded where it is too long, under its own indent."""
        indent = len(text) - len(text.lstrip())
        self._write(Padding(Text(_whole(text.strip()), style=style), (0, 0, 0, indent)))

    def heading(self, text: str) -> None:
        """Write a heading after an empty line."""
        self._write("")
        self.line(text, "bold")

    def items(self, texts: Sequence[str], mark: str = "-") -> None:
        """Write a list, each entry with its mark and folded under itself."""
        grid = Table.grid(padding=(0, 1, 0, 0))
        grid.add_column(no_wrap=True)
        grid.add_column(overflow="fold")
        for text in texts:
            grid.add_row(Text(f"  {mark}"), Text(_whole(text)))
        self._write(grid)

    def table(self, columns: Sequence[TableColumn], rows: Sequence[Sequence[str]]) -> None:
        """Write a table, words folded under each other; where it is too wide all the same, a line a row."""
        bound = [[_whole(cell) for cell in row] for row in rows]
        for gap in GAPS:
            room = self._console.width - INDENT - gap * (len(columns) - 1)
            widths = column_widths(columns, bound, room)
            if widths is not None:
                self._write(Padding(_ruled(columns, bound, widths, gap), (0, 0, 0, INDENT)))
                return
        self.items([_in_words(columns, row) for row in rows])


def _whole(text: str) -> str:
    """Show what can't be seen, and keep figures and their units on one line."""
    return FIGURE.sub(BOUND, shown(text))


def _ruled(columns: Sequence[TableColumn], rows: Sequence[Sequence[str]], widths: Sequence[int], gap: int) -> Table:
    table = Table(box=RULED, padding=(0, gap - 1, 0, 0), show_edge=False, pad_edge=False)
    for (title, side), width in zip(columns, widths, strict=True):
        table.add_column(Text(title), justify=side, width=width)
    for row in rows:
        table.add_row(*(Text(cell) for cell in row))
    return table


def column_widths(columns: Sequence[TableColumn], rows: Sequence[Sequence[str]], room: int) -> list[int] | None:
    """Return each column's width, ``room`` in all: figures stay whole, texts fold between words; else None.

    A cell may have several lines.
    """
    cells = list(zip(*([title for title, _ in columns], *rows), strict=True))
    widths = [_widest(column) for column in cells]
    least = [_widest(_words(column)) if columns[at][1] == "left" else widths[at] for at, column in enumerate(cells)]
    while sum(widths) > room:
        loose = [at for at, width in enumerate(widths) if width > least[at]]
        if not loose:
            return None
        widths[max(loose, key=lambda at: widths[at])] -= 1
    return widths


def _widest(texts: Iterable[str]) -> int:
    return max((cell_len(line) for text in texts for line in text.split("\n")), default=0)


def _words(texts: Iterable[str]) -> list[str]:
    """Return what folds nowhere: a figure with its unit is one word."""
    return [word for text in texts for word in re.split(r"[ \n]+", text)]


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
