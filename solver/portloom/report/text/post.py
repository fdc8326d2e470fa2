"""What is wrong with a posted plan, how far it is from the best, and what would mend it."""

from collections.abc import Iterator, Sequence

from portloom.base.figures import amperes, capital, counted, listed, number_word, with_verb
from portloom.base.quantities import Micrometres
from portloom.documents.assumed import CAUTIONS
from portloom.report.text.layout import Page, metres, write_cautions, write_first
from portloom.review.concerns import CONCERNS, about_rule
from portloom.review.document import Checked, Distance, Move, NoAnswer, Repair

LIMIT = "not known: the time limit was reached first; allow more time"


def best_lines(best: Distance | NoAnswer | None) -> Iterator[str]:
    """Say how far a posted plan is from the best one."""
    if best is None:
        return
    if not isinstance(best, Distance):
        yield LIMIT if best == "not known" else "proved: nothing fits there; 'portloom why' shows what is in the way"
        return
    said = "the best plan, proved" if best.proven else "the best plan found, not proved the best"
    yield f"{said}: {metres(best.wire_run)} of wire, place {best.place}"
    if best.posted is None:
        yield "the posted plan breaks rules, is incomplete or is not clear, so there is nothing to compare"
        return
    more = best.posted - best.costs
    yield f"wire: the posted plan uses {_more(more.wire_run)} at place {best.posted_at}"
    yield (f"spare ports: what it leaves free for later is worth {_more(-more.spare_port_loss)} (as a length of wire)")
    if more.legs_in_use:
        yield f"legs in use: what the posted plan's are worth is {_more(more.legs_in_use)} (as a length of wire)"


def _more(length: int) -> str:
    if not length:
        return "the same"
    return f"{metres(Micrometres(abs(length)))} {'more' if length > 0 else 'less'}"


def repair_lines(checked: Checked) -> Iterator[str]:
    """Say what must move for a posted plan to be sound."""
    repair, unclear = checked.repair, bool(checked.problems)
    if repair is None:
        return
    if not isinstance(repair, Repair):
        none = "proved: no plan is sound there, whatever moves; 'portloom why' shows what is in the way"
        yield LIMIT if repair == "not known" else none
        return
    yield _counted(repair)
    if unclear:
        yield "as far as the post could be read: some of it is not clear"
    yield from (_moved(move) for move in repair.moved)
    yield from (f"{move.name}: on no port in the post, place it on {move.after}" for move in repair.placed)
    yield from (f"{with_verb(name, 'comes')} off {port}" for name, port in repair.taken_off)
    for one in repair.set_anew:
        yield f"{one.port}: set it to trip at {amperes(one.trip)}, on wire of {one.size.label}"
    if repair.main_fuse is not None:
        yield f"main fuse: one of {amperes(repair.main_fuse)}, at the battery"
    if repair.moves:
        yield f"the cheapest plan with so few moves: place {repair.place}"
    taken = [(port, [name for name in held if name in repair.left_open]) for port, held in repair.inputs]
    if repair.left_open:
        used = "; ".join(f"{listed(held)} on {port}" for port, held in taken if held)
        none = "the post names no inputs" if not checked.posted.inputs else "on no input in the post"
        yield f"{none}; this plan uses: {used}"


def _counted(repair: Repair) -> str:
    proof = "proved" if repair.proven else f"not proved: {repair.least} might do; the time limit was reached"
    if not repair.moves:
        rest = "" if repair.changes_nothing else "; what comes off or is set anew is below"
        return f"nothing has to move, {proof}{rest}"
    moved = f"{counted(len(repair.moved), 'move')}" if repair.moved else ""
    placed = f"{number_word(len(repair.placed))} to place" if repair.placed else ""
    return f"{capital(' and '.join(filter(None, (moved, placed))))}; fewer can't make it sound, {proof}"


def _moved(move: Move) -> str:
    return f"{with_verb(move.name, 'moves')} from {move.before} to {move.after}"


LOADS = "every load and switch"
MARKS = {"right": "right", "wrong": "WRONG", "look again": "look again", "not judged": "not judged"}


def write_post(checked: Checked, page: Page) -> None:
    """Write the verdict, what is looked at first, each rule that is broken, what is sound, and what was asked more."""
    write_first(checked.first, checked.set_aside, page)
    broken = checked.status == "broken"
    page.line(f"The posted plan{_whose(checked)} on the {checked.unit.unit}: {verdict(checked)}.",
              "bold red" if broken else "bold")  # fmt: skip
    page.line(where_judged(checked))
    _list("What is not clear", [f"line {p.line}: {p.what}; {p.right}" for p in checked.problems], page)
    page.heading("First look")
    page.items([f"{look.what}: {MARKS[look.state]}; {look.why}" for look in checked.verdict.looks])
    if broken:
        page.heading("What is wrong")
    for about, clashes in checked.by_concern().items():
        page.line(f"  {capital(about)}")
        page.items([f"{capital(clash.sentence)} (rule {clash.rule})." for clash in clashes])
    _list("What is sound", list(sound_lines(checked)), page)
    _list("How far from the best plan", list(best_lines(checked.best)), page)
    _list("The fewest moves that make it sound", list(repair_lines(checked)), page)
    _list("What was not judged", checked.verdict.not_judged, page)
    _list("How names were read", checked.taken, page)
    _list("Left aside, since it says nothing of the plan", checked.left_aside, page)
    write_cautions(CAUTIONS, page)


def _whose(checked: Checked) -> str:
    return "" if checked.bike is None else f" of {checked.bike.bike}"


def verdict(checked: Checked) -> str:
    """Say whether it is sound."""
    if checked.status == "broken":
        broken = dict.fromkeys(clash.rule for clash in checked.verdict.clashes)
        return f"NOT SOUND, {counted(len(broken), 'rule')} broken"
    if checked.status == "not clear":
        return f"nothing wrong in what could be read; {counted(len(checked.problems), 'thing')} not clear"
    if checked.status == "not known":
        return "not known whether the switches can be wired so that nothing posted is wrong"
    if checked.status == "nothing wrong":
        return f"nothing wrong found; {counted(len(checked.verdict.not_judged), 'thing')} not judged"
    return "SOUND"


def where_judged(checked: Checked) -> str:
    """Say at which places it was judged, and what that means."""
    places, sound = checked.verdict.places, checked.verdict.sound_at
    if checked.bike is None:
        return "Checked from the post alone, without the bike's file: see what that leaves open."
    if len(places) == 1:
        return f"Checked at place {places[0]}."
    lacking = "No way round" if checked.posted.place else "No place"
    said = f"{lacking} is posted: checked at {listed(places)}; what is listed is wrong at each."
    if sound and len(sound) < len(places):
        return f"{said} Nothing is wrong at {listed(sound)}."
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
