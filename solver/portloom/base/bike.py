"""A bike as its file says it: supply, frame, places, loads, inputs, and what else lies in the loom."""

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from portloom.base.drop import DropLimit
from portloom.base.entries import Count, Entry, Name, Names, TrueFalse, one_or_several
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
    Temperature,
    Voltage,
    WholeMillimetres,
)
from portloom.base.sizes import Size

Kind = Literal["filament", "led", "motor", "horn", "ignition coil", "relay coil", "heater", "electronics"]
Part = Literal[
    "dipped beam", "main beam", "daytime lamp", "position lamp", "tail lamp", "plate lamp", "brake lamp",
    "left indicator", "right indicator", "horn", "ignition", "engine controller", "fuel pump",
    "starter solenoid", "fan",
]  # fmt: skip
Signal = Literal["earth", "supply", "pulse", "sender", "coded"]
Told = Literal["engine turning", "neutral", "clutch", "side stand", "engine stop", "key", "front brake", "rear brake"]
DropClass = Literal["headlamp", "engine", "brake lamp", "indicators", "position lamps", "other"]
ColourCode = Literal[
    "BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR", "GNYE"
]  # IEC 60757


class Colour(Entry):
    """The colour of a wire: base and stripe by the letter codes of IEC 60757."""

    base: ColourCode = Field(description="the wire's own colour, an IEC 60757 letter code")
    stripe: ColourCode | None = Field(None, description="the stripe's colour, if there is one")


class Battery(Entry):
    """The battery: what it holds, and the frame point where it stands."""

    capacity: Charge = Field(description="capacity at the ten-hour rate")
    at: Name = Field(description="the frame point where the battery sits")


class Charging(Entry):
    """What the alternator gives, where the regulator's lead joins, and its own fuse."""

    idle: Power | None = Field(None, description="spare power at idle")
    cruise: Power | None = Field(None, description="spare power at cruising speed")
    joins: Literal["battery", "unit"] = Field("battery", description="where the regulator's lead is connected")
    fuse: Current | None = Field(None, description="the fuse of the regulator's lead")


class Supply(Entry):
    """Voltages, battery and charging."""

    running: Voltage = Field(description="voltage with the engine running, 12.8 to 15.0 V")
    resting: Voltage = Field(MilliVolts(12_600), description="voltage of the charged battery at rest, default 12.6 V")
    cranking: Voltage | None = Field(None, description="voltage while cranking")
    battery: Battery = Field(description="the battery")
    charging: Charging | None = Field(None, description="the alternator and its regulator")
    polarity: Literal["negative"] = Field("negative", description="the earthed pole; only negative is taken")


class Leg(Entry):
    """A stretch of loom between two points of the frame."""

    between: tuple[Name, Name] = Field(description="the two frame points that the leg joins")
    length: Length = Field(description="its length along the loom")
    name: Name | None = Field(None, description="its name; default 'A - B', its two points")
    opening: Length | None = Field(None, description="the clear width that the loom must pass through, sleeve included")
    opens_to: Length | None = Field(None, description="how far the opening can be opened up")
    sleeve: Extra | None = Field(None, description="what the sleeve adds to the loom's diameter")
    ambient: Temperature | None = Field(None, description="temperature around the leg, below 105 C")
    moves: TrueFalse = Field(False, description="true if the leg moves with the steering or the suspension")

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

    name: Name = Field(description="the load's name")
    part: Part | None = Field(None, description="what it is, so that rules never read names")
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
    from_: Names = Field((), alias="from", description="loads whose circuits feed this one, through a diode each")
    fed: Literal["unit", "relay", "fuse"] = Field("unit", description="what feeds it")
    inrush: Current | None = Field(None, description="peak of the inrush")
    inrush_for: Duration | None = Field(None, description="how long the inrush lasts")
    lowest: Voltage | None = Field(None, description="lowest voltage at which it works while cranking")
    leads: Size | None = Field(None, description="wire size of its own tails")
    dims: TrueFalse = Field(False, description="true for an LED that takes dimming")
    dim_to: Share | None = Field(None, description="the level to which it is dimmed")
    run_on: Duration | None = Field(None, description="how long it stays on after the key is turned off")
    suppressed: TrueFalse = Field(False, description="true if there is a diode or suppressor at the load")
    own_switch: TrueFalse = Field(False, description="true if it has a switch that is not wired to the unit")
    avoid: Names = Field((), description="legs that its circuit's wire may not use")
    colour: Colour | None = Field(None, description="a colour that is already fixed")


