"""Which pieces of a plan's wires are built already, and from which numbers the new ones go on.

A piece is built where its circuit stays and a built piece has the same ends and legs, and is as thick. Numbers, labels,
ways of connectors and names of splices are never used again, not even of what is taken out.
"""

from collections.abc import Iterator

from portloom.base.built import BuiltEnd, BuiltPiece
from portloom.base.sizes import WireSize
from portloom.documents.wiring.cutting import CutNode, Piece, RunFork
from portloom.documents.wiring.returned import circuit_of_return
from portloom.documents.wiring.wire import CutWireKind
from portloom.job.fixed import conductor_of
from portloom.job.fixed_as_built import stays
from portloom.job.fixed_wires import FixedWire
from portloom.job.laid import Laid

Circuit = tuple[CutWireKind, str]
Seen = tuple[object, ...]


class GoingOn:
    """The pieces of a built loom, each taken once by a piece of the plan that is the same."""

    def __init__(self, laid: Laid) -> None:
        """Take the plan as it lies; without a built loom nothing is built, and numbers begin with 1."""
        standing = laid.site.job.built
        self._staying = frozenset(_staying(laid))
        self._all = () if standing is None else (*standing.loom.pieces, *standing.loom.dead)
        self._left: dict[Seen, list[BuiltPiece]] = {}
        for piece in () if standing is None else standing.loom.pieces:
            ends = tuple(_built_end(end) for end in piece.ends)
            self._left.setdefault((piece.kind, piece.circuit, piece.legs, *ends), []).append(piece)
        self._number = 0 if standing is None else standing.loom.last_number
        self._keys: dict[str, int] = {}
        for piece in self._all:
            circuit, _, last = piece.key.rpartition(".")
            self._keys[circuit] = max(self._keys.get(circuit, 0), int(last) if last.isdecimal() else 0)
        names = {end.name for piece in self._all for end in piece.ends if end.kind == "splice"}
        self._splices = max((int(name[1:]) for name in names if name[1:].isdecimal()), default=0)
        self._ways: dict[str, int] = {}
        for way in (way for piece in self._all for way in piece.ways):
            self._ways[way.at] = max(self._ways.get(way.at, 0), way.way)

    def built(
        self,
        kind: CutWireKind,
        circuit: str,
        piece: Piece,
        size: WireSize | None,
        legs: tuple[str, ...],
        *,
        cut: bool,
    ) -> BuiltPiece | None:
        """Return the built piece that a piece of the plan is, and take it; None where it is new.

        With ``cut`` it may be one that is cut at an end, to be joined to others there.
        """
        if (kind, circuit) not in self._staying and kind != "alongside":
            return None
        same = (kind, circuit, legs)
        found = self._left.get((*same, _end(piece.start), _end(piece.end)), [])
        if not found and cut:
            found = next((left for seen, left in self._left.items() if left and _cut(seen, same, piece)), [])
        thick = next((one for one in found if size is None or (one.size is not None and one.size >= size)), None)
        if thick is not None:
            found.remove(thick)
        return thick

    @property
    def left(self) -> tuple[BuiltPiece, ...]:
        """The built pieces that no piece of the plan is, by number; what lies alongside is the bike's own."""
        left = (piece for pieces in self._left.values() for piece in pieces if piece.ours)
        return tuple(sorted(left, key=lambda piece: piece.number))

    def next_number(self) -> int:
        """Return the next number that no wire of the loom ever had."""
        self._number += 1
        return self._number

    def next_key(self, circuit: str) -> str:
        """Return the next label within a circuit."""
        self._keys[circuit] = self._keys.get(circuit, 0) + 1
        return f"{circuit}.{self._keys[circuit]}"

    def next_splice(self) -> str:
        """Return the next name of a splice."""
        self._splices += 1
        return f"S{self._splices}"

    def next_way(self, point: str) -> int:
        """Return the next way of a connector."""
        self._ways[point] = self._ways.get(point, 0) + 1
        return self._ways[point]


def _built_end(end: BuiltEnd) -> Seen:
    return ("splice", end.point) if end.kind == "splice" else (end.kind, end.name, end.point, end.terminal)


def _end(node: CutNode) -> Seen:
    if isinstance(node, RunFork):
        return ("splice", node.point)
    return (node.kind, node.name, node.point, node.terminal)


def _cut(seen: Seen, same: Seen, piece: Piece) -> bool:
    """Tell whether a built piece is like another, but that it ends at a thing where the other ends at a splice."""
    if seen[:3] != same or not seen[2]:
        return False
    ends = zip((piece.start, piece.end), seen[3:], strict=True)
    return all(_end(node) == end or (isinstance(node, RunFork) and _point(end) == node.point) for node, end in ends)


def _point(end: object) -> object:
    return end[1 if end[0] == "splice" else 2] if isinstance(end, tuple) else None


def _staying(laid: Laid) -> Iterator[Circuit]:
    """Return the circuits of which the built wire stays."""
    yield from (("output", wired.output.name) for wired in laid.outputs if wired.stays)
    yield from (("input", told.port.name) for told in laid.inputs if told.old is not None)
    yield from _of_multiplexers(laid)
    for wire in laid.site.fixed_wires:
        if wire.kind != "alongside" and stays(wire, conductor_of(laid.site, wire)):
            yield wire.kind, circuit_of(wire)


def _of_multiplexers(laid: Laid) -> Iterator[Circuit]:
    for box in laid.multiplexers:
        if box.old is not None:
            yield "multiplexer data", box.port.name
            yield "multiplexer supply", f"supply of {box.stand.multiplexer.name}"
        for way, wired_switch in laid.ways_of(box):
            if wired_switch.old is not None:
                yield "multiplexer way", f"{box.stand.multiplexer.name} way {way}"


def circuit_of(wire: FixedWire) -> str:
    """Return how lists call the circuit of a wire that no port needs."""
    named = {
        "feed": "feed",
        "unit earth": "unit earth",
        "return": circuit_of_return(wire),
        "sender return": f"return of {wire.name}",
        "fed load": f"feed of {wire.name}",
        "coil lead": f"coil of {wire.name} relay",
        "supply": wire.name,
        "dash signal": f"signal of {wire.name}",
        "dash supply": f"supply of {wire.name}",
        "dash return": f"return of {wire.name}",
    }
    return named[wire.kind]
