"""One circuit of the diagram as it is drawn: from what feeds it on the left, row by row, to its returns."""

from collections.abc import Iterable, Iterator

from portloom.base.values import dataclass
from portloom.documents.wiring.wire import Wire, WireEnd
from portloom.report.svg.circuit_rows import ABOVE, AT_SOURCE, BACK, DIODE, SOURCE, DiagramRow, Rows
from portloom.report.svg.circuit_tree import BranchPoint, CircuitTree, wire_words
from portloom.report.svg.lettering import HEAD, PLAIN, line, line_height, whole
from portloom.report.svg.marks import ring, stroke
from portloom.report.svg.shapes import Point
from portloom.report.svg.svg import Element, group
from portloom.report.svg.symbols import HALF, Sign, dot, earth, sign

BATTERY = 22.0
"""How much higher the name of the battery stands where its sign is drawn."""


@dataclass(frozen=True)
class Circuit:
    """A circuit that takes its turn down the page."""

    rows: Rows

    @property
    def high(self) -> float:
        """Its height."""
        return self.rows.high

    def drawn(self, top: float) -> Iterator[Element]:
        """Draw it."""
        y = top + self.rows.rows[0].wire
        yield from _source_words(self.rows, y)
        if self.rows.feeds:
            yield from _battery(y)
        yield from _Drawing(self.rows, top).beyond(self.rows.root, SOURCE)
        yield from _diode_at_source(self.rows.root.end, y)


def _diode_at_source(end: WireEnd, y: float) -> Iterator[Element]:
    """Draw the diode at a port or a way that reads what a dash shows too; it points to the wire, or away from it."""
    if end.diode:
        yield sign("diode", AT_SOURCE, y, turned=not end.leaves)
        yield line(AT_SOURCE, y + 21, end.diode, anchor="middle")


def _battery(y: float) -> Iterator[Element]:
    """Draw the battery where the feed starts, its other pole earthed."""
    yield sign("battery", SOURCE - HALF, y)
    yield stroke(f"M{SOURCE - 2 * HALF:.2f} {y:.2f}h-4v4")
    yield earth(SOURCE - 2 * HALF - 4, y + 2)


def _source_words(block: Rows, y: float) -> Iterator[Element]:
    at = y + 5 - (BATTERY if block.feeds else 0)
    for text in block.name:
        yield line(24, at, text, HEAD)
        at += line_height(HEAD)
    at = y + BATTERY + 12 if block.feeds else at
    for text in block.source:
        yield line(24, at - 2, text, PLAIN)
        at += line_height()


