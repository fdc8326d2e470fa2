"""What would make a bike fit, as an electrician reads it."""

from collections.abc import Iterator

from solver.explaining.fixes.fix import Fix
from solver.explaining.fixes.hunt import Fixes
from solver.plans.document import Plan
from solver.sheets.amounts import metres
from solver.sheets.layout import Page
from solver.words.agreement import seat_said
from solver.words.figures import counted, listed


def write_fixes(fixes: Fixes, page: Page) -> None:
    """Write each fix with what it takes and the plan that it gives, and what is proved of them together."""
    page.heading("What would make it fit")
    for number, fix in enumerate(fixes.found, 1):
        page.line(f"  {number}. {fix.sentence} (effort {fix.effort})", "bold")
        page.items(list(_about(fix)))
    page.line(_ending(fixes))
    if fixes.found:
        page.line("Write one into a copy of the bike's file: --apply NUMBER --out FILE")


def where(plan: Plan) -> str:
    """Say where the unit sits, what wire a plan takes, and whether it is proved best."""
    proof = "proved best" if plan.proven else "not proved best: the time limit was reached"
    return f"place {seat_said(plan.place, turned=plan.turned)}, {metres(plan.wire_run)} of wire, {proof}"


def _about(fix: Fix) -> Iterator[str]:
    yield f"then it fits: {where(fix.plan)}"
    if fix.parts:
        yield f"needs {'; '.join(fix.parts)}"
    for box in fix.plan.multiplexers:
        switches = listed([one.switch for one in box.switches])
        yield f"{box.name} at {box.at}, on {box.port}, reads {switches}"
    yield _left(fix.plan)
    if not fix.least:
        yield "not proved that nothing less would do"


def _left(plan: Plan) -> str:
    ports = ((len(plan.free_outputs), "output"), (len(plan.free_inputs), "input"))
    free = listed([counted(number, port) for number, port in ports if number])
    stay = (
        f"{free} {'stays' if sum(number for number, _ in ports) == 1 else 'stay'} free"
        if free
        else "no port stays free"
    )
    rooms = listed([f"{room.load} on {room.port}" for room in plan.room_for])
    none = "; room for none of the later loads" if plan.no_room_for else ""
    return f"{stay}; room for {rooms}" if rooms else f"{stay}{none}"


def _ending(fixes: Fixes) -> str:
    if not fixes.found:
        if fixes.complete:
            return "Proved: no change that this program knows makes it fit."
        return "None was found. Not every change was tried, so there may be one."
    if not fixes.complete:
        return "Each one was tried and works. Not every change was tried, so there may be others."
    return "Least effort first. Proved: nothing of less effort works, but for more of the same kinds."
