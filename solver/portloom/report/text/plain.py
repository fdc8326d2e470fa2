"""Plain lines for screen readers and other programs: no tables, no folding, one fact a line after its label."""

import re
from collections.abc import Callable, Sequence
from typing import TextIO

from portloom.base.letters import shown
from portloom.report.text.layout import Attributes, TableColumn

MARKS = {"!": "Mind: "}
"""What stands before an entry of a list with that mark."""
END = re.compile(r"(?<=[a-z0-9)'%]\.) (?=[A-Z])")
"""Between two sentences."""
NOTHING = ("", "-")


class PlainPage:
    """Writes one sheet as lines."""

    def __init__(self, file: TextIO) -> None:
        """Take where it is written."""
        self._file = file

    def line(self, text: str, style: Attributes = "") -> None:  # noqa: ARG002 - nothing is styled
        """Write a line for each sentence; what is empty stays an empty line."""
        for sentence in END.split(" ".join(text.split())):
            self._file.write(f"{shown(sentence)}\n")

    def heading(self, text: str) -> None:
        """Write a heading after an empty line."""
        self._file.write(f"\n{shown(text)}\n")

    def items(self, texts: Sequence[str], mark: str = "-") -> None:
        """Write a line for each entry; what must not be overlooked says so."""
        for text in texts:
            self._file.write(f"{MARKS.get(mark, '')}{shown(' '.join(text.split()))}\n")

    def brief(self, texts: Sequence[str], mark: str = "-") -> None:
        """Write a list; nothing is cut."""
        self.items(texts, mark)

    def fits(self, write: Callable[["PlainPage"], None], lines: int) -> bool:  # noqa: ARG002 - no lines are counted
        """Tell that everything fits: who listens has no screen."""
        return True

    def table(self, columns: Sequence[TableColumn], rows: Sequence[Sequence[str]]) -> None:
        """Write each cell that says something as a line with its title, an empty line between two rows."""
        for number, row in enumerate(rows):
            if number:
                self._file.write("\n")
            for (title, _), cell in zip(columns, row, strict=True):
                said = " ".join(cell.split())
                if said not in NOTHING:
                    self._file.write(f"{shown(f'{title}: {said}' if title != said else said)}\n")
