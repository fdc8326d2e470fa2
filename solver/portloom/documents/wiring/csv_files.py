"""The lists as CSV, for spreadsheets and other programs: one header, exact figures, units in the header.

Comma, quotes where they are needed, lines end with a line feed (RFC 4180 but for the carriage return). What begins
like a formula has an apostrophe before it, which spreadsheets ask for; numbers have none.
"""

import csv
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from io import StringIO
from math import ceil

from portloom.base.bike import Colour
from portloom.base.cells import defused
from portloom.base.figures import plain
from portloom.documents.notes import Notes
from portloom.documents.wiring.cut_list import ReelCuts, letters
from portloom.documents.wiring.leads import BatteryLead
from portloom.documents.wiring.lists import Lists, notes_at
from portloom.documents.wiring.parts import BASIS
from portloom.documents.wiring.settings import InputSetting, LoadSetting, OutputSetting
from portloom.documents.wiring.wire import PieceEnd, Wire, WireEnd

WIRES = (
    "number", "wire", "circuit", "kind", "from", "from_terminal", "from_point", "to", "to_terminal", "to_point",
    "diode", "port", "size", "colour", "run_mm", "cut_mm", "protection", "current_a", "legs", "connectors", "notes",
)  # fmt: skip
SPLICES = ("splice", "point", "circuit", "wires", "area_mm2", "crimp_order", "leg", "from_point_mm", "made_as")
CUTS = ("order", "size", "colour", "number", "wire", "cut_mm", "from", "to", "notes")
REELS = ("size", "colour", "pieces", "run_mm", "cut_mm", "waste_mm", "copper_g")
PARTS = ("group", "what", "size", "quantity", "spare", "measure", "where", "note", "basis")
OUTPUTS = (
    "port", "status", "load", "mode", "trip_a", "dim_percent", "flash_hz", "run_on_s", "with_key_off", "follows",
    "on_in", "off_in", "worked_by", "conditions", "note",
)  # fmt: skip
INPUTS = (
    "port", "port_signal", "way", "switch", "signal", "at_rest", "action", "operates", "tells", "level_v", "rate_hz",
    "note",
)  # fmt: skip
CONNECTORS = ("connector", "point", "way", "number", "wire", "from", "to", "size", "colour", "current_a", "notes")
LEADS = (
    "number", "lead", "from", "from_point", "to", "to_point", "size", "colour", "run_mm", "cut_mm", "current_a",
    "drop_mv", "most_mv", "legs",
)  # fmt: skip
FILES = (
    "wiring-list.csv", "splices.csv", "cut-list.csv", "reels.csv", "parts-list.csv", "setting-outputs.csv",
    "setting-inputs.csv", "connectors.csv", "battery-leads.csv",
)  # fmt: skip
CsvRow = Sequence[str]


def csv_files(lists: Lists) -> dict[str, str]:
    """Return the text of each CSV file by the file's name."""
    return {
        "wiring-list.csv": _written(WIRES, (_wire(wire, lists.notes) for wire in lists.wiring.wires)),
        "splices.csv": _written(SPLICES, _splices(lists)),
        "cut-list.csv": _written(CUTS, _cuts(lists)),
        "reels.csv": _written(REELS, map(_reel, lists.reels)),
        "parts-list.csv": _written(PARTS, _parts(lists)),
        "setting-outputs.csv": _written(OUTPUTS, (row for line in lists.settings.outputs for row in _output(line))),
        "setting-inputs.csv": _written(INPUTS, map(_input, lists.settings.inputs)),
        "connectors.csv": _written(CONNECTORS, _connectors(lists)),
        "battery-leads.csv": _written(LEADS, map(_lead, lists.leads)),
    }


def colour_code(colour: Colour | None) -> str:
    """Write a colour by its letters, base and stripe: 'BU', 'BU/WH'; nothing where there is none."""
    return "/".join(filter(None, letters(colour)))


def _written(header: CsvRow, rows: Iterable[CsvRow]) -> str:
    text = StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(header)
    writer.writerows(map(defused, row) for row in rows)
    return text.getvalue()


def _thousandths(amount: int | None) -> str:
    """Write an amount in units of which it holds thousandths; nothing where there is none."""
    return "" if amount is None else plain(Decimal(amount) / 1000)


def _listed(words: Iterable[str]) -> str:
    return "; ".join(words)


def _at(pairs: Iterable[tuple[str, str]]) -> str:
    return _listed(f"{what} ({where})" for what, where in pairs)


# --- wires


