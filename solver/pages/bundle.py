"""All sheets of a plan, by the names of their files."""

from collections.abc import Mapping

from solver.handover.bench_test import bench_test
from solver.handover.next_owner import record_of
from solver.job.laid import Laid
from solver.pages.bench_test import bench_test_page, readings_form
from solver.pages.job_sheet import job_sheet
from solver.pages.next_owner import next_owner_page
from solver.plans.document import Plan

NAMES = ("job-sheet.html", "bench-test.html", "readings.csv", "next-owner.html")


def bundle(plan: Plan, laid: Laid) -> Mapping[str, bytes]:
    """Give every file with its bytes; the names are those of NAMES, in that order."""
    test, record = bench_test(laid), record_of(plan)
    texts = (
        job_sheet(plan, record),
        bench_test_page(test, plan.cautions),
        readings_form(test),
        next_owner_page(record),
    )
    return {name: text.encode() for name, text in zip(NAMES, texts, strict=True)}
