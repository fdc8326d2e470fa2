"""The plan as an electrician reads it: a first screen, then part after part in the order in which it is needed."""

from collections.abc import Callable, Iterator, Sequence

from portloom.base.figures import counted, listed
from portloom.base.values import dataclass
from portloom.documents.document import Plan, PlannedUnit, TradeOffs
from portloom.report.text.change_order import write_change_order
from portloom.report.text.electrics import (
    write_also_needed,
    write_energy,
    write_leads,
    write_multiplexers,
    write_protection,
    write_voltages,
)
from portloom.report.text.figures import (
    write_assumed,
    write_cases,
    write_looms,
    write_not_judged,
    write_returns,
    write_room,
    write_sum,
    write_trade_offs,
)
from portloom.report.text.first_screen import Screen, write_first_screen
from portloom.report.text.layout import Page, write_cautions, write_first
from portloom.report.text.legs import write_legs
from portloom.report.text.ports import (
    INPUTS,
    OUTPUTS,
    input_row,
    output_row,
    warning_lines,
    write_decided,
    write_fed,
    write_feed,
    write_inputs,
    write_outputs,
    write_verdict,
    write_verdict_of_two,
    write_warnings,
    write_worst_cases,
)
from portloom.report.text.shown import write_shown

ORDINALS = ("First unit", "Second unit")
CASES = "Cases against limits (the worst cases only)"
PROTECTION = "Wires against their fuses and trips (derated ampacity)"
CHANGE, WARNINGS, TRADE_OFFS, NOT_JUDGED = "change-order", "warnings", "trade-offs", "not-judged"
PARTS = (
    CHANGE, WARNINGS, "decided", "outputs", "units", "fed", "inputs", "multiplexers", "dashes", "returns", "cases",
    "looms", "legs", "wires", "voltages", "leads", "energy", "sum", "room", "needed", TRADE_OFFS, "assumed", NOT_JUDGED,
)  # fmt: skip
"""What a plan may be asked for part by part, in the order in which it is told; no plan has all."""
PORTS = PARTS[: PARTS.index("returns")]
"""What comes before the figures."""


@dataclass(frozen=True)
class Part:
    """A part of a plan: the name by which it is asked for, and what writes it with its headings."""

    name: str
    write: Callable[[Page], None]


def write_plan(plan: Plan, page: Screen, offs: TradeOffs | None = None) -> None:
    """Write a plan whole: the first screen, every part, the cautions."""
    if write_first_screen(plan, page):
        _write_in_full(plan, page)
    write_parts((part for part in parts_of(plan, offs) if part.name != WARNINGS), page)
    write_cautions(plan.cautions, page)


def write_in_short(plan: Plan, page: Screen, offs: TradeOffs | None = None) -> None:
    """Write the first screen with the names of all parts, then what was asked for, and all that warns, in full."""
    every = list(parts_of(plan, offs))
    told = (CHANGE, TRADE_OFFS, NOT_JUDGED)
    more = [part.name for part in every if part.name not in (*told, WARNINGS)]
    if write_first_screen(plan, page, more):
        _write_in_full(plan, page)
    write_parts([part for part in every if part.name in told], page)
    write_cautions(plan.cautions, page)


def _write_in_full(plan: Plan, page: Page) -> None:
    """Write all that warns."""
    page.line("")
    write_first(plan.first, plan.set_aside, page)
    if lines := warning_lines(plan):
        page.line("Warnings", "bold")
        page.items(lines, "!")


def write_some(plan: Plan, wanted: Sequence[str], page: Page, offs: TradeOffs | None = None) -> None:
    """Write the parts that are wanted by their names, after what stands first and the verdict; cautions come last."""
    every = list(parts_of(plan, offs))
    write_first(plan.first, plan.set_aside, page)
    _write_verdict(plan, page)
    lines = warning_lines(plan)
    if lines and WARNINGS not in wanted:
        page.line(f"{counted(len(lines), 'warning').capitalize()}: --only {WARNINGS}", "bold")
    write_parts([part for part in every if part.name in wanted], page)
    missing = [name for name in wanted if name not in {part.name for part in every}]
    if missing:
        page.line("")
        page.line(f"Nothing in this plan: {listed(missing)}.")
    write_cautions(plan.cautions, page)


def write_parts(parts: Sequence[Part] | Iterator[Part], page: Page) -> None:
    """Write parts one after the other."""
    for part in parts:
        part.write(page)


def write_ports(plan: Plan, page: Page) -> None:
    """Write what the whole comes to, and what is on each port; of two units each with its own figures, too."""
    _write_verdict(plan, page)
    if plan.change is not None:
        write_change_order(plan.change, page)
    if len(plan.units) == 1:
        write_feed(plan.only, page)
    write_parts([part for part in parts_of(plan) if part.name in PORTS and part.name != CHANGE], page)