def _wire(wire: Wire, notes: Notes) -> CsvRow:
    return (
        str(wire.number), wire.key, wire.circuit, wire.kind,
        _connected(wire.start), wire.start.terminal, wire.start.point,
        _connected(wire.end), wire.end.terminal, wire.end.point,
        _listed(end.diode for end in wire.ends if end.diode), wire.port,
        wire.size.label if wire.size else "", colour_code(wire.colour),
        _thousandths(wire.run), _thousandths(wire.cut), wire.protection, _thousandths(wire.current),
        _listed(wire.legs), _listed(f"{way.at} {way.way}" for way in wire.connectors),
        _noted(wire.ends, notes),
    )  # fmt: skip


def _noted(ends: Iterable[PieceEnd], notes: Notes) -> str:
    """Return what is noted of what ends lead to; a way of a connector leads to nothing that is."""
    return _listed(note for end in ends if isinstance(end, WireEnd) for note in notes_at(end, notes))


def _splices(lists: Lists) -> Iterator[CsvRow]:
    for one in lists.wiring.splices:
        leg, away = (one.spot.leg, one.spot.away) if one.spot is not None else ("", 0)
        yield (
            one.name, one.point, one.circuit, _listed(one.wires), plain(Decimal(one.area) / 10_000),
            _listed(one.crimp_order), leg, _thousandths(away), one.made_as,
        )  # fmt: skip


def _cuts(lists: Lists) -> Iterator[CsvRow]:
    order = 0
    for reel in lists.reels:
        for piece in reel.pieces:
            order += 1
            yield (
                str(order), reel.size.label, colour_code(reel.colour), piece.number, piece.wire.key,
                _thousandths(piece.cut), piece.start.told, piece.end.told,
                _noted((piece.start, piece.end), lists.notes),
            )  # fmt: skip


def _reel(reel: ReelCuts) -> CsvRow:
    lengths = (_thousandths(length) for length in (reel.run, reel.cut, reel.waste))
    return (reel.size.label, colour_code(reel.colour), str(len(reel.pieces)), *lengths, plain(reel.copper))


def _connectors(lists: Lists) -> Iterator[CsvRow]:
    for view in lists.views:
        for way in view.ways:
            wire = way.wire
            if wire is None:
                yield view.name, view.at, way.name, *[""] * 8
                continue
            yield (
                view.name, view.at, way.name, str(wire.number), wire.key, wire.start.told, wire.end.told,
                wire.size.label if wire.size else "", colour_code(wire.colour), _thousandths(wire.current),
                _noted(wire.ends, lists.notes),
            )  # fmt: skip


def _lead(lead: BatteryLead) -> CsvRow:
    """Write a lead of the battery's; what it loses in whole microvolts, rounded up."""
    lost = "" if lead.loses is None else _thousandths(ceil(lead.loses))
    return (
        lead.number, lead.name, lead.start.told, lead.start.point, lead.end.told, lead.end.point, lead.size_told,
        lead.colour, _thousandths(lead.run), _thousandths(lead.cut), _thousandths(lead.current), lost,
        str(lead.may_lose), _listed(lead.legs),
    )  # fmt: skip


# --- parts and settings


def _parts(lists: Lists) -> Iterator[CsvRow]:
    for part in lists.parts:
        quantity, spare, basis = plain(part.quantity), plain(part.spare), BASIS.get(part.group, "")
        yield part.group, part.what, part.size, quantity, spare, part.measure, part.where, part.note, basis
    for one in lists.removed:
        yield "comes out", one.what, "", "", "", "", "", one.why, ""


def _output(line: OutputSetting) -> Iterator[CsvRow]:
    """Write a row for each load on the output, or one for the output where it has none."""
    loads: tuple[LoadSetting | None, ...] = line.loads or (None,)
    status = f"{line.status} for {line.kept_for}" if line.kept_for else line.status
    status = f"{status}: {line.out_of_use}" if line.out_of_use else status
    mode, trip, flash = _listed(line.mode), _thousandths(line.trip), _thousandths(line.flash_rate)
    for load in loads:
        yield (
            line.port, status, load.load if load else "", mode, trip,
            plain(Decimal(load.dim_to) / 100) if load and load.dim_to is not None else "", flash,
            plain(Decimal(load.run_on) / 1_000_000) if load and load.run_on is not None else "",
            line.key_off, line.follows or "",
            _listed(load.when) if load else "", _listed(load.except_) if load else "",
            _at(load.worked_by) if load else "", _listed(line.conditions), load.note if load else "",
        )  # fmt: skip


def _connected(end: WireEnd) -> str:
    """Return the names of what a wire is connected to, or of what was there."""
    return end.told if end.stub else _listed(end.names)


def _input(line: InputSetting) -> CsvRow:
    at_rest = line.normally if line.switch else ""
    return (
        line.port, line.port_signal or "", line.way, line.switch, line.signal or "", at_rest, line.action or "",
        _at(line.operates), _listed(line.tells), _thousandths(line.level), _thousandths(line.rate),
        f"out of use: {line.out_of_use}" if line.out_of_use else line.note,
    )  # fmt: skip
