"""A bike as its file says it: supply, frame, places, loads, inputs, and what else lies in the loom."""

from collections.abc import Iterable, Mapping
from typing import Annotated, Literal, Self

from pydantic import AfterValidator, BeforeValidator, Field, PrivateAttr, WithJsonSchema

from portloom.base.as_read import AsRead
from portloom.base.drop import DropLimit
from portloom.base.entries import Count, Entry, Name, Names, TrueFalse, one_or_several
from portloom.base.margin import Margin
from portloom.base.parts.in_short import load_in_short, switch_in_short
from portloom.base.quantities import (
    Charge,
    Current,
    DrawnCurrent,
    Duration,
    Extra,
    Frequency,
    Length,
    MilliVolts,
    Power,
    Share,
    StandbyCurrent,
    Temperature,
    Voltage,
    WholeMillimetres,
)
from portloom.base.sizes import Size
from portloom.base.values import dataclass
from portloom.base.vocabulary import NEVER_OPENED, Action, DropClass, Kind, Opened, Rest, Signal, SwitchedBy, Told

ColourCode = Literal[
    "BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR", "GNYE"
]  # IEC 60757


def _part(known: Mapping[str, str], what: str) -> tuple[AfterValidator, WithJsonSchema]:
    """Take the name of a part only as the catalogue has it; an editor offers those, and takes other words for them."""

    def in_catalogue(name: str) -> str:
        if name not in known:
            raise ValueError(f"the catalogue has no {what} '{name}'")
        return name

    each = [{"const": name, "description": said} for name, said in known.items()]
    return AfterValidator(in_catalogue), WithJsonSchema({"anyOf": [*each, {"type": "string"}]})


_LOAD_PART, _LOAD_PART_SCHEMA = _part(load_in_short(), "load")
_SWITCH_PART, _SWITCH_PART_SCHEMA = _part(switch_in_short(), "switch")
Part = Annotated[Name, _LOAD_PART, _LOAD_PART_SCHEMA]
SwitchName = Annotated[Name, _SWITCH_PART, _SWITCH_PART_SCHEMA]
Ports = Annotated[Names, BeforeValidator(one_or_several)]
Shown = Annotated[tuple[Names, ...], BeforeValidator(one_or_several)]


class Colour(Entry):
    """The colour of a wire: base and stripe by the letter codes of IEC 60757."""

    base: ColourCode = Field(description="the wire's own colour, an IEC 60757 letter code")
    stripe: ColourCode | None = Field(None, description="the stripe's colour, if there is one")

    @property
    def letters(self) -> str:
        """Its letters as lists have them: 'BU', 'BU/WH'."""
        return f"{self.base}/{self.stripe}" if self.stripe else self.base


class Battery(Entry):
    """The battery: what it holds, and the frame point where it stands."""

    capacity: Charge = Field(description="capacity at the ten-hour rate")
    at: Name = Field(description="the frame point where the battery sits")


class Charging(Entry):
    """What the alternator gives, where the regulator's lead joins, and its own fuse."""

    idle: Power | None = Field(None, description="power that it gives at idle")
    cruise: Power | None = Field(None, description="power that it gives at cruising speed")
    joins: Literal["battery", "unit"] = Field("battery", description="where the regulator's lead is connected")
    fuse: Current | None = Field(None, description="the fuse of the regulator's lead")


class Starter(Entry):
    """The starter motor, which is never a load of the unit: it has the battery's own leads."""

    at: Name = Field(description="the frame point where it sits; only what sits there may be earthed there")
    draws: Current | None = Field(None, description="what it draws while cranking, by which its leads are sized")


class Supply(Entry):
    """Voltages, battery and charging."""

    running: Voltage = Field(description="voltage with the engine running, 12.8 to 15.0 V")
    resting: Voltage = Field(MilliVolts(12_600), description="voltage of the charged battery at rest, default 12.6 V")
    cranking: Voltage | None = Field(None, description="voltage while cranking")
    battery: Battery = Field(description="the battery")
    charging: Charging | None = Field(None, description="the alternator and its regulator")
    starter: Starter | None = Field(None, description="the starter motor: where it sits and what it draws")
    polarity: Literal["negative"] = Field("negative", description="the earthed pole; only negative is taken")


