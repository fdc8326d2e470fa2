"""Rows as a table for spreadsheets: CSV with one line of titles, and nothing in it that people do not read."""

import csv
import io
from collections.abc import Sequence

from portloom.base.cells import defused
from portloom.base.letters import on_one_line
from portloom.comparing.json import price
from portloom.comparing.row import Fit, Headroom, KeptRow, NoFit, Row
from portloom.documents.amounts import thousandth

COLUMNS = (
    "bike", "bike_file", "unit", "unit_file", "status", "proven", "place", "turned", "price", "cost_mm", "wire_run_mm",
    "spare_port_loss_mm", "copper_g", "outputs_left", "inputs_left", "room_for", "no_room_for", "worst_a",
    "feed_limit_a", "worst_case", "thin_margins", "why_not", "headroom_later_loads", "headroom_current_percent",
    "beaten_by",
)  # fmt: skip
CsvCell = str | int | float | bool


def _line(cells: Sequence[CsvCell]) -> str:
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerow(cells)
    return text.getvalue()


HEADER = _line(COLUMNS)


def line_of(entry: KeptRow) -> str:
    """Return a row as one line: where a name holds the end of a line, people see a blank, and no formula is one."""
    row = entry.row
    cells: tuple[CsvCell, ...] = (
        *(row.bike, entry.bike_file, row.unit, entry.unit_file),
        *_answer(row),
        *_room(row.headroom),
        "; ".join(entry.beaten_by),
    )
    return _line([*map(_for_people, cells)])


def _for_people(cell: CsvCell) -> CsvCell:
    return defused(on_one_line(cell)) if isinstance(cell, str) else cell


def _answer(row: Row) -> tuple[CsvCell, ...]:
    amount = price(row)
    paid = "" if amount is None else amount
    if row.fit is not None:
        return _fit(row.fit, paid)
    why_not = row.answer.reason.said if isinstance(row.answer, NoFit) else ""
    return row.answer.status, "", "", "", paid, *[""] * 12, why_not


def _fit(fit: Fit, paid: CsvCell) -> tuple[CsvCell, ...]:
    units = fit.units
    return (
        *(fit.status, _yes_or_no(fit.proven), _each([unit.place for unit in units])),
        *(_each([_yes_or_no(unit.turned) for unit in units]), paid),
        *(thousandth(fit.cost), thousandth(fit.wire_run), thousandth(fit.spare_port_loss), thousandth(fit.copper_mg)),
        *(fit.free_outputs, fit.free_inputs, "; ".join(fit.room_for), "; ".join(fit.no_room_for)),
        *(_each([thousandth(unit.worst) for unit in units]), _each([thousandth(unit.limit) for unit in units])),
        _each([unit.worst_case for unit in units]),
        *("; ".join(margin.sentence for margin in fit.thin), ""),
    )


def _each(cells: Sequence[CsvCell]) -> CsvCell:
    """Return a unit's own cell; where there are two units, both in one."""
    return cells[0] if len(cells) == 1 else "; ".join(map(str, cells))


def _yes_or_no(said: bool) -> str:  # noqa: FBT001 - a word for it is all there is to it
    return "yes" if said else "no"


def _room(room: Headroom | None) -> tuple[CsvCell, CsvCell]:
    return ("", "") if room is None else ("; ".join(room.later.fit), room.current.percent)


def as_kept(line: str) -> tuple[str, ...] | None:
    """Return what a line of the table says that is settled with its row, None where it is no line of it.

    What beats a row is told once all are there, and left out.
    """
    try:
        (cells,) = csv.reader([line], strict=True)
    except (csv.Error, ValueError):
        return None
    return tuple(cells[:-1]) if len(cells) == len(COLUMNS) else None
