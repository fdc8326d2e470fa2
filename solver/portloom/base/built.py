"""A loom that is built: what the plan said by which it was made, wire by wire.

Source: the JSON document of ``portloom plan --json`` of that day.
"""

from collections.abc import Collection
from dataclasses import replace
from functools import cached_property

from portloom.base.bike import Colour
from portloom.base.quantities import Micrometres, MilliAmps
from portloom.base.sizes import WireSize
from portloom.base.values import dataclass


@dataclass(frozen=True)
class BuiltEnd:
    """What a built wire is connected to, and the frame point where that is."""

    kind: str
    name: str
    point: str
    terminal: str = ""

    @property
    def meets(self) -> tuple[str, str]:
        """The name and the point, by which it is found again on the bike."""
        return self.name, self.point


@dataclass(frozen=True)
class BuiltWay:
    """A way of a connector that a built wire passes."""

    at: str
    way: int


@dataclass(frozen=True)
class BuiltPiece:
    """A piece of wire that lies in the loom, with the labels at its ends."""

    number: int
    key: str
    circuit: str
    kind: str
    port: str
    """The unit's port that the circuit is on; empty where it is on none."""
    start: BuiltEnd
    end: BuiltEnd
    size: WireSize | None
    """None for a cable or pipe that lies alongside."""
    legs: tuple[str, ...]
    cuts: tuple[Micrometres, ...]
    ways: tuple[BuiltWay, ...]
    used: bool = True
    """False where it led to nothing any more."""
    colour: Colour | None = None
    """Its colour, where the shop said which it took."""
    line: int = 0
    """Where it stands in the printed plan."""

    @property
    def ends(self) -> tuple[BuiltEnd, BuiltEnd]:
        """Both ends, the start first."""
        return self.start, self.end

    @property
    def ours(self) -> bool:
        """Whether it was cut for the loom: what lies alongside is the bike's."""
        return self.kind != "alongside"


@dataclass(frozen=True)
class BuiltOutput:
    """A circuit on an output: its loads, the legs of its tree, its size and trip."""

    port: str
    loads: tuple[str, ...]
    legs: tuple[str, ...]
    size: WireSize
    trip: MilliAmps
    modes: tuple[str, ...] = ()


@dataclass(frozen=True)
class BuiltInput:
    """Switches on an input, and the legs of their tree."""

    port: str
    switches: tuple[str, ...]
    legs: tuple[str, ...]
    size: WireSize
    signal: str = ""
    action: str = ""
    """Empty where not all switches on it are the same."""
    at_rest: tuple[str, ...] = ()
    """What the contact of each switch is at rest; nothing where the plan does not tell."""


@dataclass(frozen=True)
class BuiltOnWay:
    """A switch on a way of a multiplexer, and the legs of its tree."""

    way: int
    switch: str
    legs: tuple[str, ...]
    signal: str = ""
    at_rest: str = ""
    """What its contact is at rest; empty where the plan does not tell."""


@dataclass(frozen=True)
class BuiltMultiplexer:
    """A multiplexer where it stands, on its input, with the legs of data and supply and the switches on it."""

    name: str
    at: str
    port: str
    legs: tuple[str, ...]
    size: WireSize
    ways: tuple[BuiltOnWay, ...]


@dataclass(frozen=True)
class BuiltFixed:
    """A wire that no port needs: feed, unit earth, return, fed load, coil lead, supply, what only dashes read."""

    kind: str
    name: str
    number: int
    ends: tuple[str, ...]
    legs: tuple[str, ...]
    """A leg that it passes twice is there twice."""
    size: WireSize
    loads: tuple[str, ...] = ()
    """Of a joint return the loads whose current it takes."""
    fuse: MilliAmps | None = None
    """The fuse in it, where the plan tells of one."""

    @property
    def key(self) -> tuple[str, str, int]:
        """Kind, name and number, which no two have in common."""
        return self.kind, self.name, self.number

    @property
    def circuits(self) -> frozenset[tuple[str, str]]:
        """Its kind, with what lists may call its circuit."""
        joint = f"return {self.number} from {self.name}" if self.number > 1 else f"return {self.name}"
        named = {
            "return": joint,
            "sender return": f"return of {self.name}",
            "fed load": f"feed of {self.name}",
            "coil lead": f"coil of {self.name} relay",
            "dash signal": f"signal of {self.name}",
            "dash supply": f"supply of {self.name}",
            "dash return": f"return of {self.name}",
        }
        circuit = named.get(self.kind, self.name)
        return frozenset({(self.kind, circuit), (self.kind, f"{circuit}, {self.kind}")})


