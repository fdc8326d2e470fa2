"""Explanations as an electrician reads them: why nothing fits and what would help, or how near a plan is."""

from collections.abc import Iterator, Sequence

from solver.explaining.explain import DoesNotFit, Every, Explained, Fits, NotKnown
from solver.explaining.fixes.fix import Fix
from solver.explaining.fixes.hunt import Fixes
from solver.explaining.why import Why
from solver.explaining.why_not import Elsewhere, Move, Price, WhyNot
from solver.plans.cautions import CAUTIONS
from solver.plans.document import Plan
from solver.sheets.conflicts import write_conflict, write_proof, write_verdict
from solver.sheets.layout import Page
from solver.sheets.near import write_near
from solver.sheets.plan import metres, write_cautions, write_set_aside
from solver.words.figures import capital, counted, listed, port_range


def write_explained(explained: Explained, page: Page, *, proof: bool) -> None:
    """Write an explanation; ``proof`` also how each conflict was proved."""
    write_set_aside(explained.set_aside, page)
    match explained.answer:
        case Fits(plan, near):
            page.line(f"{explained.bike} on the {explained.unit}: IT FITS, {_where(plan)}.", "bold")
            if explained.why_not is None and not explained.elsewhere:
                write_near(near, page)
        case DoesNotFit(why, fixes, every):
            _write_why(explained, why, page)
            _write_every(every, page)
            if proof:
                write_proof(why.conflicts, page)
            _write_fixes(fixes, page)
        case NotKnown():
            page.line(f"{explained.bike} on the {explained.unit}: UNKNOWN, the time limit was reached.", "bold yellow")
            page.line("It is proved neither that it fits nor that it does not. Allow more time.")
    if explained.why_not is not None:
        _write_why_not(explained.why_not, page)
    _write_elsewhere(explained, page)
    write_cautions(CAUTIONS, page)


def _where(plan: Plan) -> str:
    turned = ", turned round" if plan.turned else ""
    proof = "proved best" if plan.proven else "not proved best: the time limit was reached"
    return f"at {plan.place}{turned}, {metres(plan.wire_run)} of wire, {proof}"


# --- conflicts


def _write_why(explained: Explained, why: Why, page: Page) -> None:
    write_verdict(explained.bike, explained.unit, page)
    if len(why.conflicts) > 1:
        page.line(
            f"{capital(counted(len(why.conflicts), 'conflict'))}, with nothing in common: mend one thing of each."
        )
    for number, conflict in enumerate(why.conflicts, 1):
        write_conflict(conflict, page, f"{number}. ")
    if not why.complete:
        page.line("")
        page.line("The time limit was reached: there may be more conflicts. What is told here is proved.", "yellow")


def _write_every(every: Every | None, page: Page) -> None:
    if every is None:
        return
    page.heading("Every smallest set of facts that can't hold together")
    for number, conflict in enumerate(every.conflicts, 1):
        write_conflict(conflict, page, f"{number}. ")
    page.line("")
    page.line(
        "These are all." if every.complete else "Stopped early, at the bound or the time limit: there may be more."
    )


# --- fixes


def _write_fixes(fixes: Fixes, page: Page) -> None:
    page.heading("What would make it fit")
    for number, fix in enumerate(fixes.found, 1):
        page.line(f"  {number}. {fix.sentence} (effort {fix.effort})", "bold")
        page.items(list(_about(fix)))
    page.line(_ending(fixes))
    if fixes.found:
        page.line("Write one into a copy of the bike's file: --apply NUMBER --out FILE")


def _about(fix: Fix) -> Iterator[str]:
    plan = fix.plan
    yield f"then it fits, {_where(plan)}"
    if fix.parts:
        yield f"needs {listed(fix.parts)}"
    free = f"{counted(len(plan.free_outputs), 'output')} and {counted(len(plan.free_inputs), 'input')} stay free"
    rooms = listed([f"{room.load} on {room.port}" for room in plan.room_for])
    none = f"{free}; room for none of the later loads" if plan.no_room_for else free
    yield f"{free}; room for {rooms}" if rooms else none
    if not fix.least:
        yield "not proved that nothing less would do"


def _ending(fixes: Fixes) -> str:
    if not fixes.complete:
        return "Not every change was tried: there may be others. Each one told is proved to work."
    if not fixes.found:
        return "Proved: no change that this program knows makes it fit."
    return "Least effort first; proved that nothing less does, but for others of these kinds."


# --- wishes


def _write_why_not(answer: WhyNot, page: Page) -> None:
    page.heading(answer.question)
    for line in _answered(answer):
        page.line(f"  {line}")
    if answer.conflict is not None:
        write_conflict(answer.conflict, page)


def _answered(answer: WhyNot) -> Iterator[str]:
    match answer.answer:
        case "alone":
            yield "Impossible by itself, proved:"
            yield from answer.refusals
        case "with the rest":
            yield "Impossible with the rest of the bike, proved:"
        case "not known":
            yield "Not known: the time limit was reached, or nothing fits anyway."
        case "possible":
            yield from _priced(answer.price)


def _priced(price: Price | None) -> Iterator[str]:
    if price is None:
        return
    if price.same_kind:
        yield "Possible at no cost: it is a port of the same kind, swap them."
        return
    parts = [f"{_more(price.wire_run)} of wire"] if price.wire_run else []
    parts += [f"{_more(price.spare_port_loss)} in spare ports"] if price.spare_port_loss else []
    cost = f"{_more(price.cost)}, " if len(parts) > 1 else ""
    what = f"at {cost}{' and '.join(parts)}" if parts else "at the same cost"
    yield f"Possible {what}. The unit sits {price.place}."
    if price.moves:
        yield f"These move: {'; '.join(_moved(move) for move in price.moves)}."


def _moved(move: Move) -> str:
    return f"{listed(move.loads)} from {move.before} to {move.after}"


def _more(length: int) -> str:
    sign = "-" if length < 0 else "+"
    return f"{sign}{metres(abs(length))}"  # type: ignore[arg-type]


def _write_elsewhere(explained: Explained, page: Page) -> None:
    if not explained.elsewhere or not isinstance(explained.answer, Fits):
        return
    page.heading("What its port gives that others do not")
    page.items(list(_ports(explained.elsewhere)))


def _ports(elsewhere: Sequence[Elsewhere]) -> Iterator[str]:
    order = [port for one in elsewhere for port in one.ports]
    for one in elsewhere:
        told = list(_answered(one.why_not))
        if one.why_not.conflict is not None:
            told.append(one.why_not.conflict.sentence)
        yield f"{port_range(one.ports, order)}: {' '.join(told)}"
