"""A printed plan beside its sheet: every figure that differs, and every one that the sheet does not work out."""

import re
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from .figure import Figure
from .figures import Sheet
from .wires import Json

DECIDED = {
    r"(outputs|fed|returns)/\d+/wire_mm2": "a size is chosen; what it must carry and may lose is judged",
    r"feed/wire_mm2": "a size is chosen; what it must carry is judged",
    r"feed/main_fuse_a": "chosen with the plan; what it must keep is judged",
    r"wires/\d+/number": "the place of a wire in the list: 1 and up",
    r"wires/\d+/cut_mm/\d+": "the pieces of the lengths that are worked out: their sums are judged",
    r"(wires|change/cut_new|dead_wires)/\d+/connectors/\d+/way": "the order of the list: 1 and up at each connector",
    r"multiplexers/\d+/inputs/\d+/way": "the order of the list: 1 and up",
    r"multiplexers/\d+/saves/.*": "of another plan, without them: compared with that plan, printed",
}
"""Figures that the sheet does not work out, and why; what of these is judged stands in ``decisions.py``."""


def numbers(part: Any, at: str = "") -> Iterator[tuple[str, Decimal | int]]:
    """Return every number of a document by where it stands."""
    if isinstance(part, dict):
        for key, inner in part.items():
            yield from numbers(inner, f"{at}/{key}" if at else str(key))
    elif isinstance(part, list):
        for place, inner in enumerate(part):
            yield from numbers(inner, f"{at}/{place}")
    elif isinstance(part, Decimal | int) and not isinstance(part, bool):
        yield at, part


def at(part: Any, where: str) -> Any:
    """Return what stands somewhere in a document; raise LookupError where nothing does."""
    for word in where.split("/"):
        part = part[int(word)] if isinstance(part, list) else part[word]
    return part


def worked(sheet: Sheet, table: str) -> dict[str, Figure]:
    """Return the figures of a table."""
    return dict(getattr(sheet, table)())


def wrong(sheet: Sheet, table: str) -> Iterator[str]:
    """Return each figure of a table that is printed otherwise than it is worked out, or not at all."""
    for where, figure in worked(sheet, table).items():
        try:
            printed = at(sheet.printed, where)
        except LookupError:
            yield f"{where}: not printed, worked out {figure}"
            continue
        if not figure.agrees(printed):
            yield f"{where}: printed {printed}, worked out {figure}"


def left_out(printed: Json, done: set[str]) -> list[str]:
    """Return where numbers stand that are neither worked out nor decided; of two units each decides for itself."""
    left = [where for where, _ in numbers(printed) if where not in done]
    return [where for where in left if not is_decided(where)]


def is_decided(where: str) -> bool:
    """Tell whether a number is a decision of the plan."""
    own = re.sub(r"^units/\d+/", "", where)
    return any(re.fullmatch(known, own) for known in DECIDED)
