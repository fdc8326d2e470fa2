"""The plan as an electrician reads it, in the order in which it is needed."""

from collections.abc import Iterable, Sequence
from decimal import Decimal

from portloom.base.figures import grams, listed, seat_phrase, volts
from portloom.base.quantities import MilliAmps
from portloom.base.sizes import WireSize
from portloom.documents.document import (
    CaseLine,
    FixedLine,
    InputLine,
    LegLine,
    OutputLine,
    Plan,
    PlannedUnit,
    TradeOffs,
    WireLine,
)
from portloom.documents.notes import noted
from portloom.report.text.change_order import write_change_order
from portloom.report.text.electrics import (
    write_also_needed,
    write_energy,
    write_leads,
    write_multiplexers,
    write_protection,
    write_voltages,
)
from portloom.report.text.layout import Page, TableColumn, amperes, metres, tenths, write_cautions, write_first
from portloom.report.text.legs import write_leg_trade_offs, write_legs
from portloom.report.text.places import Places
from portloom.report.text.shown import write_shown

ORDINALS = ("First unit", "Second unit")
CASES = "Cases against limits (the worst cases only)"
PROTECTION = "Wires against their fuses and trips (derated ampacity)"


def write_plan(plan: Plan, page: Page, offs: TradeOffs | None = None) -> None:
    """Write a plan from what stands first to the cautions, with its trade-offs where they were asked for."""
    write_first(plan.first, plan.set_aside, page)
    write_ports(plan, page)
    write_figures(plan, page, offs)


def write_ports(plan: Plan, page: Page) -> None:
    """Write what the whole comes to, and what is on each port; of two units each with its own figures, too."""
    if len(plan.units) > 1:
        _verdict_of_two(plan, page)
        of_units = [f"{unit.seat}, {line}" for unit in plan.units for line in unit.warnings]
        _warnings([*of_units, *plan.bike_warnings], page)
        _decided(plan, page)
        for ordinal, unit in zip(ORDINALS, plan.units, strict=True):
            _one_of_two(ordinal, unit, page)
        _fed("Fed from the battery, not from either unit", plan, page)
        write_shown(plan, page)
        return
    unit = plan.only
    _verdict(plan, page)
    if plan.change is not None:
        write_change_order(plan.change, page)
    _feed(unit, page)
    _warnings(plan.told_warnings, page)
    _decided(plan, page)
    _outputs(plan, page)
    _inputs(unit, page)
    write_multiplexers(unit, page)
    write_shown(plan, page)


def write_figures(plan: Plan, page: Page, offs: TradeOffs | None = None) -> None:
    """Write the figures behind it: returns, cases, looms, protection, voltages, cost, what was assumed, cautions."""
    alone = len(plan.units) == 1
    _returns("Returns" if alone else "Returns, whichever unit feeds the loads", plan, page)
    if alone:
        _cases(CASES, plan.only.cases, page)
    _looms(plan.legs, page)
    if plan.chosen_legs is not None:
        write_legs(plan.chosen_legs, page)
    if alone:
        write_protection(PROTECTION, plan.protection, page)
        write_voltages(plan.only, page)
    elif plan.other_protection:
        write_protection(PROTECTION.replace("Wires", "Wires of neither unit"), plan.other_protection, page)
    write_leads(plan, page)
    write_energy(plan, page)
    _cost(plan, page)
    _room(plan, page)
    write_also_needed(plan, page)
    if offs is not None:
        _trade_offs(offs, page)
    _assumed(plan, page)
    write_cautions(plan.cautions, page)


# --- what it comes to


def _verdict(plan: Plan, page: Page) -> None:
    unit = plan.only
    page.line(f"{plan.bike} on the {unit.unit}: FITS, {_best(plan)}.", _colour(plan))
    way_round = "turned around, front and rear swapped" if unit.turned else "front and rear as in the file"
    page.line(f"Unit {unit.place}, {way_round}.")
    _unproven(plan, page)


def _verdict_of_two(plan: Plan, page: Page) -> None:
    page.line(f"{plan.bike} on two units: FITS, {_best(plan)}.", _colour(plan))
    page.line(f"Two units instead of one: {listed([f'the {unit.unit} {unit.seat}' for unit in plan.units])}.")
    _unproven(plan, page)
    if plan.not_used:
        page.line(f"Not used with two units: {listed(plan.not_used)}.")


