"""What is on the bike and on the unit, in base units (um, mA, mV, mohm, ms).

Loads, switches and ports are told apart by identity, which keeps look-ups fast.
"""

from dataclasses import dataclass
from fractions import Fraction

from .catalogue import Stock, Wire
from .losses import Contacts


@dataclass(frozen=True)
class Leg:
    """A stretch of loom; `room_um` is the opening less the sleeve, None if open."""

    number: int
    name: str
    ends: tuple[str, str]
    length_um: int
    room_um: int | None
    ambient_c: Fraction
    hot_c: Fraction


@dataclass(frozen=True)
class Place:
    """A place for the unit: the points that its faces meet."""

    name: str
    front: str
    rear: str
    either: bool


@dataclass(frozen=True, eq=False)
class Load:
    """A consumer; `feeders` names the loads that it is fed from, `current_at_mv` what its current was told for.

    `any_mode` and `any_kind`: its mode, or its kind, asks nothing of an output. `beside` names
    the loads of its group with which it may share although a rule keeps them apart. `counts_as` is the
    part that rules take it for: a relay's coil is the load that the relay feeds. `back` is where a wire
    leads its current back to earth from, '' where the frame does; loads of one `pin` there have one wire back.
    `own_switch` is the point of a switch that never touches the unit, '' where there is none.
    """

    name: str
    at: str
    current_ma: int
    current_at_mv: Fraction
    inrush_ma: Fraction
    inrush_ms: Fraction
    kind: str
    part: str
    counts_as: str
    modes: frozenset[str]
    when: frozenset[str]
    barred: frozenset[str]
    share: str
    back: str
    feeders: frozenset[str]
    fed: str
    dims: bool
    leads: Wire | None
    avoid: frozenset[str]
    lowest_mv: Fraction | None
    suppressed: bool
    runs_on: bool
    pin: str
    own_switch: str = ""
    any_mode: bool = False
    any_kind: bool = False
    beside: frozenset[str] = frozenset()
    taps: "tuple[Load, ...]" = ()
    """The dashes that show it, as loads that draw nothing."""
    held: frozenset[str] = frozenset()
    """The ports of which it must be on one; none where any will do."""
    shunned: frozenset[str] = frozenset()

    @property
    def asked(self) -> frozenset[str]:
        """The modes that its output must have."""
        return frozenset() if self.any_mode else self.modes

    @property
    def on_unit(self) -> bool:
        """Tell whether the load needs an output."""
        return self.fed == "unit" and not self.feeders


@dataclass(frozen=True)
class Later:
    """A load that may be added one day, and what it is worth (um)."""

    load: Load
    worth_um: int


@dataclass(frozen=True, eq=False)
class Switch:
    """A switch or sender; `level_mv` and `rate_hz` are of a pulse.

    `any_signal`: every input takes it; `any_box`: every multiplexer does, unless it must go
    `straight` to the unit; `framed`: it earths through its body. `beside` is as a load's.
    """

    name: str
    points: tuple[str, ...]
    signal: str
    rest: str
    operates: frozenset[str]
    tells: frozenset[str]
    share: str
    level_mv: Fraction | None
    rate_hz: Fraction | None
    straight: bool = False
    framed: bool = False
    any_signal: bool = False
    any_box: bool = False
    beside: frozenset[str] = frozenset()
    dashes: tuple[tuple[str, str], ...] = ()
    """The dashes that show it, each with its point."""
    held: frozenset[str] = frozenset()
    shunned: frozenset[str] = frozenset()
    more_wires: int = 0
    """How many wires, beside its signal, it has to the first dash where only dashes read it."""

    @property
    def ends(self) -> frozenset[str]:
        """Every point that its wire reaches: its own and those of dashes."""
        return frozenset((*self.points, *(point for _, point in self.dashes)))

    @property
    def dash_wires(self) -> tuple[frozenset[str], ...]:
        """The ends of each of its wires where only dashes read it: the first dash is the one that it belongs to."""
        return (self.ends, *[frozenset((self.dashes[0][1], self.points[0]))] * self.more_wires)

    @property
    def earthed(self) -> bool:
        """Tell whether it needs a wire to earth beside others of its point."""
        return self.signal == "earth" and not self.framed


