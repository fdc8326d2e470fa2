"""The cut list and the parts list as people read them, and all lists as texts of their own."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from io import StringIO

from rich.console import Console

from portloom.base.figures import capital, counted, grams, plain
from portloom.base.quantities import Micrometres
from portloom.documents.assumed import CAUTIONS
from portloom.documents.change_order import ChangeOrder
from portloom.documents.wiring.csv_files import colour_code
from portloom.documents.wiring.cut_list import ReelCuts
from portloom.documents.wiring.leads import BatteryLead
from portloom.documents.wiring.lists import Lists, notes_at
from portloom.documents.wiring.parts import BASIS, PartsGroup, PartsLine
from portloom.documents.wiring.wire import ConnectorWay, PieceEnd
from portloom.report.text.bench import write_settings
from portloom.report.text.change_order import write_change_order
from portloom.report.text.layout import WIDTH, Page, TableColumn, TextPage, metres, write_cautions, write_first
from portloom.report.text.wiring_list import write_connector_views, write_wiring_list

CUTS: tuple[TableColumn, ...] = (
    ("cut", "right"), ("no.", "right"), ("wire", "left"), ("from", "left"), ("to", "left"),
)  # fmt: skip
NOTHING_CUT = "  Nothing is cut from a reel."
TOTALS: tuple[TableColumn, ...] = (
    ("reel", "left"), ("pieces", "right"), ("run", "right"), ("cut", "right"), ("waste", "right"), ("copper", "right"),
)  # fmt: skip


def write_cut_list(lists: Lists, page: Page) -> None:
    """Write what is cut from each reel, longest first, and the totals."""
    for reel in lists.reels:
        page.heading(f"{reel_name(reel)}: {counted(len(reel.pieces), 'piece')}, {metres(reel.cut)}")
        ends = [[_noted(end, lists) for end in (piece.start, piece.end)] for piece in reel.pieces]
        pieces = zip(reel.pieces, ends, strict=True)
        rows = [[metres(piece.cut), piece.number, piece.wire.key, *both] for piece, both in pieces]
        page.table(CUTS, rows)
    _leads(lists, page)
    if not lists.reels:
        page.line(NOTHING_CUT)
        return
    page.heading("Totals")
    page.table(TOTALS, [*(_total(reel) for reel in lists.reels), _all(lists)])
    page.line(
        "  A wire that a connector parts is cut in pieces: 63a from its start to the connector, 63b on from it. Waste "
        "is what is cut beyond the runs: the bike's margin, ends, slack where legs move, short pieces. Copper is that "
        "of all pieces, as cut; the plan's copper and cut lengths are the same sums."
    )


LEADS: tuple[TableColumn, ...] = (
    ("cut", "right"), ("no.", "right"), ("lead", "left"), ("size", "right"), ("colour", "left"), ("from", "left"),
    ("to", "left"),
)  # fmt: skip


def _leads(lists: Lists, page: Page) -> None:
    """Write what is cut for the battery's own leads and the earth straps, longest first."""
    if lists.leads:
        page.heading("Battery leads and straps, each from cable of its size")
        longest = sorted(lists.leads, key=lambda lead: -lead.cut)
        page.table(LEADS, [_lead(lead) for lead in longest])
        page.line("  Not in the totals below, nor in the plan's copper.")


def _lead(lead: BatteryLead) -> list[str]:
    return [metres(lead.cut), lead.number, lead.name, lead.size_told, lead.colour, *map(_end, lead.ends)]


def _noted(end: PieceEnd, lists: Lists) -> str:
    """Say an end with what is noted of what it leads to."""
    noted = [] if isinstance(end, ConnectorWay) else notes_at(end, lists.notes)
    return " ".join([_end(end), *(f"({note})" for note in noted)])


def _end(end: PieceEnd) -> str:
    """Say an end with its frame point, where that is not said already."""
    said = isinstance(end, ConnectorWay) or (end.kind == "earth" and end.name.endswith(end.point))
    return end.told if said or end.told == end.point else f"{end.told}, {end.point}"


