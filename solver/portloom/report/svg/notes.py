"""Notes beside a point of the frame, folded, each in a frame of its own; and in columns, page after page."""

from collections.abc import Iterator, Sequence

from portloom.base.values import dataclass
from portloom.report.svg.lettering import HEAD, PLAIN, folded, line, line_height, width
from portloom.report.svg.marks import MARK_ROOM, Mark, mark
from portloom.report.svg.paging import WIDE
from portloom.report.svg.shapes import Box
from portloom.report.svg.svg import Element, Value, element, group

WIDEST = 178.0
"""Room for a line of a note."""
EDGE = 5.0


@dataclass(frozen=True)
class Note:
    """A line about one thing: its mark, its words, what a page knows it by."""

    mark: Mark
    text: str
    known_by: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Notes:
    """What stands beside a point."""

    heading: str
    notes: tuple[Note, ...]
    head: tuple[str, ...]
    """The heading, folded."""
    lines: tuple[tuple[str, ...], ...]
    """Each note, folded."""

    @property
    def name_only(self) -> bool:
        """Tell whether it is a heading and no more."""
        return not self.notes

    @property
    def name_alone(self) -> "Notes":
        """The heading without the notes."""
        return Notes(self.heading, (), self.head, ())

    def parted(self, most: float) -> Iterator["Notes"]:
        """Return it in parts none higher than ``most``, where that can be, each with the heading."""
        room = int((most - self.name_alone.high - 2 * EDGE) // line_height())
        first = used = 0
        for number, lines in enumerate(self.lines):
            if used and used + len(lines) > room:
                yield Notes(self.heading, self.notes[first:number], self.head, self.lines[first:number])
                first, used = number, 0
            used += len(lines)
        yield Notes(self.heading, self.notes[first:], self.head, self.lines[first:])

    @property
    def wide(self) -> float:
        """The width of the frame round them."""
        heads = [width(text, HEAD) for text in self.head]
        lines = [MARK_ROOM + width(text) for note in self.lines for text in note]
        return max([*heads, *lines]) + 2 * EDGE

    @property
    def high(self) -> float:
        """The height of the frame round them."""
        return (
            len(self.head) * line_height(HEAD)
            + sum(map(len, self.lines)) * line_height()
            + (2 * EDGE if self.notes else 0)
        )


def notes_of(heading: str, notes: Sequence[Note]) -> Notes:
    """Fold a heading and the notes under it."""
    lines = tuple(folded(note.text, WIDEST - MARK_ROOM) for note in notes)
    return Notes(heading, tuple(notes), folded(heading, WIDEST, HEAD), lines)


def drawn_notes(notes: Notes, box: Box) -> Iterator[Element]:
    """Draw notes in the box that was found for them."""
    framed = {} if notes.name_only else {"stroke": "#555"}
    yield element(
        "rect",
        x=box.left,
        y=box.top,
        width=box.right - box.left,
        height=box.bottom - box.top,
        rx=4,
        class_="paper line",
        fill="#fff",
        **framed,
    )
    y = box.top + (0 if notes.name_only else EDGE)
    for text in notes.head:
        y += line_height(HEAD)
        if notes.name_only:
            yield line(box.middle[0], y - 0.25 * line_height(HEAD), text, HEAD, "middle")
        else:
            yield line(box.left + EDGE, y - 0.25 * line_height(HEAD), text, HEAD)
    for note, lines in zip(notes.notes, notes.lines, strict=True):
        attributes: dict[str, Value] = {f"data_{name}": value for name, value in note.known_by}
        yield group(_note(note, lines, box.left + EDGE, y), class_="note", **attributes)
        y += len(lines) * line_height()


def _note(note: Note, lines: Sequence[str], x: float, y: float) -> Iterator[Element]:
    yield from mark(note.mark, x + 6, y + 0.5 * line_height())
    for number, text in enumerate(lines, 1):
        yield line(x + MARK_ROOM, y + (number - 0.25) * line_height(), text, PLAIN)


COLUMNS = 3
GAP = 10.0
SIDE = 16.0
TOP = 48.0
"""Where notes begin on pages that hold nothing else."""


@dataclass(frozen=True)
class FlowedNotes:
    """The notes of a page, each with its box, and where they end."""

    placed: tuple[tuple[Notes, Box], ...]
    bottom: float


def flow_notes(notes: Sequence[Notes], top: float, bottom: float) -> tuple[FlowedNotes, ...]:
    """Put notes in columns between ``top`` and ``bottom``, what is left on more pages; at least one page.

    Notes that are higher than a page are parted; a single one that is has a page as high as it needs.
    """
    left = [part for one in notes for part in one.parted(bottom - TOP - GAP)]
    pages: list[FlowedNotes] = []
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
        pages.append(FlowedNotes(tuple(placed), max([top, *(box.bottom + GAP for _, box in placed)])))
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