class Leg(Entry):
    """A stretch of loom between two points of the frame."""

    between: tuple[Name, Name] = Field(description="the two frame points that the leg joins")
    length: Length = Field(description="its length along the loom")
    name: Name | None = Field(None, description="its name; default 'A - B', its two points")
    opening: Length | None = Field(None, description="the clear width that the loom must pass through, sleeve included")
    opens_to: Length | None = Field(None, description="how far the opening can be opened up")
    opens: Opened | None = Field(None, description=f"what is opened up; {NEVER_OPENED}")
    sleeve: Extra | None = Field(None, description="what the sleeve adds to the loom's diameter")
    ambient: Temperature | None = Field(None, description="temperature around the leg, below 105 C")
    moves: TrueFalse = Field(False, description="true if the leg moves with the steering or the suspension")
    travel: Length | None = Field(None, description="slack that each wire needs where the leg moves; default margin's")

    @property
    def label(self) -> str:
        """The leg's name, or its two points."""
        return self.name or f"{self.between[0]} - {self.between[1]}"


class Frame(Entry):
    """The points of the frame and the legs between them."""

    legs: tuple[Leg, ...] = Field(min_length=1, description="every stretch that wires can follow")
    earth: Names = Field(min_length=1, description="frame points where returns may end")
    connectors: Names = Field((), description="frame points where the loom can be parted")


class Place(Entry):
    """Where the unit may be fixed: the frame point that each of its faces meets."""

    name: Name = Field(description="the place's name")
    front: Name | None = Field(None, description="the frame point at the unit's front face")
    rear: Name | None = Field(None, description="the frame point at its rear face")
    way_round: Literal["fixed", "either"] = Field("fixed", description="'either' if the unit may be turned around")


class Load(Entry):
    """A consumer."""

    name: Name = Field(description="the load's name; default its part")
    part: Part | None = Field(None, description="what it is, a word of 'portloom parts': from it the rest follows")
    at: Name = Field(description="the frame point where it sits")
    lamp: Name | None = Field(None, description="a UN R37 lamp and its filament, such as 'H4 dipped'")
    power: Power | None = Field(None, description="power at the running voltage; needs a kind")
    current: DrawnCurrent | None = Field(None, description="steady current")
    kind: Kind | None = Field(None, description="its electrical kind; default electronics for a current")
    when: Names | None = Field(None, description="states and events in which it is on; default key on, day, night")
    except_: Names = Field((), alias="except", description="states and events in which it is off even so")
    mode: Names = Field(("steady",), description="how its output is driven; the output must have every mode named")
    share: Name | None = Field(None, description="loads that name the same group may share an output")
    return_: Literal["wire", "frame"] = Field("wire", alias="return", description="how its current returns")
    from_: Names = Field(
        (), alias="from", description="loads whose circuits feed this one, through a diode each if several"
    )
    fed: Literal["unit", "relay", "fuse"] = Field("unit", description="what feeds it")
    switched_by: SwitchedBy | None = Field(None, description="what takes an ignition coil's other end to earth")
    shows: Shown = Field((), description="what a dash or a lamp shows: inputs and loads; two on one lamp as a list")
    bulb: Name | None = Field(None, description="loads that name the same bulb are its filaments, with one return pin")
    pull_in: Current | None = Field(None, description="what a solenoid draws for a moment, 200 ms, when it pulls in")
    inrush: Current | None = Field(None, description="peak of the inrush")
    inrush_for: Duration | None = Field(None, description="how long the inrush lasts")
    lowest: Voltage | None = Field(None, description="lowest voltage at which it works while cranking")
    leads: Size | None = Field(None, description="wire size of its own tails")
    dims: TrueFalse = Field(False, description="true for an LED that takes dimming")
    dim_to: Share | None = Field(None, description="the level to which it is dimmed")
    run_on: Duration | None = Field(None, description="how long it stays on after the key is turned off")
    suppressed: TrueFalse = Field(False, description="true if there is a diode or suppressor at the load")
    own_switch: Name | None = Field(
        None, description="the frame point of a switch of its own, which is not wired to the unit"
    )
    avoid: Names = Field((), description="legs that its circuit's wire may not use")
    on: Ports = Field((), description="the output, or outputs, that its circuit must be on; of a relay, its coil's")
    not_on: Ports = Field((), description="outputs that its circuit may not be on")
    colour: Colour | None = Field(None, description="a colour that is already fixed")
    note: Name | None = Field(None, description="what is printed beside it wherever it is listed; it bears on nothing")


@dataclass(frozen=True)
class DashPoint:
    """A dash or lamp that shows something, and the frame point where it sits."""

    dash: str
    at: str


class LaterLoad(Load):
    """A load that may be added one day."""

    at: Name | None = Field(None, description="the frame point where it would sit")  # type: ignore[assignment]
    worth: Extra | None = Field(None, description="what room for it is worth, as a length of wire")


