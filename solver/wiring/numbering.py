"""Numbers for what was cut: wires, splices, diodes and the ways of connectors, each 1 and up."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from solver.frame.network import Run
from solver.job.job import Job
from solver.plans.cut import cut_length
from solver.wiring.cutting import Fork, Node, Piece, length
from solver.wiring.wire import Connector, ConnectorWay, Splice, Wire, WireEnd, WireKind, Wiring
from solver.words.quantities import Micrometres
from solver.words.sizes import WireSize

MILLIMETRE = 1000


@dataclass(frozen=True)
class Unnumbered:
    """A piece with all that is known of it before it has a number."""

    circuit: str
    kind: WireKind
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
        self._circuits: dict[str, WireKind] = {}
        self._in_circuit: dict[str, int] = {}
        self._ways: dict[str, list[str]] = {}
        self._splices: dict[tuple[str, WireKind, int], list[Wire]] = {}
        self._diodes = 0

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
        run = length(job.network, piece.legs)
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
                cut=Micrometres(0) if rough.kind == "alongside" else whole_cut(job, run),
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

    def _end(self, rough: Unnumbered, node: Node) -> WireEnd:
        if isinstance(node, Fork):
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
            if isinstance(node, Fork):
                self._splices[rough.circuit, rough.kind, node.number].append(wire)
        return wire

    def _spliced(self, number: int, joined: list[Wire]) -> Splice:
        point = next(end.point for end in joined[0].ends if end.name == f"S{number}")
        sizes = tuple(wire.size for wire in joined if wire.size is not None)
        return Splice(f"S{number}", point, joined[0].circuit, tuple(wire.key for wire in joined), sizes)


def whole_cut(job: Job, run: Micrometres) -> Micrometres:
    """Return what is cut for a piece: run, share of margin and both ends, rounded up to a whole millimetre."""
    exact = cut_length(job, Run(run, ()))
    return Micrometres(-(-exact // MILLIMETRE) * MILLIMETRE)
