"""One circuit of the diagram: a row for each thing that it leads to, from what feeds it on the left to its return."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from typing import Literal

from solver.pictures.circuit_columns import BACK, DIODE, EDGE, SOURCE, Columns, columns
from solver.pictures.circuit_tree import Knot, Tree
from solver.pictures.lettering import HEAD, PLAIN, folded, line, pitch, whole
from solver.pictures.marks import ring, stroke
from solver.pictures.shapes import Point
from solver.pictures.svg import Element, group
from solver.pictures.symbols import HALF, dot, earth, sign
from solver.pictures.things import Things, wire_words
from solver.wiring.wire import Wire, WireEnd

SECOND = ("live", "+")
"""Terminals that are told where the thing itself is drawn elsewhere."""
BATTERY = 22.0
"""How much higher the name of the battery stands where its sign is drawn."""
ABOVE, BELOW = 28.0, 26.0
"""Room above and below a row's wire, words above it apart."""


@dataclass(frozen=True)
class Row:
    """A thing at the end of a wire: its words, folded, and where its wire lies below the row's top."""

    words: tuple[str, ...]
    back: tuple[str, ...]
    lengthened: float
    """What its height is more than it needs by itself."""

    @property
    def wire(self) -> float:
        """Give how far its wire lies below its top."""
        return max(len(self.words) * pitch() + ABOVE - 4, ABOVE)

    @property
    def high(self) -> float:
        """Give its height."""
        return self.wire + max(BELOW, len(self.back) * pitch() + 4) + self.lengthened


Turn = Literal["first", "again", "elsewhere"]
"""A thing has its sign where a wire first leads to it, again at each further place, and else is only named."""


@dataclass
class Signed:
    """Loads and switches that have their sign already, and where."""

    names: set[tuple[str, ...]] = field(default_factory=set)

    def turn(self, things: Things, end: WireEnd) -> Turn:
        """Tell how a thing is drawn at the end of a wire, and remember it; earth has its sign every time.

        A switch is drawn at each place where it has a return, so that this is drawn too.
        """
        if end.kind == "earth":
            return "again"
        name, place = (end.kind, end.name), (end.kind, end.name, end.point)
        if not things.stands(end) or place in self.names or (name in self.names and things.back(end) is None):
            return "elsewhere"
        turn: Turn = "again" if name in self.names else "first"
        self.names |= {name, place}
        return turn


@dataclass(frozen=True)
class Block:
    """A circuit with its rows, in the order in which they are drawn."""

    things: Things
    root: Tree
    columns: Columns
    source: tuple[str, ...]
    """Words under the name of what feeds it."""
    name: tuple[str, ...]
    rows: tuple[Row, ...]
    turns: tuple[Turn, ...]

    @property
    def high(self) -> float:
        """Give its height."""
        return sum(row.high for row in self.rows)

    def drawn(self, top: float) -> Iterator[Element]:
        """Draw it."""
        y = top + self.rows[0].wire
        yield from _source_words(self, y)
        if self.feeds:
            yield from _battery(y)
        yield from _Drawing(self, top).beyond(self.root, SOURCE)

    @property
    def feeds(self) -> bool:
        """Tell whether it is the feed, where the battery is drawn."""
        return self.root.end.kind == "battery" and self.root.tips[0].end.kind == "unit"

    @property
    def source_high(self) -> float:
        """Give how far the words of what feeds it reach below its first wire."""
        between = 32 if self.feeds else len(self.name) * pitch(HEAD)
        return between + len(self.source) * pitch() + 2


def block(things: Things, root: Tree, signed: Signed) -> Block:
    """Measure a circuit."""
    heading, *told = things.source_words(root)
    name = folded(heading, SOURCE - 28, HEAD)
    source = tuple(part for words in told for part in folded(words, SOURCE - 28))
    tips = root.tips
    turns = tuple(signed.turn(things, tip.end) for tip in tips)
    where = columns(root)
    rows = [_row(things, tip.end, where, turn) for tip, turn in zip(tips, turns, strict=True)]
    measured = Block(things, root, where, source, name, tuple(rows), turns)
    short = max(0.0, rows[0].wire + measured.source_high - measured.high)
    return replace(measured, rows=(*rows[:-1], replace(rows[-1], lengthened=short)))


def _row(things: Things, end: WireEnd, where: Columns, turn: Turn) -> Row:
    terminal = [end.terminal] if end.terminal in SECOND and end.kind != "load" else []
    told = things.words(end) if turn != "elsewhere" else ", ".join([f"to {end.name}", *terminal, end.point])
    words = () if end.kind == "earth" else folded(told, EDGE - where.words)
    return Row(words, _back_words(things, end) if turn != "elsewhere" else (), 0.0)


def _back_words(things: Things, end: WireEnd) -> tuple[str, ...]:
    wire = things.back(end)
    room = EDGE - BACK - 22
    if end.kind == "earth":
        return folded(end.point, room)
    if wire is None:
        return ("frame",) if end.kind == "load" else ("live side",) if things.live(end) else ()
    return folded(wire.end.name if wire.end.kind == "splice" else wire.end.point, room)


