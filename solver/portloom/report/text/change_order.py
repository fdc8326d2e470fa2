"""The change order as an electrician reads it: what is done to the loom, in the order in which it is done."""

from collections.abc import Iterator, Sequence

from portloom.base.figures import counted, listed, millimetres
from portloom.documents.change_order import Altered, ChangeOrder, Figures, Retest, Short
from portloom.documents.notes import Notes
from portloom.documents.wiring.lists import notes_at
from portloom.documents.wiring.wire import Wire
from portloom.report.text.layout import Page, TableColumn, amperes

NOTHING = "Nothing is to be done to wires, fuses, trips and modes: the loom stays as it is built."
FIRST = "Before any of it: take the battery's negative lead off; put it back last."
NOT_TOLD = (
    "Not told of a built loom: what multiplexers save, what more sharing would free, and what parts the change alone "
    "takes. Colours: the sheets have them."
)
NOT_USED = (
    "Take these out, or cut them off at both ends, insulate both and label them 'not used': an end that is left on a "
    "splice, a fuse, a port or the battery is live. Their numbers are never used again."
)
SET_ALL = (
    "What works what, when it is on and what it waits for is not compared with what was set: set every port by the "
    "setting sheet."
)


def write_change_order(order: ChangeOrder, page: Page) -> None:
    """Write what is touched, left, set anew, taken out, joined, cut new and tested again; before and after."""
    page.heading(f"Change order, for the loom as built ({order.built})")
    if order.nothing:
        page.line(f"  {NOTHING}")
        page.line(f"  {SET_ALL}")
        return
    page.line(f"  {FIRST}")
    page.items(list(_touched(order)))
    _listing(page, "Leave as they are", order.left)
    if order.altered:
        page.heading("Leave, but for a wire that comes off or joins")
        page.items([_altered(one) for one in order.altered])
    if order.short:
        page.heading("Measure: built shorter than would be cut now")
        page.items([_short(one) for one in order.short])
        page.line(f"  {REACH}")
    page.heading("Set or fit anew")
    page.items(order.settings)
    page.line(f"  {SET_ALL}")
    _taken_out(order, page)
    if order.joins:
        page.heading("Cut and join")
        ends = (f"wire {one.number} ({one.key}): cut at {one.was_at}, to splice {one.splice} at {one.point}"
                for one in order.joins)  # fmt: skip
        page.items(list(ends))
    _cut_new(order.new, order.notes, page)
    _tests(order.retests, page)
    page.heading("Before and after")
    page.items(list(_compared(order)))
    page.line(f"  {NOT_TOLD}")


def _touched(order: ChangeOrder) -> Sequence[str]:
    change = order.change
    first = listed(change.mattering) if change.mattering else "none"
    proof = "proved: nothing less does" if order.proven else "not proved that nothing less does"
    return (
        f"touched of brake, ignition, engine stop and start, their feed and returns too: {first}",
        f"other circuits touched: {listed(change.others) if change.others else 'none'}",
        f"sleeves opened: {listed(change.opened) if change.opened else 'none'}",
        f"{proof}; the first line counts most, new wire and spare ports last",
        f"plugs parted: {listed(order.parted) if order.parted else 'none'}",
    )


def _altered(one: Altered) -> str:
    does = "joins" if one.joins else "comes off"
    at = one.at if one.at == one.point else f"{one.at}, {one.point}"
    under = f", under the sleeve of {one.leg}: open it there" if one.leg else ""
    return f"{one.circuit}: wire {one.number} ({one.key}) {does} at {at}{under}"


def _short(one: Short) -> str:
    built, asked, run = (millimetres(length) for length in (one.length, one.asked, one.run))
    said = f"wire {one.number} ({one.key}): {built} long, {asked} would be cut for {run} of way"
    return f"{said}: it does not reach, cut it new" if one.length < one.run else said


REACH = "Hold these in place before anything else: where one is tight or does not reach, cut it new, by the same label."


def _listing(page: Page, title: str, names: tuple[str, ...]) -> None:
    if names:
        page.heading(title)
        page.line(f"  {listed(names)}.")


def _taken_out(order: ChangeOrder, page: Page) -> None:
    if order.out:
        page.heading("Out of use")
        columns: list[TableColumn] = [("number", "right"), ("label", "left"), ("from", "left"), ("to", "left"),
                                      ("legs", "left")]  # fmt: skip
        rows = [[str(w.number), w.key, w.start, w.end, ", ".join(w.legs) or "-"] for w in order.out]
        page.table(columns, rows)
        page.line(f"  {NOT_USED}")
    if order.dead_before:
        page.line(f"  Out of use before this change: {counted(order.dead_before, 'wire')}.")


def _cut_new(wires: Sequence[Wire], notes: Notes, page: Page) -> None:
    if not wires:
        return
    page.heading("Cut new")
    columns: list[TableColumn] = [("number", "right"), ("label", "left"), ("size", "left"), ("colour", "left"),
                                  ("from", "left"), ("to", "left"), ("cut", "right"), ("legs", "left")]  # fmt: skip
    coloured = any(wire.colour is not None for wire in wires)
    rows = [_new(wire, notes) for wire in wires]
    if not coloured:
        columns, rows = [*columns[:3], *columns[4:]], [[*row[:3], *row[4:]] for row in rows]
    page.table(columns, rows)


def _new(wire: Wire, notes: Notes) -> list[str]:
    ends = [" ".join([end.told, *(f"({note})" for note in notes_at(end, notes))]) for end in wire.ends]
    cuts = " + ".join(millimetres(cut) for cut in wire.cuts)
    size = "-" if wire.size is None else wire.size.label
    colour = "-" if wire.colour is None else wire.colour.letters
    return [str(wire.number), wire.key, size, colour, *ends, cuts, ", ".join(wire.legs) or "-"]


def _tests(retests: Sequence[Retest], page: Page) -> None:
    page.heading("Test again on the bench")
    page.line(
        "  Always what brake, ignition, engine stop and start hang on; and what was set anew, cut, opened or parted."
    )
    page.items([f"{one.circuit}{_of(one)}: {'; '.join(_why(one))}" for one in retests])


def _of(one: Retest) -> str:
    return f" ({listed(one.on_it)})" if one.on_it else ""


def _why(one: Retest) -> Iterator[str]:
    if one.always:
        yield "always"
    if one.is_new:
        yield "new wire"
    if one.is_off:
        yield "a wire comes off"
    if one.is_set:
        yield "set anew"
    if one.opened:
        yield f"opened: {listed(one.opened)}"
    if one.parted:
        yield f"parted: {listed(one.parted)}"


def _compared(order: ChangeOrder) -> Sequence[str]:
    return (
        f"worst case through the unit: {amperes(order.before.worst)} before, {amperes(order.after.worst)} after",
        f"room for later loads: {_room(order.before)} before, {_room(order.after)} after",
    )


def _room(figures: Figures) -> str:
    return listed(figures.room_for) if figures.room_for else "none"
