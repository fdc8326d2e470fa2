"""Why nothing fits, as an electrician reads it."""

from collections.abc import Sequence

from solver.explaining.conflicts import Conflict
from solver.plans.cautions import CAUTIONS
from solver.sheets.layout import Page
from solver.sheets.plan import write_cautions


def write_conflicts(bike: str, unit: str, conflicts: Sequence[Conflict], page: Page) -> None:
    """Write the verdict, then each conflict: its sentence, then a line a fact with where it is written."""
    page.line(f"{bike} on the {unit}: NOTHING FITS, proved.", "bold red")
    for conflict in conflicts:
        page.heading(conflict.sentence)
        page.items([f"{fact.sentence} (rule {fact.rule})" for fact in conflict.facts])
        places = list(dict.fromkeys(fact.where for fact in conflict.facts if fact.where != "default"))
        if places:
            page.line(f"    written in {', '.join(places)}", "dim")
    write_cautions(CAUTIONS, page)