def _battery(y: float) -> Iterator[Element]:
    """Draw the battery where the feed starts, its other pole earthed."""
    yield sign("battery", SOURCE - HALF, y)
    yield stroke(f"M{SOURCE - 2 * HALF:.2f} {y:.2f}h-4v4")
    yield earth(SOURCE - 2 * HALF - 4, y + 2)


def _source_words(block: Block, y: float) -> Iterator[Element]:
    at = y + 5 - (BATTERY if block.feeds else 0)
    for text in block.name:
        yield line(24, at, text, HEAD)
        at += pitch(HEAD)
    at = y + BATTERY + 12 if block.feeds else at
    for text in block.source:
        yield line(24, at - 2, text, PLAIN)
        at += pitch()


class _Drawing:
    """Draws a circuit, row by row."""

    def __init__(self, block: Block, top: float) -> None:
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

    def beyond(self, knot: Knot | Tree, x: float) -> Iterator[Element]:
        """Draw what lies beyond a knot at ``x``."""
        y = self._y
        for other in knot.onward:
            yield from self._to(other, (x, y))

    def _to(self, knot: Knot, start: Point) -> Iterator[Element]:
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

    def _through(self, knot: Knot, start: Point) -> Iterator[Element]:
        """Draw a fuse or the contact of a relay."""
        middle, y = self._columns.at[knot.wire.key], self._y
        yield self._wire(knot, start, middle - HALF)
        fused = knot.end.kind == "fuse"
        yield sign("fuse" if fused else "relay", middle, y)
        yield line(middle, y + 22, whole(_rating(knot) if fused else "relay"), anchor="middle")
        yield from self.beyond(knot, middle + HALF)

    def _tip(self, knot: Knot, start: Point) -> Iterator[Element]:
        row, y = self._block.rows[self._number], self._y
        if knot.end.kind == "earth":
            yield self._wire(knot, start, BACK)
            yield from _ended(row, y, at_earth=True)
        else:
            yield self._wire(knot, start, self._columns.sign - HALF)
            yield from self._thing(knot, y)
        self._number += 1

    def _thing(self, knot: Knot, y: float) -> Iterator[Element]:
        """Draw a load, a switch or whatever a wire leads to, with its return."""
        end, row, at = knot.end, self._block.rows[self._number], self._columns.sign
        turn = self._block.turns[self._number]
        if end.diode:
            yield sign("diode", at - DIODE, y)
            yield line(at - DIODE, y + 21, end.diode, anchor="middle")
        which = "onward" if turn == "elsewhere" else self._block.things.sign(end)
        parts = [sign(which, at, y), *_words(row, self._columns.words, y)]
        parts += () if turn == "elsewhere" else self._back(end, row, y)
        known = {f"data_{end.kind}": end.name} if turn == "first" and end.kind in ("load", "switch") else {}
        yield group(parts, class_="thing", **known)

    def _back(self, end: WireEnd, row: Row, y: float) -> Iterator[Element]:
        wire, x = self._block.things.back(end), self._columns.sign + HALF
        if wire is not None:
            yield _lit(wire, [stroke(f"M{x:.2f} {y:.2f}H{BACK:.2f}"), *_sizes(wire, x + 8, y)])
            yield from _ended(row, y, at_earth=wire.end.kind == "earth")
        elif row.back:
            yield stroke(f"M{x:.2f} {y:.2f}H{BACK:.2f}")
            yield from _ended(row, y, at_earth=end.kind == "load")

    def _wire(self, knot: Knot, start: Point, x: float) -> Element:
        """Draw the wire to a knot that stands at ``x`` in the next row; its size where it is new."""
        y = self._y
        said = start[0] == SOURCE or wire_words(knot.wire) != self._said
        self._said = wire_words(knot.wire)
        words = _sizes(knot.wire, start[0] + 8, y) if said else ()
        return _lit(knot.wire, [stroke(f"M{start[0]:.2f} {start[1]:.2f}V{y:.2f}H{x:.2f}"), *words])


def _rating(fuse: Knot) -> str:
    words = fuse.onward[0].wire.protection.words
    return f"main {words}" if fuse.end.name == "main fuse" else words


def _lit(wire: Wire, parts: Iterable[Element]) -> Element:
    """Give a wire's elements as one group, known by its key."""
    return group(parts, class_="wire", data_wire=wire.key, data_circuit=wire.circuit)


def _sizes(wire: Wire, x: float, y: float) -> Iterator[Element]:
    above, below = wire_words(wire)
    if above:
        yield line(x, y - 5, above)
    if below:
        yield line(x, y + 16, below)


def _words(row: Row, x: float, y: float) -> Iterator[Element]:
    for number, text in enumerate(reversed(row.words)):
        yield line(x, y - ABOVE + 4 - number * pitch(), text)


def _ended(row: Row, y: float, *, at_earth: bool) -> Iterator[Element]:
    """Draw the end of a return: at earth or at a splice, and where that is."""
    yield earth(BACK, y) if at_earth else ring(BACK, y, 4)
    for number, text in enumerate(row.back):
        yield line(BACK + 16, y + 5 + number * pitch(), text)
