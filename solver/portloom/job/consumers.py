"""Loads with their figures: what they draw, when, how they are driven, and who works them."""

from collections.abc import Sequence
from dataclasses import fields, replace
from operator import attrgetter
from typing import NamedTuple

from portloom.base.assumptions import Assumptions
from portloom.base.bike import Bike, DashPoint, Load, Part, Switch
from portloom.base.current import Inrush, inrush_of, kind_of, steady_current
from portloom.base.drop import Drop, MicroVolts, share_of
from portloom.base.lamps import LAMPS
from portloom.base.later_loads import later_of
from portloom.base.parts.loads import load_part
from portloom.base.quantities import BasisPoints, Micrometres, MilliAmps, MilliVolts
from portloom.base.sizes import WireSize
from portloom.base.values import dataclass
from portloom.base.vocabulary import DropClass, Kind

WHOLE = BasisPoints(10_000)
USUAL_WHEN = frozenset({"key on", "day", "night"})


class Return(NamedTuple):
    """A joint return: the frame point where it begins, and its number among those that begin there, 1 and up."""

    point: str
    number: int = 1


@dataclass(frozen=True)
class Consumer:
    """A load with its figures, as every rule sees it."""

    name: str
    part: Part | None
    at: str | None
    kind: Kind
    dims: bool
    """Whether it takes dimming: filament, heater, or an LED made for it."""
    current: MilliAmps
    inrush: Inrush
    modes: frozenset[str]
    when: frozenset[str]
    except_: frozenset[str]
    share: str | None
    operated_by: frozenset[str]
    feeders: tuple[str, ...]
    """Names of the loads whose circuits feed this one; empty for a load of its own circuit."""
    returns_at: str | None
    """The point from which a wire leads its current back to earth; None where it goes by the frame."""
    switched_by: str | None
    """What takes its other end to earth, where it has no earth of its own: the name of a load, or 'points'."""
    drop_class: DropClass
    drop_limit: MicroVolts
    leads: WireSize | None
    avoid: frozenset[str]
    suppressed: bool
    runs_on: bool
    lowest: MilliVolts | None
    dim_to: BasisPoints | None
    lamp_test: MilliVolts | None
    """The voltage at which a filament lamp's watts are measured; None where it is no such lamp."""
    apart_from: frozenset[str] = frozenset()
    """Loads of its share group that it is kept apart from, where that alone is asked."""
    back: Return | None = None
    """The joint return that its current takes; None where it goes by the frame, or the returns are not dealt yet."""
    shown_by: tuple[DashPoint, ...] = ()
    """The dashes that show it: further points of its circuit, where nothing is drawn."""
    own_switch: str | None = None
    """The frame point of a switch of its own that its current passes, and that is not wired to the unit."""
    on: tuple[str, ...] = ()
    """The outputs of which its circuit must be on one; none where any will do."""
    not_on: tuple[str, ...] = ()
    """The outputs that its circuit may not be on."""

    @property
    def fed_at(self) -> str | None:
        """The point to which its output's wire leads: where its own switch is, else its own."""
        return self.at if self.own_switch is None else self.own_switch

    @property
    def has_own_return(self) -> bool:
        """Tell whether a wire of its own leads its current back."""
        return self.returns_at is not None and self.switched_by is None

    @property
    def other_end(self) -> str | None:
        """Say where its other end goes, where that is no earth: a coil's, to what switches it."""
        return None if self.switched_by is None else f"other end to {self.switched_by}, the maker's wire"

    @property
    def nature(self) -> tuple[object, ...]:
        """All of this load but its name: identical loads at one point have one nature."""
        figures: tuple[object, ...] = _BUT_THE_NAME(self)
        return figures


_BUT_THE_NAME = attrgetter(*(figure.name for figure in fields(Consumer) if figure.name != "name"))


@dataclass(frozen=True)
class FedLoad:
    """A load that a relay or a fused feed of its own supplies from the battery."""

    consumer: Consumer
    by: str
    coil: Consumer | None = None
    """Its relay's coil, where a switch of the load's own earths it, by the first return there, and no output is needed.

    It is on when the load is.
    """

    @property
    def coil_switch(self) -> str | None:
        """The frame point of the switch that earths its relay's coil, where that needs no output."""
        return None if self.coil is None else self.coil.returns_at


@dataclass(frozen=True)
class Later:
    """A load that may be added one day, and what room for it is worth."""

    consumer: Consumer
    worth: Micrometres


@dataclass(frozen=True)
class Consumers:
    """All loads of a bike, sorted by what feeds them, each list in the order of the file."""

    on_unit: tuple[Consumer, ...]
    guests: tuple[Consumer, ...]
    """Loads fed from the circuits of others, through diodes."""
    fed: tuple[FedLoad, ...]
    later: tuple[Later, ...]
    left_out: tuple[Consumer, ...] = ()
    """Loads that count as there where a rule asks for their presence, and are not wired."""

    @property
    def wired(self) -> tuple[Consumer, ...]:
        """Every load that is on the bike, whatever feeds it."""
        return (*self.on_unit, *self.guests, *(fed.consumer for fed in self.fed))


