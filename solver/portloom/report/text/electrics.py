"""The parts of a plan that tell whether the wired bike works, stays cool and starts next month; its multiplexers."""

from collections.abc import Iterable
from decimal import Decimal

from portloom.base.figures import amperes, celsius, counted, limit_volts, plain, volts, volts_left
from portloom.base.quantities import Micrometres
from portloom.documents.document import CrankingLine, LampLine, MultiplexerLine, Plan, PlannedUnit
from portloom.documents.energy import Resting, Riding, days, watts
from portloom.documents.notes import noted
from portloom.documents.protection import ProtectionLine
from portloom.documents.savings import LegSaving, Savings
from portloom.documents.wiring.leads import BatteryLead
from portloom.report.text.layout import Page, TableColumn, metres, tenths

PROTECTION: tuple[TableColumn, ...] = (
    ("wire", "left"), ("size", "right"), ("must carry", "right"), ("can carry", "right"), ("weakest in", "left"),
    ("loaded", "right"), ("ambient", "right"),
)  # fmt: skip


def write_protection(heading: str, lines: Iterable[ProtectionLine], page: Page) -> None:
    """Write what each wire must carry and does carry where it is weakest."""
    page.heading(heading)
    page.table(PROTECTION, [_protection(line) for line in lines])
    page.line("  From 18 AWG (1 mm2) up by 33 CFR 183.425 Table 5; thinner wire by common practice, from memory.")


def _protection(line: ProtectionLine) -> list[str]:
    return [
        line.wire,
        line.size.label,
        amperes(line.must),
        amperes(line.carries),
        line.leg,
        str(line.loaded),
        celsius(line.ambient),
    ]


LAMPS: tuple[TableColumn, ...] = (
    ("filament lamp", "left"), ("voltage", "right"), ("brightness", "right"), ("in", "left"),
)  # fmt: skip


def write_voltages(unit: PlannedUnit, page: Page) -> None:
    """Write what reaches the filament lamps, and what is left where while cranking."""
    if unit.lamps:
        page.heading("Voltage at the lamps in the worst case (light ~ V^3.4, from memory)")
        page.table(LAMPS, [_lamp(line) for line in unit.lamps])
    if unit.cranking:
        page.heading("While cranking")
        page.table(CRANKING, [_cranking(line) for line in unit.cranking])


def _lamp(line: LampLine) -> list[str]:
    return [line.load, volts_left(line.reaches), f"{int(line.light * 100)} %", line.case]


CRANKING: tuple[TableColumn, ...] = (("at", "left"), ("available", "right"), ("needed", "right"))


def _cranking(line: CrankingLine) -> list[str]:
    needs = "-" if line.lowest is None else volts_left(1000 * line.lowest)
    return [line.where, volts_left(line.voltage), needs]


LEADS: tuple[TableColumn, ...] = (
    ("lead", "left"), ("from", "left"), ("to", "left"), ("size", "right"), ("run", "right"), ("drop", "right"),
    ("at most", "right"),
)  # fmt: skip
OUTSIDE = "Outside the looms, and outside the wire run, the cost and the copper that are told"
"""Where the battery's own leads are not counted: no plan has more or less of them."""


def write_leads(plan: Plan, page: Page) -> None:
    """Write the battery's own leads and the earth straps, with what they lose while the starter turns."""
    if not plan.leads:
        return
    page.heading(f"Battery leads and straps while cranking, {amperes(plan.leads[0].current)} at 85 C or ambient")
    page.table(LEADS, [_lead(lead) for lead in plan.leads])
    if plan.starter_voltage is not None:
        page.line(f"  {volts_left(plan.starter_voltage)} are left at the starter motor.")
    page.line(f"  {OUTSIDE}.")


def _lead(lead: BatteryLead) -> list[str]:
    lost = "-" if lead.loses is None else volts(lead.loses)
    return [
        f"{lead.number}, {lead.name}", lead.start.told, lead.end.told, lead.size_told, metres(lead.run), lost,
        limit_volts(1000 * lead.may_lose),
    ]  # fmt: skip


