"""What is on the ports of a unit, and what a unit comes to: verdict, feed, warnings, outputs, inputs."""

from collections.abc import Sequence

from portloom.base.figures import listed, volts
from portloom.base.quantities import MilliAmps
from portloom.base.sizes import WireSize
from portloom.documents.document import FixedLine, InputLine, OutputLine, Plan, PlannedUnit, WireLine
from portloom.documents.notes import noted
from portloom.report.text.layout import Page, TableColumn, amperes, metres
from portloom.report.text.places import Places

# --- what it comes to


def write_verdict(plan: Plan, page: Page) -> None:
    """Write whether it fits, where the unit sits, and what is not proved or not judged."""
    unit = plan.only
    page.line(f"{plan.bike} on the {unit.unit}: FITS, {_best(plan)}.", "bold")
    way_round = "turned around, front and rear swapped" if unit.turned else "front and rear as in the file"
    page.line(f"Unit {unit.place}, {way_round}.")
    _unproven(plan, page)


def write_verdict_of_two(plan: Plan, page: Page) -> None:
    """Write the same of two units."""
    page.line(f"{plan.bike} on two units: FITS, {_best(plan)}.", "bold")
    page.line(f"Two units instead of one: {listed([f'the {unit.unit} {unit.seat}' for unit in plan.units])}.")
    _unproven(plan, page)
    if plan.not_used:
        page.line(f"Not used with two units: {listed(plan.not_used)}.")


def _best(plan: Plan) -> str:
    if plan.once:
        return "best found, but that is not proved twice: the time limit was reached"
    return "proven best" if plan.proven else "best found, not proven best"


def _unproven(plan: Plan, page: Page) -> None:
    if not plan.proven:
        page.line(f"No plan takes less than {metres(plan.bound)}, wire and spare ports; this one {metres(plan.cost)}.")
    if plan.not_yet_judged:
        page.line("Not everything in the files is judged: see 'Not judged' above the cautions.")


def write_feed(unit: PlannedUnit, page: Page, indent: str = "", at_most: str = "") -> None:
    """Write main fuse, feed and worst case of a unit."""
    feed = unit.feed
    page.line(f"{indent}Main fuse {amperes(feed.main_fuse)} at the battery. Feed: {wire_said(feed.wire, feed.size)}.")
    page.line(
        f"{indent}Worst case: {feed.worst_case}, {amperes(feed.worst)} of the unit's {amperes(feed.limit)}; "
        f"{at_most}{volts(feed.drop)} drop in feed and main fuse."
    )


def warning_lines(plan: Plan) -> list[str]:
    """Return every warning but those that stand first; of two units with where each sits."""
    if len(plan.units) == 1:
        return list(plan.told_warnings)
    return [*(f"{unit.seat}, {line}" for unit in plan.units for line in unit.warnings), *plan.bike_warnings]


def write_warnings(lines: Sequence[str], page: Page) -> None:
    """Write warnings under their heading."""
    if lines:
        page.heading("Warnings")
        page.items(lines, "!")


def write_decided(plan: Plan, page: Page) -> None:
    """Write what the builder has decided of ports."""
    if plan.decided:
        places = Places()
        page.heading("Decided in the bike's file")
        page.items([f"{line.sentence} ({places.said(line.where)})" for line in plan.decided])


def wire_said(wire: WireLine, size: WireSize) -> str:
    """Say a wire's size and run."""
    return f"{size.label}, {metres(wire.run)}" if wire.run else "no wire, both ends at one point"


# --- ports


OUTPUTS: tuple[TableColumn, ...] = (
    ("output", "left"), ("loads", "left"), ("mode", "left"), ("steady", "right"), ("inrush", "right"),
    ("trip", "right"), ("wire", "right"), ("run", "right"), ("drop", "right"),
)  # fmt: skip


def write_outputs(plan: Plan, page: Page) -> None:
    """Write what is on each output, and what the battery feeds past the unit."""
    page.heading("Outputs")
    page.table(OUTPUTS, [output_row(line) for line in plan.only.outputs])
    write_worst_cases(plan.only, page)
    write_fed("Fed from the battery, not from the unit", plan, page)
    if plan.only.free_outputs:
        page.line(f"  Free: {listed(plan.only.free_outputs)}.")


def write_worst_cases(unit: PlannedUnit, page: Page) -> None:
    """Say what a drop is, and in which case that of each output is."""
    page.line("  Drop: over the whole path with the wires above, of the load that loses most, in its worst case:")
    page.items([f"{case}: {listed(ports)}" for case, ports in _ports_by_case(unit.outputs).items()])


def _ports_by_case(outputs: Sequence[OutputLine]) -> dict[str, list[str]]:
    ports: dict[str, list[str]] = {}
    for line in outputs:
        ports.setdefault(line.worst.case, []).append(line.port)
    return ports


def output_row(line: OutputLine) -> list[str]:
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


def write_fed(heading: str, plan: Plan, page: Page) -> None:
    """Write what the battery feeds past the units."""
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


def write_inputs(unit: PlannedUnit, page: Page) -> None:
    """Write what is on each input."""
    if unit.inputs:
        page.heading(f"Inputs (all wires {unit.inputs[0].size.label})")
        page.table(INPUTS, [input_row(line) for line in unit.inputs])
    if unit.free_inputs:
        page.line(f"  Free: {listed(unit.free_inputs)}.")


def input_row(line: InputLine) -> list[str]:
    """Return the cells of switches on their input."""
    return [line.port, noted(line.switches, line.notes), _signal(line), metres(line.wire.run)]


def _signal(line: InputLine) -> str:
    return f"{line.signal}, {line.action}" if line.action else line.signal
