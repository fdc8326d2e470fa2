"""What is wrong with a posted plan, as somebody reads it who was asked for help."""

from collections.abc import Iterator, Sequence

from solver.answering.document import Checked
from solver.checking.concerns import CONCERNS, about_rule
from solver.plans.cautions import CAUTIONS
from solver.sheets.always import write_cautions, write_set_aside
from solver.sheets.layout import Page
from solver.sheets.mended import best_lines, repair_lines
from solver.words.figures import capital, counted, listed

LOADS = "every load and switch"
MARKS = {"right": "right", "wrong": "WRONG", "look again": "look again", "not judged": "not judged"}


def write_post(checked: Checked, page: Page) -> None:
    """Write the verdict, what is looked at first, each rule that is broken, what is sound, and what was asked more."""
    write_set_aside(checked.set_aside, page)
    broken = checked.status == "broken"
    page.line(f"The posted plan{_whose(checked)} on the {checked.unit.unit}: {verdict(checked)}.",
              "bold red" if broken else "bold")  # fmt: skip
    page.line(where_judged(checked))
    page.heading("What is looked at first")
    page.items([f"{look.what}: {MARKS[look.state]}; {look.why}" for look in checked.verdict.looks])
    if broken:
        page.heading("What is wrong")
    for about, clashes in checked.by_concern().items():
        page.line(f"  {capital(about)}")
        page.items([f"{capital(clash.sentence)} (rule {clash.rule})." for clash in clashes])
    _list("What is sound", list(sound_lines(checked)), page)
    _list("How far from the best plan", list(best_lines(checked.best)), page)
    _list("The fewest moves that make it sound", list(repair_lines(checked.repair)), page)
    _list("What was not judged", checked.verdict.not_judged, page)
    _list("How names were taken", checked.taken, page)
    write_cautions(CAUTIONS, page)


def _whose(checked: Checked) -> str:
    return "" if checked.bike is None else f" of {checked.bike.bike}"


def verdict(checked: Checked) -> str:
    """Say whether it is sound."""
    if checked.status == "broken":
        broken = dict.fromkeys(clash.rule for clash in checked.verdict.clashes)
        return f"NOT SOUND, {counted(len(broken), 'rule')} broken"
    if checked.status == "not clear":
        return "nothing wrong in what could be read"
    return "SOUND, as far as it was judged"


def where_judged(checked: Checked) -> str:
    """Say at which places it was judged, and what that means."""
    places, sound = checked.verdict.places, checked.verdict.sound_at
    if checked.bike is None:
        return "Judged by the post alone, without the bike's file: see what that leaves open."
    if len(places) == 1:
        return f"Judged at place {places[0]}."
    lacking = "No way round" if checked.posted.place else "No place"
    said = f"{lacking} is posted: judged at {listed(places)}; what is told is wrong at each."
    if sound and len(sound) < len(places):
        return f"{said} Wholly sound at {listed(sound)}."
    return said


def sound_lines(checked: Checked) -> Iterator[str]:
    """Return the rules that are kept, by what they are about."""
    kept: dict[str, list[str]] = {concern: [] for concern in (*CONCERNS, LOADS)}
    for rule in checked.verdict.kept:
        kept[about_rule(rule) or LOADS].append(rule)
    for about, rules in ((about, rules) for about, rules in kept.items() if rules):
        yield f"{about}: {'rules' if len(rules) > 1 else 'rule'} {listed(rules)}"


def _list(title: str, lines: Sequence[str], page: Page) -> None:
    if lines:
        page.heading(title)
        page.items(lines)
