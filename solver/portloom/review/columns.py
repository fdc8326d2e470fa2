"""What the columns of a table mean: by their heads, or else by what stands in their cells."""

import re
from collections.abc import Callable, Container, Iterator, Sequence
from dataclasses import replace

from portloom.base.values import dataclass
from portloom.inputs.problems import Flaw
from portloom.review.feed_lines import fuse_within, is_about_main_fuse, kept_off_within, lacks_fuse
from portloom.review.figures import BARE, current_said, size_said
from portloom.review.more_columns import NOTES, THINGS, heads, is_name, others_of, with_notes
from portloom.review.names import KnownNames, words_of
from portloom.review.ports import Side, is_port
from portloom.review.post import NOTHING, Post, PostedLine, Table, TextCell, TextRow, listed_things

PORTS = frozenset({"port", "output", "out", "channel", "ch", "pin", "input", "in"})
TRIPS = frozenset({"trip", "fuse", "breaker", "setting", "set"})
SIZES = frozenset({"size", "wire", "gauge", "awg", "cable", "section"})
COUNTS = frozenset({"qty", "quantity", "count", "pcs", "pieces"})
DRAWN = {"current": "A", "amp": "A", "ampere": "A", "draw": "A", "draws": "A", "drawn": "A", "steady": "A",
         "power": "W", "watt": "W", "lamp": "", "bulb": ""}  # fmt: skip
"""Words in the head of a column that says what a load draws, and the unit that a bare number below it has."""
FIGURES = TRIPS | SIZES | COUNTS | DRAWN.keys()
"""Heads of columns that are never of ports, however their numbers look."""
UNITS = (("mm", "mm2"), ("mm2", "mm2"), ("mm²", "mm2"), ("awg", "AWG"))
"""Words in the head of a column of sizes, and the unit that a bare number below it has."""
RIGHT = "give one column the heading 'port' and one 'load'"
MOST = 0.6
"""Share of a column's cells from which it is what they are."""


@dataclass(frozen=True)
class Columns:
    """Which column is what."""

    port: int
    thing: int
    side: Side | None = None


def columns_of(table: Table, ports: KnownNames) -> Columns | None:
    """Return which column is of ports and which of names, by their heads, else by their cells; None for neither."""
    port = _column(table.header, PORTS)
    thing = None if port is None else _column(table.header, THINGS, (port,))
    if port is None or thing is None:
        figures = tuple(n for n, cell in enumerate(table.header) if heads(cell, FIGURES))
        port = _by_cells(table, lambda text: is_port(text, ports), figures)
    if port is None:
        return None
    if thing is None or thing == port:
        thing = _column(table.header, THINGS, (port,))
    if thing is None:
        thing = _by_cells(table, is_name, (port,))
    return None if thing is None else Columns(port, thing, _side(table.header[port]))


def side_by_side(table: Table, ports: KnownNames) -> tuple[Table, ...]:
    """Return the tables that stand beside each other in one: each with ports and names of its own."""
    width = len(table.header)
    starts = [n for n in range(width) if _is_of_ports(table, n, ports)]
    if starts and starts[0] > 0:  # the port stands behind what is on it
        behind = [
            next((n for n in range(at + 1, width) if not heads(table.header[n], FIGURES)), width) for at in starts
        ]
        starts = [0, *(n for n in behind if n < width)]
    if len(starts) < 2 or starts[0] > 0:
        return (table,)
    ends = [*starts[1:], width]
    parts = tuple(_part(table, start, end) for start, end in zip(starts, ends, strict=True))
    return parts if all(_has_names(part, ports) for part in parts) else (table,)


def _is_of_ports(table: Table, number: int, ports: KnownNames) -> bool:
    head = table.header[number]
    figures = heads(head, FIGURES) and not heads(head, PORTS)
    return not figures and _mostly(table.rows, number, lambda text: is_port(text, ports))


def _part(table: Table, start: int, end: int) -> Table:
    rows = (row[start:end] for row in table.rows)
    return Table(table.header[start:end], tuple(row for row in rows if any(cell.text for cell in row)), table.end)


def _has_names(table: Table, ports: KnownNames) -> bool:
    """Tell whether a part of a table names what is on its ports; notes beside figures name nothing."""
    found = columns_of(table, ports)
    return found is not None and not heads(table.header[found.thing], NOTES)


def is_headless(table: Table, ports: KnownNames) -> bool:
    """Tell whether the first row is already one of ports and names."""
    return columns_of(_headed(table), ports) is not None


def _headed(table: Table) -> Table:
    """Return a table whose first row is no header, with an empty one."""
    empty = tuple(TextCell("", cell.line, cell.column) for cell in table.header)
    return Table(empty, (table.header, *table.rows), table.end)


def _side(head: TextCell) -> Side | None:
    words = {word.removesuffix("s") for word in words_of(head.text)}
    return "inputs" if words & {"in", "input"} else "outputs" if words & {"out", "output"} else None


def _by_cells(table: Table, wanted: Callable[[str], bool], but: tuple[int, ...]) -> int | None:
    found = (n for n in range(len(table.header)) if n not in but and _mostly(table.rows, n, wanted))
    return next(found, None)


def _mostly(rows: Sequence[TextRow], number: int, wanted: Callable[[str], bool]) -> bool:
    cells = [row[number].text for row in rows if row[number].text.casefold() not in NOTHING]
    return bool(cells) and sum(map(wanted, cells)) >= MOST * len(cells)


