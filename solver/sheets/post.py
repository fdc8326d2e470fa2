"""What is wrong with a posted plan, as a helper reads it."""

from collections.abc import Sequence

from solver.checking.posted import PostVerdict
from solver.plans.cautions import CAUTIONS
from solver.posts.matching import Posted
from solver.sheets.layout import Page
from solver.sheets.plan import write_cautions, write_set_aside
from solver.words.bike import Bike
from solver.words.figures import capital, counted, listed


def write_post(bike: Bike, unit: str, posted: Posted, verdict: PostVerdict, page: Page) -> None:
    """Write the verdict, each rule that is broken, what is kept, what was not judged, and how names were taken."""
    write_set_aside(bike.set_aside.items(), page)
    broken = list(dict.fromkeys(clash.rule for clash in verdict.clashes))
    ending = f"NOT SOUND, {counted(len(broken), 'rule')} broken" if broken else _sound(posted)
    page.line(f"The posted plan of {bike.bike} on the {unit}: {ending}.", "bold red" if broken else "bold")
    page.line(_where(posted, verdict.places))
    if verdict.clashes:
        page.heading("What is wrong")
        page.items([f"{capital(clash.sentence)} (rule {clash.rule})." for clash in verdict.clashes])
    _list("What is kept", [f"rules {listed(verdict.kept)}"] if verdict.kept else [], page)
    _list("What was not judged", verdict.not_judged, page)
    _list("How names were taken", [f"'{cell.text}' (line {cell.line}) as {name}" for cell, name in posted.taken], page)
    write_cautions(CAUTIONS, page)


def _sound(posted: Posted) -> str:
    return "nothing wrong in what could be read" if posted.flaws else "SOUND, as far as it was judged"


def _where(posted: Posted, places: Sequence[str]) -> str:
    if len(places) == 1:
        return f"Judged at place {places[0]}."
    lacking = "No way round" if posted.place else "No place"
    return f"{lacking} is posted: judged at {listed(tuple(places))}; what is told is wrong at each."


def _list(title: str, lines: Sequence[str], page: Page) -> None:
    if lines:
        page.heading(title)
        page.items(lines)
