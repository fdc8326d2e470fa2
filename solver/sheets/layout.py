"""Plain text to a fixed width: headings, tables and lists. Colour adds nothing that the words do not say."""

from collections.abc import Sequence
from typing import Literal

from rich import box
from rich.console import Console, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

WIDTH = 100
Side = Literal["left", "right"]
Column = tuple[str, Side]


class Page:
    """Writes one sheet on a console, no line wider than it, none with blanks at its end."""

    def __init__(self, console: Console) -> None:
        """Take the console."""
        self._console = console

    def _write(self, thing: RenderableType) -> None:
        with self._console.capture() as captured:
            self._console.print(thing)
        text = "\n".join(line.rstrip() for line in captured.get().split("\n"))
        self._console.file.write(text)

    def line(self, text: str, style: str = "") -> None:
        """Write a line, folded where it is too long, under its own indent."""
        indent = len(text) - len(text.lstrip())
        self._write(Padding(Text(text.strip(), style=style), (0, 0, 0, indent)))

    def heading(self, text: str) -> None:
        """Write a heading after an empty line."""
        self._write("")
        self.line(text, "bold")

    def items(self, texts: Sequence[str], mark: str = "-") -> None:
        """Write a list, each entry with its mark and folded under itself."""
        for text in texts:
            grid = Table.grid(padding=(0, 1, 0, 0))
            grid.add_column(no_wrap=True)
            grid.add_column(overflow="fold")
            grid.add_row(Text(f"  {mark}"), Text(text))
            self._write(grid)

    def table(self, columns: Sequence[Column], rows: Sequence[Sequence[str]]) -> None:
        """Write a table; long words fold inside their column."""
        table = Table(box=box.SIMPLE_HEAD, padding=(0, 1, 0, 0), show_edge=False, pad_edge=False)
        for title, side in columns:
            table.add_column(Text(title), justify=side, overflow="fold", no_wrap=side == "right")
        for row in rows:
            table.add_row(*(Text(cell) for cell in row))
        self._write(Padding(table, (0, 0, 0, 2)))