class Switch(Entry):
    """An input of the bike: a switch, a sensor or a sender."""

    _shown_by: tuple[DashPoint, ...] = PrivateAttr(())

    name: Name = Field(description="the input's name; default its part")
    part: SwitchName | None = Field(None, description="what it is, a word of 'portloom parts'")
    at: Names = Field(min_length=1, description="the frame point, or several, where its wire ends")
    signal: Signal = Field("earth", description="the signal on its wire")
    made: Name | None = Field(None, description="the position in which its contact is made, in place of 'normally'")
    normally: Rest = Field("open", description="its state at rest")
    operates: Names = Field((), description="the loads that it operates")
    tells: Annotated[tuple[Told, ...], BeforeValidator(one_or_several)] = Field(
        (), description="what it tells the unit"
    )
    share: Name | None = Field(None, description="inputs that name the same group may share a port")
    action: Action | None = Field(None, description="whether it springs back, stays, or is held by what asks")
    from_: Literal["tacho", "coil", "stator"] | None = Field(
        None, alias="from", description="where an engine speed signal is taken"
    )
    wires: Literal["1", "2", "3"] | None = Field(None, description="how many wires a sensor or sender has")
    return_: Literal["wire", "frame"] = Field("wire", alias="return", description="how it finds earth")
    goes_to: Literal["unit", "controller"] = Field("unit", description="what a fall sensor tells")
    level: Voltage | None = Field(None, description="highest voltage of its pulses")
    rate: Frequency | None = Field(None, description="highest rate of its pulses")
    on: Ports = Field((), description="the input, or inputs, that it must be on")
    not_on: Ports = Field((), description="inputs that it may not be on")
    colour: Colour | None = Field(None, description="a colour that is already fixed")
    note: Name | None = Field(None, description="what is printed beside it wherever it is listed; it bears on nothing")

    @property
    def earthed_by_wire(self) -> bool:
        """Tell whether it switches to earth, and needs a wire for that."""
        return self.signal == "earth" and self.return_ == "wire"

    @property
    def to_unit(self) -> bool:
        """Tell whether the unit reads it: what neither tells nor operates anything takes no port and no way."""
        return bool(self.tells or self.operates)

    @property
    def is_contact(self) -> bool:
        """Tell whether it puts earth or supply on its wire, which a diode can lead on."""
        return self.signal in ("earth", "supply")

    @property
    def returns_to_dash(self) -> bool:
        """Tell whether it needs a wire back to a dash that alone reads it: a sender or sensor does, a contact never."""
        return not self.is_contact and self.return_ == "wire" and self.wires != "1"

    @property
    def fed_by_dash(self) -> bool:
        """Tell whether a dash that alone reads it feeds it by a third wire."""
        return self.wires == "3"

    @property
    def shown_by(self) -> tuple[DashPoint, ...]:
        """The dashes that show it, as far as that is known."""
        return self._shown_by

    @property
    def reached(self) -> tuple[str, ...]:
        """The frame points that its wire reaches: its own, and those of the dashes that show it."""
        return tuple(dict.fromkeys((*self.at, *(point.at for point in self._shown_by))))

    def shown_at(self, points: Iterable[DashPoint]) -> Self:
        """Return the same input, which knows the dashes that show it."""
        known = self.model_copy()
        known._shown_by = tuple(points)  # noqa: SLF001 - its own
        return known


class Alongside(Entry):
    """A wire or pipe that never touches the unit but lies in the looms."""

    name: Name = Field(description="what it is")
    from_: Name = Field(alias="from", description="the frame point where it starts")
    to: Name = Field(description="the frame point where it ends")
    size: Size | None = Field(None, description="wire size; or give a diameter")
    diameter: Length | None = Field(None, description="outer diameter of a cable or pipe")
    count: Count = Field(1, description="how many run side by side")
    current: Current | None = Field(None, description="current in each")
    when: Names | None = Field(None, description="states and events in which the current flows")


class Weights(Entry):
    """What a spare ampere, a spare ability, a later load and a leg in use are worth, in wire."""

    ampere: WholeMillimetres = Field(50, description="for each ampere of an output that its circuit leaves unused")
    ability: WholeMillimetres = Field(100, description="for each switch mode that its circuit leaves unused")
    later: WholeMillimetres = Field(2000, description="for each later load that has no room")
    leg: WholeMillimetres = Field(0, description="for each leg that holds at least one wire; above 0 legs are chosen")


class Reel(Entry):
    """A reel of wire that the shop has."""

    size: Size = Field(description="its size")
    colours: Annotated[tuple[ColourCode, ...], BeforeValidator(one_or_several)] = Field((), description="its colours")


