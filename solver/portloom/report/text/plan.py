"""The plan as an electrician reads it, in the order in which it is needed."""

from collections.abc import Iterable, Sequence
from decimal import Decimal

from portloom.base.figures import listed, plain, seat_said, volts
from portloom.base.quantities import Micrometres, MilliAmps
from portloom.base.sizes import WireSize
from portloom.documents.document import CaseLine, FixedLine, InputLine, LegLine, OutputLine, Plan, TradeOffs, WireLine
from portloom.documents.pair import PairPlan
from portloom.report.text.electrics import (
    write_also_needed,
    write_energy,
    write_multiplexers,
    write_protection,
    write_voltages,
)
from portloom.report.text.layout import Page, TableColumn, amperes, metres, tenths, write_cautions, write_set_aside


def write_plan(plan: Plan, page: Page, offs: TradeOffs | None = None) -> None:
    """Write a plan from what is set aside to the cautions, with its trade-offs where they were asked for."""
    write_ports(plan, page)
    write_figures(plan, page, offs)


def write_ports(plan: Plan, page: Page) -> None:
    """Write what the whole comes to, and what is on each port."""
    write_set_aside(plan.set_aside, page)
    _verdict(plan, page)
    _feed(plan, page)
    _warnings(plan, page)
    _outputs(plan, page)
    _inputs(plan, page)
    write_multiplexers(plan, page)


def write_figures(plan: Plan, page: Page, offs: TradeOffs | None = None) -> None:
    """Write the figures behind it: returns, cases, looms, protection, voltages, cost, what was assumed, cautions."""
    _returns(plan, page)
    write_cases("Cases against limits (those that no other case outdoes)", plan.cases, page)
    write_looms(plan.legs, page)
    write_protection(plan, page)
    write_voltages(plan, page)
    write_energy(plan, page)
    write_cost(plan, page)
    _room(plan, page)
    write_also_needed(plan, page)
    if offs is not None:
        write_trade_offs(offs, page)
    _assumed(plan, page)
    write_cautions(plan.cautions, page)


def _verdict(plan: Plan, page: Page) -> None:
    best = "proven best" if plan.proven else "best found before the time limit, not proven best"
    page.line(f"{plan.bike} on the {plan.unit}: FITS, {best}.", "bold green" if plan.proven else "bold yellow")
    page.line(f"Unit {plan.place}, {'turned round' if plan.turned else 'not turned'}.")
    if not plan.proven:
        page.line(f"No plan costs less than {metres(plan.bound)}; this one costs {metres(plan.cost)}.")
    if plan.not_yet_judged:
        page.line("Not everything in the files is judged yet: see the list above the cautions.")


def _feed(plan: Plan, page: Page) -> None:
    feed = plan.feed
    page.line(f"Main fuse {amperes(feed.main_fuse)} at the battery. Feed {wire_text(feed.wire, feed.size)}.")
    page.line(
        f"Worst case: {feed.worst_case}, {amperes(feed.worst)} of {amperes(feed.limit)} that the unit passes; "
        f"{volts(feed.drop)} lost on feed and main fuse."
    )


def wire_text(wire: WireLine, size: WireSize) -> str:
    """Say a wire's size and run."""
    return f"{size.label}, {metres(wire.run)}" if wire.legs else "without a wire, where it stands"


def _warnings(plan: Plan, page: Page) -> None:
    if plan.warnings:
        page.heading("Warnings")
        page.items(plan.warnings, "!")


OUTPUTS: tuple[TableColumn, ...] = (
    ("output", "left"), ("loads", "left"), ("mode", "left"), ("steady", "right"), ("inrush", "right"),
    ("trip", "right"), ("wire", "right"), ("run", "right"), ("drop", "right"),
)  # fmt: skip


def _outputs(plan: Plan, page: Page) -> None:
    page.heading("Outputs")
    page.table(OUTPUTS, [output_row(line) for line in plan.outputs])
    if plan.fed:
        page.heading("Fed from the battery, not by the unit")
        page.table(FED, [fed_row(line) for line in plan.fed])
    if plan.free_outputs:
        page.line(f"  Free: {listed(plan.free_outputs)}.")