def reel_name(reel: ReelCuts) -> str:
    """Say size and colour: '1 mm2, BU/WH'."""
    return ", ".join(filter(None, (reel.size.label, colour_code(reel.colour))))


def _total(reel: ReelCuts) -> list[str]:
    lengths = (metres(length) for length in (reel.run, reel.cut, reel.waste))
    return [reel_name(reel), str(len(reel.pieces)), *lengths, grams(reel.copper)]


def _all(lists: Lists) -> list[str]:
    run, cut, waste = (
        metres(Micrometres(sum(lengths)))
        for lengths in zip(*((reel.run, reel.cut, reel.waste) for reel in lists.reels), strict=True)
    )
    copper = sum((reel.copper for reel in lists.reels), Decimal(0))
    return ["all", str(sum(len(reel.pieces) for reel in lists.reels)), run, cut, waste, grams(copper)]


PARTS: tuple[TableColumn, ...] = (("what", "left"), ("size", "left"), ("how many", "right"))
SPARE: TableColumn = ("spare", "right")
WHERE: TableColumn = ("where", "left")
NOTE: TableColumn = ("note", "left")
OUT: tuple[TableColumn, ...] = (("what", "left"), ("why", "left"))


def write_parts_list(lists: Lists, page: Page) -> None:
    """Write the parts by their groups, below each what it rests on, and what comes out of the bike."""
    page.line(
        f"How many are needed. Spare is what to buy beyond that: {lists.spares}, rounded up, of each terminal two at "
        "least (common practice, no source)."
    )
    for group in dict.fromkeys(part.group for part in lists.parts):
        _group(group, [part for part in lists.parts if part.group == group], page)
    page.heading("What comes out of the bike, where it has it")
    page.table(OUT, [[one.what, one.why] for one in lists.removed])


def _group(group: PartsGroup, parts: list[PartsLine], page: Page) -> None:
    """Write a group; its table has spares and notes where a part of it does."""
    spares, notes = any(part.spare for part in parts), any(part.note for part in parts)
    page.heading(capital(group))
    columns = (*PARTS, *[SPARE] * spares, WHERE, *[NOTE] * notes)
    page.table(columns, [_part(part, spares=spares, notes=notes) for part in parts])
    if group in BASIS:
        page.line(f"  {capital(BASIS[group])}.")


def _part(part: PartsLine, *, spares: bool, notes: bool) -> list[str]:
    spare = [_quantity(part, part.spare)] if spares else []
    return [part.what, part.size or "-", _quantity(part, part.quantity), *spare, part.where or "-",
            *[part.note or "-"] * notes]  # fmt: skip


def _quantity(part: PartsLine, quantity: Decimal) -> str:
    return f"{quantity:.3f} m" if part.measure == "m" else plain(quantity)


Write = Callable[[Lists, Page], None]
SHEETS: dict[str, tuple[str, Write]] = {
    "wiring-list.txt": ("wiring list", write_wiring_list),
    "cut-list.txt": ("cut list", write_cut_list),
    "parts-list.txt": ("parts list", write_parts_list),
    "settings.txt": ("setting sheet", write_settings),
    "connectors.txt": ("connectors", write_connector_views),
}


def sheet_texts(lists: Lists) -> dict[str, str]:
    """Return the text of each sheet by its file's name, no line wider than 100 columns."""
    return {name: _sheet(lists, title, write) for name, (title, write) in SHEETS.items()}


def change_order_text(order: ChangeOrder, lists: Lists) -> str:
    """Return the text of a change order, its new wires with the colours that the lists have."""
    coloured = replace(order, new=tuple(lists.wiring.by_key[wire.key] for wire in order.new))
    return _sheet(lists, "change order", lambda _, page: write_change_order(coloured, page))


def _sheet(lists: Lists, title: str, write: Write) -> str:
    text = StringIO()
    page = TextPage(Console(file=text, width=WIDTH, highlight=False, no_color=True, force_terminal=False))
    write_first(lists.first, lists.set_aside, page)
    page.line(f"{lists.bike} on the {lists.unit}: {title}")
    write(lists, page)
    write_cautions(CAUTIONS, page)
    return text.getvalue()