class LaterLoad(Load):
    """A load that may be added one day."""

    at: Name | None = Field(None, description="the frame point where it would sit")  # type: ignore[assignment]
    worth: Extra | None = Field(None, description="what room for it is worth, as a length of wire")


class Switch(Entry):
    """An input of the bike: a switch, a sensor or a sender."""

    name: Name = Field(description="the input's name")
    at: Names = Field(min_length=1, description="the frame point, or several, where its wire ends")
    signal: Signal = Field(description="the signal on its wire")
    normally: Literal["open", "closed"] = Field("open", description="its state at rest")
    operates: Names = Field((), description="the loads that it operates")
    tells: Annotated[tuple[Told, ...], BeforeValidator(one_or_several)] = Field(
        (), description="what it tells the unit"
    )
    share: Name | None = Field(None, description="inputs that name the same group may share a port")
    action: Literal["push", "latch"] | None = Field(None, description="whether it springs back or stays")
    level: Voltage | None = Field(None, description="highest voltage of its pulses")
    rate: Frequency | None = Field(None, description="highest rate of its pulses")
    colour: Colour | None = Field(None, description="a colour that is already fixed")


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
    """What a spare ampere, a spare ability and a later load are worth, in wire."""

    ampere: WholeMillimetres = Field(50, description="for each ampere of an output that its circuit leaves unused")
    ability: WholeMillimetres = Field(100, description="for each switch mode that its circuit leaves unused")
    later: WholeMillimetres = Field(2000, description="for each later load that has no room")


class Reel(Entry):
    """A reel of wire that the shop has."""

    size: Size = Field(description="its size")
    colours: Annotated[tuple[ColourCode, ...], BeforeValidator(one_or_several)] = Field((), description="its colours")


def _reel(value: object) -> object:
    return {"size": value} if isinstance(value, str) else value


class Margin(Entry):
    """What is added to each wire when it is cut."""

    share: Share = Field(1000, description="share of the run")  # type: ignore[assignment]
    ends: Extra = Field(100_000, description="for both ends together")  # type: ignore[assignment]


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


class Bike(Entry):
    """A bike to be wired."""

    bike: Name = Field(description="the bike's name")
    supply: Supply = Field(description="voltages, battery and charging")
    frame: Frame = Field(description="legs, earth points and connectors")
    places: tuple[Place, ...] = Field(min_length=1, description="where the unit may be fixed")
    loads: tuple[Load, ...] = Field(min_length=1, description="the loads")
    later: tuple[LaterLoad, ...] | None = Field(None, description="loads that may be added one day; [] for none")
    inputs: tuple[Switch, ...] = Field((), description="switches, sensors and senders")
    alongside: tuple[Alongside, ...] = Field((), description="what else runs in the looms")
    weights: Weights = Field(Weights(), description="what spare ports are worth, as a length of wire")
    reels: tuple[Annotated[Reel, BeforeValidator(_reel)], ...] | None = Field(
        None, min_length=1, description="the wire on the shop's reels"
    )
    margin: Margin = Field(Margin(), description="what is added when wire is cut")
    limits: Limits = Field(Limits(), description="limits of this bike's own")
    events: dict[Name, Event] = Field({}, description="events besides the usual ones, or changes to those")
    stand: Literal["side", "none"] = Field("side", description="whether there is a side stand")
    clutch: Literal["lever", "automatic"] = Field("lever", description="how the clutch is operated")
    brakes: Literal["two", "one"] = Field("two", description="how many brakes have a switch")
    assume: dict[Name, str] = Field({}, description="defaults that this bike changes, by their names")
    multiplexers: tuple[Multiplexer, ...] = Field((), description="multiplexers that may be used")
    set_aside: dict[Name, Name] = Field({}, description="rules that are set aside, with the reason")
