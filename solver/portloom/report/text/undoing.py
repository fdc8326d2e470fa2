"""Why nothing fits with a loom that is built, and what to take out, as an electrician reads it."""

from portloom.base.built import BuiltLoom
from portloom.base.figures import capital, listed
from portloom.documents.assumed import CAUTIONS
from portloom.explaining.conflict_of_built import fact_of, sentence_of, undoing_of
from portloom.explaining.undoing import Undone
from portloom.report.text.conflicts import write_verdict
from portloom.report.text.layout import Page, metres, write_cautions


def write_undone(bike: str, unit: str, loom: BuiltLoom, answer: Undone, page: Page) -> None:
    """Write the verdict, each conflict with its built circuits, and what to take out."""
    write_verdict(bike, unit, page)
    page.line(f"The unit stays where it was built in, {loom.place}; built wires stay in their looms ({loom.file}).")
    if not answer.to_blame:
        page.line(
            "The loom is not to blame: nothing fits there with all of it taken out. What is in the way, portloom why "
            "tells without --built."
        )
    for conflict in answer.conflicts:
        page.heading(f"{sentence_of(conflict)}.")
        page.items([fact_of(name, loom) for name in conflict.circuits])
        page.line(f"  Proved, and that it fits without {'any one of them' if len(conflict.circuits) > 1 else 'it'}.")
    if answer.fixes:
        least = "of the least effort, proved" if answer.least else "not proved to be of the least effort"
        page.heading(f"What makes it fit, {least}")
        page.items([f"{capital(undoing_of(fix))} (effort {fix.effort}): new wire and spare ports "
                    f"{metres(fix.solved.assignment.cost)}" for fix in answer.fixes])  # fmt: skip
        names = listed([f'"{name}"' for name in answer.fixes[0].circuits])
        page.line(f'  Once that is done, write it into {loom.file}: "taken_out": [{names}]')
    write_cautions(CAUTIONS, page)


def write_fits(bike: str, unit: str, page: Page) -> None:
    """Write that a plan exists."""
    page.line(
        f"{bike} on the {unit}: FITS with what is built. The change order: portloom plan with --built.", "bold green"
    )
    write_cautions(CAUTIONS, page)


def write_undecided(bike: str, unit: str, page: Page) -> None:
    """Write that the time limit came first."""
    page.line(f"{bike} on the {unit}: UNKNOWN, the time limit was reached.", "bold yellow")
    page.line("With --built nothing is told that is not proved. Allow more time.")
    write_cautions(CAUTIONS, page)
