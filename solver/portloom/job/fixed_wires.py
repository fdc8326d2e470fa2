"""Wires that no assignment changes: what each is, where it runs over the frame, and what it is once sized."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from portloom.base.bike import Place
from portloom.base.copper import Conductor
from portloom.base.quantities import Micrometres
from portloom.base.sizes import WireSize
from portloom.base.unit import Face
from portloom.base.values import dataclass
from portloom.job.consumers import Return
from portloom.job.job import Job
from portloom.job.network import NOWHERE, Network, Run, Trees

WireKind = Literal[
    "feed", "unit earth", "return", "sender return", "fed load", "coil lead", "supply", "dash signal", "dash return",
    "dash supply", "alongside",
]  # fmt: skip
UNIT_OWNED: tuple[WireKind, ...] = ("feed", "unit earth")
"""The kinds of which each unit has its own."""

SAID: dict[WireKind, str] = {
    "feed": "the feed",
    "unit earth": "the unit's earth wire",
    "return": "the return from {}",
    "sender return": "the return of {}",
    "fed load": "the wire that feeds {}",
    "coil lead": "the wire from the relay of {} to its switch",
    "supply": "the {}",
    "dash signal": "the wire of {} to its dash",
    "dash return": "the return of {} to its dash",
    "dash supply": "the supply of {} from its dash",
    "alongside": "{}",
}

FixedWireKey = tuple[WireKind, str, int]


@dataclass(frozen=True)
class FixedWire:
    """Where a wire runs: what it is, whose it is, the points it joins (first its start), its run.

    A feed's run may be longer than its legs are together: none is shorter than the shortest that can be.
    """

    kind: WireKind
    name: str
    ends: tuple[str, ...]
    run: Run
    """Where it passes a switch, a leg that both stretches follow is there twice."""
    to_switch: Run | None = None
    """The stretch from its start to a switch on the way, where there is one."""
    number: int = 1
    """Its number among the joint returns that begin at one point."""
    old: Run | None = None
    """The built part of its run, where it may stay as built."""
    old_size: WireSize | None = None
    """The size of that."""

    @property
    def new_run(self) -> Run:
        """What is laid anew of it, as long as the built part stays."""
        return self.run if self.old is None else self.run.without(self.old)

    @property
    def stretches(self) -> tuple["FixedWire", ...]:
        """The wire in one piece, or in two where a switch is on the way: up to that, and from there."""
        if self.to_switch is None:
            return (self,)
        start, switch, *others = self.ends
        return (
            replace(self, ends=(start, switch), run=self.to_switch, to_switch=None),
            replace(self, ends=(switch, *others), run=self.run.without(self.to_switch), to_switch=None),
        )

    @property
    def key(self) -> FixedWireKey:
        """Kind, name and number, which no two fixed wires have in common."""
        return (self.kind, self.name, self.number)

    @property
    def back(self) -> Return:
        """Which joint return it is, if it is one."""
        return Return(self.name, self.number)

    @property
    def loose(self) -> bool:
        """Tell whether it is a feed that follows no leg: both its ends are at one point, and yet it has a length."""
        return self.kind == "feed" and not self.run.legs

    @property
    def said(self) -> str:
        """Say which wire it is: 'the return from tail', 'return 2 from tail'."""
        if self.number > 1:
            return f"return {self.number} from {self.name}"
        return SAID[self.kind].format(self.name)


@dataclass(frozen=True)
class SizedFixedWire:
    """A fixed wire with its size: how thick it is outside, and how many run side by side."""

    wire: FixedWire
    diameter: Micrometres
    conductor: Conductor | None
    """None for a cable or pipe."""
    count: int = 1


def face_point(place: Place, face: Face, *, turned: bool) -> str:
    """Return the frame point that a face meets; a place that names one face meets it with both."""
    front = place.front or place.rear or ""
    rear = place.rear or front
    return rear if (face == "rear") != turned else front


def common_fixed_wires(job: Job) -> tuple[FixedWire, ...]:
    """Return the wires that are the same wherever the unit sits: returns, fed loads, supply, dashes', alongside."""
    return (*_returns(job), *_fed(job), *_supply(job), *_of_dashes(job), *_alongside(job))


def fixed_wires_at(job: Job, place: Place, *, turned: bool) -> tuple[FixedWire, ...]:
    """Return the feed from battery to unit, no shorter than a feed can be, and the unit's own earth.

    That goes straight to the battery's negative pole.
    """
    battery = job.bike.supply.battery.at
    point = face_point(place, job.unit.feed.face, turned=turned)
    shortest = job.network.wire(battery, point) or NOWHERE
    feed = replace(shortest, length=max(shortest.length, job.shortest_feed))
    earth = job.network.wire(point, battery) or NOWHERE
    return (
        FixedWire("feed", "feed", (battery, point), feed),
        FixedWire("unit earth", "unit earth", (point, battery), earth),
    )


