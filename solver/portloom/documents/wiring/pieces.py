"""All wires of a plan cut into pieces and numbered, with their splices and connectors."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from math import ceil

from portloom.base.built import BuiltEnd, BuiltPiece
from portloom.base.copper import copper_mass
from portloom.base.quantities import Micrometres, MilliAmps
from portloom.base.sizes import WireSize
from portloom.base.values import dataclass
from portloom.documents.wiring.crimps import one_crimp
from portloom.documents.wiring.cut_pieces import cuts_of, pieces_of
from portloom.documents.wiring.cutting import CutNode, Piece, RunFork, in_order, length
from portloom.documents.wiring.going_on import GoingOn
from portloom.documents.wiring.lines import Line, lines
from portloom.documents.wiring.returned import EarthPiece, returns, unit_earth
from portloom.documents.wiring.splice_spots import SpliceSpots
from portloom.documents.wiring.wire import (
    Connector,
    ConnectorWay,
    CutWireKind,
    JointKind,
    Splice,
    Wire,
    WireEnd,
    Wiring,
)
from portloom.job.job import Job
from portloom.job.laid import Laid


@dataclass(frozen=True)
class Unnumbered:
    """A piece with all that is known of it before it has a number."""

    circuit: str
    kind: CutWireKind
    port: str
    piece: Piece
    size: WireSize | None
    protection: str
    enough: WireSize | None = None
    """The thinnest that will do where it is built; None where that is its size."""


class Numbering:
    """Gives numbers to wires, splices, diodes and ways of connectors, each 1 and up in the order of the list."""

    def __init__(self, job: Job, rough: Sequence[Unnumbered], going_on: GoingOn) -> None:
        """Take the pieces in the order of the list, and what is built of them."""
        self._job = job
        self._rough = rough
        self._going_on = going_on
        self._circuits: dict[str, CutWireKind] = {}
        self._ways: dict[str, list[tuple[int, str]]] = {}
        self._splices: dict[tuple[str, CutWireKind, int], list[Wire]] = {}
        self._diodes = 0
        self._spots = SpliceSpots(job)
        self._names: dict[tuple[str, CutWireKind, int], str] = {}
        self._built = self._matched()
        self._take_names()

    def wiring(self) -> Wiring:
        """Return the wires with their numbers, and what they share."""
        laid = tuple(self._wire(rough, built) for rough, built in zip(self._rough, self._built, strict=True))
        wires = _with_stubs(laid)
        used = {wire.key for wire in wires if wire.used}
        splices = tuple(self._spliced(self._names[place], joined, used) for place, joined in self._splices.items())
        at = [point for point in self._job.network.points if point in self._ways]
        connectors = tuple(Connector(point, tuple(key for _, key in sorted(self._ways[point]))) for point in at)
        return Wiring(wires, splices, connectors, self._going_on.left)

    def _matched(self) -> list[BuiltPiece | None]:
        """Return for each piece the built one that it is: first those with the same ends, then those cut at one."""
        exact = [self._match(rough, cut=False) for rough in self._rough]
        return [found or self._match(rough, cut=True) for found, rough in zip(exact, self._rough, strict=True)]

    def _match(self, rough: Unnumbered, *, cut: bool) -> BuiltPiece | None:
        legs = tuple(self._job.network.legs[number].label for number in rough.piece.legs)
        return self._going_on.built(
            rough.kind, self._circuit(rough), rough.piece, rough.enough or rough.size, legs, cut=cut
        )

    def _take_names(self) -> None:
        """Let each splice have its built name."""
        for rough, built in zip(self._rough, self._built, strict=True):
            for node, end in zip((rough.piece.start, rough.piece.end), built.ends if built else (), strict=False):
                if isinstance(node, RunFork) and end.kind == "splice":
                    self._names.setdefault((rough.circuit, rough.kind, node.number), end.name)

    def _wire(self, rough: Unnumbered, built: BuiltPiece | None) -> Wire:
        job, piece = self._job, rough.piece
        circuit = self._circuit(rough)
        key = self._going_on.next_key(circuit) if built is None else built.key
        ways = [None] * len(piece.parted) if built is None else [way.way for way in built.ways]
        run = Micrometres(length(job.network, piece.legs) + piece.over)
        return self._joined(
            rough,
            Wire(
                key=key,
                number=self._going_on.next_number() if built is None else built.number,
                circuit=circuit,
                kind=rough.kind,
                start=self._end(rough, piece.start),
                end=self._end(rough, piece.end),
                port=rough.port,
                size=rough.size if built is None else built.size,
                run=run,
                cuts=() if rough.kind == "alongside" else cuts_of(job, piece) if built is None else built.cuts,
                leg_numbers=piece.legs,
                legs=tuple(job.network.legs[number].label for number in piece.legs),
                points=piece.points,
                connectors=tuple(self._way(*parted, key) for parted in zip(piece.parted, ways, strict=True)),
                protection=rough.protection,
                current=piece.current,
                colour=None if built is None else built.colour,
                built=built is not None,
                asked=Micrometres(sum(cuts_of(job, piece))) if rough.kind != "alongside" else Micrometres(0),
                cut_start=None if built is None else _cut_at(piece.start, built.start),
                cut_end=None if built is None else _cut_at(piece.end, built.end),
            ),
        )

    def _circuit(self, rough: Unnumbered) -> str:
        """Return the circuit's name, with its kind where it is taken: an output and an input may both be called '1'."""
        name = rough.circuit
        while self._circuits.setdefault(name, rough.kind) != rough.kind:
            name = f"{name}, {rough.kind}"
        return name

    def _end(self, rough: Unnumbered, node: CutNode) -> WireEnd:
        if isinstance(node, RunFork):
            place = (rough.circuit, rough.kind, node.number)
            self._splices.setdefault(place, [])
            if place not in self._names:
                self._names[place] = self._going_on.next_splice()
            return WireEnd("splice", self._names[place], node.point)
        if node.diode:
            self._diodes += 1
            return replace(node, diode=f"D{self._diodes}")
        return node

    def _way(self, point: str, built: int | None, key: str) -> ConnectorWay:
        way = self._going_on.next_way(point) if built is None else built
        self._ways.setdefault(point, []).append((way, key))
        return ConnectorWay(point, way)

    def _joined(self, rough: Unnumbered, wire: Wire) -> Wire:
        """Note a wire at the splices that it ends at."""
        for node in (rough.piece.start, rough.piece.end):
            if isinstance(node, RunFork):
                self._splices[rough.circuit, rough.kind, node.number].append(wire)
        return wire

    def _spliced(self, name: str, joined: list[Wire], used: Collection[str]) -> Splice:
        """Return a splice of the wires in use that meet there; what is dead is cut off it."""
        point = next(end.point for end in joined[0].ends if end.name == name)
        live = [wire for wire in joined if wire.key in used] or joined
        sizes = tuple(wire.size for wire in live if wire.size is not None)
        keys, spot = tuple(wire.key for wire in live), self._spots.of(point, joined)
        block: JointKind = "earth block" if joined[0].kind == "return" else "junction block"
        made_as = "splice" if one_crimp(self._job, sizes) else block
        return Splice(name, point, joined[0].circuit, keys, sizes, spot, made_as)


