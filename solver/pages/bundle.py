"""All sheets of a plan, by the names of their files."""

from collections.abc import Mapping

from solver.handover.bench_test import bench_test
from solver.handover.next_owner import record_of
from solver.job.laid import Laid
from solver.pages.bench_test import bench_test_page, readings_form
from solver.pages.job_sheet import job_sheet
from solver.pages.labels import labels_page
from solver.pages.next_owner import next_owner_page
from solver.pages.pictures import pictures_of
from solver.pages.workshop import workshop_page
from solver.pictures.labels import connector_labels, label_sheets, wire_labels
from solver.pictures.sheet import svg_text
from solver.plans.document import Plan
from solver.search.colouring import coloured
from solver.sheets.lists import SHEETS, sheet_texts
from solver.wiring.all_wires import wiring_of
from solver.wiring.colour_notes import colour_notes
from solver.wiring.coloured import colour_question
from solver.wiring.csv_files import FILES, csv_files
from solver.wiring.lists import Lists, lists_of

PAGES = ("job-sheet.html", "workshop-lists.html", "labels.html", "bench-test.html", "next-owner.html")
NAMES = (*PAGES, "readings.csv", *SHEETS, *FILES)


def bundle(plan: Plan, laid: Laid) -> Mapping[str, bytes]:
    """Choose the colours of a plan's wires; give every file with its bytes: those of NAMES, and the pictures."""
    lists = _coloured_lists(laid)
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


def _coloured_lists(laid: Laid) -> Lists:
    bike = laid.site.job.bike
    question = colour_question(bike, wiring_of(laid))
    colours = coloured(question)
    return lists_of(laid, dict(colours.colours), colour_notes(question, colours, bike.frame.legs))
