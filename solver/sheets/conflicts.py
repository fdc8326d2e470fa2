"""Why nothing fits, as an electrician reads it."""

from collections.abc import Iterator, Sequence

from solver.explaining.conflicts import Conflict, Fact
from solver.plans.cautions import CAUTIONS
from solver.sheets.layout import Page
from solver.sheets.plan import write_cautions


def write_conflicts(bike: str, unit: str, conflicts: Sequence[Conflict], page: Page) -> None:
    """Write the verdict, then each conflict: its sentence, where that is written, a line a fact."""
    page.line(f"{bike} on the {unit}: NOTHING FITS, proved.", "bold red")
    for conflict in conflicts:
        page.heading(conflict.sentence)
        for where in dict.fromkeys(fact.where for fact in conflict.facts if fact.where != "default"):
            page.line(f"  Written in {where}.")
        page.items(list(_told(conflict.facts)))
    page.line("")
    page.line("What a rule protects, and its source: portloom rules NAME")
    write_cautions(CAUTIONS, page)


def _told(facts: Sequence[Fact]) -> Iterator[str]:
    """Give a line a fact; what is the same at several places is told once."""
    same: dict[tuple[str, str], list[str]] = {}
    for fact in facts:
        said = fact.sentence.removeprefix(f"{fact.subject}: ")
        whom = same.setdefault((fact.rule, said), [])
        whom.extend([fact.subject] if said != fact.sentence else [])
    for (rule, said), whom in same.items():
        yield f"{'; '.join(whom)}{': ' if whom else ''}{said} (rule {rule})"
