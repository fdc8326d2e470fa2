"""A plan as it is told: plain data, in small units, in the order of the bike's and the unit's files."""

from fractions import Fraction

from portloom.base.built import BuiltPiece
from portloom.base.figures import seat_phrase
from portloom.base.quantities import MicroAmps, Micrometres, MilliAmps, MilliVolts
from portloom.base.sizes import WireSize
from portloom.base.values import dataclass
from portloom.documents.change_order import ChangeOrder
from portloom.documents.energy import Energy
from portloom.documents.legs import LegsChosen, LegTradeOffs
from portloom.documents.notes import NotesOf
from portloom.documents.protection import ProtectionLine
from portloom.documents.savings import Saves
from portloom.documents.shown import ShownLine
from portloom.documents.wiring.leads import BatteryLead
from portloom.documents.wiring.wire import Wiring
from portloom.job.fixed_wires import WireKind
from portloom.job.goal import Priced


@dataclass(frozen=True)
class WireLine:
    """A wire's way: its run, what is cut for all its pieces, the labels of its legs in the order of the file."""

    run: Micrometres
    cut: Micrometres
    legs: tuple[str, ...]


@dataclass(frozen=True)
class DropLine:
    """What a load loses over its whole path, on the wires that are cut, and the case in which that is most."""

    load: str
    drop: Fraction
    """Microvolts."""
    case: str


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
    drops: tuple[DropLine, ...]
    """One for each load."""
    notes: NotesOf = ()
    """Of its loads."""
    worked_by: tuple[str, ...] = ()
    """The switches that work it, in the order of the file."""
    on_in: tuple[str, ...] = ()
    """The states, and events, that it is on in."""

    @property
    def worst(self) -> DropLine:
        """What the load loses that loses most, the first of equal ones."""
        return max(self.drops, key=lambda line: line.drop)

    @property
    def drop(self) -> Fraction:
        """Microvolts: the most that one of its loads loses over its whole path."""
        return self.worst.drop


@dataclass(frozen=True)
class InputLine:
    """Switches on an input."""

    port: str
    switches: tuple[str, ...]
    signal: str
    action: str | None
    """'push' or 'latch' where every switch on it is one."""
    at_rest: tuple[str, ...]
    """What the contact of each is at rest: 'open' or 'closed'."""
    wire: WireLine
    size: WireSize
    notes: NotesOf = ()
    """Of its switches."""


@dataclass(frozen=True)
class SwitchLine:
    """A switch on a way of a multiplexer."""

    switch: str
    signal: str
    at_rest: str
    wire: WireLine
    way: int
    """The number of its way."""
    notes: NotesOf = ()
    """Of the switch."""


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
    case: str


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
    """Microvolts on wire, connectors and main fuse, where it is most."""
    drop_case: str


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
    drop: DropLine | None = None
    """Of a fed load."""
    number: int = 1
    """Of joint returns the number among those from one point."""
    loads: tuple[str, ...] = ()
    """Of a joint return the loads whose current it takes."""
    notes: NotesOf = ()
    """Of a fed load."""

    @property
    def joint(self) -> str:
        """What a joint return is called: by its point, a further one 'tail, return 2'."""
        return f"{self.start}, return {self.number}" if self.number > 1 else self.start


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
class PlannedUnit:
    """A unit of a plan: where it sits, its feed, who is on which port, its cases against its limits."""

    unit: str
    size: str | None
    place: str
    turned: bool
    feed: FeedLine
    outputs: tuple[OutputLine, ...]
    inputs: tuple[InputLine, ...]
    multiplexers: tuple[MultiplexerLine, ...]
    cases: tuple[CaseLine, ...]
    protection: tuple[ProtectionLine, ...]
    """Its feed and its outputs."""
    lamps: tuple[LampLine, ...]
    cranking: tuple[CrankingLine, ...]
    free_outputs: tuple[str, ...]
    free_inputs: tuple[str, ...]
    room_for: tuple[RoomLine, ...]
    warnings: tuple[str, ...]

    @property
    def seat(self) -> str:
        """Say where it sits and which way round."""
        return seat_phrase(self.place, turned=self.turned)


@dataclass(frozen=True)
class DecidedLine:
    """What the builder has decided of ports, and where that is written."""

    sentence: str
    where: str


