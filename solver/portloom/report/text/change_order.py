"""The change order as an electrician reads it: what is done to the loom, in the order in which it is done."""

from collections.abc import Iterator, Sequence

from portloom.base.figures import counted, listed, millimetres
from portloom.documents.change_order import ChangeOrder, Figures, Retest
from portloom.documents.wiring.wire import Wire
from portloom.report.text.layout import Page, TableColumn, amperes

NOTHING = "Nothing is to be done: the loom stays as it is built."
NOT_TOLD = (
    "Not told of a built loom: what multiplexers save, what more sharing would free, and what parts the change alone "
    "takes. Colours: the sheets have them."
)
NOT_USED = "Take these out, or insulate both ends and label them 'not used'; their numbers are never used again."


def write_change_order(order: ChangeOrder, page: Page) -> None:
    """Write what is touched, left, set anew, taken out, joined, cut new and tested again; before and after."""
    page.heading(f"Change order, for the loom as built ({order.built})")
    if order.nothing:
        page.line(f"  {NOTHING}")
        return
    page.items(list(_touched(order)))
    _listing(page, "Leave as they are", order.left)
    if order.settings:
        page.heading("Set anew")
        page.items(order.settings)
    _taken_out(order, page)
    if order.joins:
        page.heading("Cut and join")
        ends = (f"wire {one.number} ({one.key}): cut at {one.was_at}, to splice {one.splice} at {one.point}"
                for one in order.joins)  # fmt: skip
        page.items(list(ends))
    _cut_new(order.new, page)
    _tests(order.retests, page)
    page.heading("Before and after")
    page.items(list(_compared(order)))
    page.line(f"  {NOT_TOLD}")


def _touched(order: ChangeOrder) -> Sequence[str]:
    change = order.change
    first = listed(change.mattering) if change.mattering else "none"
    return (
        f"circuits touched of brake, ignition, engine stop and start, feed and returns among them: {first}",
        f"other circuits touched: {listed(change.others) if change.others else 'none'}",
        f"sleeves opened: {listed(change.opened) if change.opened else 'none'}",
        f"plugs parted: {listed(order.parted) if order.parted else 'none'}",
        f"least of these, in this order, then of new wire and spare ports: {'' if order.proven else 'not '}proved",
    )


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


def _cut_new(wires: Sequence[Wire], page: Page) -> None:
    if not wires:
        return
    page.heading("Cut new")
    columns: list[TableColumn] = [("number", "right"), ("label", "left"), ("size", "left"), ("colour", "left"),
                                  ("from", "left"), ("to", "left"), ("cut", "right"), ("legs", "left")]  # fmt: skip
    coloured = any(wire.colour is not None for wire in wires)
    rows = [_new(wire) for wire in wires]
    if not coloured:
        columns, rows = [*columns[:3], *columns[4:]], [[*row[:3], *row[4:]] for row in rows]
    page.table(columns, rows)


def _new(wire: Wire) -> list[str]:
    ends = [wire.start.told, wire.end.told]
    cuts = " + ".join(millimetres(cut) for cut in wire.cuts)
    size = "-" if wire.size is None else wire.size.label
    colour = "-" if wire.colour is None else wire.colour.letters
    return [str(wire.number), wire.key, size, colour, *ends, cuts, ", ".join(wire.legs) or "-"]


def _tests(retests: Sequence[Retest], page: Page) -> None:
    page.heading("Test again on the bench")
    page.line("  Always what brake, ignition, engine stop and start hang on; and what was opened or parted.")
    page.items([f"{one.circuit}{_of(one)}: {'; '.join(_why(one))}" for one in retests])


def _of(one: Retest) -> str:
    return f" ({listed(one.on_it)})" if one.on_it else ""


def _why(one: Retest) -> Iterator[str]:
    if one.always:
        yield "always"
    if one.is_new:
        yield "new wire"
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
