"""Comma-separated values after RFC 4180 (2005), also with semicolons or tabs as spreadsheets write them."""

import csv
from collections.abc import Iterator, Sequence

from solver.posts.cells import Cell, Row, Table

SEPARATORS = (",", ";", "\t")


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


def _records(text: str, separator: str) -> Iterator[Row]:
    reader = csv.reader(text.splitlines(keepends=True), delimiter=separator, strict=True)
    first = 1
    try:
        for record in reader:
            if any(value.strip() for value in record):
                yield tuple(Cell(value.strip(), first, 1) for value in record)
            first = reader.line_num + 1
    except csv.Error as error:
        raise NotSeparated(first, str(error)) from error


def _as_wide(row: Sequence[Cell], width: int) -> Row:
    missing = (Cell("", row[-1].line, 1) for _ in range(width - len(row)))
    return (*row[:width], *missing)
