"""The job sheet: one page with all of a plan, its pictures first, for the screen and for A4."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from solver.handover.next_owner import Record
from solver.pages.markup import Html, document, items, section, tag
from solver.pages.next_owner import record_parts
from solver.pages.style import STYLE, lighting
from solver.pages.written import WrittenPage, name_of
from solver.plans.document import Plan
from solver.sheets.always import CAUTION
from solver.sheets.lists import SHEETS
from solver.sheets.plan import write_plan
from solver.wiring.lists import Lists

OWNER = "For the next owner"


@dataclass(frozen=True)
class Picture:
    """A picture: its title, and the drawing as SVG that is right as it stands."""

    title: str
    svg: str


def job_sheet(plan: Plan, lists: Lists, record: Record, pictures: Sequence[Picture] = ()) -> str:
    """Give the page."""
    page = WrittenPage(lit=frozenset(_lit(plan)))
    write_plan(plan, page)
    for _, write in SHEETS.values():
        write(lists, page)
    written = [part for part in page.sections() if part[0] != CAUTION]
    drawn = [(picture.title, _drawn(picture)) for picture in pictures]
    owner = tag("div", section(OWNER, *record_parts(record, "h3"), name=name_of(OWNER)), class_="own-page")
    parts = [*written[:1], *drawn, *written[1:], (OWNER, owner)]
    return document(
        f"Job sheet: {plan.bike}",
        STYLE + lighting([name_of(name) for name in _lit(plan)]),
        tag("h1", f"Job sheet: {plan.bike}"),
        tag("div", tag("h2", "Caution"), items(plan.cautions), class_="caution", role="note"),
        tag("nav", tag("ul", *(_link(title) for title, _ in parts if title)), aria_label="On this page"),
        *(part for _, part in parts),
    )


def _lit(plan: Plan) -> Iterator[str]:
    """Give what lights up: each port in use, and each return."""
    yield from (line.port for line in plan.outputs)
    yield from (line.port for line in plan.inputs)


def _drawn(picture: Picture) -> Html:
    return section(picture.title, tag("figure", Html(picture.svg)), name=name_of(picture.title))


def _link(title: str) -> Html:
    return tag("li", tag("a", title, href=f"#{name_of(title)}"))
