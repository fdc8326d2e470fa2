"""Judged readings of a bench test as people read them."""

from collections.abc import Sequence

from solver.handover.readings import Finding
from solver.sheets.always import write_cautions
from solver.sheets.layout import Column, Page
from solver.words.figures import capital, counted, number_word

COLUMNS: tuple[Column, ...] = (("step", "right"), ("what", "left"), ("reading", "left"))


def write_findings(bike: str, findings: Sequence[Finding], cautions: tuple[str, ...], page: Page) -> None:
    """Write what is wrong first, then what is right, and what nobody read."""
    wrong = [finding for finding in findings if not finding.right]
    right = [finding for finding in findings if finding.right]
    page.line(f"{bike}: {_verdict(len(findings), len(wrong))}", "bold")
    for title, these in (("Not as expected", wrong), ("As expected", right)):
        if these:
            page.heading(title)
            page.table(COLUMNS, [[str(one.step.number), one.step.title, one.said] for one in these])
    page.line("What a reading usually means is common practice, no source: look before you change anything.")
    write_cautions(cautions, page)


def _verdict(read: int, wrong: int) -> str:
    if not read:
        return "no reading is filled in."
    told = f"{capital(counted(read, 'reading'))} judged"
    return f"{told}, all as expected." if not wrong else f"{told}, {number_word(wrong)} not as expected."
