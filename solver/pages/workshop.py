"""What lies beside the crimping tool: cut list, parts, settings and connectors on one page."""

from collections.abc import Sequence

from solver.pages.markup import Html, caution_box, document, tag
from solver.pages.style import STYLE
from solver.pages.written import WrittenPage, name_of
from solver.sheets.lists import SHEETS
from solver.wiring.lists import Lists

ON_THE_JOB_SHEET = "wiring-list.txt"


def workshop_page(lists: Lists, cautions: Sequence[str]) -> str:
    """Return the page; what is set aside comes first, then the cautions."""
    title = f"Workshop lists: {lists.bike}"
    parts = [_part(lists, sheet) for sheet in SHEETS if sheet != ON_THE_JOB_SHEET]
    return document(
        title,
        STYLE,
        tag("h1", title),
        tag("p", f"On the {lists.unit}. The wires themselves stand on the job sheet.", class_="quiet"),
        *([tag("p", tag("strong", f"Set aside: rule {rule}: {why}")) for rule, why in lists.set_aside]),
        caution_box(cautions),
        *parts,
    )


def _part(lists: Lists, sheet: str) -> Html:
    title, write = SHEETS[sheet]
    page = WrittenPage(under=title)
    write(lists, page)
    heading = tag("h2", title.capitalize(), id=name_of(title))
    return tag("div", heading, *(section for _, section in page.sections()), class_="part")