def _best(plan: Plan) -> str:
    if plan.once:
        return "best found, but that is not proved twice: the time limit was reached"
    return "proven best" if plan.proven else "best found, not proven best"


def _colour(plan: Plan) -> str:
    return "bold green" if plan.proven else "bold yellow"


def _unproven(plan: Plan, page: Page) -> None:
    if not plan.proven:
        page.line(f"No plan takes less than {metres(plan.bound)}, wire and spare ports; this one {metres(plan.cost)}.")
    if plan.not_yet_judged:
        page.line("Not everything in the files is judged: see 'Not judged' above the cautions.")


def _feed(unit: PlannedUnit, page: Page, indent: str = "", at_most: str = "") -> None:
    feed = unit.feed
    page.line(f"{indent}Main fuse {amperes(feed.main_fuse)} at the battery. Feed: {_wire(feed.wire, feed.size)}.")
    page.line(
        f"{indent}Worst case: {feed.worst_case}, {amperes(feed.worst)} of the unit's {amperes(feed.limit)}; "
        f"{at_most}{volts(feed.drop)} drop in feed and main fuse."
    )


def _warnings(lines: Sequence[str], page: Page) -> None:
    if lines:
        page.heading("Warnings")
        page.items(lines, "!")


def _decided(plan: Plan, page: Page) -> None:
    if plan.decided:
        places = Places()
        page.heading("Decided in the bike's file")
        page.items([f"{line.sentence} ({places.said(line.where)})" for line in plan.decided])


def _one_of_two(ordinal: str, unit: PlannedUnit, page: Page) -> None:
    name = f"the {unit.unit} {unit.seat}"
    page.heading(f"{ordinal}: {name}")
    _feed(unit, page, "  ", "at most ")
    page.line("")
    if unit.outputs:
        page.table(OUTPUTS, [_output(line) for line in unit.outputs])
        _worst_cases(unit, page)
    else:
        page.line("  It drives nothing.")
    if unit.free_outputs:
        page.line(f"  Outputs free: {listed(unit.free_outputs)}.")
    if unit.inputs:
        page.line("")
        page.table(INPUTS, [_input(line) for line in unit.inputs])
        page.line(f"  Input wires {unit.inputs[0].size.label}.")
    if unit.free_inputs:
        page.line(f"  Inputs free: {listed(unit.free_inputs)}.")
    _cases(f"Cases against the limits of {name}", unit.cases, page)
    write_protection(f"Wires of {name} against their fuses and trips", unit.protection, page)
    write_voltages(unit, page)


def _wire(wire: WireLine, size: WireSize) -> str:
    """Say a wire's size and run."""
    return f"{size.label}, {metres(wire.run)}" if wire.run else "no wire, both ends at one point"


# --- ports


OUTPUTS: tuple[TableColumn, ...] = (
    ("output", "left"), ("loads", "left"), ("mode", "left"), ("steady", "right"), ("inrush", "right"),
    ("trip", "right"), ("wire", "right"), ("run", "right"), ("drop", "right"),
)  # fmt: skip


def _outputs(plan: Plan, page: Page) -> None:
    page.heading("Outputs")
    page.table(OUTPUTS, [_output(line) for line in plan.only.outputs])
    _worst_cases(plan.only, page)
    _fed("Fed from the battery, not from the unit", plan, page)
    if plan.only.free_outputs:
        page.line(f"  Free: {listed(plan.only.free_outputs)}.")


def _worst_cases(unit: PlannedUnit, page: Page) -> None:
    """Say what a drop is, and in which case that of each output is."""
    page.line("  Drop: over the whole path with the wires above, of the load that loses most, in its worst case:")
    page.items([f"{case}: {listed(ports)}" for case, ports in _ports_by_case(unit.outputs).items()])


def _ports_by_case(outputs: Sequence[OutputLine]) -> dict[str, list[str]]:
    ports: dict[str, list[str]] = {}
    for line in outputs:
        ports.setdefault(line.worst.case, []).append(line.port)
    return ports


