"""The parts of a plan that tell whether the wired bike works, stays cool and starts next month."""

from decimal import Decimal

from solver.plans.document import CrankingLine, LampLine, Plan
from solver.plans.energy import Resting, Riding, days, watts
from solver.plans.protection import ProtectionLine
from solver.sheets.layout import Column, Page
from solver.words.figures import amperes, celsius, plain, volts_left

PROTECTION: tuple[Column, ...] = (
    ("wire", "left"), ("size", "right"), ("must carry", "right"), ("carries", "right"), ("at its weakest, in", "left"),
    ("loaded", "right"), ("ambient", "right"),
)  # fmt: skip


def write_protection(plan: Plan, page: Page) -> None:
    """Write what each wire must carry and does carry where it is weakest."""
    page.heading("Wires against what protects them (33 CFR 183.425 Table 5, derated)")
    page.table(PROTECTION, [_protection(line) for line in plan.protection])


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


LAMPS: tuple[Column, ...] = (("filament lamp", "left"), ("reached by", "right"), ("light left", "right"))


def write_voltages(plan: Plan, page: Page) -> None:
    """Write what reaches the filament lamps, and what is left where while cranking."""
    if plan.lamps:
        page.heading("What reaches the lamps in the worst case (light ~ V^3.4, from memory)")
        page.table(LAMPS, [_lamp(line) for line in plan.lamps])
    if plan.cranking:
        page.heading("While cranking")
        page.table(CRANKING, [_cranking(line) for line in plan.cranking])


def _lamp(line: LampLine) -> list[str]:
    return [line.load, volts_left(line.reaches), f"{int(line.light * 100)} %"]


CRANKING: tuple[Column, ...] = (("at", "left"), ("there are", "right"), ("it needs", "right"))


def _cranking(line: CrankingLine) -> list[str]:
    needs = "-" if line.lowest is None else volts_left(1000 * line.lowest)
    return [line.where, volts_left(line.voltage), needs]


RIDING: tuple[Column, ...] = (
    ("case", "left"), ("drawn on average", "right"), ("idle gives", "right"), ("cruising gives", "right"),
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
    lasts = "for good" if line.days is None else f"{days(line.days)} to half the battery"
    return f"{line.name.capitalize()}: {drawn} drawn, {lasts}."


def write_also_needed(plan: Plan, page: Page) -> None:
    """Write what is needed beside wire."""
    page.heading("Also needed")
    page.items(plan.also_needed)