def joint_returns(job: Job) -> tuple[Return, ...]:
    """Return the joint returns, by their points in the frame's order: of wired loads, and the first of some points.

    That takes switches to earth, those of relays too. At an earth point itself each thing has a short wire of its
    own; that has no length.
    """
    switches = {Return(point) for switch in job.wired_inputs if switch.earthed_by_wire for point in switch.at}
    coils = {Return(fed.coil_switch) for fed in job.loads.fed if fed.coil_switch is not None}
    wanted = {*switches, *coils, *(load.back for load in job.wired_loads if load.back is not None)}
    order = {point: number for number, point in enumerate(job.network.points)}
    return tuple(sorted(wanted, key=lambda back: (order[back.point], back.number)))


def multiplexer_return(job: Job, point: str) -> FixedWire | None:
    """The return that a multiplexer at a point brings with it; None where the point has its first one anyway."""
    return None if Return(point) in joint_returns(job) else _return_wire(job, Return(point))


def _return_wire(job: Job, back: Return) -> FixedWire:
    earth, run = job.way_to_earth(back.point)
    return FixedWire("return", back.point, (back.point, earth), run, number=back.number)


def _returns(job: Job) -> Iterator[FixedWire]:
    for back in joint_returns(job):
        yield _return_wire(job, back)
    for switch in job.inputs:
        if switch.signal == "sender" and switch.return_ == "wire":
            earth, run = job.way_to_earth(switch.at[0])
            yield FixedWire("sender return", switch.name, (switch.at[0], earth), run)


def _fed(job: Job) -> Iterator[FixedWire]:
    battery = job.bike.supply.battery.at
    for fed in job.loads.fed:
        if fed.consumer.at is not None:
            closed = job.network.numbers_of(fed.consumer.avoid)
            points = tuple(dict.fromkeys((fed.consumer.at, *(point.at for point in fed.consumer.shown_by))))
            switch = fed.consumer.own_switch
            start = battery if switch is None else switch
            first = NOWHERE if switch is None else job.network.wire(battery, switch, closed)
            then = Trees(job.network, points, (start,), closed).tree(points, start)
            if first is not None and then is not None:
                on_way, ends = (None, ()) if switch is None else (first, (switch,))
                yield FixedWire("fed load", fed.consumer.name, (battery, *ends, *points), first.with_(then), on_way)
        if fed.coil_switch is not None:
            run = job.network.wire(battery, fed.coil_switch) or NOWHERE
            yield FixedWire("coil lead", fed.consumer.name, (battery, fed.coil_switch), run)


def carrying_parts(network: Network, wire: FixedWire) -> tuple[FixedWire, ...]:
    """Return the stretches of a wire that lead to its load: what leads on to dashes carries nothing."""
    *before, last = wire.stretches
    if wire.kind == "fed load" and len(last.ends) > 2:
        start, load = last.ends[:2]
        last = replace(last, ends=(start, load), run=network.within(last.run, start, load))
    return (*before, last)


def _supply(job: Job) -> Iterator[FixedWire]:
    """One wire from the battery, through one fuse, to every switch that puts supply on its wire."""
    battery = job.bike.supply.battery.at
    points = tuple(dict.fromkeys(p for switch in job.wired_inputs if switch.signal == "supply" for p in switch.at))
    if points:
        run = Trees(job.network, points, (battery,)).tree(points, battery) or NOWHERE
        yield FixedWire("supply", "supply to switches", (battery, *points), run)


def _of_dashes(job: Job) -> Iterator[FixedWire]:
    """What only dashes read: a wire of its own, and a sensor's return and third wire, to and from the first of them."""
    for switch in job.dash_inputs:
        dash, sensor = switch.shown_by[0].at, switch.at[0]
        points = tuple(point for point in switch.reached if point != dash)
        run = Trees(job.network, points, (dash,)).tree(points, dash) or NOWHERE
        yield FixedWire("dash signal", switch.name, (dash, *points), run)
        kinds: tuple[tuple[WireKind, bool], ...] = (
            ("dash return", switch.returns_to_dash), ("dash supply", switch.fed_by_dash),
        )  # fmt: skip
        for kind, wanted in kinds:
            if wanted:
                yield FixedWire(kind, switch.name, (dash, sensor), job.network.wire(dash, sensor) or NOWHERE)


def _alongside(job: Job) -> Iterator[FixedWire]:
    for other in job.bike.alongside:
        run = job.network.whole.wire(other.from_, other.to) or NOWHERE
        yield FixedWire("alongside", other.name, (other.from_, other.to), run)
