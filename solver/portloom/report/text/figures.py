"""The figures behind a plan: returns, cases, looms, what it takes, what room is left, what was assumed."""

from collections.abc import Iterable, Sequence
from decimal import Decimal

from portloom.base.figures import grams, listed, seat_phrase
from portloom.base.quantities import MilliAmps
from portloom.documents.document import CaseLine, FixedLine, LegLine, Plan, TradeOffs
from portloom.report.text.layout import Page, TableColumn, amperes, metres, tenths
from portloom.report.text.legs import write_leg_trade_offs
from portloom.report.text.ports import wire_said

RETURNS: tuple[TableColumn, ...] = (
    ("from", "left"), ("to earth at", "left"), ("carries", "right"), ("wire", "right"), ("run", "right"),
)  # fmt: skip


def write_returns(heading: str, plan: Plan, page: Page) -> None:
    """Write each return, and the wires that no load's current flows in."""
    page.heading(heading)
    page.table(RETURNS, [_return(line) for line in plan.returns])
    several = {line.start for line in plan.returns if line.number > 1}
    for line in plan.returns:
        if line.kind == "return" and line.start in several and line.loads:
            page.line(f"  Return {line.number} from {line.start} takes {listed(line.loads)}.")
    for line in plan.other_wires:
        fuse = f", through one {amperes(line.fuse)} fuse" if line.fuse else ""
        wire = wire_said(line.wire, line.size) if line.wire.run else f"{line.size.label}, as short as can be"
        page.line(f"  {_other(plan, line)}, {wire}{fuse}.")


def _other(plan: Plan, line: FixedLine) -> str:
    """Say what a wire is that no load's current flows in, and from where to where it goes."""
    if line.kind == "unit earth":
        whose = "The unit's own earth" if len(plan.units) == 1 else f"The earth of the unit {line.name}"
        return f"{whose}: {line.start} to the battery's negative pole at {line.ends[0]}"
    name = f"Coil of {line.name} relay, to its own switch" if line.kind == "coil lead" else "Supply to switches"
    return f"{name}: {line.start} to {listed(line.ends)}"


def _return(line: FixedLine) -> list[str]:
    """Return the cells of a return."""
    start = line.joint if line.kind == "return" else f"{line.name}, separate"
    if not line.wire.legs:
        return [start, f"{line.ends[-1]} (same point)", amperes(line.current), "-", "-"]
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
    page.heading("Looms against openings (sleeve included)")
    page.table(LOOMS, [_loom(leg) for leg in legs if leg.wires])


def _loom(leg: LegLine) -> list[str]:
    opening = "-" if leg.opening is None else tenths(leg.opening)
    if leg.opens_to is not None:
        opening += f" (to {tenths(leg.opens_to)})"
    return [leg.name, str(leg.wires), tenths(leg.diameter), opening, "moves" if leg.moves else ""]


def write_sum(plan: Plan, page: Page) -> None:
    """Write what a plan takes: wire, spare ports, copper."""
    page.heading("What it takes")
    page.line(f"  Wire run {metres(plan.wire_run)}, without margin.")
    legs = f"; legs in use worth {metres(plan.legs_in_use)}" if plan.legs_in_use else ""
    page.line(f"  Spare-port loss worth {metres(plan.spare_port_loss)} of wire{legs}.")
    page.line(f"  Wire and spare ports together {metres(plan.cost)}: a sum to compare plans by, no money.")
    page.line(f"  Copper {grams(Decimal(plan.copper_mg) / 1000)} in all that is cut, as the cut list has it.")


def write_room(plan: Plan, page: Page) -> None:
    """Write which later loads there is room for."""
    page.heading("Room left")
    room = [
        f"{line.load} on {line.port}{'' if len(plan.units) == 1 else f' of the unit {unit.seat}'}"
        for unit in plan.units
        for line in unit.room_for
    ]
    page.line(f"  Room left for: {listed(room) if room else 'nothing on the list of later loads'}.")
    if plan.no_room_for:
        page.line(f"  No room for: {listed(plan.no_room_for)}.")
    if plan.could_share:
        page.line("  Could share:")
        page.items(plan.could_share)


def write_assumed(plan: Plan, page: Page) -> None:
    """Write what was assumed."""
    page.heading("What was assumed")
    page.items(plan.assumed)


def write_not_judged(plan: Plan, page: Page) -> None:
    """Write what the files say that no rule judges."""
    page.heading("Not judged")
    page.items(plan.not_yet_judged)


TRADE_OFFS: tuple[TableColumn, ...] = (
    ("place", "left"), ("wire run", "right"), ("spare-port loss", "right"), ("together", "right"),
)  # fmt: skip


def write_trade_offs(offs: TradeOffs, page: Page) -> None:
    """Write the extreme points between wire and spare ports."""
    open_legs = "" if offs.legs is None else ", every leg open"
    page.heading(f"Trade-offs: less wire against more spare ports, each proven{open_legs}")
    page.table(
        TRADE_OFFS,
        [
            [
                seat_phrase(point.place, turned=point.turned),
                metres(point.wire_run),
                metres(point.spare_port_loss),
                metres(point.cost),
            ]
            for point in offs.points
        ],
    )
    if offs.not_shown:
        page.line(f"  {offs.not_shown} more are between these.")
    if not offs.complete:
        page.line("  The time limit was reached: there may be more.")
    if offs.legs is not None:
        write_leg_trade_offs(offs.legs, page)
