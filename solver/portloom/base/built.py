"""A loom that is built: what the plan said by which it was made, wire by wire.

Source: the JSON document of ``portloom plan --json`` of that day.
"""

from functools import cached_property

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


@dataclass(frozen=True)
class BuiltInput:
    """Switches on an input, and the legs of their tree."""

    port: str
    switches: tuple[str, ...]
    legs: tuple[str, ...]
    size: WireSize


@dataclass(frozen=True)
class BuiltOnWay:
    """A switch on a way of a multiplexer, and the legs of its tree."""

    way: int
    switch: str
    legs: tuple[str, ...]


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

    @property
    def key(self) -> tuple[str, str, int]:
        """Kind, name and number, which no two have in common."""
        return self.kind, self.name, self.number


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
    def last_number(self) -> int:
        """The greatest number that a wire of the loom ever had."""
        return max((piece.number for piece in (*self.pieces, *self.dead)), default=0)
