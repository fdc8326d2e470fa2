"""What every way to write a plan comes down to: cells of text with where they stand, in rows under a header."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Cell:
    """A piece of text and where it begins; line and column count from 1."""

    text: str
    line: int
    column: int


Row = tuple[Cell, ...]


@dataclass(frozen=True)
class Table:
    """A header and rows with as many cells each."""

    header: Row
    rows: tuple[Row, ...]
    end: int
    """The line after the last row."""


LONGEST = 60
"""Letters of a text that are told back; more help nobody."""


def told_back(text: str) -> str:
    """Return a text as a problem tells it: in one line, and cut where it is long."""
    line = " ".join(text.split())
    return line if len(line) <= LONGEST else f"{line[: LONGEST - 3]}..."


def cell_of(text: str, line: int, column: int) -> Cell:
    """Return a cell without the blanks round its text."""
    inside = text.strip()
    return Cell(inside, line, column + (len(text) - len(text.lstrip()) if inside else 0))
