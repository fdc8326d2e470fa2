"""The wiring list as people read it: every wire, the splices, and the connectors way by way."""

from decimal import Decimal

from portloom.base.figures import capital, counted, millimetres, plain
from portloom.base.quantities import Micrometres
from portloom.documents.notes import Notes
from portloom.documents.wiring.csv_files import colour_code
from portloom.documents.wiring.leads import BatteryLead
from portloom.documents.wiring.lists import Lists, notes_at
from portloom.documents.wiring.views import ConnectorView, ConnectorViewWay
from portloom.documents.wiring.wire import Splice, Wire, WireEnd
from portloom.report.text.layout import Page, TableColumn, amperes, metres

WIRES: tuple[TableColumn, ...] = (
    ("no.", "right"), ("wire", "left"), ("from", "left"), ("to", "left"), ("size", "right"), ("colour", "left"),
    ("run", "right"), ("cut", "right"),
)  # fmt: skip
WAYS: tuple[TableColumn, ...] = (
    ("no.", "right"), ("carries", "right"), ("protection", "left"), ("legs, from its start", "left"),
    ("connector ways", "left"),
)  # fmt: skip
SPLICES: tuple[TableColumn, ...] = (
    ("splice", "left"), ("at", "left"), ("made fast", "left"), ("joins wires no., crimped in this order", "left"),
    ("total area", "right"),
)  # fmt: skip
VIEW: tuple[TableColumn, ...] = (
    ("way", "right"), ("no.", "right"), ("wire", "left"), ("size", "right"), ("colour", "left"), ("from", "left"),
    ("to", "left"), ("carries", "right"),
)  # fmt: skip


def write_wiring_list(lists: Lists, page: Page) -> None:
    """Write every wire in two tables by its number, and the splices."""
    wires = lists.wiring.wires
    page.heading("Wires: from where to where, and what is cut")
    page.table(WIRES, [_wire(wire, lists.notes) for wire in wires])
    page.line(
        "  What runs alongside is not cut: it comes with its own parts. Where a connector parts a wire, the cut list "
        "has its pieces one by one."
    )
    page.heading("The same wires: what they carry, what protects them, where they run")
    page.table(WAYS, [_way(wire) for wire in wires])
    write_leads(lists, page)
    page.heading("Splices")
    page.table(SPLICES, [_splice(lists, splice) for splice in lists.wiring.splices])
    page.line(
        "  Slip the heat-shrink on first, then crimp: the thickest wire, the thinner ones on it. Splices that share a "
        "spot are staggered as far as their wires reach (common practice, no source)."
    )
    if any(splice.block for splice in lists.wiring.splices):
        page.line(
            "  A block joins what is too much for one crimp, each wire on a way of its own: an earth block a return's, "
            "on a way that takes all, a junction block another circuit's (common practice, no source)."
        )
    if lists.colour_notes:
        page.heading("Colours")
        page.items(lists.colour_notes)
    run, cut = (metres(Micrometres(total)) for total in _totals(lists))
    page.heading("Together")
    ours = list(lists.wiring.ours)
    pieces = sum(len(wire.cuts) for wire in ours)
    page.line(f"  {counted(len(ours), 'wire')}, cut in {pieces} pieces: {run} of run, {cut} cut.")
    page.heading("Not in these lists")
    page.items(lists.not_listed)


LEADS: tuple[TableColumn, ...] = (
    ("no.", "right"), ("lead", "left"), ("from", "left"), ("to", "left"), ("size", "right"), ("colour", "left"),
    ("run", "right"), ("cut", "right"), ("legs, from its start", "left"),
)  # fmt: skip


def write_leads(lists: Lists, page: Page) -> None:
    """Write the battery's own leads and the earth straps, where they have sizes."""
    if lists.leads:
        page.heading("Battery leads and straps: beside the looms, no fuse in them, never through the unit")
        page.table(LEADS, [_lead(lead) for lead in lists.leads])
        page.line("  They are in none of the sums: not in the wire run, the cut lengths or the copper.")


def _lead(lead: BatteryLead) -> list[str]:
    return [
        lead.number, lead.name, _end(lead.start), _end(lead.end), lead.size_told, lead.colour, metres(lead.run),
        metres(lead.cut), ", ".join(lead.legs) or "-",
    ]  # fmt: skip


def _splice(lists: Lists, splice: Splice) -> list[str]:
    numbers = ", ".join(str(lists.wiring.by_key[key].number) for key in splice.crimp_order)
    name = f"{splice.name}, {splice.made_as}" if splice.block else splice.name
    return [name, splice.point, _spot(splice), numbers, f"{plain(Decimal(splice.area) / 10_000)} mm2"]


def _spot(splice: Splice) -> str:
    if splice.spot is None:
        return f"at {splice.point} itself, where nothing flexes"
    return f"{millimetres(splice.spot.away)} from {splice.point}, in {splice.spot.leg}"


def _totals(lists: Lists) -> tuple[int, int]:
    ours = list(lists.wiring.ours)
    return sum(wire.run for wire in ours), sum(wire.cut for wire in ours)


def _wire(wire: Wire, notes: Notes) -> list[str]:
    cut = metres(wire.cut) if wire.cut else "-"
    start, end = (_noted(end, notes) for end in wire.ends)
    return [
        str(wire.number), wire.key, start, end, _size(wire), colour_code(wire.colour) or "-",
        metres(wire.run), cut,
    ]  # fmt: skip


def _noted(end: WireEnd, notes: Notes) -> str:
    """Say an end with what is noted of what it leads to."""
    return " ".join([_end(end), *(f"({note})" for note in notes_at(end, notes))])


def _end(end: WireEnd) -> str:
    """Say an end with its terminal, and the frame point where that is not said already."""
    terminal = f" {end.terminal}" if end.terminal and end.kind != "relay" else ""
    point = "" if end.kind in ("earth", "elsewhere") and end.name.endswith(end.point) else f", {end.point}"
    return f"{end.told}{terminal}{point}"


def _size(wire: Wire) -> str:
    return "-" if wire.size is None else wire.size.label


def _way(wire: Wire) -> list[str]:
    ways = ", ".join(f"{way.at} {way.way}" for way in wire.connectors)
    carries = amperes(wire.current) if wire.current else "-"
    return [str(wire.number), carries, wire.protection, ", ".join(wire.legs) or "-", ways or "-"]


def write_connector_views(lists: Lists, page: Page) -> None:
    """Write every connector from the wire side, way by way."""
    for view in lists.views:
        _view(view, lists.notes, page)


def _view(view: ConnectorView, notes: Notes, page: Page) -> None:
    page.heading(f"{capital(view.name)} at {view.at}, seen from the wire side")
    page.table(VIEW, [_on_way(way, notes) for way in view.ways])


def _on_way(way: ConnectorViewWay, notes: Notes) -> list[str]:
    wire = way.wire
    if wire is None:
        return [way.name, "-", "stays empty", "-", "-", "-", "-", "-"]
    carries = amperes(wire.current) if wire.current else "-"
    return [
        way.name, str(wire.number), wire.key, _size(wire), colour_code(wire.colour) or "-",
        *(_noted(end, notes) for end in wire.ends), carries,
    ]  # fmt: skip