def write_figures(plan: Plan, page: Page) -> None:
    """Write the figures behind it: returns, cases, looms, protection, voltages, the sum, what was assumed, cautions."""
    write_parts([part for part in parts_of(plan) if part.name not in PORTS], page)
    write_cautions(plan.cautions, page)


def _write_verdict(plan: Plan, page: Page) -> None:
    (write_verdict if len(plan.units) == 1 else write_verdict_of_two)(plan, page)


# --- its parts


def parts_of(plan: Plan, offs: TradeOffs | None = None) -> Iterator[Part]:
    """Return the parts that a plan has, in their order."""
    if plan.change is not None:
        order = plan.change
        yield Part(CHANGE, lambda page: write_change_order(order, page))
    if lines := warning_lines(plan):
        yield Part(WARNINGS, lambda page: write_warnings(lines, page))
    if plan.decided:
        yield Part("decided", lambda page: write_decided(plan, page))
    yield from _of_one(plan, plan.only) if len(plan.units) == 1 else _of_two(plan)
    if plan.shown:
        yield Part("dashes", lambda page: write_shown(plan, page))
    yield from _of_figures(plan)
    if offs is not None:
        traded = offs
        yield Part(TRADE_OFFS, lambda page: write_trade_offs(traded, page))
    yield Part("assumed", lambda page: write_assumed(plan, page))
    if plan.not_yet_judged:
        yield Part(NOT_JUDGED, lambda page: write_not_judged(plan, page))


def _of_one(plan: Plan, unit: PlannedUnit) -> Iterator[Part]:
    yield Part("outputs", lambda page: write_outputs(plan, page))
    yield Part("inputs", lambda page: write_inputs(unit, page))
    if unit.multiplexers:
        yield Part("multiplexers", lambda page: write_multiplexers(unit, page))


def _of_two(plan: Plan) -> Iterator[Part]:
    yield Part("units", lambda page: _write_units(plan, page))
    if plan.fed:
        yield Part("fed", lambda page: write_fed("Fed from the battery, not from either unit", plan, page))


def _write_units(plan: Plan, page: Page) -> None:
    for ordinal, unit in zip(ORDINALS, plan.units, strict=True):
        _one_of_two(ordinal, unit, page)


def _of_figures(plan: Plan) -> Iterator[Part]:
    alone, legs = len(plan.units) == 1, plan.chosen_legs
    returns = "Returns" if alone else "Returns, whichever unit feeds the loads"
    yield Part("returns", lambda page: write_returns(returns, plan, page))
    if alone:
        yield Part("cases", lambda page: write_cases(CASES, plan.only.cases, page))
    yield Part("looms", lambda page: write_looms(plan.legs, page))
    if legs is not None:
        yield Part("legs", lambda page: write_legs(legs, page))
    if alone:
        yield Part("wires", lambda page: write_protection(PROTECTION, plan.protection, page))
        yield Part("voltages", lambda page: write_voltages(plan.only, page))
    elif plan.other_protection:
        neither = PROTECTION.replace("Wires", "Wires of neither unit")
        yield Part("wires", lambda page: write_protection(neither, plan.other_protection, page))
    if plan.leads:
        yield Part("leads", lambda page: write_leads(plan, page))
    yield Part("energy", lambda page: write_energy(plan, page))
    yield Part("sum", lambda page: write_sum(plan, page))
    yield Part("room", lambda page: write_room(plan, page))
    yield Part("needed", lambda page: write_also_needed(plan, page))


def _one_of_two(ordinal: str, unit: PlannedUnit, page: Page) -> None:
    name = f"the {unit.unit} {unit.seat}"
    page.heading(f"{ordinal}: {name}")
    write_feed(unit, page, "  ", "at most ")
    page.line("")
    if unit.outputs:
        page.table(OUTPUTS, [output_row(line) for line in unit.outputs])
        write_worst_cases(unit, page)
    else:
        page.line("  It drives nothing.")
    if unit.free_outputs:
        page.line(f"  Outputs free: {listed(unit.free_outputs)}.")
    if unit.inputs:
        page.line("")
        page.table(INPUTS, [input_row(line) for line in unit.inputs])
        page.line(f"  Input wires {unit.inputs[0].size.label}.")
    if unit.free_inputs:
        page.line(f"  Inputs free: {listed(unit.free_inputs)}.")
    write_cases(f"Cases against the limits of {name}", unit.cases, page)
    write_protection(f"Wires of {name} against their fuses and trips", unit.protection, page)
    write_voltages(unit, page)
