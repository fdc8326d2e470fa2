"""Near misses as people read them: where a plan has no slack."""

from collections.abc import Iterator

from solver.explaining.near.misses import NearMisses
from solver.sheets.layout import Page
from solver.words.figures import amperes


def write_near(near: NearMisses, page: Page) -> None:
    """Write the limits within 10 %, the tightest first, then what can grow least, the fullest leg and case."""
    page.heading("Near misses")
    if near.tight:
        page.line("  Within 10 % of a limit, what would break first on top:")
        page.items([margin.sentence for margin in near.tight])
    else:
        page.line(f"  No limit is within 10 %. First to break would be {near.first.sentence}.")
    page.line("  With wires and main fuse as they are:")
    page.items(list(_fullest(near)))


def _fullest(near: NearMisses) -> Iterator[str]:
    case = near.nearest_case
    if near.grows_least is not None:
        yield near.grows_least.sentence
    if near.fullest_leg is not None:
        yield f"fullest leg: {near.fullest_leg.sentence}"
    yield f"fullest case: {case.when}, {amperes(case.current)} of the {amperes(case.limit)} that the unit passes"
