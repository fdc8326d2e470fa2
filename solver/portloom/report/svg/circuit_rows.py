"""The rows of one circuit of the diagram, measured, and how far to the right things stand in them."""

from collections.abc import Sequence
from dataclasses import field, replace
from typing import Literal

from portloom.base.values import dataclass
from portloom.documents.wiring.wire import WireEnd
from portloom.report.svg.circuit_tree import BranchPoint, CircuitTree, Things
from portloom.report.svg.lettering import HEAD, folded, line_height
from portloom.report.svg.symbols import HALF

SOURCE = 128.0
"""Where wires leave what feeds them."""
FIRST = 208.0
"""Where the first splice stands."""
AT_SOURCE = 216.0
"""Where a diode stands that is right at a port: behind the words on its wire."""
THROUGH = 66.0
"""Room for the words on a wire before a fuse or a relay."""
STEP = 20.0
"""From a splice to the next one, in a row of its own."""
SIDE_BY_SIDE = 44.0
"""From a splice to the next one in the same row: its name stands between the two."""
SIGN = 424.0
BACK = 584.0
"""Where returns end."""
LAST = BACK - 90.0
"""How far to the right signs stand at most."""
NAMED = 24.0
"""From a splice, whose name stands beside it, to the diode of the same row."""
EDGE = 712.0
WORDS = 350.0
DEEPEST = 470.0
DIODE = 2.5 * HALF
"""From a diode to the sign that it stands before."""


@dataclass(frozen=True)
class Columns:
    """Where each knot stands, by the key of the wire that leads to it; where signs stand, and their words begin."""

    at: dict[str, float]
    sign: float
    words: float


def columns(tree: CircuitTree) -> Columns:
    """Return the columns of a circuit."""
    at: dict[str, float] = {}
    _beyond(tree.onward, SOURCE, AT_SOURCE + 2 * HALF if tree.end.diode else FIRST, at)
    deepest = max(at.values(), default=0.0)
    room = HALF + (NAMED + DIODE if any(tip.end.diode for tip in tree.tips) else 10)
    most = min(DEEPEST, LAST - room) if room > HALF + 10 else DEEPEST
    if deepest > most:
        share = (most - SOURCE) / (deepest - SOURCE)
        at, deepest = {key: SOURCE + share * (x - SOURCE) for key, x in at.items()}, most
    return Columns(at, max(SIGN, min(deepest + room, LAST)), max(WORDS, deepest + 12))


def _beyond(knots: Sequence[BranchPoint], start: float, onward: float, at: dict[str, float]) -> None:
    for knot in knots:
        if knot.tip:
            continue
        here = onward if knot.end.kind == "splice" else start + THROUGH + HALF
        at[knot.wire.key] = here
        after = here if knot.end.kind == "splice" else here + HALF
        step = STEP if knot.onward[0].tip else SIDE_BY_SIDE
        _beyond(knot.onward, after, after + step, at)


SECOND = ("live", "+", "-")
"""Terminals that are told where the thing itself is drawn elsewhere; those of a dash always are."""
LINE = line_height()
ABOVE, BELOW = 28.0, 26.0
"""Room above and below a row's wire, words above it apart."""


@dataclass(frozen=True)
class DiagramRow:
    """A thing at the end of a wire: its words, folded, and where its wire lies below the row's top."""

    words: tuple[str, ...]
    back: tuple[str, ...]
    lengthened: float
    """What its height is more than it needs by itself."""

    @property
    def wire(self) -> float:
        """How far its wire lies below its top."""
        return max(len(self.words) * line_height() + ABOVE - 4, ABOVE)

    @property
    def high(self) -> float:
        """Its height."""
        return self.wire + max(BELOW, len(self.back) * line_height() + 4) + self.lengthened


Turn = Literal["first", "again", "elsewhere"]
"""A thing has its sign where a wire first leads to it, again at each further place, and else is only named."""


