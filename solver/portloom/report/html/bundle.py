"""All sheets of a plan, by the names of their files."""

from collections.abc import Mapping

from portloom.documents.document import Plan
from portloom.documents.handover.bench_test import bench_test
from portloom.documents.handover.next_owner import record_of
from portloom.documents.wiring.csv_files import FILES, csv_files
from portloom.documents.wiring.lists import Lists
from portloom.job.laid import Laid
from portloom.report.html.bench_test import bench_test_page, readings_form
from portloom.report.html.pages import job_sheet, labels_page, next_owner_page, pictures_of, workshop_page
from portloom.report.svg.labels import connector_labels, label_sheets, wire_labels
from portloom.report.svg.paging import svg_text
from portloom.report.text.cutting import SHEETS, sheet_texts

PAGES = ("job-sheet.html", "workshop-lists.html", "labels.html", "bench-test.html", "next-owner.html")
NAMES = (*PAGES, "readings.csv", *SHEETS, *FILES)


def bundle(plan: Plan, laid: Laid, lists: Lists) -> Mapping[str, bytes]:
    """Return every file of a plan with its bytes: those of NAMES, and the pictures."""
    test, record = bench_test(laid), record_of(plan, lists.wiring)
    pictures = pictures_of(plan, laid, lists.wiring)
    labels = label_sheets((*wire_labels(lists.wiring.ours), *connector_labels(lists.views)), "labels")
    texts = {
        "job-sheet.html": job_sheet(plan, lists, record, pictures),
        "workshop-lists.html": workshop_page(lists, plan.cautions),
        "labels.html": labels_page(lists.bike, labels, plan.cautions),
        "bench-test.html": bench_test_page(test, plan.cautions),
        "next-owner.html": next_owner_page(record),
        "readings.csv": readings_form(test),
        **sheet_texts(lists),
        **csv_files(lists),
        **{picture.file: picture.text for picture in pictures},
        **{f"labels-{number}.svg": svg_text(sheet) for number, sheet in enumerate(labels, 1)},
    }
    return {name: text.encode() for name, text in texts.items()}
