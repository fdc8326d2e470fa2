"""A post: what it says is on which port, and the cells and names that it is written in."""

import re
from collections.abc import Iterator
from typing import Literal

from portloom.base.values import dataclass
from portloom.inputs.problems import Flaw


@dataclass(frozen=True)
class TextCell:
    """A piece of text and where it begins; line and column count from 1."""

    text: str
    line: int
    column: int


TextRow = tuple[TextCell, ...]


@dataclass(frozen=True)
class Table:
    """A header and rows with as many cells each."""

    header: TextRow
    rows: tuple[TextRow, ...]
    end: int
    """The line after the last row."""


def cell_of(text: str, line: int, column: int) -> TextCell:
    """Return a cell without the blanks round its text."""
    inside = text.strip()
    return TextCell(inside, line, column + (len(text) - len(text.lstrip()) if inside else 0))


BETWEEN = re.compile(r"(?<!\d),|,(?!\d)|[;+&\n]|\s/\s|\b[Aa][Nn][Dd]\b")
"""What parts two names; a comma between two digits is a decimal one."""
NOTHING = frozenset({
    "", "-", "--", "---", "–", "—", "free", "spare", "empty", "unused", "none", "nothing", "not used", "n/a",
    "na", "n/c", "nc", "not connected", "no connection", "not in use", "blank", "vacant", "available", "tbd",
    "tba", "to be decided", "reserved", "spare port", "spare output", "spare input",
})  # fmt: skip
"""How people write that nothing is on a port."""


PLACES = re.compile(r"(?:left|right|l|r|lh|rh|front|rear|side|both|sides|\s)+", re.IGNORECASE)
"""Words that say only which one: 'left and right blinkers' is one name."""
OF_ONE_BEFORE = re.compile(
    r"\s*(?:at\s+)?\d[\d.,]*\s?(?:(?:m?A|amps?|amperes?|W|watts?)\s+(?:each|apiece|per side|in all|in total|total|"
    r"together)|pcs|pieces)\s*",
    re.IGNORECASE,
)
"""Figures that belong to the name before them: 'two pumps, 5 A each'."""
ARTICLES = re.compile(r"(?:(?:the|my|our|a|an|some)\s+)+(?=\S)", re.IGNORECASE)


def listed_things(cell: TextCell) -> tuple[TextCell, ...]:
    """Return the names in a cell, each with where it stands; none where it says that nothing is there."""
    return tuple(thing for thing in _parts(cell) if thing.text.casefold().strip(" .!()[]*_") not in NOTHING)


def _parts(cell: TextCell) -> Iterator[TextCell]:
    for begin, end in _spans(cell.text):
        text = cell.text[begin:end]
        article = ARTICLES.match(text.lstrip())
        first = begin + (len(text) - len(text.lstrip()) + len(article[0]) if article else 0)
        yield cell_of(cell.text[first:end], cell.line, cell.column + first)


def _spans(text: str) -> list[tuple[int, int]]:
    """Return where each name stands; what says only which one belongs to the name beside it."""
    cuts = [(found.start(), found.end()) for found in BETWEEN.finditer(text)]
    begins, ends = [0, *(end for _, end in cuts)], [*(begin for begin, _ in cuts), len(text)]
    spans: list[tuple[int, int]] = []
    waiting: int | None = None
    for begin, end in zip(begins, ends, strict=True):
        which = PLACES.fullmatch(text[begin:end]) is not None and text[begin:end].strip()
        of_it = OF_ONE_BEFORE.fullmatch(text[begin:end])
        if (which or of_it) and spans and waiting is None:
            spans[-1] = (spans[-1][0], end)
        elif which:
            waiting = begin if waiting is None else waiting
        else:
            spans.append((begin if waiting is None else waiting, end))
            waiting = None
    return spans if waiting is None else [*spans, (waiting, len(text))]


@dataclass(frozen=True)
class PostedLine:
    """A port, and what is said to be on it."""

    port: TextCell
    things: tuple[TextCell, ...]
    trip: TextCell | None = None
    """What its electronic fuse is said to be set to, where that stands by itself."""
    size: TextCell | None = None
    """What wire is said to be on it, where that stands by itself."""
    figures: tuple[TextCell, ...] = ()
    """What stands beside it of what its one thing draws: a current, a power, a lamp; and how many there are."""
    side: Literal["outputs", "inputs"] | None = None
    """Where the port is, as far as what stands above the line says so."""


@dataclass(frozen=True)
class Post:
    """All that was read; ``flaws`` are the lines that could not be."""

    said: tuple[PostedLine, ...]
    place: TextCell | None = None
    turned: TextCell | None = None
    main_fuse: TextCell | None = None
    flaws: tuple[Flaw, ...] = ()
    stands: tuple[tuple[TextCell, TextCell], ...] = ()
    """Multiplexers, and the frame points where they stand."""
    no_fuse: TextCell | None = None
    """Where it says that there is no main fuse."""
    kept_off: tuple[str, ...] = ()
    """What it has on the unit, on no port, that belongs on none."""
    aside: tuple[TextCell, ...] = ()
    """Lines that say nothing of the plan: greetings, headings."""