@dataclass(frozen=True)
class Plan(Priced):
    """A plan that was checked: each of its units, one or two, and what is the bike's whatever units are on it."""

    bike: str
    units: tuple[PlannedUnit, ...]
    resting: MilliVolts
    proven: bool
    once: bool
    """Not proven: one proof says that it is the best, and the limit came before the second."""
    bound: Micrometres
    copper_mg: int
    fed: tuple[FixedLine, ...]
    returns: tuple[FixedLine, ...]
    other_wires: tuple[FixedLine, ...]
    shown: tuple[ShownLine, ...]
    """What dashes show, in the order of the file."""
    legs: tuple[LegLine, ...]
    other_protection: tuple[ProtectionLine, ...]
    """The wires that are no unit's: fed loads and returns."""
    wiring: Wiring
    """Every piece of wire with its number, as lists have it."""
    change: ChangeOrder | None
    """What is done to a loom that was built before, where there is one."""
    dead: tuple[BuiltPiece, ...]
    """Wires of no circuit that lie in the loom."""
    leads: tuple[BatteryLead, ...]
    """The battery's own leads and the earth straps, where the file says what the starter draws."""
    starter_voltage: Fraction | None
    """Microvolts at the starter motor while cranking."""
    energy: Energy
    also_needed: tuple[str, ...]
    no_room_for: tuple[str, ...]
    not_used: tuple[str, ...]
    """The bike's multiplexers where it has two units: with these none is used."""
    could_share: tuple[str, ...]
    """What loads would free that could share an output, where the bike's file does not let them."""
    first: tuple[str, ...]
    """The warnings that stand first on every sheet."""
    decided: tuple[DecidedLine, ...]
    """What the builder has decided of ports, in the order of the file."""
    set_aside: tuple[tuple[str, str], ...]
    not_yet_judged: tuple[str, ...]
    assumed: tuple[str, ...]
    bike_warnings: tuple[str, ...]
    """About the bike; what is about one unit is told with it."""
    cautions: tuple[str, ...]
    chosen_legs: LegsChosen | None = None
    """The legs that hold a wire, where each is worth something and they were chosen."""

    @property
    def only(self) -> PlannedUnit:
        """The only unit; raises ValueError where there are two."""
        (unit,) = self.units
        return unit

    @property
    def outputs(self) -> tuple[OutputLine, ...]:
        """The circuits of every unit, in the order of the units."""
        return tuple(line for unit in self.units for line in unit.outputs)

    @property
    def inputs(self) -> tuple[InputLine, ...]:
        """The switches on the inputs of every unit."""
        return tuple(line for unit in self.units for line in unit.inputs)

    @property
    def multiplexers(self) -> tuple[MultiplexerLine, ...]:
        """The multiplexers in use."""
        return tuple(line for unit in self.units for line in unit.multiplexers)

    @property
    def lamps(self) -> tuple[LampLine, ...]:
        """What reaches the filament lamps, unit by unit."""
        return tuple(line for unit in self.units for line in unit.lamps)

    @property
    def room_for(self) -> tuple[RoomLine, ...]:
        """The later loads that there is room for, on any unit."""
        return tuple(line for unit in self.units for line in unit.room_for)

    @property
    def protection(self) -> tuple[ProtectionLine, ...]:
        """What each wire carries where it is weakest: each unit's, then the others."""
        return (*(line for unit in self.units for line in unit.protection), *self.other_protection)

    @property
    def warnings(self) -> tuple[str, ...]:
        """Every warning: what stands first, about each unit by output, about the bike in the order of its file."""
        return (*self.first, *self.told_warnings)

    @property
    def told_warnings(self) -> tuple[str, ...]:
        """Every warning but those that stand first."""
        return (*(line for unit in self.units for line in unit.warnings), *self.bike_warnings)


@dataclass(frozen=True)
class TradeOff(Priced):
    """A plan's two parts at an extreme point of the hull between them."""

    place: str
    turned: bool


@dataclass(frozen=True)
class TradeOffs:
    """The extreme points of the lower hull, least wire first, each proven; and how many are not shown."""

    points: tuple[TradeOff, ...]
    not_shown: int
    complete: bool
    """False where a time limit ended the search for more."""
    legs: LegTradeOffs | None = None
    """Between legs in use and all else, where legs are chosen."""