@dataclass(frozen=True)
class BuiltLoom:
    """All that lies in a loom, and where the unit sits."""

    file: str
    bike: str
    unit: str
    place: str
    turned: bool
    main_fuse: MilliAmps
    outputs: tuple[BuiltOutput, ...]
    inputs: tuple[BuiltInput, ...]
    multiplexers: tuple[BuiltMultiplexer, ...]
    fixed: tuple[BuiltFixed, ...]
    pieces: tuple[BuiltPiece, ...]
    """Every wire in use, what lies alongside among them."""
    dead: tuple[BuiltPiece, ...] = ()
    """Wires that were in use once and still lie in the loom."""
    wire_run: Micrometres = Micrometres(0)
    worst: MilliAmps = MilliAmps(0)
    """Through the unit in its worst case."""
    room_for: tuple[str, ...] = ()
    taken_out: int = 0
    """The greatest number of what was taken out of it."""

    @property
    def ports(self) -> frozenset[str]:
        """The names of the ports that something was built on."""
        outputs, inputs, boxes = self.outputs, self.inputs, self.multiplexers
        return frozenset([*(one.port for one in outputs), *(one.port for one in inputs), *(one.port for one in boxes)])

    @cached_property
    def loads(self) -> frozenset[str]:
        """The names of the loads that were built on outputs."""
        return frozenset(load for line in self.outputs for load in line.loads)

    @property
    def circuits(self) -> dict[str, tuple[BuiltPiece, ...]]:
        """All that can be taken out of the loom: each circuit, each multiplexer, what is dead of each, by its name."""
        found: dict[str, list[BuiltPiece]] = {}
        for piece in self.pieces:
            if piece.ours:
                found.setdefault(_taken_out_as(piece), []).append(piece)
        for piece in self.dead:
            found.setdefault(f"dead wires of {piece.circuit}", []).append(piece)
        return {name: tuple(pieces) for name, pieces in found.items()}

    def without(self, names: Collection[str]) -> "BuiltLoom":
        """Return the loom without some of its circuits: their wires are taken out of it."""
        pieces = tuple(piece for piece in self.pieces if not (piece.ours and _taken_out_as(piece) in names))
        there = {(piece.kind, piece.port) for piece in pieces}
        circuits = {(piece.kind, piece.circuit) for piece in pieces}
        boxes = tuple(box for box in self.multiplexers if f"multiplexer {box.name}" not in names)
        return replace(
            self,
            outputs=tuple(line for line in self.outputs if ("output", line.port) in there),
            inputs=tuple(line for line in self.inputs if ("input", line.port) in there),
            multiplexers=boxes,
            fixed=tuple(line for line in self.fixed if line.circuits & circuits),
            pieces=pieces,
            dead=tuple(piece for piece in self.dead if f"dead wires of {piece.circuit}" not in names),
            taken_out=self.last_number,
        )

    @property
    def last_number(self) -> int:
        """The greatest number that a wire of the loom ever had."""
        return max((self.taken_out, *(piece.number for piece in (*self.pieces, *self.dead))))


def _taken_out_as(piece: BuiltPiece) -> str:
    """Return by which name a wire is taken out: its circuit, or the multiplexer that it leads to."""
    box = next((end.name for end in piece.ends if end.kind == "multiplexer"), None)
    return f"multiplexer {box}" if box is not None and piece.kind.startswith("multiplexer") else piece.circuit