class _Drawing:
    """Draws a circuit, row by row."""

    def __init__(self, block: Rows, top: float) -> None:
        """Take the circuit and where its first row begins."""
        self._block = block
        self._columns = block.columns
        self._wires: list[float] = []
        """Where the wire of each row lies."""
        for row in block.rows:
            self._wires.append(top + row.wire)
            top += row.high
        self._number = 0
        self._said = ("", "")

    @property
    def _y(self) -> float:
        """Where the wire of the row lies that is drawn next."""
        return self._wires[self._number]

    def beyond(self, knot: BranchPoint | CircuitTree, x: float) -> Iterator[Element]:
        """Draw what lies beyond a knot at ``x``."""
        y = self._y
        for other in knot.onward:
            yield from self._to(other, (x, y))

    def _to(self, knot: BranchPoint, start: Point) -> Iterator[Element]:
        if knot.tip:
            yield from self._tip(knot, start)
        elif knot.end.kind == "splice":
            x = self._columns.at[knot.wire.key]
            yield self._wire(knot, start, x)
            yield dot(x, self._y)
            yield line(x + 6, self._y + 17, knot.end.name)
            yield from self.beyond(knot, x)
        else:
            yield from self._through(knot, start)

    def _through(self, knot: BranchPoint, start: Point) -> Iterator[Element]:
        """Draw a fuse, the contact or the coil of a relay, or a load's own switch."""
        middle, y = self._columns.at[knot.wire.key], self._y
        yield self._wire(knot, start, middle - HALF)
        drawn, words = _sign_in_wire(knot)
        yield sign(drawn, middle, y)
        yield line(middle, y + 22 + self._block.lowered, whole(words), anchor="middle")
        yield from self.beyond(knot, middle + HALF)

    def _tip(self, knot: BranchPoint, start: Point) -> Iterator[Element]:
        row, y = self._block.rows[self._number], self._y
        if knot.end.kind == "earth":
            yield self._wire(knot, start, BACK)
            yield from _ended(row, y, at_earth=True)
        else:
            yield self._wire(knot, start, self._columns.sign - HALF)
            yield from self._thing(knot, y)
        self._number += 1

    def _thing(self, knot: BranchPoint, y: float) -> Iterator[Element]:
        """Draw a load, a switch or whatever a wire leads to, with its return."""
        end, row, at = knot.end, self._block.rows[self._number], self._columns.sign
        turn = self._block.turns[self._number]
        if end.diode:
            yield sign("diode", at - DIODE, y, turned=end.leaves)
            yield line(at - DIODE, y + 21, end.diode, anchor="middle")
        which = "onward" if turn == "elsewhere" else self._block.things.sign(end)
        parts = [sign(which, at, y), *_words(row, self._columns.words, y)]
        parts += () if turn == "elsewhere" else self._back(end, row, y)
        known = {f"data_{end.kind}": end.name} if turn == "first" and end.kind in ("load", "switch") else {}
        yield group(parts, class_="thing", **known)

    def _back(self, end: WireEnd, row: DiagramRow, y: float) -> Iterator[Element]:
        wire, x = self._block.things.back(end), self._columns.sign + HALF
        if wire is not None:
            yield _lit(wire, [stroke(f"M{x:.2f} {y:.2f}H{BACK:.2f}"), *_sizes(wire, x + 8, y)])
            yield from _ended(row, y, at_earth=wire.end.kind == "earth")
        elif row.back:
            yield stroke(f"M{x:.2f} {y:.2f}H{BACK:.2f}")
            earthed = end.kind == "load" and end.name not in self._block.things.other_ends
            yield from _ended(row, y, at_earth=earthed)

    def _wire(self, knot: BranchPoint, start: Point, x: float) -> Element:
        """Draw the wire to a knot that stands at ``x`` in the next row; its size where it is new."""
        y = self._y
        said = start[0] == SOURCE or wire_words(knot.wire) != self._said
        self._said = wire_words(knot.wire)
        words = _sizes(knot.wire, start[0] + 8, y) if said else ()
        return _lit(knot.wire, [stroke(f"M{start[0]:.2f} {start[1]:.2f}V{y:.2f}H{x:.2f}"), *words])


def _sign_in_wire(knot: BranchPoint) -> tuple[Sign, str]:
    """Return the sign of what sits in a wire, and the words below it."""
    if knot.end.kind == "fuse":
        return "fuse", _rating(knot)
    if knot.end.kind == "own switch":
        return "normally open", "own switch"
    return ("coil", "relay coil") if knot.end.terminal == "86" else ("relay", "relay")


def _rating(fuse: BranchPoint) -> str:
    words = fuse.onward[0].wire.protection
    return f"main {words}" if fuse.end.name == "main fuse" else words


def _lit(wire: Wire, parts: Iterable[Element]) -> Element:
    """Return a wire's elements as one group, known by its key."""
    return group(parts, class_="wire", data_wire=wire.key, data_circuit=wire.circuit)


def _sizes(wire: Wire, x: float, y: float) -> Iterator[Element]:
    above, below = wire_words(wire)
    if above:
        yield line(x, y - 5, above)
    if below:
        yield line(x, y + 16, below)


def _words(row: DiagramRow, x: float, y: float) -> Iterator[Element]:
    for number, text in enumerate(reversed(row.words)):
        yield line(x, y - ABOVE + 4 - number * line_height(), text)


def _ended(row: DiagramRow, y: float, *, at_earth: bool) -> Iterator[Element]:
    """Draw the end of a return: at earth or at a splice, and where that is."""
    yield earth(BACK, y) if at_earth else ring(BACK, y, 4)
    for number, text in enumerate(row.back):
        yield line(BACK + 16, y + 5 + number * line_height(), text)
