"""A row as a line of the file: cells that people read, and last the whole row, from which it is read back."""

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass

from pydantic import TypeAdapter, ValidationError

from solver.comparing.json import price
from solver.comparing.row import Fit, Headroom, NoFit, Row
from solver.plans.amounts import thousandth

COLUMNS = (
    "bike", "bike_file", "unit", "unit_file", "status", "proven", "place", "turned", "price", "cost_mm", "wire_run_mm",
    "spare_port_loss_mm", "copper_g", "outputs_left", "inputs_left", "room_for", "no_room_for", "worst_a",
    "feed_limit_a", "worst_case", "thin_margins", "why_not", "headroom_later_loads", "headroom_current_percent",
    "beaten_by", "made_from", "whole_row",
)  # fmt: skip
"""The last but one stands for what a row was made from: bike, unit, what was asked, and which version answered."""
Cell = str | int | float | bool


@dataclass(frozen=True)
class Entry:
    """A row, the files that it is about, the sum that stands for all that it was made from, and what beats it."""

    bike_file: str
    unit_file: str
    """Of two units both, joined as their names are."""
    made_from: str
    row: Row
    beaten_by: tuple[str, ...] = ()

    @property
    def files(self) -> tuple[str, str]:
        """What it is about: a later row about the same takes its place."""
        return self.bike_file, self.unit_file

    @property
    def settled(self) -> bool:
        """Tell whether no longer time would change it."""
        row, room = self.row, self.row.headroom
        ends = () if room is None else (room.later.end, room.current.end)
        return (isinstance(row.answer, NoFit) or (row.fit is not None and row.fit.proven)) and "not proved" not in ends


WHOLE = TypeAdapter(Entry)


class Unreadable(ValueError):
    """A line that is no row of this file."""


def _line(cells: Sequence[Cell]) -> str:
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerow(cells)
    return text.getvalue()


HEADER = _line(COLUMNS)


def written(entry: Entry) -> str:
    """Return a row as one line: where a name holds the end of a line, people see a blank."""
    row = entry.row
    cells: tuple[Cell, ...] = (
        *(row.bike, entry.bike_file, row.unit, entry.unit_file),
        *_answer(row),
        *_room(row.headroom),
        *("; ".join(entry.beaten_by), entry.made_from),
    )
    return _line([*map(_on_one_line, cells), WHOLE.dump_json(entry).decode()])


def _on_one_line(cell: Cell) -> Cell:
    return " ".join(cell.split()) if isinstance(cell, str) and not cell.isprintable() else cell


def _answer(row: Row) -> tuple[Cell, ...]:
    amount = price(row)
    paid = "" if amount is None else amount
    if row.fit is not None:
        return _fit(row.fit, paid)
    why_not = row.answer.reason.sentence if isinstance(row.answer, NoFit) else ""
    return row.answer.status, "", "", "", paid, *[""] * 12, why_not


def _fit(fit: Fit, paid: Cell) -> tuple[Cell, ...]:
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


def _each(cells: Sequence[Cell]) -> Cell:
    """Return a unit's own cell; where there are two units, both in one."""
    return cells[0] if len(cells) == 1 else "; ".join(map(str, cells))


def _yes_or_no(said: bool) -> str:  # noqa: FBT001 - a word for it is all there is to it
    return "yes" if said else "no"


def _room(room: Headroom | None) -> tuple[Cell, Cell]:
    return ("", "") if room is None else ("; ".join(room.later.fit), room.current.percent)


def read(line: str) -> Entry:
    """Return the row of a line; raise Unreadable."""
    try:
        (cells,) = csv.reader([line], strict=True)
    except (csv.Error, ValueError) as error:
        raise Unreadable("this is no line of comma-separated values") from error
    if len(cells) != len(COLUMNS):
        raise Unreadable(f"there are {len(cells)} cells where {len(COLUMNS)} are needed")
    try:
        return WHOLE.validate_json(cells[-1])
    except ValidationError as error:
        raise Unreadable("its last cell is not what was written there") from error
