"""Markdown tables, as the GitHub Flavored Markdown spec 0.29 has them, section 4.10 'Tables (extension)'."""

import re
from collections.abc import Iterator, Sequence

from solver.posts.cells import Cell, Row, Table, cell_of

DELIMITER = re.compile(r" {0,3}\|?[ \t]*:?-+:?[ \t]*(\|[ \t]*:?-+:?[ \t]*)*\|?[ \t]*")
ANOTHER_BLOCK = re.compile(
    r" {0,3}(>|#{1,6}([ \t]|$)|```|~~~|[-+*][ \t]|[0-9]{1,9}[.)][ \t]|((\*[ \t]*){3,}|(-[ \t]*){3,}|(_[ \t]*){3,})$)"
)
"""What ends a table without a blank line: a quote, a heading, code, a list, a thematic break."""
PIPE = re.compile(r"(?<!\\)\|")
CODE_INDENT = 4


def markdown_tables(lines: Sequence[str]) -> Iterator[Table]:
    """Return every table of a text, as lines without their ends."""
    number = 0
    while number + 1 < len(lines):
        table = _table_at(lines, number)
        if table is None:
            number += 1
        else:
            yield table
            number = table.end - 1


def _table_at(lines: Sequence[str], number: int) -> Table | None:
    """Return the table whose header is line ``number``, from 0: a delimiter row with as many cells follows it."""
    header, delimiter = lines[number], lines[number + 1]
    if "|" not in header + delimiter or _ends(header) or not DELIMITER.fullmatch(delimiter):
        return None
    head = _row(header, number + 1)
    if len(head) != len(_row(delimiter, number + 2)):
        return None
    end = number + 2
    while end < len(lines) and not _ends(lines[end]):
        end += 1
    rows = tuple(_filled(_row(lines[at], at + 1), len(head)) for at in range(number + 2, end))
    return Table(head, rows, end + 1)


def _ends(line: str) -> bool:
    indented = len(line.expandtabs(CODE_INDENT)) - len(line.expandtabs(CODE_INDENT).lstrip()) >= CODE_INDENT
    return not line.strip() or indented or ANOTHER_BLOCK.match(line) is not None


def _row(line: str, number: int) -> Row:
    """Split a line at its pipes; those at its edges may be left out, and one after a backslash is text."""
    start, stop = len(line) - len(line.lstrip()), len(line.rstrip())
    bars = [found.start() for found in PIPE.finditer(line, start, stop)]
    if bars and bars[0] == start:
        start, bars = start + 1, bars[1:]
    if bars and bars[-1] == stop - 1:
        stop, bars = stop - 1, bars[:-1]
    begins, ends = [start, *(bar + 1 for bar in bars)], [*bars, stop]
    cells = (cell_of(line[begin:end], number, begin + 1) for begin, end in zip(begins, ends, strict=True))
    return tuple(Cell(cell.text.replace(r"\|", "|"), cell.line, cell.column) for cell in cells)


def _filled(row: Row, width: int) -> Row:
    """Add empty cells to a row that has too few; those that it has too many are left out."""
    last = row[-1]
    empty = Cell("", last.line, last.column + len(last.text))
    return (*row[:width], *(empty for _ in range(width - len(row))))
