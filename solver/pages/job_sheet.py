"""The job sheet: one page with all of a plan, for the screen and for A4: its ports, its pictures, then the figures."""

from collections.abc import Sequence

from solver.handover.next_owner import Record
from solver.pages.lit import lit_of, names_of, rules
from solver.pages.markup import Html, caution_box, document, section, tag
from solver.pages.next_owner import record_parts
from solver.pages.pictures import Picture
from solver.pages.style import STYLE
from solver.pages.written import WrittenPage, name_of
from solver.plans.document import Plan
from solver.sheets.always import CAUTION
from solver.sheets.plan import write_figures, write_ports
from solver.sheets.wiring_list import write_wiring_list
from solver.wiring.lists import Lists

OWNER = "For the next owner"


def job_sheet(plan: Plan, lists: Lists, record: Record, pictures: Sequence[Picture] = ()) -> str:
    """Return the page."""
    lit = lit_of(lists.wiring)
    ports, figures = WrittenPage(names_of(lit)), WrittenPage(names_of(lit))
    write_ports(plan, ports)
    write_figures(plan, figures)
    write_wiring_list(lists, figures)
    drawn = [(picture.title, _drawn(picture)) for picture in pictures]
    written = [part for part in figures.sections() if part[0] != CAUTION]
    parts = [*ports.sections(), *drawn, *written, (OWNER, _owner(record))]
    return document(
        f"Job sheet: {plan.bike}",
        STYLE + rules(lit),
        tag("h1", f"Job sheet: {plan.bike}"),
        caution_box(plan.cautions),
        tag("nav", tag("ul", *(_link(title) for title, _ in parts if title)), aria_label="On this page"),
        *(part for _, part in parts),
    )


def _drawn(picture: Picture) -> Html:
    figure = tag("figure", Html(picture.inline), aria_label=picture.title, tabindex="0")
    return section(picture.title, figure, name=name_of(picture.title))


def _owner(record: Record) -> Html:
    chapters = tag("div", *record_parts(record, "h3"), class_="one-page")
    return tag("div", section(OWNER, chapters, name=name_of(OWNER)), class_="own-page")


def _link(title: str) -> Html:
    return tag("li", tag("a", title, href=f"#{name_of(title)}"))
