"""Whether the wires of a built plan are those of its circuits: each line has its wires, and no wire is of none."""

from collections.abc import Iterable, Iterator, Sequence

from portloom.base.built import BuiltLoom, BuiltPiece
from portloom.base.parts.loads import DASH

ON_PORTS = ("output", "input", "multiplexer data", "multiplexer supply")
KINDS = frozenset({
    *ON_PORTS, "multiplexer way", "feed", "unit earth", "fed load", "coil lead", "supply", "dash signal", "dash supply",
    "dash return", "return", "sender return", "alongside",
})  # fmt: skip
ENDS = frozenset({
    "unit", "load", "switch", "own switch", DASH.name, "earth", "splice", "battery", "fuse", "relay", "multiplexer",
    "elsewhere",
})  # fmt: skip


def wires_apart(loom: BuiltLoom) -> Iterator[tuple[str, str]]:
    """Return what does not go together, with the section of the plan where it stands."""
    for piece in (*loom.pieces, *loom.dead):
        if piece.kind not in KINDS or not {end.kind for end in piece.ends} <= ENDS:
            yield "wires", f"wire {piece.number} is of no kind, or ends at nothing that wires end at"
        if (piece.kind in ON_PORTS) != bool(piece.port):
            yield "wires", f"wire {piece.number} is on no port, or on one that it can't be on"
    for line in loom.outputs:
        own = [piece for piece in loom.pieces if (piece.kind, piece.port) == ("output", line.port)]
        yield from _without("outputs", line.port, own, line.legs, line.loads)
    for told in loom.inputs:
        own = [piece for piece in loom.pieces if (piece.kind, piece.port) == ("input", told.port)]
        yield from _without("inputs", told.port, own, told.legs, told.switches)
    for box in loom.multiplexers:
        own = [piece for piece in loom.pieces if (piece.kind, piece.port) == ("multiplexer data", box.port)]
        yield from _without("multiplexers", box.name, own, box.legs, ())
        ways = [piece for piece in loom.pieces if piece.kind == "multiplexer way"]
        legs = [leg for way in box.ways for leg in way.legs]
        yield from _without("multiplexers", box.name, ways, legs, [way.switch for way in box.ways])
    for fixed in loom.fixed:
        own = [piece for piece in loom.pieces if (piece.kind, piece.circuit) in fixed.circuits]
        yield from _without("wires", f"{fixed.kind} {fixed.name}", own, fixed.legs, (), whole=True)


def _without(
    section: str,
    name: str,
    own: Sequence[BuiltPiece],
    legs: Iterable[str],
    things: Iterable[str],
    *,
    whole: bool = False,
) -> Iterator[tuple[str, str]]:
    """Say so where none of its wires leads to a leg or thing of a line; with ``whole``, the other way round too."""
    lying, wanted = {leg for piece in own for leg in piece.legs}, set(legs)
    met = {end.name for piece in own for end in piece.ends}
    if not own or not wanted <= lying or not met.issuperset(things) or (whole and lying != wanted):
        yield section, f"{name} has other wires than its line says"
