"""Columns of a table besides those of ports, figures and the first of names: more names, notes, what is not read."""

import re
from collections.abc import Container, Iterator, Sequence
from dataclasses import replace

from portloom.base.letters import quoted
from portloom.base.parts.words import words_within
from portloom.base.values import dataclass
from portloom.inputs.problems import Flaw
from portloom.review.bearing import bears
from portloom.review.feed_lines import fuse_within, is_about_main_fuse, kept_off_within, lacks_fuse
from portloom.review.names import words_of
from portloom.review.post import NOTHING, Post, Table, TextCell, TextRow, cell_of, listed_things

THINGS = frozenset({"load", "consumer", "device", "circuit", "what", "switch", "function", "name", "description"})
NOTES = frozenset({"note", "comment", "remark", "info", "detail", "todo"})
COLOURS = frozenset({"colour", "color"})
"""Heads of columns that bear on no rule."""
SENTENCE = re.compile(r"[;,.](?=\s|$)")
AS_THING = "put what is on the port in a column 'load', and leave the others out"
AS_LINE = "put what it says of the plan in a line or a column of its own"


@dataclass(frozen=True)
class OtherColumns:
    """The numbers of the columns that are left."""

    things: tuple[int, ...]
    notes: tuple[int, ...]
    unread: tuple[int, ...]

    def unclear(self, header: TextRow) -> Iterator[Flaw]:
        """Tell of each column that can't be read."""
        for head in (header[n] for n in self.unread):
            yield Flaw(head.line, head.column, f"the column '{quoted(head.text)}' can't be read", AS_THING)


def others_of(table: Table, taken: Container[int]) -> OtherColumns:
    """Return what the columns are that are not taken yet; those that are empty or only count rows are none."""
    left = [n for n in range(len(table.header)) if n not in taken and not _says_nothing(table, n)]
    notes = [n for n in left if heads(table.header[n], NOTES)]
    things = [n for n in left if n not in notes and _names_things(table, n)]
    unread = [n for n in left if n not in notes and n not in things]
    return OtherColumns(tuple(things), tuple(notes), tuple(unread))


def _says_nothing(table: Table, number: int) -> bool:
    texts = [row[number].text for row in table.rows]
    if all(text.casefold() in NOTHING for text in texts) or heads(table.header[number], COLOURS):
        return not any(map(is_name, texts))
    return texts == [str(n) for n in range(1, len(texts) + 1)] and number == 0


def _names_things(table: Table, number: int) -> bool:
    return heads(table.header[number], THINGS) or any(is_name(row[number].text) for row in table.rows)


def is_name(text: str) -> bool:
    """Tell whether a cell has words for a load or a switch in it."""
    return any(words_within(part.text) is not None for part in listed_things(TextCell(text, 1, 1)))


def heads(cell: TextCell, wanted: Container[str]) -> bool:
    """Tell whether the head of a column has one of some words."""
    words = {word.removesuffix("s") for word in words_of(cell.text)} | set(words_of(cell.text))
    return any(word in wanted for word in words)


# --- notes


def with_notes(cells: Sequence[TextCell], post: Post) -> Post:
    """Return a post with what notes say of the main fuse and of what belongs on no port; what else they say is told."""
    for cell in cells:
        begin = 0
        for end in (*(found.start() for found in SENTENCE.finditer(cell.text)), len(cell.text)):
            sentence = cell_of(cell.text[begin:end].lstrip(";,. "), cell.line, cell.column)
            post, begin = _with_note(sentence, post), end
    return post


def _with_note(note: TextCell, post: Post) -> Post:
    if is_about_main_fuse(note.text) and re.search(r"main|battery|feed", note.text, re.IGNORECASE):
        fuse = fuse_within(note)
        if lacks_fuse(note.text) != (fuse is not None):
            return replace(post, no_fuse=note) if fuse is None else replace(post, main_fuse=fuse)
    what = kept_off_within(note.text)
    if what:
        return replace(post, kept_off=(*post.kept_off, what))
    if note.text.casefold() in NOTHING:
        return post
    if not bears(note.text):
        return replace(post, aside=(*post.aside, note))
    flaw = Flaw(note.line, note.column, f"the note '{quoted(note.text)}' can't be read", AS_LINE)
    return replace(post, flaws=(*post.flaws, flaw))
