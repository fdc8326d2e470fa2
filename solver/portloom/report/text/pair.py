"""Two units in place of one as an electrician reads it: each unit, then what both share."""

from portloom.base.figures import listed, volts
from portloom.documents.pair import PairPlan, UnitOfPair
from portloom.report.text.layout import Page, amperes, metres, write_cautions, write_set_aside
from portloom.report.text.plan import (
    FED,
    INPUTS,
    OUTPUTS,
    RETURNS,
    fed_row,
    input_row,
    output_row,
    return_row,
    wire_text,
    write_cases,
    write_cost,
    write_looms,
)

ORDINALS = ("First unit", "Second unit")


def write_pair(plan: PairPlan, page: Page) -> None:
    """Write a plan of two units from what is set aside to the cautions."""
    write_set_aside(plan.set_aside, page)
    _verdict(plan, page)
    _warnings(plan, page)
    for ordinal, unit in zip(ORDINALS, plan.units, strict=True):
        _unit(ordinal, unit, page)
    _shared_wires(plan, page)
    write_looms(plan.legs, page)
    write_cost(plan, page)
    _room(plan, page)
    page.heading("Also needed")
    page.items(plan.also_needed)
    page.heading("What was assumed")
    page.items(plan.assumed)
    write_cautions(plan.cautions, page)


def _verdict(plan: PairPlan, page: Page) -> None:
    best = "proven best" if plan.proven else "best found before the time limit, not proven best"
    names = listed([f"the {unit.unit} {unit.seat}" for unit in plan.units])
    page.line(f"{plan.bike} on two units: FITS, {best}.", "bold green" if plan.proven else "bold yellow")
    page.line(f"Two units in place of one: {names}.")
    if not plan.proven:
        page.line(f"No plan costs less than {metres(plan.bound)}; this one costs {metres(plan.cost)}.")
    if plan.not_used:
        page.line(f"Not used with two units: {listed(plan.not_used)}.")


def _warnings(plan: PairPlan, page: Page) -> None:
    of_units = [f"{unit.seat}, {line}" for unit in plan.units for line in unit.warnings]
    if of_units or plan.warnings:
        page.heading("Warnings")
        page.items([*of_units, *plan.warnings], "!")


# --- one unit


def _unit(ordinal: str, unit: UnitOfPair, page: Page) -> None:
    feed = unit.feed
    page.heading(f"{ordinal}: the {unit.unit} {unit.seat}")
    page.line(f"  Main fuse {amperes(feed.main_fuse)} at the battery. Feed {wire_text(feed.wire, feed.size)}.")
    page.line(
        f"  Worst case: {feed.worst_case}, {amperes(feed.worst)} of {amperes(feed.limit)} that the unit passes; "
        f"at most {volts(feed.drop)} lost on feed and main fuse."
    )
    page.line("")
    if unit.outputs:
        page.table(OUTPUTS, [output_row(line) for line in unit.outputs])
    _free("Outputs free", unit.free_outputs, page)
    if unit.inputs:
        page.line("")
        page.table(INPUTS, [input_row(line) for line in unit.inputs])
    _free("Inputs free", unit.free_inputs, page)
    write_cases(f"Cases against the limits of the {unit.unit} {unit.seat}", unit.cases, page)


def _free(what: str, ports: tuple[str, ...], page: Page) -> None:
    if ports:
        page.line(f"  {what}: {listed(ports)}.")


# --- both


def _shared_wires(plan: PairPlan, page: Page) -> None:
    if plan.fed:
        page.heading("Fed from the battery, by neither unit")
        page.table(FED, [fed_row(line) for line in plan.fed])
    page.heading("Returns, whichever unit feeds the loads")
    page.table(RETURNS, [return_row(line) for line in plan.returns])
    for line in plan.other_wires:
        name = f"The earth of the unit {line.name}" if line.kind == "unit earth" else "Supply to switches"
        fuse = f", through one {amperes(line.fuse)} fuse" if line.fuse else ""
        page.line(f"  {name}: {line.start} to {listed(line.ends)}, {wire_text(line.wire, line.size)}{fuse}.")


def _room(plan: PairPlan, page: Page) -> None:
    page.heading("Room left")
    room = [f"{line.load} on {line.port} of the unit {unit.seat}" for unit in plan.units for line in unit.room_for]
    page.line(f"  Room left for: {listed(room) if room else 'nothing on the list of later loads'}.")
    if plan.no_room_for:
        page.line(f"  No room for: {listed(plan.no_room_for)}.")