def _cut_at(node: CutNode, end: BuiltEnd) -> str | None:
    """Return what stood at the end of a built piece that is cut there, to be joined to others by a splice."""
    return end.name if isinstance(node, RunFork) and end.kind != "splice" else None


def _with_stubs(wires: tuple[Wire, ...]) -> tuple[Wire, ...]:
    """Return wires of which those lead to nothing that end at a stub, or at a splice from which all others do."""
    dead = {wire.key for wire in wires if any(end.stub for end in wire.ends)}
    grown = bool(dead)
    while grown:
        more = {wire.key for wire in wires if wire.key not in dead and _leads_nowhere(wire, wires, dead)}
        grown, dead = bool(more), dead | more
    return tuple(replace(wire, used=False) if wire.key in dead else wire for wire in wires) if dead else wires


def _leads_nowhere(wire: Wire, wires: Sequence[Wire], dead: set[str]) -> bool:
    """Tell whether one end of a wire is a splice to which nothing but dead wires are joined besides."""
    for name in (end.name for end in wire.ends if end.kind == "splice"):
        others = [one.key for one in wires if one is not wire and name in (end.name for end in one.ends)]
        if others and dead.issuperset(others):
            return True
    return False


NOT_OURS = "not from the unit"


def wiring_of(laid: Laid) -> Wiring:
    """Return all wires of a plan that passed its check, in the order in which they are listed.

    First the feed and the unit's earth, then outputs, fed loads, inputs, multiplexers, supply to switches, what dashes
    read, returns,
    and what lies alongside. Within a circuit from the unit on, for a return towards the earth.
    """
    return Numbering(laid.site.job, list(_rough(laid)), GoingOn(laid)).wiring()


def copper_of(wiring: Wiring) -> int:
    """Return the copper in every piece that is cut new, in milligrams, rounded up; the cut list has the same.

    What lies alongside comes with its own parts. Of two units both count.
    """
    new = ((wire.size, wire.cut) for wire in wiring.ours if not wire.built)
    return ceil(1000 * sum(copper_mass(size, length) for size, length in new if size is not None))


def _rough(laid: Laid) -> Iterator[Unnumbered]:
    first, *others = _by_circuit(list(lines(laid)))
    yield from _cut(laid, first)
    yield from map(_earthed, unit_earth(laid))
    for circuit in others:
        yield from _cut(laid, circuit)
    yield from map(_earthed, returns(laid))
    for name, piece, size in alongside(laid):
        yield Unnumbered(f"alongside {name}", "alongside", "", piece, size, NOT_OURS)


def _by_circuit(found: list[Line]) -> list[list[Line]]:
    """Return the lines of each circuit together."""
    circuits: dict[tuple[str, str], list[Line]] = {}
    for line in found:
        circuits.setdefault((line.circuit, line.kind), []).append(line)
    return list(circuits.values())


def _cut(laid: Laid, circuit: list[Line]) -> Iterator[Unnumbered]:
    job = laid.site.job
    for line in circuit:
        for piece in pieces_of(job, line):
            yield Unnumbered(line.circuit, line.kind, line.port, piece, line.size, line.protection)


def _earthed(back: EarthPiece) -> Unnumbered:
    return Unnumbered(back.circuit, back.kind, "", back.piece, back.size, back.protection, back.enough)


def alongside(laid: Laid) -> Iterator[tuple[str, Piece, WireSize | None]]:
    """Return every wire, cable and pipe alongside by its name, its piece and its size, as often as it lies there.

    A wire is parted with the loom at its connectors; a cable or pipe, which has no size, is not.
    """
    entries = {entry.name: entry for entry in laid.site.job.bike.alongside}
    connectors = laid.site.job.bike.frame.connectors
    for wire in laid.site.fixed_of("alongside"):
        entry, (start, end) = entries[wire.name], wire.ends
        legs, points = in_order(laid.site.job.network, wire.run, start)
        parted = tuple(p for p in points[1:-1] if p in connectors and entry.size is not None)
        ends = (WireEnd("elsewhere", wire.name, start), WireEnd("elsewhere", wire.name, end))
        piece = Piece(*ends, legs, points, parted, entry.current or MilliAmps(0))
        for _ in range(entry.count):
            yield wire.name, piece, entry.size
