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


def cell_of(text: str, line: int, column: int) -> Cell:
    """Give a cell without the blanks round its text."""
    inside = text.strip()
    return Cell(inside, line, column + (len(text) - len(text.lstrip()) if inside else 0))
