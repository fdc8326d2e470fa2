"""A plan's wires as they are cut: from where to where, how long, through which legs and connectors."""

from collections.abc import Iterator
from functools import cached_property
from string import ascii_lowercase
from typing import Literal

from portloom.base.bike import Colour
from portloom.base.built import BuiltPiece
from portloom.base.figures import listed
from portloom.base.quantities import Micrometres, MilliAmps
from portloom.base.sizes import WireSize
from portloom.base.values import dataclass

CutWireKind = Literal[
    "feed", "unit earth", "output", "fed load", "coil lead", "input", "multiplexer data", "multiplexer supply",
    "multiplexer way", "supply", "dash signal", "dash supply", "dash return", "return", "sender return", "alongside",
]  # fmt: skip
EndKind = Literal[
    "unit", "load", "switch", "own switch", "dash", "earth", "splice", "battery", "fuse", "relay", "multiplexer",
    "elsewhere",
]  # fmt: skip


@dataclass(frozen=True)
class WireEnd:
    """What a wire is connected to, and the frame point where that is."""

    kind: EndKind
    name: str
    """A port, load or switch by its name; a splice 'S1'; 'main fuse', 'fan relay', 'battery', 'earth at tail'."""
    point: str
    terminal: str = ""
    """Which of its terminals: '+', '-', 'signal', 'earth', 'live', a relay's '30', '85', '86' or '87'; 'in' or 'out'
    of a load's own switch; of a dash 'for' what it shows."""
    diode: str = ""
    """The diode right at this end, such as 'D1'; empty where there is none."""
    leaves: bool = False
    """Which way the diode points: its cathode towards the wire; else towards what stands here."""
    stub: bool = False
    """Whether what stood here is gone: the wire's end is insulated."""
    with_: tuple[str, ...] = ()
    """The other filaments of a bulb that share the pin."""

    @property
    def meets(self) -> tuple[str, str]:
        """The name and the frame point of what is connected."""
        return self.name, self.point

    @property
    def names(self) -> tuple[str, ...]:
        """The names of all that the wire is connected to here: a bulb's filaments share a pin."""
        return (self.name, *self.with_)

    @property
    def told(self) -> str:
        """Say it as lists do: 'tail lamp', 'fan relay 87', 'indicator tell-tale by D1'."""
        if self.stub:
            return f"not used (was {listed(self.names)})"
        terminal = f" {self.terminal}" if self.kind == "relay" else ""
        through = f" via {self.diode}" if self.diode else ""
        return f"{listed(self.names)}{terminal}{through}"


@dataclass(frozen=True)
class ConnectorWay:
    """Where a wire passes a connector: the frame point, and the number of the way there."""

    at: str
    way: int

    @property
    def told(self) -> str:
        """Say it as lists do."""
        return f"connector {self.at}, way {self.way}"

    @property
    def point(self) -> str:
        """The frame point where it is."""
        return self.at


PieceEnd = WireEnd | ConnectorWay


@dataclass(frozen=True)
class Wire:
    """One piece of wire: what is cut from the reel, labelled at both ends and laid."""

    key: str
    """Its circuit and its number there, such as 'out 3.1'; the same for the same plan."""
    number: int
    """1 and up, in the order of the list."""
    circuit: str
    """What it is a piece of: a port, 'return tail', 'feed of horn'; one colour each."""
    kind: CutWireKind
    start: WireEnd
    end: WireEnd
    port: str
    """The unit's port that the circuit is on; empty where it is on none."""
    size: WireSize | None
    """None for a cable or pipe that lies alongside."""
    run: Micrometres
    cuts: tuple[Micrometres, ...]
    """What is cut for it, in whole millimetres: one piece, or from start to end one more for each connector that parts
    it. Nothing for what lies alongside, which comes with its own parts."""
    leg_numbers: tuple[int, ...]
    """Numbers of the legs (order of the file), from start to end."""
    legs: tuple[str, ...]
    """Names of the legs, from start to end."""
    points: tuple[str, ...]
    """The frame points that it passes, from its start to its end, both included."""
    connectors: tuple[ConnectorWay, ...]
    """The connectors that it passes, from start to end."""
    protection: str
    """What opens before the wire is too hot."""
    current: MilliAmps
    """The most that it can carry continuously."""
    colour: Colour | None = None
    """None where no colour was chosen, and for what lies alongside."""
    built: bool = False
    """Whether it lies in the loom already."""
    cut_start: str | None = None
    """What stood at its start, where it is cut there so that a splice joins it to others."""
    cut_end: str | None = None
    """The same of its end."""
    used: bool = True
    """False where it lies in the loom and leads to nothing any more."""
    asked: Micrometres = Micrometres(0)
    """What would be cut for it today; of a built wire the legs may have another length now."""

    @property
    def cut_at(self) -> str | None:
        """What stood at the end at which it is cut; None where it is left alone."""
        return self.cut_start or self.cut_end

    @property
    def ends(self) -> tuple[WireEnd, WireEnd]:
        """Both ends, the start first."""
        return self.start, self.end

    @property
    def cut(self) -> Micrometres:
        """What comes off the reel for it."""
        return Micrometres(sum(self.cuts))

    @property
    def cut_pieces(self) -> Iterator["CutPiece"]:
        """Return what is cut for it, from start to end."""
        ends: tuple[PieceEnd, ...] = (self.start, *self.connectors, self.end)
        for number, length in enumerate(self.cuts):
            letter = letters_of(number) if len(self.cuts) > 1 else ""
            yield CutPiece(self, f"{self.number}{letter}", ends[number], ends[number + 1], length)


