"""Several names in one cell: 'dipped beam, horn and dash'."""

import re
from collections.abc import Iterator

from solver.posts.cells import Cell, cell_of

BETWEEN = re.compile(r"(?<!\d),|,(?!\d)|[;+&\n]|\s/\s|\b[Aa][Nn][Dd]\b")
"""What parts two names; a comma between two digits is a decimal one."""
NOTHING = frozenset({"", "-", "--", "–", "free", "spare", "empty", "unused", "none", "nothing", "not used", "n/a"})
"""How people write that nothing is on a port."""


def listed_things(cell: Cell) -> tuple[Cell, ...]:
    """Return the names in a cell, each with where it stands; none where it says that nothing is there."""
    return tuple(thing for thing in _parts(cell) if thing.text.casefold() not in NOTHING)


def _parts(cell: Cell) -> Iterator[Cell]:
    begin = 0
    for found in BETWEEN.finditer(cell.text):
        yield cell_of(cell.text[begin : found.start()], cell.line, cell.column + begin)
        begin = found.end()
    yield cell_of(cell.text[begin:], cell.line, cell.column + begin)
