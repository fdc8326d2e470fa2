"""How many units fit a bike, and how many pairs of them, in a sentence."""

from collections.abc import Sequence

from solver.comparing.row import NoFit, Row
from solver.comparing.tables import OfBike


def verdict(table: OfBike) -> str:
    """Say how many fit: of single units, then of two in place of one."""
    rows = [one.row for one in table.rows]
    of_two = [row for row in rows if row.of_two]
    alone = [row for row in rows if not row.of_two]
    said = _of_one(alone[0]) if len(alone) == 1 else _of_several(alone, "unit")
    if not of_two:
        return said
    return f"{said}; of two in place of one, {_of_several(of_two, 'pair')}"


def _of_several(rows: Sequence[Row], what: str) -> str:
    """Say how many fit; that none does only where it is proved of each."""
    fit = sum(row.fit is not None for row in rows)
    refused = sum(isinstance(row.answer, NoFit) for row in rows)
    not_known = len(rows) - fit - refused
    rest = f", {not_known} not known: the time limit was reached" if not_known else ""
    if not fit:
        none = f"NO {what.upper()} FITS, proved of each"
        return f"no {what} of {len(rows)} is known to fit{rest}" if not_known else none
    return f"{fit} of {len(rows)} {what}{'' if len(rows) == 1 else 's'} {'fits' if fit == 1 else 'fit'}{rest}"


def _of_one(row: Row) -> str:
    if row.fit is not None:
        return f"FITS the {row.unit}"
    if isinstance(row.answer, NoFit):
        return f"DOES NOT FIT the {row.unit}, proved"
    return f"UNKNOWN whether it fits the {row.unit}: the time limit was reached"
