"""A control unit as its profile says it: feed, banks, outputs and inputs."""

from collections.abc import Iterable, Mapping
from typing import Annotated, Literal, Self, TypeVar

from pydantic import BeforeValidator, Field, PrivateAttr

from portloom.base.entries import Entry, Name, Names, Price, TrueFalse, one_or_several
from portloom.base.fuse_steps import STEPS, FuseRating
from portloom.base.quantities import (
    Current,
    Duration,
    Frequency,
    MicroOhms,
    MilliAmps,
    Multiple,
    Resistance,
    StandbyCurrent,
    Voltage,
)
from portloom.base.sizes import Size
from portloom.base.values import dataclass
from portloom.base.vocabulary import Signal

Face = Literal["front", "rear"]
FACES: tuple[Face, ...] = ("front", "rear")
KeyOff = Literal["never", "timed", "always"]


class Feed(Entry):
    """The unit's supply terminal."""

    limit: Current = Field(description="most current that the unit can carry in total")
    fuse_max: FuseRating | None = Field(None, description="largest main fuse that it takes")
    wire_max: Size | None = Field(None, description="thickest wire that the terminal takes")
    standby: StandbyCurrent | None = Field(None, description="current asleep")
    awake: StandbyCurrent | None = Field(None, description="current awake, no output on")
    lowest: Voltage | None = Field(None, description="lowest supply at which the unit works")
    face: Face = Field("front", description="the face that the terminal is on")

    @property
    def largest_fuse(self) -> MilliAmps:
        """The largest main fuse that it takes: the file's, else the largest step within the limit; 0 where none is.

        A fuse carries a tenth more than its step for ever, so a step above the limit protects no terminal.
        """
        if self.fuse_max is not None:
            return self.fuse_max
        return max((step for step in STEPS if step <= self.limit), default=MilliAmps(0))


@dataclass(frozen=True)
class Decided:
    """A port of which a bike's file decides something: its own name, and why it can't be used, if it can't."""

    name: str
    out_of_use: str | None = None


class AnyPort(Entry):
    """An output or an input."""

    _decided: Decided | None = PrivateAttr(None)

    name: Name = Field(description="its name")

    @property
    def decided(self) -> Decided | None:
        """What a bike's file decides of it; None where it names it nowhere.

        A port that is only like it, under another name, keeps this: none that is told apart is like any other.
        """
        return self._decided

    @property
    def is_usable(self) -> bool:
        """Whether no bike's file says that it can't be used."""
        return self._decided is None or self._decided.out_of_use is None

    def decided_as(self, decided: Decided) -> Self:
        """Return the same port, of which a bike's file decides something."""
        known = self.model_copy()
        known._decided = decided  # noqa: SLF001 - its own
        return known


SomePort = TypeVar("SomePort", bound=AnyPort)


class Output(AnyPort):
    """A switched and protected output."""

    name: Name = Field(description="the output's name")
    limit: Current = Field(description="most current that it can carry continuously")
    peak: Current | None = Field(None, description="most current that it can pass for a short time")
    peak_for: Duration | None = Field(None, description="how long it can pass the peak")
    trip: Annotated[tuple[Current, ...], BeforeValidator(one_or_several)] | None = Field(
        None, min_length=1, description="the values that its electronic fuse can be set to"
    )
    pwm: TrueFalse = Field(False, description="true if it can dim")
    switch_modes: Names = Field(("steady",), description="how it can be driven")
    face: Face = Field("front", description="the face that it is on")
    wire_max: Size | None = Field(None, description="thickest wire that its terminal takes")
    bank: Name | None = Field(None, description="the bank whose limit it shares")
    inductive: TrueFalse | None = Field(
        None, description="whether it can switch motors, horns and coils without a suppressor"
    )
    key_off: KeyOff = Field("never", description="whether it can be live with the key off")
    follow: Name | None = Field(None, description="the input whose switch it always follows")
    resistance: Resistance = Field(MicroOhms(10_000), description="its resistance when on")
    trip_curve: tuple[tuple[Multiple, Duration], ...] = Field(
        (), description="multiple of the trip, and how long it holds"
    )
    flash_rate: Frequency | None = Field(None, description="rate of its flash mode")

    @property
    def modes(self) -> frozenset[str]:
        """Every mode that it can be driven in, dimming included."""
        return frozenset(self.switch_modes) | (frozenset({"dim"}) if self.pwm else frozenset())


class Pulse(Entry):
    """The pulses that an input can count."""

    up_to: Voltage = Field(description="highest voltage that it can take")
    rate: Frequency = Field(description="highest rate that it can count")


class Port(AnyPort):
    """An input of the unit."""

    name: Name = Field(description="the input's name")
    accepts: Annotated[tuple[Signal, ...], BeforeValidator(one_or_several)] = Field(
        min_length=1, description="the signals that it reads"
    )
    face: Face = Field("front", description="the face that it is on")
    pulse: Pulse | None = Field(None, description="what pulses it can count")
    up_to: Voltage | None = Field(None, description="the voltage that it takes from a lamp on the same wire")


class Unit(Entry):
    """An abstract profile of a control unit."""

    unit: Name = Field(description="the unit's name")
    feed: Feed = Field(description="its supply terminal")
    banks: dict[Name, Current] = Field({}, description="limits that several outputs share")
    outputs: tuple[Output, ...] = Field(min_length=1, description="its outputs")
    inputs: tuple[Port, ...] = Field((), description="its inputs")
    price: Price | None = Field(None, description="its price, a bare number in the shop's currency")
    size: Name | None = Field(None, description="its dimensions, for the sheets only")
    terminal: Name | None = Field(None, description="the terminal that its plugs take, for the parts list")
    flash_rate: Frequency | None = Field(None, description="rate of the flash mode of all outputs")
    own_modes: Names = Field((), description="switch modes that this unit has beside the usual ones")

    def decided_by(self, named: Iterable[str], out_of_use: Mapping[str, str]) -> Self:
        """Return the same unit, of which a bike's file names some ports; ``out_of_use`` says why some can't be used.

        A port that was named once is told apart for good.
        """
        ports = frozenset(named)
        if not ports and all(port.decided is None for port in (*self.outputs, *self.inputs)):
            return self

        def told(port: SomePort) -> SomePort:
            name = port.name if port.decided is None else port.decided.name
            if port.decided is None and name not in ports:
                return port
            return port.decided_as(Decided(name, out_of_use.get(name)))

        outputs, inputs = tuple(map(told, self.outputs)), tuple(map(told, self.inputs))
        return self.model_copy(update={"outputs": outputs, "inputs": inputs})
