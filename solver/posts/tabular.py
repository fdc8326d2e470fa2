"""A table with a column of ports and one of what is on them."""

from collections.abc import Container

from solver.posts.cells import Cell, Row, Table
from solver.posts.figures import BARE
from solver.posts.lists import NOTHING, listed_things
from solver.posts.names import words_of
from solver.posts.post import Post, Said
from solver.reading.problems import Flaw

PORTS = frozenset({"port", "output", "out", "channel", "pin"})
THINGS = frozenset({"load", "consumer", "device", "circuit", "what", "switch", "function", "name"})
TRIPS = frozenset({"trip", "fuse", "breaker", "setting", "set"})
SIZES = frozenset({"size", "wire", "gauge", "awg", "cable", "section"})
DRAWN = {"current": "A", "amp": "A", "ampere": "A", "draw": "A", "steady": "A", "power": "W", "watt": "W", "lamp": "",
         "bulb": ""}  # fmt: skip
"""Words in the head of a column that says what a load draws, and the unit that a bare number below it has."""
UNITS = (("mm", "mm2"), ("mm2", "mm2"), ("mm²", "mm2"), ("awg", "AWG"))
"""Words in the head of a column of sizes, and the unit that a bare number below it has."""
RIGHT = "head one column 'port' and one 'load'"


def columns(header: Row) -> tuple[int, int] | None:
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
    said: list[Said] = []
    port: Cell | None = None
    for row in table.rows:
        port = row[found[0]] if row[found[0]].text else port
        if port is not None:
            said.append(beside.said(port, listed_things(row[found[1]]), row))
    return Post(tuple(said))


class _Beside:
    """The columns beside ports and loads: trips, wire sizes, and what a load draws."""

    def __init__(self, header: Row, taken: tuple[int, int]) -> None:
        self._trip = _column(header, TRIPS, taken)
        self._size = _column(header, SIZES, taken)
        settled = (*taken, self._trip, self._size)
        self._drawn = {n: _unit(cell) for n, cell in enumerate(header) if n not in settled and _heads(cell, DRAWN)}
        words = words_of(header[self._size].text) if self._size is not None else ()
        self._unit = next((unit for word, unit in UNITS if word in words), "")

    def said(self, port: Cell, things: tuple[Cell, ...], row: Row) -> Said:
        """Return what a row says; what is drawn belongs to a load only where it is the only one of its row."""
        figures = tuple(_drawn(row[n], unit) for n, unit in self._drawn.items() if len(things) == 1 and row[n].text)
        return Said(port, things, self._filled(row, self._trip), self._sized(row), figures)

    def _sized(self, row: Row) -> Cell | None:
        size = self._filled(row, self._size)
        return size if size is None or not BARE.fullmatch(size.text) else with_unit(size, self._unit)

    @staticmethod
    def _filled(row: Row, number: int | None) -> Cell | None:
        return None if number is None or row[number].text.casefold() in NOTHING else row[number]


def _unit(head: Cell) -> str:
    return next(unit for word, unit in DRAWN.items() if _heads(head, {word}))


def _drawn(cell: Cell, unit: str) -> Cell:
    return with_unit(cell, unit) if BARE.fullmatch(cell.text) else cell


def with_unit(cell: Cell, unit: str) -> Cell:
    """Return a bare number with its unit."""
    return Cell(f"{cell.text} {unit}".strip(), cell.line, cell.column)


def _column(header: Row, heads: Container[str], but: tuple[int, ...] = ()) -> int | None:
    return next((n for n, cell in enumerate(header) if n not in but and _heads(cell, heads)), None)


def _heads(cell: Cell, heads: Container[str]) -> bool:
    words = {word.removesuffix("s") for word in words_of(cell.text)} | set(words_of(cell.text))
    return any(word in heads for word in words)