def tabular_post(table: Table, ports: KnownNames) -> Post:
    """Read a row a port; a port left empty is that of the row above."""
    if any(is_port(cell.text, ports) for cell in table.header) and is_headless(table, ports):
        table = _headed(table)
    found = columns_of(table, ports)
    if found is None and is_headless(table, ports):
        table = _headed(table)
        found = columns_of(table, ports)
    if found is None:
        missing = "loads" if _by_cells(table, lambda text: is_port(text, ports), ()) is not None else "ports"
        first = table.header[0]
        return Post((), flaws=(Flaw(first.line, first.column, f"this table has no column of {missing}", RIGHT),))
    return _rows(table, found, ports)


def _rows(table: Table, found: Columns, ports: KnownNames) -> Post:
    beside = _Beside(table, found)
    post, port = Post((), flaws=tuple(beside.unclear(table.header))), None
    for row in table.rows:
        post = beside.noted(row, post)
        other = _of_feed(row, row[found.port], ports, post)
        if other is not None:
            post = other
            continue
        port = row[found.port] if row[found.port].text else port
        if port is not None:
            post = replace(post, said=(*post.said, beside.said(port, listed_things(row[found.thing]), row)))
    return post


def _of_feed(row: TextRow, port: TextCell, ports: KnownNames, post: Post) -> Post | None:
    """Return a post with what a row says of the main fuse, or of what belongs on no port; None where it does not."""
    if is_port(port.text, ports) or not port.text:
        return None
    line = TextCell(" ".join(cell.text for cell in row), port.line, port.column)
    if is_about_main_fuse(line.text):
        fuse = fuse_within(line)
        if lacks_fuse(line.text):
            return replace(post, no_fuse=line) if fuse is None else None
        return None if fuse is None else replace(post, main_fuse=fuse)
    what = kept_off_within(line.text)
    return None if what is None else replace(post, kept_off=(*post.kept_off, what) if what else post.kept_off)


class _Beside:
    """The columns beside ports and loads: trips, wire sizes, counts, and what a load draws."""

    def __init__(self, table: Table, found: Columns) -> None:
        header, taken = table.header, (found.port, found.thing)
        self._side = found.side
        self._count = _column(header, COUNTS, taken)
        self._trip = _column(header, TRIPS, taken)
        self._size = _column(header, SIZES, taken)
        if self._size is None:
            self._size = _by_cells(table, lambda text: size_said(text) is not None, (*taken, *self._numbers()))
        settled = (*taken, *self._numbers())
        drawn = (n for n, cell in enumerate(header) if n not in settled and heads(cell, DRAWN))
        self._drawn = {n: _unit(header[n]) for n in drawn if not any(is_name(row[n].text) for row in table.rows)}
        self._amperes = _by_cells(table, lambda text: current_said(text) is not None, (*settled, *self._drawn))
        words = words_of(header[self._size].text) if self._size is not None else ()
        self._unit = next((unit for word, unit in UNITS if word in words), "")
        amperes = () if self._amperes is None else (self._amperes,)
        self._others = others_of(table, (*settled, *self._drawn, *amperes))

    def _numbers(self) -> tuple[int, ...]:
        return tuple(n for n in (self._trip, self._size, self._count) if n is not None)

    def unclear(self, header: TextRow) -> Iterator[Flaw]:
        """Tell of a column of amperes whose head does not say whether they are trips or currents."""
        if self._amperes is not None:
            head = header[self._amperes]
            what = f"the column '{head.text}' has amperes, and does not say whether each is a trip or what is drawn"
            yield Flaw(head.line, head.column, what, "give it the heading 'trip' or 'current'")
        yield from self._others.unclear(header)

    def noted(self, row: TextRow, post: Post) -> Post:
        """Return a post with what the notes of a row say."""
        return with_notes([row[n] for n in self._others.notes], post)

    def said(self, port: TextCell, things: tuple[TextCell, ...], row: TextRow) -> PostedLine:
        """Return what a row says; what is drawn belongs to a load only where it is the only one of its row."""
        things = (*things, *(thing for n in self._others.things for thing in listed_things(row[n])))
        figures = tuple(_drawn(row[n], unit) for n, unit in self._drawn.items() if len(things) == 1 and row[n].text)
        if self._count is not None and re.fullmatch(r"\d{1,2}", row[self._count].text):
            figures = (*figures, replace(row[self._count], text=f"x{row[self._count].text}"))
        return PostedLine(port, things, self._filled(row, self._trip), self._sized(row), figures, side=self._side)

    def _sized(self, row: TextRow) -> TextCell | None:
        size = self._filled(row, self._size)
        return size if size is None or not BARE.fullmatch(size.text) else with_unit(size, self._unit)

    @staticmethod
    def _filled(row: TextRow, number: int | None) -> TextCell | None:
        return None if number is None or row[number].text.casefold() in NOTHING else row[number]


def _unit(head: TextCell) -> str:
    return next(unit for word, unit in DRAWN.items() if heads(head, {word}))


def _drawn(cell: TextCell, unit: str) -> TextCell:
    return with_unit(cell, unit) if BARE.fullmatch(cell.text) else cell


def with_unit(cell: TextCell, unit: str) -> TextCell:
    """Return a bare number with its unit."""
    return TextCell(f"{cell.text} {unit}".strip(), cell.line, cell.column)


def _column(header: TextRow, wanted: Container[str], but: tuple[int, ...] = ()) -> int | None:
    return next((n for n, cell in enumerate(header) if n not in but and heads(cell, wanted)), None)
