"""Notes in columns, page after page."""

from collections.abc import Sequence
from dataclasses import dataclass

from solver.pictures.notes import Notes
from solver.pictures.shapes import Box
from solver.pictures.sheet import WIDE

COLUMNS = 3
GAP = 10.0
SIDE = 16.0
TOP = 48.0
"""Where notes begin on pages that hold nothing else."""


@dataclass(frozen=True)
class Flowed:
    """The notes of a page, each with its box, and where they end."""

    placed: tuple[tuple[Notes, Box], ...]
    bottom: float


def flowed(notes: Sequence[Notes], top: float, bottom: float) -> tuple[Flowed, ...]:
    """Put notes in columns between ``top`` and ``bottom``, what is left on more pages; at least one page.

    Notes that are higher than a page are parted; a single one that is has a page as high as it needs.
    """
    left = [part for one in notes for part in one.parted(bottom - TOP - GAP)]
    pages: list[Flowed] = []
    while left or not pages:
        columns = [top] * COLUMNS
        placed = []
        for notes_here in list(left):
            spot = _spot(notes_here, columns, bottom)
            if spot is not None:
                placed.append((notes_here, spot))
                left.remove(notes_here)
        if not placed and left and pages:
            placed.append((left[0], _box(left.pop(0), 0, top)))
        pages.append(Flowed(tuple(placed), max([top, *(box.bottom + GAP for _, box in placed)])))
        top = TOP
    return tuple(pages)


def _spot(notes: Notes, columns: list[float], bottom: float) -> Box | None:
    """Return the box at the end of the shortest column, where the notes still fit on the page."""
    column = columns.index(min(columns))
    if columns[column] + notes.high + GAP > bottom:
        return None
    box = _box(notes, column, columns[column])
    columns[column] = box.bottom + GAP
    return box


def _box(notes: Notes, column: int, top: float) -> Box:
    left = SIDE + column * (WIDE - 2 * SIDE + GAP) / COLUMNS
    return Box(left, top, left + (WIDE - 2 * SIDE + GAP) / COLUMNS - GAP, top + notes.high)
