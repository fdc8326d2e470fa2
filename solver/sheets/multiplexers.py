"""The multiplexers of a plan as people read them: where each stands, who goes through it, what it saves."""

from solver.plans.document import MultiplexerLine, Plan
from solver.plans.savings import LegSaving, Savings
from solver.sheets.amounts import metres, tenths
from solver.sheets.layout import Column, Page
from solver.words.figures import counted
from solver.words.quantities import Micrometres

SWITCHES: tuple[Column, ...] = (("switch", "left"), ("signal", "left"), ("run", "right"))
LOOMS: tuple[Column, ...] = (
    ("leg", "left"), ("wires", "right"), ("without it", "right"), ("loom", "right"), ("without it", "right"),
)  # fmt: skip


def write_multiplexers(plan: Plan, page: Page) -> None:
    """Write each multiplexer that the plan uses, and what it saves against the best plan without it."""
    for line in plan.multiplexers:
        _write(line, page)


def _write(line: MultiplexerLine, page: Page) -> None:
    page.heading(f"Multiplexer {line.name}, at {line.at}, on {line.port} ({len(line.switches)} of {line.ways} ways)")
    page.table(SWITCHES, [[one.switch, one.signal, metres(one.wire.run)] for one in line.switches])
    page.line(f"  Data and supply to {line.port}: 2 x {metres(line.wire.run)} of {line.size.label}.")
    if isinstance(line.saves, Savings):
        _write_savings(line.saves, page)
    elif line.saves == "no plan":
        page.line("  Without it nothing fits (proved).")
    elif line.saves == "unknown":
        page.line("  What it saves is not known: the time limit was reached first.")


def _write_savings(saves: Savings, page: Page) -> None:
    place = f", unit at {saves.place}," if saves.place else ""
    proved = "" if saves.proven else " (not proved: the time limit was reached first)"
    saved = f"{_length(saves.wire_run)}, {_inputs(saves.inputs)}"
    page.line(f"  Against the best plan without it{place}{proved}: {saved}.")
    if saves.legs:
        page.table(LOOMS, [_loom(leg) for leg in saves.legs])


def _length(saved: Micrometres) -> str:
    return f"{metres(saved)} of wire saved" if saved >= 0 else f"{metres(Micrometres(-saved))} more wire"


def _inputs(saved: int) -> str:
    return f"{counted(saved, 'input')} more free" if saved >= 0 else f"{counted(-saved, 'input')} fewer free"


def _loom(leg: LegSaving) -> list[str]:
    return [leg.name, str(leg.wires), str(leg.wires_without), tenths(leg.diameter), tenths(leg.diameter_without)]
