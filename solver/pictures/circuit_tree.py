"""A circuit's wires as a tree: from what feeds it, through fuses, relays and splices, to what it leads to."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from solver.wiring.wire import Wire, WireEnd

Identity = tuple[str, str, str]
THROUGH = ("fuse", "relay")
"""What sits in a wire: one leads to it, one leads on."""


@dataclass(frozen=True)
class Knot:
    """An end of wires, the wire that leads to it, and what lies beyond."""

    end: WireEnd
    wire: Wire
    onward: tuple["Knot", ...]

    @property
    def tip(self) -> bool:
        """Tell whether nothing lies beyond."""
        return not self.onward

    def tips(self) -> Iterator["Knot"]:
        """Return its tips, those that hang on it directly before those beyond further splices."""
        if self.tip:
            yield self
        for knot in self.onward:
            yield from knot.tips()


@dataclass(frozen=True)
class Tree:
    """What feeds a circuit, and what it leads to."""

    end: WireEnd
    onward: tuple[Knot, ...]

    @property
    def tips(self) -> tuple[Knot, ...]:
        """All tips, from the first row down."""
        return tuple(tip for knot in self.onward for tip in knot.tips())


def circuit_trees(wires: Sequence[Wire]) -> tuple[Tree, ...]:
    """Return the trees of some wires, each from an end that no wire leads to."""
    led_to = {_identity(wire.end) for wire in wires}
    roots = {_identity(wire.start): wire.start for wire in wires if _identity(wire.start) not in led_to}
    return tuple(Tree(root, _onward(root, wires)) for root in roots.values())


def _onward(end: WireEnd, wires: Sequence[Wire]) -> tuple[Knot, ...]:
    beyond = [wire for wire in wires if _identity(wire.start) == _identity(end)]
    knots = [Knot(wire.end, wire, _beyond(wire.end, wires)) for wire in beyond]
    return (*(knot for knot in knots if knot.tip), *(knot for knot in knots if not knot.tip))


def _beyond(end: WireEnd, wires: Sequence[Wire]) -> tuple[Knot, ...]:
    return _onward(end, wires) if end.kind in ("splice", *THROUGH) else ()


def _identity(end: WireEnd) -> Identity:
    """Return what tells an end from others; the contacts of a relay are one thing, a box's ways are not."""
    terminal = "" if end.kind in ("splice", *THROUGH) else end.terminal
    return end.kind, end.name, terminal
