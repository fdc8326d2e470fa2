"""All wires of a plan cut into pieces and numbered, with their splices and connectors."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import ceil

from portloom.base.copper import copper_mass
from portloom.base.quantities import Micrometres, MilliAmps
from portloom.base.sizes import WireSize
from portloom.base.values import dataclass
from portloom.documents.wiring.crimps import one_crimp
from portloom.documents.wiring.cut_pieces import cut_of, cuts_of, pieces_of
from portloom.documents.wiring.cutting import CutNode, Piece, RunFork, in_order, length
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


class Numbering:
    """Gives numbers to wires, splices, diodes and ways of connectors, each 1 and up in the order of the list."""

    def __init__(self, job: Job, rough: Sequence[Unnumbered]) -> None:
        """Take the pieces in the order of the list."""
        self._job = job
        self._rough = rough
        self._circuits: dict[str, CutWireKind] = {}
        self._in_circuit: dict[str, int] = {}
        self._ways: dict[str, list[str]] = {}
        self._splices: dict[tuple[str, CutWireKind, int], list[Wire]] = {}
        self._diodes = 0
        self._spots = SpliceSpots(job)

    def wiring(self) -> Wiring:
        """Return the wires with their numbers, and what they share."""
        wires = tuple(self._wire(number, rough) for number, rough in enumerate(self._rough, 1))
        splices = tuple(self._spliced(number, joined) for number, joined in enumerate(self._splices.values(), 1))
        at = [point for point in self._job.network.points if point in self._ways]
        return Wiring(wires, splices, tuple(Connector(point, tuple(self._ways[point])) for point in at))

    def _wire(self, number: int, rough: Unnumbered) -> Wire:
        job, piece = self._job, rough.piece
        circuit = self._circuit(rough)
        key = self._key(circuit)
        run = Micrometres(length(job.network, piece.legs) + piece.over)
        return self._joined(
            rough,
            Wire(
                key=key,
                number=number,
                circuit=circuit,
                kind=rough.kind,
                start=self._end(rough, piece.start),
                end=self._end(rough, piece.end),
                port=rough.port,
                size=rough.size,
                run=run,
                cuts=() if rough.kind == "alongside" else cuts_of(job, piece),
                leg_numbers=piece.legs,
                legs=tuple(job.network.legs[number].label for number in piece.legs),
                points=piece.points,
                connectors=tuple(self._way(point, key) for point in piece.parted),
                protection=rough.protection,
                current=piece.current,
            ),
        )

    def _circuit(self, rough: Unnumbered) -> str:
        """Return the circuit's name, with its kind where it is taken: an output and an input may both be called '1'."""
        name = rough.circuit
        while self._circuits.setdefault(name, rough.kind) != rough.kind:
            name = f"{name}, {rough.kind}"
        return name

    def _key(self, circuit: str) -> str:
        self._in_circuit[circuit] = self._in_circuit.get(circuit, 0) + 1
        return f"{circuit}.{self._in_circuit[circuit]}"

    def _end(self, rough: Unnumbered, node: CutNode) -> WireEnd:
        if isinstance(node, RunFork):
            place = (rough.circuit, rough.kind, node.number)
            names = [*self._splices, *(() if place in self._splices else (place,))]
            self._splices.setdefault(place, [])
            return WireEnd("splice", f"S{names.index(place) + 1}", node.point)
        if node.diode:
            self._diodes += 1
            return replace(node, diode=f"D{self._diodes}")
        return node

    def _way(self, point: str, key: str) -> ConnectorWay:
        ways = self._ways.setdefault(point, [])
        ways.append(key)
        return ConnectorWay(point, len(ways))

    def _joined(self, rough: Unnumbered, wire: Wire) -> Wire:
        """Note a wire at the splices that it ends at."""
        for node in (rough.piece.start, rough.piece.end):
            if isinstance(node, RunFork):
                self._splices[rough.circuit, rough.kind, node.number].append(wire)
        return wire

    def _spliced(self, number: int, joined: list[Wire]) -> Splice:
        point = next(end.point for end in joined[0].ends if end.name == f"S{number}")
        sizes = tuple(wire.size for wire in joined if wire.size is not None)
        keys, spot = tuple(wire.key for wire in joined), self._spots.of(point, joined)
        block: JointKind = "earth block" if joined[0].kind == "return" else "junction block"
        made_as = "splice" if one_crimp(self._job, sizes) else block
        return Splice(f"S{number}", point, joined[0].circuit, keys, sizes, spot, made_as)


NOT_OURS = "not from the unit"


def wiring_of(laid: Laid) -> Wiring:
    """Return all wires of a plan that passed its check, in the order in which they are listed.

    First the feed and the unit's earth, then outputs, fed loads, inputs, multiplexers, supply to switches, what dashes
    read, returns,
    and what lies alongside. Within a circuit from the unit on, for a return towards the earth.
    """
    return Numbering(laid.site.job, list(_rough(laid))).wiring()


def copper_of(laid: Laid) -> int:
    """Return the copper in every piece that is cut for a plan, in milligrams, rounded up; the cut list has the same.

    What lies alongside comes with its own parts. Of two units both count.
    """
    job = laid.site.job
    cut = ((rough.size, cut_of(job, (rough.piece,))) for rough in _rough(laid) if rough.kind != "alongside")
    grams = sum(copper_mass(size, length) for size, length in cut if size is not None)
    return ceil(1000 * grams)


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
    return Unnumbered(back.circuit, back.kind, "", back.piece, back.size, back.protection)


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
