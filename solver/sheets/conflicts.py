"""Why nothing fits, as an electrician reads it."""

from collections.abc import Iterator, Sequence

from solver.explaining.conflicts import Conflict
from solver.plans.cautions import CAUTIONS
from solver.sheets.layout import Page
from solver.sheets.plan import write_cautions
from solver.words.figures import listed

THINGS = ("load", "switch")
OF_THINGS = ("current", "inrush", "mode", "kind", "signal", "load lowest")
COUNTED = ("outputs", "inputs")


def write_verdict(bike: str, unit: str, page: Page) -> None:
    """Write that nothing fits."""
    page.line(f"{bike} on the {unit}: NOTHING FITS, proved.", "bold red")


def write_conflicts(bike: str, unit: str, conflicts: Sequence[Conflict], page: Page) -> None:
    """Write the verdict, then each conflict: its sentence, a line a fact and where it is written."""
    write_verdict(bike, unit, page)
    for conflict in conflicts:
        write_conflict(conflict, page)
    page.line("")
    page.line("More conflicts, and what would make it fit: portloom why. What a rule protects: portloom rules NAME")
    write_cautions(CAUTIONS, page)


def write_conflict(conflict: Conflict, page: Page, title: str = "") -> None:
    """Write one conflict under its sentence."""
    page.heading(f"{title}{conflict.sentence}")
    page.items(list(_lines(conflict)))


def _lines(conflict: Conflict) -> Iterator[str]:
    """Give a line a fact; what is only there, and what is only counted, each in one line."""
    more = {fact.key[1] for fact in conflict.facts if fact.key[0] in OF_THINGS}
    there = [fact for fact in conflict.facts if fact.key[0] in THINGS and fact.key[1] not in more]
    counted = [fact for fact in conflict.facts if fact.key[0] in COUNTED]
    if there:
        yield _together("on the bike", [(fact.subject, fact.where) for fact in there])
    for fact in conflict.facts:
        if fact.key[0] not in (*THINGS, *COUNTED):
            file, line = _place(fact.where)
            yield f"{fact.sentence} ({file} {line}; rule {fact.rule})" if file else f"{fact.sentence} ({line})"
    if counted:
        yield _together("counted", [(fact.counts, fact.where) for fact in counted])
    yield from conflict.detail


def _together(what: str, things: Sequence[tuple[str, str]]) -> str:
    """Say things with their lines, the file once."""
    files = dict.fromkeys(_place(where)[0] for _, where in things)
    return f"{what}, {listed(tuple(files))}: {listed([f'{name} ({_place(where)[1]})' for name, where in things])}"


def _place(where: str) -> tuple[str, str]:
    """Give the file's name without its folders, and 'line 12'; only 'default' where no file says it."""
    file, _, line = where.rpartition(":")
    name = file.replace("\\", "/").rsplit("/", 1)[-1]
    return (name, f"line {line}") if file else ("", where)


def write_proof(conflicts: Sequence[Conflict], page: Page) -> None:
    """Write how each conflict was proved."""
    page.heading("Proof")
    for number, conflict in enumerate(conflicts, 1):
        page.line(
            f"  {number}. With these facts alone, all else left out or without limit, there is no plan at "
            f"{listed(conflict.places)}; proved twice at each, by two ways of solving. Without any one of them "
            "there is:"
        )
        page.items([f"without '{fact.sentence}': a plan at {fact.fits_at}" for fact in conflict.facts])
