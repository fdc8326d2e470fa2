"""Rows kept in a file: what each is made from, how it is written, and whether it still holds.

The file is only ever added to, but for a last rewriting: rows that were done again take the place of the old, and all
come in the order of the call. A new file is complete before it takes the place of the old one.
"""

import csv
import io
import os
from collections.abc import Iterable, Sequence
from errno import ENOSPC
from hashlib import sha256
from io import FileIO
from pathlib import Path

from pydantic import TypeAdapter, ValidationError

from portloom.base.cells import defused
from portloom.base.letters import in_json, on_one_line
from portloom.base.values import dataclass
from portloom.base.versions import version_of
from portloom.comparing.json import price
from portloom.comparing.row import Fit, Headroom, NoFit, Row
from portloom.disk.unbroken import writing_into
from portloom.disk.whole_file import replace
from portloom.documents.amounts import thousandth
from portloom.inputs.problems import BadFile, Problem

MADE_BY = ("portloom", "ortools")
"""Another version of either may give another plan."""


def made_from(bike: str, units: Sequence[str], *, headroom: bool) -> str:
    """Take the texts of all files, and whether headroom was asked for; give the sum as 64 hexadecimal digits.

    Source: SHA-256, FIPS 180-4.
    """
    asked = "with headroom" if headroom else "without headroom"
    parts = (bike, *units, asked, *(f"{name} {version_of(name)}" for name in MADE_BY))
    return sha256("".join(f"{len(part)}:{part}" for part in parts).encode()).hexdigest()


COLUMNS = (
    "bike", "bike_file", "unit", "unit_file", "status", "proven", "place", "turned", "price", "cost_mm", "wire_run_mm",
    "spare_port_loss_mm", "copper_g", "outputs_left", "inputs_left", "room_for", "no_room_for", "worst_a",
    "feed_limit_a", "worst_case", "thin_margins", "why_not", "headroom_later_loads", "headroom_current_percent",
    "beaten_by", "made_from", "whole_row",
)  # fmt: skip
"""The last but one stands for what a row was made from: bike, unit, what was asked, and which version answered."""
CsvCell = str | int | float | bool


@dataclass(frozen=True)
class KeptRow:
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
    def final(self) -> bool:
        """Tell whether no longer time would change it."""
        row, room = self.row, self.row.headroom
        ends = () if room is None else (room.later.end, room.current.end)
        return (isinstance(row.answer, NoFit) or (row.fit is not None and row.fit.proven)) and "not proved" not in ends


WHOLE = TypeAdapter(KeptRow)


class Unreadable(ValueError):
    """A line that is no row of this file."""


def _line(cells: Sequence[CsvCell]) -> str:
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerow(cells)
    return text.getvalue()


HEADER = _line(COLUMNS)


def written(entry: KeptRow) -> str:
    """Return a row as one line: where a name holds the end of a line, people see a blank, and no formula is one."""
    row = entry.row
    cells: tuple[CsvCell, ...] = (
        *(row.bike, entry.bike_file, row.unit, entry.unit_file),
        *_answer(row),
        *_room(row.headroom),
        *("; ".join(entry.beaten_by), entry.made_from),
    )
    return _line([*map(_for_people, cells), in_json(WHOLE.dump_json(entry).decode())])


def _for_people(cell: CsvCell) -> CsvCell:
    return defused(on_one_line(cell)) if isinstance(cell, str) else cell


def _answer(row: Row) -> tuple[CsvCell, ...]:
    amount = price(row)
    paid = "" if amount is None else amount
    if row.fit is not None:
        return _fit(row.fit, paid)
    why_not = row.answer.reason.sentence if isinstance(row.answer, NoFit) else ""
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


def read(line: str) -> KeptRow:
    """Return the row of a line; raise Unreadable."""
    try:
        (cells,) = csv.reader([line], strict=True)
    except (csv.Error, ValueError) as error:
        raise Unreadable("this is not a line of comma-separated values") from error
    if len(cells) != len(COLUMNS):
        raise Unreadable(f"there are {len(cells)} cells where {len(COLUMNS)} are needed")
    try:
        return WHOLE.validate_json(cells[-1])
    except ValidationError as error:
        raise Unreadable("its last cell is not what was written there") from error


NOT_OURS = "this is not a file of rows that portloom wrote"
ANOTHER = "give a file that does not exist yet, or one that 'portloom compare --csv' began"


class KeptRows:
    """The rows in a file, and the way to add more."""

    def __init__(self, path: Path) -> None:
        """Open or begin the file; raise BadFile where it holds anything else, and OSError where it can't be used."""
        self.path = path
        held = _bytes(path)
        whole = held[: held.rfind(b"\n") + 1]
        if not whole and not HEADER.encode().startswith(held):
            raise _refused(path, 1, NOT_OURS, ANOTHER)
        self._known = {entry.made_from: entry for entry in _entries(path, whole) if entry.final}
        self.cut_short = whole != held
        """Whether its last line was not complete, and is taken out."""
        if not whole or self.cut_short:
            replace(path, whole or HEADER.encode())
        with path.open("ab"):  # can more be added?
            pass

    def known(self, made_from: str) -> KeptRow | None:
        """Return a row that was made from just this, if there is one that no longer time would change."""
        return self._known.get(made_from)

    def add(self, entry: KeptRow) -> None:
        """Add a row: the whole line at once, and onto the disk."""
        with writing_into(self.path.resolve().parent), self.path.open("ab", buffering=0) as file:
            before = file.tell()
            try:
                _add(file, written(entry).encode())
            except OSError:
                file.truncate(before)
                raise

    def rewrite(self, entries: Iterable[KeptRow]) -> None:
        """Put these rows last, in their order, in the place of those about the same files; others stay before them."""
        rows = list(entries)
        about = {entry.files for entry in rows}
        there = _bytes(self.path)
        others = [entry for entry in _entries(self.path, there) if entry.files not in about]
        new = (HEADER + "".join(written(entry) for entry in (*others, *rows))).encode()
        if new != there:
            replace(self.path, new)


def _add(file: FileIO, line: bytes) -> None:
    if file.write(line) < len(line):
        raise OSError(ENOSPC, os.strerror(ENOSPC))
    os.fsync(file.fileno())


def _bytes(path: Path) -> bytes:
    if path.exists() and not path.is_file():
        raise _refused(path, 1, "this is not a file", ANOTHER)
    try:
        return path.read_bytes()
    except FileNotFoundError:
        return b""


def _entries(path: Path, whole: bytes) -> list[KeptRow]:
    """Return the rows in whole lines."""
    header, *lines = whole.split(b"\n")[:-1] or [HEADER.rstrip("\n").encode()]
    if header + b"\n" != HEADER.encode():
        raise _refused(path, 1, NOT_OURS, ANOTHER)
    return [_entry(path, number, line) for number, line in enumerate(lines, 2)]


def _entry(path: Path, number: int, line: bytes) -> KeptRow:
    try:
        return read(line.decode())
    except (Unreadable, UnicodeDecodeError) as error:
        what = str(error) if isinstance(error, Unreadable) else "this is not UTF-8"
        raise _refused(path, number, what, "take the line out: its row is made again") from error


def _refused(path: Path, line: int, what: str, right: str) -> BadFile:
    return BadFile([Problem(str(path), line, 1, what, right)])