def _output(line: OutputLine) -> list[str]:
    """Return the cells of a circuit on its output."""
    return [
        line.port,
        noted(line.loads, line.notes),
        ", ".join(line.mode),
        amperes(line.current),
        amperes(MilliAmps(line.inrush // 1000)),
        amperes(line.trip),
        line.size.label,
        metres(line.wire.run),
        volts(line.drop),
    ]


def _fed(heading: str, plan: Plan, page: Page) -> None:
    if plan.fed:
        page.heading(heading)
        page.table(FED, [_fed_row(line) for line in plan.fed])


FED: tuple[TableColumn, ...] = (
    ("load", "left"), ("by", "left"), ("steady", "right"), ("fuse", "right"), ("wire", "right"),
    ("run", "right"), ("drop", "right"), ("in", "left"),
)  # fmt: skip


def _fed_row(line: FixedLine) -> list[str]:
    """Return the cells of a load that no unit feeds."""
    by = "relay and fuse" if line.by == "relay" else "fuse"
    fuse = amperes(line.fuse) if line.fuse else "-"
    drop, case = ("-", "-") if line.drop is None else (volts(line.drop.drop), line.drop.case)
    name, run = noted([line.name], line.notes), metres(line.wire.run)
    return [name, by, amperes(line.current), fuse, line.size.label, run, drop, case]


INPUTS: tuple[TableColumn, ...] = (("input", "left"), ("switches", "left"), ("signal", "left"), ("run", "right"))


def _inputs(unit: PlannedUnit, page: Page) -> None:
    if unit.inputs:
        page.heading(f"Inputs (all wires {unit.inputs[0].size.label})")
        page.table(INPUTS, [_input(line) for line in unit.inputs])
    if unit.free_inputs:
        page.line(f"  Free: {listed(unit.free_inputs)}.")


def _input(line: InputLine) -> list[str]:
    """Return the cells of switches on their input."""
    return [line.port, noted(line.switches, line.notes), _signal(line), metres(line.wire.run)]


def _signal(line: InputLine) -> str:
    return f"{line.signal}, {line.action}" if line.action else line.signal


RETURNS: tuple[TableColumn, ...] = (
    ("from", "left"), ("to earth at", "left"), ("carries", "right"), ("wire", "right"), ("run", "right"),
)  # fmt: skip


def _returns(heading: str, plan: Plan, page: Page) -> None:
    page.heading(heading)
    page.table(RETURNS, [_return(line) for line in plan.returns])
    several = {line.start for line in plan.returns if line.number > 1}
    for line in plan.returns:
        if line.kind == "return" and line.start in several and line.loads:
            page.line(f"  Return {line.number} from {line.start} takes {listed(line.loads)}.")
    for line in plan.other_wires:
        fuse = f", through one {amperes(line.fuse)} fuse" if line.fuse else ""
        wire = _wire(line.wire, line.size) if line.wire.run else f"{line.size.label}, as short as can be"
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


def _cases(heading: str, cases: Sequence[CaseLine], page: Page) -> None:
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


def _looms(legs: Iterable[LegLine], page: Page) -> None:
    """Write the loom of each leg in which anything lies."""
    page.heading("Looms against openings (sleeve included)")
    page.table(LOOMS, [_loom(leg) for leg in legs if leg.wires])


def _loom(leg: LegLine) -> list[str]:
    opening = "-" if leg.opening is None else tenths(leg.opening)
    if leg.opens_to is not None:
        opening += f" (to {tenths(leg.opens_to)})"
    return [leg.name, str(leg.wires), tenths(leg.diameter), opening, "moves" if leg.moves else ""]


def _cost(plan: Plan, page: Page) -> None:
    """Write what a plan takes: wire, spare ports, copper."""
    page.heading("What it takes")
    page.line(f"  Wire run {metres(plan.wire_run)}, without margin.")
    legs = f"; legs in use worth {metres(plan.legs_in_use)}" if plan.legs_in_use else ""
    page.line(f"  Spare-port loss worth {metres(plan.spare_port_loss)} of wire{legs}.")
    page.line(f"  Wire and spare ports together {metres(plan.cost)}: a sum to compare plans by, no money.")
    page.line(f"  Copper {grams(Decimal(plan.copper_mg) / 1000)} in all that is cut, as the cut list has it.")


def _room(plan: Plan, page: Page) -> None:
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


def _assumed(plan: Plan, page: Page) -> None:
    page.heading("What was assumed")
    page.items(plan.assumed)
    if plan.not_yet_judged:
        page.heading("Not judged")
        page.items(plan.not_yet_judged)


TRADE_OFFS: tuple[TableColumn, ...] = (
    ("place", "left"), ("wire run", "right"), ("spare-port loss", "right"), ("together", "right"),
)  # fmt: skip


def _trade_offs(offs: TradeOffs, page: Page) -> None:
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
