"""How far each bike may grow on each unit, as people read it."""

from collections.abc import Sequence

from solver.comparing.row import CurrentRoom, LaterRoom, Row
from solver.sheets.amounts import amperes
from solver.sheets.layout import Column, Page
from solver.words.figures import listed

HEADROOM: tuple[Column, ...] = (
    ("unit", "left"), ("later loads, in their order", "left"), ("current", "right"), ("worst case", "right"),
    ("why no more", "left"),
)  # fmt: skip


def write_headroom(rows: Sequence[Row], page: Page) -> None:
    """Write what may be added before a unit no longer fits; nothing where it was not asked for."""
    grown = [(row, row.headroom) for row in rows if row.headroom is not None]
    if not grown:
        return
    page.heading("Headroom: how far the bike may grow, by later loads or by the current of all that the unit feeds")
    page.table(
        HEADROOM,
        [
            [row.unit, _later(room.later), f"x {_times(room.current)}", amperes(room.current.total), _why(room.current)]
            for row, room in grown
        ],
    )


def _times(room: CurrentRoom) -> str:
    return f"{room.percent // 100}.{room.percent % 100 // 10}"


def _later(room: LaterRoom) -> str:
    """Say which fit, and which does not any more."""
    fit = listed(room.fit) if room.fit else ""
    if room.next is None:
        return f"all: {fit}" if fit else "none are listed"
    end = f"not {room.next}" if room.end == "no plan" else f"{room.next} not proved"
    return f"{fit}; {end}" if fit else end


def _why(room: CurrentRoom) -> str:
    if room.end == "all":
        return "nothing more was tried"
    if room.end == "not proved":
        return "not proved: the time limit was reached"
    return room.reason.sentence if room.reason is not None else "no plan, proved"
