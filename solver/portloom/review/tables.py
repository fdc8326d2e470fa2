"""Tables in a post: Markdown, comma-separated values, and what their columns mean."""

import csv
import re
from collections.abc import Container, Iterator, Sequence

from portloom.inputs.problems import Flaw
from portloom.review.figures import BARE
from portloom.review.matching import words_of
from portloom.review.post import NOTHING, Post, PostedLine, Table, TextCell, TextRow, cell_of, listed_things

PORTS = frozenset({"port", "output", "out", "channel", "pin"})
THINGS = frozenset({"load", "consumer", "device", "circuit", "what", "switch", "function", "name"})
TRIPS = frozenset({"trip", "fuse", "breaker", "setting", "set"})
SIZES = frozenset({"size", "wire", "gauge", "awg", "cable", "section"})
DRAWN = {"current": "A", "amp": "A", "ampere": "A", "draw": "A", "steady": "A", "power": "W", "watt": "W", "lamp": "",
         "bulb": ""}  # fmt: skip
"""Words in the head of a column that says what a load draws, and the unit that a bare number below it has."""
UNITS = (("mm", "mm2"), ("mm2", "mm2"), ("mm²", "mm2"), ("awg", "AWG"))
"""Words in the head of a column of sizes, and the unit that a bare number below it has."""
RIGHT = "give one column the heading 'port' and one 'load'"


def columns(header: TextRow) -> tuple[int, int] | None:
    """Return the numbers of the column of ports and of that of names; None where one is missing."""
    port = _column(header, PORTS)
    thing = _column(header, THINGS)
    return None if port is None or thing is None else (port, thing)


def tabular_post(table: Table) -> Post:
    """Read a row a port; a port left empty is that of the row above."""
    found = columns(table.header)
    if found is None:
        missing = "ports" if _column(table.header, PORTS) is None else "loads"
        first = table.header[0]
        return Post((), flaws=(Flaw(first.line, first.column, f"this table has no column of {missing}", RIGHT),))
    beside = _Beside(table.header, found)
    said: list[PostedLine] = []
    port: TextCell | None = None
    for row in table.rows:
        port = row[found[0]] if row[found[0]].text else port
        if port is not None:
            said.append(beside.said(port, listed_things(row[found[1]]), row))
    return Post(tuple(said))


class _Beside:
    """The columns beside ports and loads: trips, wire sizes, and what a load draws."""

    def __init__(self, header: TextRow, taken: tuple[int, int]) -> None:
        self._trip = _column(header, TRIPS, taken)
        self._size = _column(header, SIZES, taken)
        settled = (*taken, self._trip, self._size)
        self._drawn = {n: _unit(cell) for n, cell in enumerate(header) if n not in settled and _heads(cell, DRAWN)}
        words = words_of(header[self._size].text) if self._size is not None else ()
        self._unit = next((unit for word, unit in UNITS if word in words), "")

    def said(self, port: TextCell, things: tuple[TextCell, ...], row: TextRow) -> PostedLine:
        """Return what a row says; what is drawn belongs to a load only where it is the only one of its row."""
        figures = tuple(_drawn(row[n], unit) for n, unit in self._drawn.items() if len(things) == 1 and row[n].text)
        return PostedLine(port, things, self._filled(row, self._trip), self._sized(row), figures)

    def _sized(self, row: TextRow) -> TextCell | None:
        size = self._filled(row, self._size)
        return size if size is None or not BARE.fullmatch(size.text) else with_unit(size, self._unit)

    @staticmethod
    def _filled(row: TextRow, number: int | None) -> TextCell | None:
        return None if number is None or row[number].text.casefold() in NOTHING else row[number]


def _unit(head: TextCell) -> str:
    return next(unit for word, unit in DRAWN.items() if _heads(head, {word}))


def _drawn(cell: TextCell, unit: str) -> TextCell:
    return with_unit(cell, unit) if BARE.fullmatch(cell.text) else cell


def with_unit(cell: TextCell, unit: str) -> TextCell:
    """Return a bare number with its unit."""
    return TextCell(f"{cell.text} {unit}".strip(), cell.line, cell.column)


def _column(header: TextRow, heads: Container[str], but: tuple[int, ...] = ()) -> int | None:
    return next((n for n, cell in enumerate(header) if n not in but and _heads(cell, heads)), None)


def _heads(cell: TextCell, heads: Container[str]) -> bool:
    words = {word.removesuffix("s") for word in words_of(cell.text)} | set(words_of(cell.text))
    return any(word in heads for word in words)


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
