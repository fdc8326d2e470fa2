"""The record for the next owner, on a page of its own."""

from solver.handover.next_owner import Record
from solver.pages.markup import Html, document, items, tag
from solver.pages.style import STYLE


def next_owner_page(record: Record) -> str:
    """Return the record as a page."""
    title = f"For the next owner: {record.bike}"
    chapters = tag("div", *record_parts(record, "h2"), class_="one-page")
    return document(title, STYLE, tag("h1", title), chapters)


def record_parts(record: Record, heading: str) -> tuple[Html, ...]:
    """Return the chapters of a record under headings of this rank."""
    return tuple(
        tag("div", tag(heading, chapter.title), items(chapter.sentences))
        for chapter in record.chapters
        if chapter.sentences
    )