def consumers_of(bike: Bike, assume: Assumptions) -> Consumers:
    """Return the loads of ``bike`` with their figures; a load fed by a relay brings the relay's coil."""
    on_unit: list[Consumer] = []
    guests: list[Consumer] = []
    fed: list[FedLoad] = []
    for load in bike.loads:
        consumer = _consumer(load, bike, assume)
        if load.from_:
            guests.append(consumer)
        elif load.fed == "unit":
            on_unit.append(consumer)
        else:
            coil = relay_coil(load, bike, assume) if load.fed == "relay" else None
            if coil is None or load.own_switch is None:
                fed.append(FedLoad(consumer, load.fed))
                on_unit.extend(() if coil is None else (coil,))
            else:
                back = Return(load.own_switch)
                earthed = replace(coil, feeders=(load.name,), returns_at=load.own_switch, back=back)
                fed.append(FedLoad(consumer, load.fed, earthed))
    return Consumers(tuple(on_unit), tuple(guests), tuple(fed), _later(bike, assume))


def relay_coil(load: Load, bike: Bike, assume: Assumptions) -> Consumer:
    """Return the coil of the relay through which a load is fed, or would be; it is worked as the load is."""
    consumer = _consumer(load, bike, assume)
    coil = Load(name=f"{load.name} relay", at=bike.supply.battery.at, kind="relay coil")
    steady = MilliAmps(assume["relay coil current"])
    figures = _figures(coil, steady, bike, assume)
    return replace(
        figures,
        part=consumer.part,
        modes=consumer.modes,
        when=consumer.when,
        except_=consumer.except_,
        operated_by=consumer.operated_by,
        on=consumer.on,
        not_on=consumer.not_on,
    )


def _later(bike: Bike, assume: Assumptions) -> tuple[Later, ...]:
    return tuple(
        Later(
            replace(_consumer(entry, bike, assume), at=None, returns_at=None, own_switch=None),
            Micrometres(1000 * bike.weights.later) if entry.worth is None else entry.worth,
        )
        for entry in later_of(bike)
    )


def _consumer(load: Load, bike: Bike, assume: Assumptions) -> Consumer:
    return _figures(load, steady_current(load, bike.supply.running), bike, assume)


def _figures(load: Load, steady: MilliAmps, bike: Bike, assume: Assumptions) -> Consumer:
    part, switcher = load_part(load.part), switcher_of(load, bike)
    drop_class: DropClass = part.drop_class if part else "other"
    return Consumer(
        name=load.name,
        part=load.part,
        at=load.at,
        kind=kind_of(load),
        dims=kind_of(load) in ("filament", "heater") or (kind_of(load) == "led" and load.dims),
        current=steady,
        inrush=inrush_of(load, steady, assume),
        modes=frozenset(load.mode),
        when=USUAL_WHEN if load.when is None else frozenset(load.when),
        except_=frozenset(load.except_),
        share=load.share,
        operated_by=_operators(load.name, bike.inputs),
        feeders=load.from_,
        returns_at=_returns_at(load, switcher),
        switched_by=load.switched_by and (switcher.name if switcher else load.switched_by),
        drop_class=drop_class,
        drop_limit=drop_limit(drop_class, bike, assume),
        leads=load.leads,
        avoid=frozenset(load.avoid),
        suppressed=load.suppressed,
        runs_on=load.run_on is not None,
        lowest=load.lowest,
        dim_to=load.dim_to,
        lamp_test=None if load.lamp is None else LAMPS[load.lamp].test,
        shown_by=bike.shown_by(load.name),
        own_switch=None if load.fed == "relay" else load.own_switch,
        on=load.on,
        not_on=load.not_on,
    )


def switcher_of(load: Load, bike: Bike) -> Load | None:
    """Return the load that takes a coil's other end to earth: the first of its part; None for points and no coil."""
    if not load.switched_by:
        return None
    return next((other for other in bike.loads if other.part == load.switched_by), None)


def _returns_at(load: Load, switcher: Load | None) -> str | None:
    """Return where a load's current goes back by wire: a coil's where that of what switches it does."""
    if load.switched_by:
        return None if switcher is None else _returns_at(switcher, None)
    return load.at if load.return_ == "wire" else None


def _operators(name: str, inputs: Sequence[Switch]) -> frozenset[str]:
    return frozenset(switch.name for switch in inputs if name in switch.operates)


def drop_limit(drop_class: DropClass, bike: Bike, assume: Assumptions) -> MicroVolts:
    """Return the voltage that may be lost over the whole path of a load of this class."""
    own = bike.limits.drop.get(drop_class, Drop())
    if own.voltage is not None:
        return share_of(own.voltage, WHOLE)
    if own.share is not None:
        return share_of(bike.supply.running, own.share)
    usual = share_of(bike.supply.running, BasisPoints(assume[f"{drop_class} drop"]))
    return min(usual, share_of(MilliVolts(assume["headlamp at most"]), WHOLE)) if drop_class == "headlamp" else usual