def _reel(value: object) -> object:
    return {"size": value} if isinstance(value, str) else value


class Limits(Entry):
    """Limits that this bike sets itself."""

    drop: dict[DropClass, DropLimit] = Field({}, description="voltage lost over the whole path, by class of load")


class Event(Entry):
    """When an event can come, and what it never comes with."""

    in_: Names | None = Field(None, alias="in", description="states in which it can happen")
    excludes: Names = Field((), description="events that never happen at the same time")


class Multiplexer(Entry):
    """A box that carries several switches over one data wire."""

    name: Name = Field(description="its name")
    at: Names = Field(min_length=1, description="frame points where it may sit")
    ways: Count = Field(description="how many switches it takes")
    takes: Annotated[tuple[Signal, ...], BeforeValidator(one_or_several)] = Field(
        min_length=1, description="the signals that it takes"
    )
    standby: StandbyCurrent | None = Field(None, description="current asleep, default 0.5 mA")


SMALL = 40
"""Loads and inputs of a small bike."""


class Bike(Entry):
    """A bike to be wired."""

    _as_read: AsRead = PrivateAttr(AsRead())

    bike: Name = Field(description="the bike's name")
    supply: Supply = Field(description="voltages, battery and charging")
    frame: Frame = Field(description="legs, earth points and connectors")
    places: tuple[Place, ...] = Field(min_length=1, description="where the unit may be fixed")
    loads: tuple[Load, ...] = Field(min_length=1, description="the loads")
    later: tuple[LaterLoad, ...] | None = Field(None, description="loads that may be added one day; [] for none")
    inputs: tuple[Switch, ...] = Field((), description="switches, sensors and senders")
    alongside: tuple[Alongside, ...] = Field((), description="what else runs in the looms")
    weights: Weights = Field(Weights(), description="what spare ports and legs in use are worth, as a length of wire")
    reels: tuple[Annotated[Reel, BeforeValidator(_reel)], ...] | None = Field(
        None, min_length=1, description="the wire on the shop's reels"
    )
    margin: Margin = Field(Margin(), description="what is added when wire is cut")
    limits: Limits = Field(Limits(), description="limits of this bike's own")
    events: dict[Name, Event] = Field({}, description="events besides the usual ones, or changes to those")
    stand: Literal["side", "none", "no switch"] = Field(
        "side", description="whether there is a side stand, and a switch that tells of it"
    )
    clutch: Literal["lever", "automatic"] = Field("lever", description="how the clutch is operated")
    brakes: Literal["two", "one", "two, one switch"] = Field(
        "two", description="how many brakes there are, and switches"
    )
    ignition: Literal["own"] | None = Field(None, description="'own' where the engine makes its spark without the unit")
    pump_by: Literal["unit", "controller"] | None = Field(None, description="who decides when the fuel pump runs")
    engine_stop: Literal["key"] | None = Field(None, description="'key' where the key alone stops the engine")
    assume: dict[Name, str] = Field({}, description="defaults that this bike changes, by their names")
    multiplexers: tuple[Multiplexer, ...] = Field((), description="multiplexers that may be used")
    set_aside: dict[Name, Name] = Field({}, description="rules that are set aside, with the reason")
    out_of_use: dict[Name, Name] = Field({}, description="outputs and inputs that can't be used, with the reason")
    alike: tuple[Names, ...] = Field(
        (), description="share groups and loads that must all be on outputs of one limit and one list of trips"
    )

    def shown_by(self, name: str) -> tuple[DashPoint, ...]:
        """Return the dashes and lamps that show a load or an input, in the order of the file."""
        showing = (load for load in self.loads if load.shows)
        return tuple(DashPoint(load.name, load.at) for load in showing if any(name in lamp for lamp in load.shows))

    @property
    def decided_ports(self) -> frozenset[str]:
        """The outputs and inputs that it names: each is told apart from those that are like it."""
        things: list[Load | Switch] = [*self.loads, *(self.later or ()), *self.inputs]
        return frozenset((*self.out_of_use, *(name for thing in things for name in (*thing.on, *thing.not_on))))

    @property
    def is_small(self) -> bool:
        """Whether all that comes before the search takes a fraction of a second, however many places it has."""
        return len(self.loads) + len(self.inputs) <= SMALL

    @property
    def as_read(self) -> AsRead:
        """How its file was read; nothing of a bike that was made without a file."""
        return self._as_read

    def having_read(self, as_read: AsRead) -> Self:
        """Return the same bike, which knows how its file was read."""
        known = self.model_copy()
        known._as_read = as_read  # noqa: SLF001 - its own
        return known
