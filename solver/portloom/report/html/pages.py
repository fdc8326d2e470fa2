"""The pages of a plan: job sheet, workshop sheet, record for the next owner, labels; and all its files by name."""

from collections.abc import Iterator, Mapping, Sequence

from portloom.base.cells import MARK
from portloom.base.values import dataclass
from portloom.documents.document import Plan
from portloom.documents.handover.bench_test import bench_test
from portloom.documents.handover.next_owner import Record, record_of
from portloom.documents.wiring.csv_files import FILES, csv_files
from portloom.documents.wiring.lists import Lists
from portloom.documents.wiring.wire import Wiring
from portloom.job.laid import Laid
from portloom.report.html.bench_test import bench_test_page, readings_form
from portloom.report.html.markup import STYLE, Html, caution_box, document, first_box, items, section, tag
from portloom.report.html.written import WrittenPage, lit_of, name_of, names_of, rules
from portloom.report.svg.cases import case_pictures
from portloom.report.svg.circuit import circuit_pictures
from portloom.report.svg.labels import SAID, connector_labels, label_sheets, lead_labels, wire_labels
from portloom.report.svg.loom import loom_pictures
from portloom.report.svg.paging import svg_text
from portloom.report.svg.svg import Element, written
from portloom.report.text.cutting import SHEETS, change_order_text, sheet_texts
from portloom.report.text.layout import CAUTION
from portloom.report.text.plan import write_figures, write_ports
from portloom.report.text.wiring_list import write_wiring_list


@dataclass(frozen=True)
class Picture:
    """A page of a picture: its title, its file's name, and the drawing."""

    title: str
    file: str
    drawn: Element

    @property
    def inline(self) -> str:
        """The drawing as it stands within a page."""
        return written(self.drawn)

    @property
    def text(self) -> str:
        """The drawing as the text of a file of its own."""
        return svg_text(self.drawn)


def pictures_of(plan: Plan, laid: Laid, wiring: Wiring) -> tuple[Picture, ...]:
    """Return the loom over the frame, the circuit diagram and the cases as bars, page by page."""
    return (
        *_pages("The loom", "loom", loom_pictures(laid, plan, wiring, "loom")),
        *_pages("The circuits", "circuit", circuit_pictures(laid, plan, wiring, "circuit")),
        *_pages("The cases", "cases", case_pictures(laid, plan, "cases")),
    )


def _pages(title: str, name: str, pages: Sequence[Element]) -> Iterator[Picture]:
    for number, page in enumerate(pages, 1):
        told = title if len(pages) == 1 else f"{title}, {number} of {len(pages)}"
        yield Picture(told, f"{name}-{number}.svg", page)


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
        first_box(plan.first, plan.set_aside),
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


ON_THE_JOB_SHEET = "wiring-list.txt"


def workshop_page(lists: Lists, cautions: Sequence[str]) -> str:
    """Return the page."""
    title = f"Workshop lists: {lists.bike}"
    parts = [_part(lists, sheet) for sheet in SHEETS if sheet != ON_THE_JOB_SHEET]
    return document(
        title,
        STYLE,
        tag("h1", title),
        tag("p", f"On the {lists.unit}. The wires themselves are on the job sheet.", class_="quiet"),
        first_box(lists.first, lists.set_aside),
        caution_box(cautions),
        *parts,
    )


def _part(lists: Lists, sheet: str) -> Html:
    title, write = SHEETS[sheet]
    page = WrittenPage(under=title)
    write(lists, page)
    heading = tag("h2", title.capitalize(), id=name_of(title))
    return tag("div", heading, *(section for _, section in page.sections()), class_="part")


LABEL_STYLE = """
@page{size:A4;margin:0}
body{margin:0;background:#fff;color:#000;font:12pt/1.4 system-ui,sans-serif}
h1,p,ul{margin:.6rem 15mm}
svg{display:block}
.sheets{overflow-x:auto}
@media print{
h1,p,ul,.caution{display:none}
.sheets{overflow:visible}
.sheets>div{height:296mm;overflow:hidden}
.sheets>div+div{break-before:page}
}
"""


def labels_page(lists: Lists, sheets: Sequence[Element], cautions: Sequence[str]) -> str:
    """Return the page; what is only seen on the screen says how to print it."""
    title = f"Labels: {lists.bike}"
    pages = (tag("div", Html(written(sheet))) for sheet in sheets)
    drawn = tag("div", *pages, class_="sheets", tabindex="0", role="region", aria_label="Sheets of labels")
    first = first_box(lists.first, lists.set_aside)
    return document(title, LABEL_STYLE, tag("h1", title), first, tag("p", SAID), items(cautions), drawn)


CHANGE_ORDER = "change-order.txt"
"""Where a loom was built before."""
PAGES = ("job-sheet.html", "workshop-lists.html", "labels.html", "bench-test.html", "next-owner.html")
NAMES = (*PAGES, "readings.csv", *SHEETS, *FILES)


def bundle(plan: Plan, laid: Laid, lists: Lists) -> Mapping[str, bytes]:
    """Return every file of a plan with its bytes: those of NAMES, and the pictures."""
    test, record = bench_test(laid), record_of(plan, lists.wiring)
    pictures = pictures_of(plan, laid, lists.wiring)
    labels = label_sheets(
        (*wire_labels(lists.wiring.ours), *lead_labels(lists.leads), *connector_labels(lists.views)), "labels"
    )
    texts = {
        "job-sheet.html": job_sheet(plan, lists, record, pictures),
        "workshop-lists.html": workshop_page(lists, plan.cautions),
        "labels.html": labels_page(lists, labels, plan.cautions),
        "bench-test.html": bench_test_page(test, lists, plan.cautions),
        "next-owner.html": next_owner_page(record),
        "readings.csv": readings_form(test),
        **sheet_texts(lists),
        **({} if plan.change is None else {CHANGE_ORDER: change_order_text(plan.change, lists)}),
        **csv_files(lists),
        **{picture.file: picture.text for picture in pictures},
        **{f"labels-{number}.svg": svg_text(sheet) for number, sheet in enumerate(labels, 1)},
    }
    return {name: (MARK + text if name.endswith(".csv") else text).encode() for name, text in texts.items()}