RIDING: tuple[TableColumn, ...] = (
    ("case", "left"), ("average draw", "right"), ("alternator at idle", "right"), ("cruising", "right"),
)  # fmt: skip


def write_energy(plan: Plan, page: Page) -> None:
    """Write charging against what is drawn, and battery days."""
    page.heading("Energy (warnings only)")
    page.table(RIDING, [_riding(line) for line in plan.energy.riding])
    page.line(f"  Battery at rest: {volts_left(1000 * plan.resting)}.")
    for line in plan.energy.resting:
        page.line(f"  {_resting(line)}")


def _riding(line: Riding) -> list[str]:
    given = ["not stated" if power is None else watts(power) for power in (line.idle, line.cruise)]
    return [line.state, watts(line.drawn), *given]


def _resting(line: Resting) -> str:
    drawn = f"{plain(Decimal(line.drawn) / 1000)} mA"
    lasts = "no limit" if line.days is None else f"battery half empty after {days(line.days)}"
    return f"{line.name.capitalize()}: {drawn} drawn, {lasts}."


def write_also_needed(plan: Plan, page: Page) -> None:
    """Write what is needed beside wire."""
    page.heading("Also needed")
    page.items(plan.also_needed)


SWITCHES: tuple[TableColumn, ...] = (("switch", "left"), ("signal", "left"), ("run", "right"))
LOOMS: tuple[TableColumn, ...] = (
    ("leg", "left"), ("wires", "right"), ("without it", "right"), ("loom", "right"), ("without it", "right"),
)  # fmt: skip


def write_multiplexers(unit: PlannedUnit, page: Page) -> None:
    """Write each multiplexer on a unit, and what it saves against the best plan without it."""
    for line in unit.multiplexers:
        _write(line, page)


def _write(line: MultiplexerLine, page: Page) -> None:
    page.heading(f"Multiplexer {line.name}, at {line.at}, on {line.port} ({len(line.switches)} of {line.ways} ways)")
    page.table(SWITCHES, [[noted([one.switch], one.notes), one.signal, metres(one.wire.run)] for one in line.switches])
    page.line(f"  Data and supply to {line.port}: 2 x {metres(line.wire.run)} of {line.size.label}.")
    if isinstance(line.saves, Savings):
        _write_savings(line.saves, page)
    elif line.saves == "no plan":
        page.line("  Without it nothing fits (proved).")
    elif line.saves == "unknown":
        page.line("  What it saves is not known: the time limit came first.")


def _write_savings(saves: Savings, page: Page) -> None:
    place = f", unit at {saves.place}," if saves.place else ""
    proved = "" if saves.proven else " (not proved: the time limit was reached first)"
    legs = f", legs in use worth {_sign(saves.legs_in_use)}" if saves.legs_in_use else ""
    saved = f"{_length(saves.wire_run)}, {_inputs(saves.inputs)}{legs}"
    page.line(f"  Compared with the best plan without it{place}{proved}: {saved}.")
    if saves.legs:
        page.table(LOOMS, [_loom(leg) for leg in saves.legs])


def _length(saved: Micrometres) -> str:
    return f"{metres(saved)} of wire saved" if saved >= 0 else f"{metres(Micrometres(-saved))} more wire"


def _sign(saved: Micrometres) -> str:
    return f"{metres(Micrometres(abs(saved)))} {'less' if saved >= 0 else 'more'}"


def _inputs(saved: int) -> str:
    return f"{counted(saved, 'more input')} free" if saved >= 0 else f"{counted(-saved, 'fewer input')} free"


def _loom(leg: LegSaving) -> list[str]:
    return [leg.name, str(leg.wires), str(leg.wires_without), tenths(leg.diameter), tenths(leg.diameter_without)]
