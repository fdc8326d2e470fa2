"""Tables in a post: Markdown and comma-separated values."""

import csv
import re
from collections.abc import Iterator, Sequence

from portloom.review.post import Table, TextCell, TextRow, cell_of

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


def _row(line: str, number: int) -> TextRow:
    """Split a line at its pipes; those at its edges may be left out, and one after a backslash is text."""
    start, stop = len(line) - len(line.lstrip()), len(line.rstrip())
    bars = [found.start() for found in PIPE.finditer(line, start, stop)]
    if bars and bars[0] == start:
        start, bars = start + 1, bars[1:]
    if bars and bars[-1] == stop - 1:
        stop, bars = stop - 1, bars[:-1]
    begins, ends = [start, *(bar + 1 for bar in bars)], [*bars, stop]
    cells = (cell_of(line[begin:end], number, begin + 1) for begin, end in zip(begins, ends, strict=True))
    return tuple(TextCell(cell.text.replace(r"\|", "|"), cell.line, cell.column) for cell in cells)


def _filled(row: TextRow, width: int) -> TextRow:
    """Add empty cells to a row that has too few; those that it has too many are left out."""
    last = row[-1]
    empty = TextCell("", last.line, last.column + len(last.text))
    return (*row[:width], *(empty for _ in range(width - len(row))))


SEPARATORS = (",", ";", "\t", "|")


class NotSeparated(ValueError):
    """A quote that is not closed, or text after one; ``line`` counts from 1."""

    def __init__(self, line: int, what: str) -> None:
        """Take where the record ends that can't be read, and why."""
        super().__init__(what)
        self.line = line


def separated_table(text: str, separator: str) -> Table | None:
    """Return the records of a text, the first as header; None where there is none. Raise NotSeparated.

    A record is as wide as the header: empty cells are added, empty ones beyond it are left out.
    """
    records = list(_records(text, separator))
    if not records:
        return None
    header, *rows = records
    return Table(header, tuple(_as_wide(row, len(header)) for row in rows), text.count("\n") + 2)


def _records(text: str, separator: str) -> Iterator[TextRow]:
    reader = csv.reader(text.splitlines(keepends=True), delimiter=separator, strict=True)
    first = 1
    try:
        for record in reader:
            if any(value.strip() for value in record):
                yield tuple(TextCell(value.strip(), first, 1) for value in record)
            first = reader.line_num + 1
    except csv.Error as error:
        raise NotSeparated(first, str(error)) from error


def _as_wide(row: Sequence[TextCell], width: int) -> TextRow:
    missing = (TextCell("", row[-1].line, 1) for _ in range(width - len(row)))
    return (*row[:width], *missing)
