"""A plan as it is told: plain data, in small units, in the order of the bike's and the unit's files."""

from dataclasses import dataclass
from fractions import Fraction

from portloom.base.quantities import MicroAmps, Micrometres, MilliAmps, MilliVolts
from portloom.base.sizes import WireSize
from portloom.documents.energy import Energy
from portloom.documents.protection import ProtectionLine
from portloom.documents.savings import Saves
from portloom.job.wires import WireKind


@dataclass(frozen=True)
class WireLine:
    """A wire's way: its run, what is cut for it, the labels of its legs in the order of the file."""

    run: Micrometres
    cut: Micrometres
    legs: tuple[str, ...]


@dataclass(frozen=True)
class OutputLine:
    """A circuit on an output."""

    port: str
    loads: tuple[str, ...]
    mode: tuple[str, ...]
    current: MilliAmps
    inrush: MicroAmps
    trip: MilliAmps
    wire: WireLine
    size: WireSize
    drop: Fraction
    """Microvolts: the most that one of its loads loses on its whole path."""
    drops: tuple[tuple[str, Fraction], ...]
    drop_limits: tuple[Fraction, ...]


@dataclass(frozen=True)
class InputLine:
    """Switches on an input."""

    port: str
    switches: tuple[str, ...]
    signal: str
    action: str | None
    """'push' or 'latch' where every switch on it is one."""
    wire: WireLine
    size: WireSize


@dataclass(frozen=True)
class SwitchLine:
    """A switch on a way of a multiplexer."""

    switch: str
    signal: str
    wire: WireLine


@dataclass(frozen=True)
class MultiplexerLine:
    """A multiplexer in use: where it stands, its input, its data and supply, and what it saves."""

    name: str
    at: str
    port: str
    ways: int
    wire: WireLine
    """The way of data and supply, each."""
    size: WireSize
    switches: tuple[SwitchLine, ...]
    saves: Saves | None
    """None where that was not worked out."""


@dataclass(frozen=True)
class LampLine:
    """What reaches a filament lamp in its worst case, and the share of its light that is left."""

    load: str
    reaches: Fraction
    """Microvolts."""
    light: float


@dataclass(frozen=True)
class CrankingLine:
    """The voltage somewhere while cranking, and the lowest that will do there, where it is given."""

    where: str
    voltage: Fraction
    """Microvolts."""
    lowest: MilliVolts | None


@dataclass(frozen=True)
class FeedLine:
    """Battery to unit: the wire, the main fuse, and the worst case against the limit."""

    wire: WireLine
    size: WireSize
    main_fuse: MilliAmps
    limit: MilliAmps
    worst: MilliAmps
    worst_case: str
    drop: Fraction
    """Microvolts on wire, connectors and main fuse in the worst case."""


@dataclass(frozen=True)
class FixedLine:
    """A wire that no assignment changes: return, fed load, supply to switches, unit earth."""

    kind: WireKind
    name: str
    start: str
    ends: tuple[str, ...]
    wire: WireLine
    size: WireSize
    current: MilliAmps
    """The most that it carries in any case."""
    fuse: MilliAmps | None = None
    by: str | None = None
    drop: Fraction | None = None


@dataclass(frozen=True)
class CaseLine:
    """A case: what is on together, through the unit and through each bank."""

    state: str
    events: tuple[str, ...]
    label: str
    current: MilliAmps
    limit: MilliAmps
    banks: tuple[tuple[str, MilliAmps, MilliAmps], ...]
    """Name, current, limit."""


@dataclass(frozen=True)
class LegLine:
    """A leg and the loom that lies in it."""

    name: str
    wires: int
    diameter: Micrometres
    """The loom with its sleeve, rounded up to a whole micrometre."""
    opening: Micrometres | None
    opens_to: Micrometres | None
    moves: bool


@dataclass(frozen=True)
class RoomLine:
    """A later load and the free output that could take it."""

    load: str
    port: str


@dataclass(frozen=True)
class Plan:
    """A plan that was checked."""

    bike: str
    unit: str
    unit_size: str | None
    resting: MilliVolts
    place: str
    turned: bool
    proven: bool
    bound: Micrometres
    cost: Micrometres
    wire_run: Micrometres
    spare_port_loss: Micrometres
    copper_mg: int
    outputs: tuple[OutputLine, ...]
    inputs: tuple[InputLine, ...]
    multiplexers: tuple[MultiplexerLine, ...]
    feed: FeedLine
    fed: tuple[FixedLine, ...]
    returns: tuple[FixedLine, ...]
    other_wires: tuple[FixedLine, ...]
    cases: tuple[CaseLine, ...]
    legs: tuple[LegLine, ...]
    protection: tuple[ProtectionLine, ...]
    lamps: tuple[LampLine, ...]
    cranking: tuple[CrankingLine, ...]
    energy: Energy
    also_needed: tuple[str, ...]
    free_outputs: tuple[str, ...]
    free_inputs: tuple[str, ...]
    room_for: tuple[RoomLine, ...]
    no_room_for: tuple[str, ...]
    set_aside: tuple[tuple[str, str], ...]
    not_yet_judged: tuple[str, ...]
    assumed: tuple[str, ...]
    warnings: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class TradeOff:
    """A plan's two parts at an extreme point of the hull between them."""

    place: str
    turned: bool
    wire_run: Micrometres
    spare_port_loss: Micrometres


@dataclass(frozen=True)
class TradeOffs:
    """The extreme points of the lower hull, least wire first, each proven; and how many are not shown."""

    points: tuple[TradeOff, ...]
    not_shown: int
    complete: bool
    """False where a time limit ended the search for more."""
