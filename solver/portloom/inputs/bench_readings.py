"""Readings of a bench test: CSV with the header ``step,supply_v,current_a,voltage_v``, steps as on the sheet.

Spreadsheets write lists with ';' where a number has a decimal comma; with such a header both are taken.
"""

import csv
import re
from collections.abc import Iterator, Sequence
from decimal import Decimal
from io import StringIO

from portloom.base.letters import quoted
from portloom.base.quantities import MilliAmps, MilliVolts
from portloom.base.values import dataclass
from portloom.inputs.problems import Flaw, refuse

HEADER = ("step", "supply_v", "current_a", "voltage_v")
STEP = re.compile("[0-9]{1,6}")
AMOUNT = re.compile("[+-]?[0-9]{1,20}(?:[.][0-9]{0,20})?(?:[eE][+-]?[0-9]{1,2})?")
"""As people and spreadsheets write it; twenty digits are more than any of them has."""
MOST_VOLTS, MOST_AMPERES = 60, 1000
"""What no meter reads on a motorcycle. A voltage that is read with the leads swapped has a minus sign."""


@dataclass(frozen=True)
class Reading:
    """A line: the step, and what was read; what was left empty is None."""

    line: int
    step: int
    supply: MilliVolts | None
    current: MilliAmps | None
    voltage: MilliVolts | None


def readings_from_text(text: str, file: str) -> tuple[Reading, ...]:
    """Read filled-in readings; raise BadFile with every mistake in them."""
    flaws: list[Flaw] = []
    readings = list(_readings(text.removeprefix("\ufeff"), flaws))
    if flaws:
        raise refuse(file, flaws)
    return tuple(readings)


def _readings(text: str, flaws: list[Flaw]) -> Iterator[Reading]:
    mark = _mark(text)
    reader = csv.reader(StringIO(text, newline=""), strict=True, delimiter=mark)
    try:
        if not _is_header(next(reader, []), flaws):
            return
        seen: set[int] = set()
        for cells in reader:
            if any(cell.strip() for cell in cells):
                points = [cell.replace(",", ".") for cell in cells] if mark == ";" else cells
                reading = _reading(reader.line_num, points, flaws)
                if reading is not None and reading.step in seen:
                    flaws.append(Flaw(reading.line, 1, f"step {reading.step} is there twice", "one line a step"))
                elif reading is not None:
                    seen.add(reading.step)
                    yield reading
    except csv.Error as error:
        flaws.append(Flaw(reader.line_num, 1, f"this is not CSV: {error}", "a comma between fields, quotes closed"))


def _mark(text: str) -> str:
    """Return what stands between the fields of the header."""
    header = text.partition("\n")[0]
    return ";" if ";" in header and "," not in header else ","


def _is_header(cells: Sequence[str], flaws: list[Flaw]) -> bool:
    if tuple(cell.strip().lower() for cell in cells) == HEADER:
        return True
    flaws.append(Flaw(1, 1, f"the first line is '{quoted(','.join(cells))}'", f"'{','.join(HEADER)}'"))
    return False


def _reading(line: int, cells: Sequence[str], flaws: list[Flaw]) -> Reading | None:
    if len(cells) != len(HEADER):
        flaws.append(Flaw(line, 1, f"{len(cells)} fields", f"{len(HEADER)}: {','.join(HEADER)}, empty where not read"))
        return None
    if not STEP.fullmatch(cells[0].strip()):
        flaws.append(Flaw(line, 1, f"the step is '{quoted(cells[0])}'", "its number on the sheet"))
        return None
    limits = ((0, MOST_VOLTS), (0, MOST_AMPERES), (-MOST_VOLTS, MOST_VOLTS))
    before = len(flaws)
    starts = [1 + sum(len(cell) + 1 for cell in cells[:at]) for at in range(1, len(cells))]
    supply, current, voltage = (
        _thousandths(
            cell.strip(), Flaw(line, start, f"{name} is '{quoted(cell)}'", _wanted(name, *limit)), limit, flaws
        )
        for cell, start, name, limit in zip(cells[1:], starts, HEADER[1:], limits, strict=True)
    )
    if len(flaws) > before:
        return None
    return Reading(
        line, int(cells[0]), _volts(supply), None if current is None else MilliAmps(current), _volts(voltage)
    )


def _volts(amount: int | None) -> MilliVolts | None:
    return None if amount is None else MilliVolts(amount)


def _wanted(name: str, least: int, most: int) -> str:
    unit = "volts" if name.endswith("_v") else "amperes"
    return f"a number of {unit} from {least} to {most}, such as 4.21, or nothing"


def _thousandths(text: str, flaw: Flaw, limits: tuple[int, int], flaws: list[Flaw]) -> int | None:
    """Read a number as whole thousandths, rounded; nothing is None."""
    if not text:
        return None
    amount = Decimal(text) if AMOUNT.fullmatch(text) else None
    if amount is None or not limits[0] <= amount <= limits[1]:
        flaws.append(flaw)
        return None
    return round(1000 * amount)