@dataclass(frozen=True, eq=False)
class Multiplexer:
    """A box that takes several switches to one input; `ways` is None for as many as wanted.

    `agreed`: nothing judges what goes through it, or on which input it is.
    """

    name: str
    points: tuple[str, ...]
    ways: int | None
    takes: frozenset[str]
    agreed: bool = False


@dataclass(frozen=True)
class Alongside:
    """Wires or pipes that lie in the looms, and what each carries while on."""

    start: str
    end: str
    diameter_um: int
    count: int
    current_ma: int
    when: frozenset[str]


@dataclass(frozen=True)
class Bike:
    """All that a bike's file says, defaults filled in; `loads` holds relay coils too.

    `charging_ma` is what comes in through the main fuse, 0 where the regulator joins the battery.
    `starter` is the earth point through which the starter motor's current comes back, '' where that is not known.
    `thickest_return` and `unit_earth` are mm2. What was left out but counts as there, wherever a rule asks for its
    presence, is in `gone_loads` and `gone_switches`; `granted` are the needs (rule, what) taken as told.
    """

    running_mv: Fraction
    cranking_mv: Fraction
    charging_ma: int
    battery: str
    legs: tuple[Leg, ...]
    earth: tuple[str, ...]
    connectors: frozenset[str]
    places: tuple[Place, ...]
    loads: tuple[Load, ...]
    later: tuple[Later, ...]
    switches: tuple[Switch, ...]
    alongside: tuple[Alongside, ...]
    ampere_um: int
    ability_um: int
    reels: tuple[Wire, ...]
    drop_uv: dict[str, Fraction]
    events: dict[str, frozenset[str]]
    excluded: frozenset[frozenset[str]]
    contacts: Contacts
    stock: Stock
    shortest_feed_um: int
    thickest_return: Fraction
    unit_earth: Fraction
    starter: str
    side_stand: bool
    clutch_lever: bool
    two_brakes: bool
    key_stops: bool
    set_aside: frozenset[str]
    multiplexers: tuple[Multiplexer, ...] = ()
    gone_loads: tuple[Load, ...] = ()
    gone_switches: tuple[Switch, ...] = ()
    granted: frozenset[tuple[str, str]] = frozenset()
    dash_switches: tuple[Switch, ...] = ()
    """The inputs that only dashes read."""
    dead: frozenset[str] = frozenset()
    """The ports that can't be used."""
    alike: tuple[tuple[str, ...], ...] = ()
    """The names of loads whose outputs must be alike, set by set."""

    @property
    def named_ports(self) -> frozenset[str]:
        """The ports that the file names: each is a kind of its own."""
        things: list[Load | Switch] = [*self.loads, *(later.load for later in self.later), *self.wired_switches]
        return self.dead.union(*(thing.held | thing.shunned for thing in things))

    @property
    def wired_switches(self) -> tuple[Switch, ...]:
        """Every input that something reads."""
        return self.switches + self.dash_switches


@dataclass(frozen=True, eq=False)
class Output:
    """An output of the unit, or as `many` alike as wanted; `curve` is (multiple of the trip, ms)."""

    name: str
    limit_ma: int
    peak_ma: int
    peak_ms: Fraction
    trips_ma: tuple[int, ...]
    abilities: frozenset[str]
    face: str
    largest: Fraction | None
    bank: str
    follow: str
    mohm: Fraction
    curve: tuple[tuple[Fraction, Fraction], ...]
    refuses_coils: bool
    key_off: str
    many: bool = False


ADDED = "more of "
"""Begins the name of an input that was added, before that of the one that it is like."""


@dataclass(frozen=True, eq=False)
class InPort:
    """An input of the unit, or as `many` alike as wanted."""

    name: str
    accepts: frozenset[str]
    face: str
    up_to_mv: Fraction | None
    rate_hz: Fraction | None
    many: bool = False


@dataclass(frozen=True)
class Unit:
    """All that a unit's profile says that bears on the rules judged here."""

    limit_ma: int
    fuse_max_ma: int
    lowest_mv: Fraction | None
    largest: Fraction | None
    face: str
    banks: dict[str, int]
    outputs: tuple[Output, ...]
    inputs: tuple[InPort, ...]
