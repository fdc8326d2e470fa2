"""A table with a column of ports and one of what is on them."""

from solver.posts.cells import Cell, Row, Table
from solver.posts.lists import listed_things
from solver.posts.names import words_of
from solver.posts.post import Post, Said
from solver.reading.problems import Flaw

PORTS = frozenset({"port", "output", "out", "channel", "pin"})
THINGS = frozenset({"load", "consumer", "device", "circuit", "what", "switch", "function", "name"})
RIGHT = "head one column 'port' and one 'load'"


def columns(header: Row) -> tuple[int, int] | None:
    """Give the numbers of the column of ports and of that of names; None where one is missing."""
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
    said: list[Said] = []
    port: Cell | None = None
    for row in table.rows:
        port = row[found[0]] if row[found[0]].text else port
        if port is not None:
            said.append(Said(port, listed_things(row[found[1]])))
    return Post(tuple(said))


def _column(header: Row, heads: frozenset[str]) -> int | None:
    for number, cell in enumerate(header):
        words = {word.removesuffix("s") for word in words_of(cell.text)} | set(words_of(cell.text))
        if words & heads:
            return number
    return None