@dataclass
class Signed:
    """Loads and switches that have their sign already, and where."""

    names: set[tuple[str, ...]] = field(default_factory=set)

    def turn(self, things: Things, end: WireEnd) -> Turn:
        """Tell how a thing is drawn at the end of a wire, and remember it; earth has its sign every time.

        A dash has its sign where it is fed; what is there no more has none.
        A switch is drawn at each place where it has a return, so that this is drawn too.
        """
        if end.kind == "earth":
            return "again"
        if end.kind == "dash" or end.stub:
            return "elsewhere"
        name, place = (end.kind, end.name), (end.kind, end.name, end.point)
        if not things.stands(end) or place in self.names or (name in self.names and things.back(end) is None):
            return "elsewhere"
        turn: Turn = "again" if name in self.names else "first"
        self.names |= {name, place}
        return turn


@dataclass(frozen=True)
class Rows:
    """A circuit with its rows, in the order in which they are drawn."""

    things: Things
    root: CircuitTree
    columns: Columns
    source: tuple[str, ...]
    """Words under the name of what feeds it."""
    name: tuple[str, ...]
    rows: tuple[DiagramRow, ...]
    turns: tuple[Turn, ...]

    @property
    def high(self) -> float:
        """Its height."""
        return sum(row.high for row in self.rows)

    @property
    def feeds(self) -> bool:
        """Tell whether it is the feed, where the battery is drawn."""
        return self.root.end.kind == "battery" and self.root.tips[0].end.kind == "unit"

    @property
    def lowered(self) -> float:
        """How much lower the rating of a fuse stands, for the colour of the wire that leads to it."""
        first = self.root.onward[0]
        return LINE if not first.tip and first.end.kind != "splice" and first.wire.colour is not None else 0.0

    @property
    def source_high(self) -> float:
        """How far the words of what feeds it reach below its first wire."""
        between = 32 if self.feeds else len(self.name) * line_height(HEAD)
        return between + len(self.source) * line_height() + 2


def measured(things: Things, root: CircuitTree, signed: Signed) -> Rows:
    """Measure a circuit."""
    heading, *told = things.source_words(root)
    name = folded(heading, SOURCE - 28, HEAD)
    source = tuple(part for words in told for part in folded(words, SOURCE - 28))
    tips = root.tips
    turns = tuple(signed.turn(things, tip.end) for tip in tips)
    where = columns(root)
    rows = [_row(things, tip.end, where, turn) for tip, turn in zip(tips, turns, strict=True)]
    plain = Rows(things, root, where, source, name, tuple(rows), turns)
    rows[0] = replace(rows[0], lengthened=plain.lowered)
    plain = replace(plain, rows=tuple(rows))
    short = max(0.0, rows[0].wire + plain.source_high - plain.high)
    return replace(plain, rows=(*rows[:-1], replace(rows[-1], lengthened=rows[-1].lengthened + short)))


def _row(things: Things, end: WireEnd, where: Columns, turn: Turn) -> DiagramRow:
    told_by = end.kind == "dash" or (end.terminal in SECOND and end.kind != "load")
    terminal = [end.terminal] if told_by else []
    named = end.told if end.stub else f"to {end.name}"
    told = things.words(end) if turn != "elsewhere" else ", ".join([named, *terminal, end.point])
    words = () if end.kind == "earth" else folded(told, EDGE - where.words)
    return DiagramRow(words, _back_words(things, end) if turn != "elsewhere" else (), 0.0)


def _back_words(things: Things, end: WireEnd) -> tuple[str, ...]:
    wire = things.back(end)
    room = EDGE - BACK - 22
    if end.kind == "earth":
        return folded(end.point, room)
    if wire is None and end.kind == "load" and end.name in things.other_ends:
        return folded(things.other_ends[end.name], room)
    if wire is None:
        return ("frame",) if end.kind == "load" else ("live side",) if things.live(end) else ()
    return folded(wire.end.name if wire.end.kind == "splice" else wire.end.point, room)