def letters_of(number: int) -> str:
    """Return the letters that a piece is known by, from 0 on: 'a' to 'z', then 'aa'."""
    before, last = divmod(number, len(ascii_lowercase))
    return (letters_of(before - 1) if before else "") + ascii_lowercase[last]


@dataclass(frozen=True)
class CutPiece:
    """What is cut for a wire, or for the part of it between two ends of which one is a connector."""

    wire: Wire
    number: str
    """The wire's number, with a letter where connectors part it: '63a'."""
    start: PieceEnd
    end: PieceEnd
    cut: Micrometres

    @property
    def ends(self) -> tuple[PieceEnd, PieceEnd]:
        """Both ends, the start first."""
        return self.start, self.end


@dataclass(frozen=True)
class SpliceSpot:
    """Where a splice is made fast: in a leg that does not move, so far from the frame point at its end."""

    leg: str
    away: Micrometres


JointKind = Literal["splice", "earth block", "junction block"]


@dataclass(frozen=True)
class Splice:
    """Where pieces of one circuit join: its name, frame point, and the pieces."""

    name: str
    point: str
    circuit: str
    wires: tuple[str, ...]
    """Keys of the pieces that it joins, in the order of the list."""
    sizes: tuple[WireSize, ...]
    """Their sizes, in the same order."""
    spot: SpliceSpot | None
    """None where it is at the frame point itself, since each leg there moves or is beyond a connector."""
    made_as: JointKind = "splice"
    """A block with a way for each wire where a hand can't crimp so much: an earth block, or a junction block."""

    @property
    def block(self) -> bool:
        """Tell whether it is no splice."""
        return self.made_as != "splice"

    @property
    def crimp_order(self) -> tuple[str, ...]:
        """Keys of the pieces as they are laid into the crimp, the thickest first (common practice, no source)."""
        order = sorted(zip(self.wires, self.sizes, strict=True), key=lambda pair: -pair[1].area)
        return tuple(key for key, _ in order)

    @property
    def area(self) -> int:
        """The sum of the areas that it joins, in ten-thousandths of a square millimetre."""
        return sum(size.area for size in self.sizes)


@dataclass(frozen=True)
class Connector:
    """Where the loom can be parted: its frame point, and the wire on each way, way 1 first."""

    at: str
    wires: tuple[str, ...]
    """Keys of the wires; the first is on way 1."""


@dataclass(frozen=True)
class Wiring:
    """All wires of a plan, its splices, and the connectors that it passes."""

    wires: tuple[Wire, ...]
    splices: tuple[Splice, ...]
    connectors: tuple[Connector, ...]
    dead: tuple[BuiltPiece, ...] = ()
    """Built wires that this plan leaves without a use."""

    @cached_property
    def by_key(self) -> dict[str, Wire]:
        """Each wire by its key."""
        return {wire.key: wire for wire in self.wires}

    @cached_property
    def circuits(self) -> dict[str, tuple[Wire, ...]]:
        """The pieces of each circuit, in the order of the list."""
        found: dict[str, list[Wire]] = {}
        for wire in self.wires:
            found.setdefault(wire.circuit, []).append(wire)
        return {circuit: tuple(wires) for circuit, wires in found.items()}

    @property
    def ours(self) -> Iterator[Wire]:
        """The wires that are cut for this plan: all but what lies alongside."""
        return (wire for wire in self.wires if wire.kind != "alongside")