def output_row(line: OutputLine) -> list[str]:
    """Return the cells of a circuit on its output."""
    return [
        line.port,
        ", ".join(line.loads),
        ", ".join(line.mode),
        amperes(line.current),
        amperes(MilliAmps(line.inrush // 1000)),
        amperes(line.trip),
        line.size.label,
        metres(line.wire.run),
        volts(line.drop),
    ]


FED: tuple[TableColumn, ...] = (
    ("load", "left"), ("by", "left"), ("steady", "right"), ("fuse", "right"), ("wire", "right"),
    ("run", "right"), ("drop", "right"),
)  # fmt: skip


def fed_row(line: FixedLine) -> list[str]:
    """Return the cells of a load that no unit feeds."""
    by = "relay and fuse" if line.by == "relay" else "fuse"
    fuse = amperes(line.fuse) if line.fuse else "-"
    drop = volts(line.drop) if line.drop is not None else "-"
    return [line.name, by, amperes(line.current), fuse, line.size.label, metres(line.wire.run), drop]


INPUTS: tuple[TableColumn, ...] = (("input", "left"), ("switches", "left"), ("signal", "left"), ("run", "right"))


def _inputs(plan: Plan, page: Page) -> None:
    if plan.inputs:
        page.heading(f"Inputs (all wires {plan.inputs[0].size.label})")
        page.table(INPUTS, [input_row(line) for line in plan.inputs])
    if plan.free_inputs:
        page.line(f"  Free: {listed(plan.free_inputs)}.")


def input_row(line: InputLine) -> list[str]:
    """Return the cells of switches on their input."""
    return [line.port, ", ".join(line.switches), _signal(line), metres(line.wire.run)]


def _signal(line: InputLine) -> str:
    return f"{line.signal}, {line.action}" if line.action else line.signal


RETURNS: tuple[TableColumn, ...] = (
    ("from", "left"), ("to earth at", "left"), ("carries", "right"), ("wire", "right"), ("run", "right"),
)  # fmt: skip


def _returns(plan: Plan, page: Page) -> None:
    page.heading("Returns")
    page.table(RETURNS, [return_row(line) for line in plan.returns])
    for line in plan.other_wires:
        name = "The unit's own earth" if line.kind == "unit earth" else "Supply to switches"
        fuse = f", through one {amperes(line.fuse)} fuse" if line.fuse else ""
        page.line(f"  {name}: {line.start} to {listed(line.ends)}, {wire_text(line.wire, line.size)}{fuse}.")


def return_row(line: FixedLine) -> list[str]:
    """Return the cells of a return."""
    start = line.start if line.kind == "return" else f"{line.name}, on its own"
    if not line.wire.legs:
        return [start, f"{line.ends[-1]} (there)", amperes(line.current), "-", "-"]
    return [start, line.ends[-1], amperes(line.current), line.size.label, metres(line.wire.run)]


def write_cases(heading: str, cases: Sequence[CaseLine], page: Page) -> None:
    """Write what goes through a unit and its banks in each case."""
    page.heading(heading)
    banks = [name for name, _, _ in cases[0].banks] if cases else []
    columns: list[TableColumn] = [("case", "left"), ("unit", "right"), *((f"bank {bank}", "right") for bank in banks)]
    rows = [
        [case.label, _against(case.current, case.limit), *(_against(now, most) for _, now, most in case.banks)]
        for case in cases
    ]
    page.table(columns, rows)


def _against(current: MilliAmps, limit: MilliAmps) -> str:
    return f"{amperes(current).removesuffix(' A')} of {amperes(limit)}"


LOOMS: tuple[TableColumn, ...] = (
    ("leg", "left"), ("wires", "right"), ("loom", "right"), ("opening", "right"), ("moves", "left"),
)  # fmt: skip


def write_looms(legs: Iterable[LegLine], page: Page) -> None:
    """Write the loom of each leg in which anything lies."""
    page.heading("Looms against openings (sleeve counted)")
    page.table(LOOMS, [_loom(leg) for leg in legs if leg.wires])


def _loom(leg: LegLine) -> list[str]:
    opening = "-" if leg.opening is None else tenths(leg.opening)
    if leg.opens_to is not None:
        opening += f" (to {tenths(leg.opens_to)})"
    return [leg.name, str(leg.wires), tenths(leg.diameter), opening, "moves" if leg.moves else ""]


def write_cost(plan: Plan | PairPlan, page: Page) -> None:
    """Write what a plan takes: wire, spare ports, copper."""
    page.heading("What it takes")
    page.line(f"  Wire run {metres(plan.wire_run)}, without margin.")
    page.line(f"  Spare-port loss worth {metres(plan.spare_port_loss)} of wire; together {metres(plan.cost)}.")
    page.line(f"  Copper {plain(Decimal(-(-plan.copper_mg // 1000)))} g as cut.")


def _room(plan: Plan, page: Page) -> None:
    page.heading("Room left")
    room = [f"{line.load} on {line.port}" for line in plan.room_for]
    page.line(f"  Room left for: {listed(room) if room else 'nothing on the list of later loads'}.")
    if plan.no_room_for:
        page.line(f"  No room for: {listed(plan.no_room_for)}.")


def _assumed(plan: Plan, page: Page) -> None:
    page.heading("What was assumed")
    page.items(plan.assumed)
    if plan.not_yet_judged:
        page.heading("Read, and not yet judged")
        page.items(plan.not_yet_judged)


TRADE_OFFS: tuple[TableColumn, ...] = (
    ("place", "left"), ("wire run", "right"), ("spare-port loss", "right"), ("together", "right"),
)  # fmt: skip


def write_trade_offs(offs: TradeOffs, page: Page) -> None:
    """Write the extreme points between wire and spare ports."""
    page.heading("Trade-offs: less wire against more spare ports, each proven")
    page.table(
        TRADE_OFFS,
        [
            [
                seat_said(point.place, turned=point.turned),
                metres(point.wire_run),
                metres(point.spare_port_loss),
                metres(Micrometres(point.wire_run + point.spare_port_loss)),
            ]
            for point in offs.points
        ],
    )
    if offs.not_shown:
        page.line(f"  {offs.not_shown} more lie between these.")
    if not offs.complete:
        page.line("  The time limit was reached: there may be more.")
