"""What dashes show, as a table: what carries each thing, and the wires that only a dash reads."""

from portloom.documents.document import Plan
from portloom.documents.notes import noted
from portloom.documents.shown import ShownLine
from portloom.report.text.layout import Page, TableColumn, metres

SHOWN: tuple[TableColumn, ...] = (
    ("dash", "left"), ("shows", "left"), ("by the wire of", "left"), ("diode", "left"), ("own wires", "right"),
    ("run", "right"),
)  # fmt: skip


def write_shown(plan: Plan, page: Page) -> None:
    """Write what each dash shows, if any shows anything."""
    if plan.shown:
        page.heading("What dashes show")
        page.table(SHOWN, [_row(line, plan.shown) for line in plan.shown])


def _row(line: ShownLine, lines: tuple[ShownLine, ...]) -> list[str]:
    beside = [one.shown for one in lines if one != line and (one.dash, one.lamp) == (line.dash, line.lamp)]
    name = noted([line.shown], line.notes)
    shown = f"{name}, one lamp with {beside[0]}" if beside else name
    own = [str(line.wires), metres(line.run)] if line.wires else ["-", "-"]
    diodes = [end for end, has in (("dash", line.diode), ("unit", line.unit_diode)) if has]
    return [line.dash, shown, line.by or "its own", f"at {' and '.join(diodes)}" if diodes else "-", *own]
