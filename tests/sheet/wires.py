"""Every wire of a plan as a row: its size, its legs, where it starts, and what hangs on it.

Of the plan only what was decided is taken: which load or switch is on which port, sizes, legs, trips, fuses.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from typing import Any

from oracle.catalogue import Wire as Size
from oracle.things import Load, Switch

from .frame import Frame
from .tables import F, hot
from .things import Bike, Leg, Unit, stop

Json = dict[str, Any]
Port = tuple[int, str]
"""A port: of which of the plan's units, and its name there."""
DROPS_AT_C = F(85)
"""What conductors are taken to be at, or a hotter leg's ambient. Common practice, no source."""


@dataclass(frozen=True)
class Tip:
    """What hangs on a wire at a point; `end` is a row of the table of ends, `size` its own, where it is another.

    `load` is what draws current there; a dash that shows something draws none.
    """

    name: str
    point: str
    end: str = "load"
    size: Size | None = None
    load: Load | None = None


@dataclass(frozen=True)
class Wire:
    """One wire of the plan, or one circuit's wires; `at` is where the document tells of it."""

    kind: str
    name: str
    copper: Size
    legs: tuple[Leg, ...]
    source: str
    start: str
    """What stands at its source: a row of the ends' table."""
    tips: tuple[Tip, ...]
    row: Json = field(repr=False, compare=False)
    at: str = ""
    unit: int = 0

    @property
    def port(self) -> Port:
        """Return the port that it is on."""
        return self.unit, self.name

    @property
    def mm2(self) -> Fraction:
        """Return its size."""
        return self.copper.area

    def mohm(self, leg: Leg) -> Fraction:
        """Return its resistance in a leg."""
        return self.copper.mohm_per_m * leg.length_mm / 1000 * hot(max(DROPS_AT_C, leg.ambient_c))

    @cached_property
    def onward(self) -> dict[str, list[tuple[Leg, str]]]:
        """For each point the legs that lead on from it, with the point at their end; of a wire that runs out once."""
        onward: dict[str, list[tuple[Leg, str]]] = {}
        queue, left = [self.source], list(dict.fromkeys(self.legs))
        for point in queue:
            for leg in [leg for leg in left if point in leg.ends]:
                other = leg.ends[1] if leg.ends[0] == point else leg.ends[0]
                onward.setdefault(point, []).append((leg, other))
                queue.append(other)
                left.remove(leg)
        assert not left, f"{self.name}: legs that lie apart"
        return onward

    def beyond(self, point: str) -> list[Tip]:
        """Return what hangs on it at a point and farther out."""
        here = [tip for tip in self.tips if tip.point == point]
        return here + [tip for _, other in self.onward.get(point, ()) for tip in self.beyond(other)]

    def ends_at(self, load: Load) -> bool:
        """Tell whether it leads to a load."""
        return any(tip.load == load for tip in self.tips)

    def way(self, point: str) -> list[tuple[Leg, str]]:
        """Return the legs from its source to a point, each with the point that it comes to."""
        for leg, other in ((leg, other) for ways in self.onward.values() for leg, other in ways):
            if other == point:
                before = leg.ends[0] if leg.ends[1] == other else leg.ends[1]
                return [*self.way(before), (leg, other)]
        return []

    def meeting(self, point: str) -> int:
        """Return how many wires of it meet at a point, those of what hangs there included."""
        return 1 + sum(tip.point == point for tip in self.tips) + len(self.onward.get(point, ()))


class Seat:
    """One of a plan's units where it sits: its part of the document, and the points that its faces meet."""

    def __init__(self, number: int, unit: Unit, printed: Json, bike: Bike, at: str) -> None:
        """Take the unit, what the plan says of it, and where that stands."""
        self.number, self.unit, self.printed, self.at = number, unit, printed, at
        place = next(place for place in bike.read.places if place.name == printed["place"])
        faces = (place.rear, place.front) if printed["turned"] else (place.front, place.rear)
        self.faces = dict(zip(("front", "rear"), faces, strict=True))
        self.main_fuse_a = F(str(printed["feed"]["main_fuse_a"]))

    def at_port(self, port: str) -> str:
        """Return the point that the face of a port meets."""
        return self.faces[self.unit.face(port)]

    @property
    def feed_point(self) -> str:
        """Return the point that the face with the feed's terminal meets."""
        return self.faces[self.unit.read.face]


class Plan:
    """A printed plan, as the wires that it says are to be drawn."""

    def __init__(self, bike: Bike, units: Sequence[Unit], printed: Json) -> None:
        """Take the files, and the plan as it was printed for programs."""
        self.bike, self.printed = bike, printed
        self.frame = Frame(bike)
        parts = [(part, f"units/{number}/") for number, part in enumerate(printed["units"])] if units[1:] else []
        self.seats = [
            Seat(number, unit, part, bike, at)
            for number, (unit, (part, at)) in enumerate(zip(units, parts or [(printed, "")], strict=True))
        ]
        rows = [(seat.number, row) for seat in self.seats for row in seat.printed["outputs"]]
        self.trips_a: dict[Port, Fraction] = {(number, row["port"]): F(str(row["trip_a"])) for number, row in rows}
        self.circuits: dict[Port, tuple[str, ...]] = {
            (number, row["port"]): tuple(row["loads"]) for number, row in rows
        }
        self.feeds = [self._feed(seat) for seat in self.seats]
        self.outputs = [wire for seat in self.seats for wire in self._outputs(seat)]
        self.onward = [one for wire in self.outputs for one in self._onward(wire)]
        self.outputs = [self._first(wire) for wire in self.outputs]
        self.inputs = [wire for seat in self.seats for wire in self._inputs(seat)]
        self.boxes = [wire for seat in self.seats for wire in self._boxes(seat)]
        self.box_switches = [one for box in self.boxes for one in self._box_switches(box)]
        self.fed = list(self._fed())
        self.returns, self.sender_returns = list(self._returns()), list(self._sender_returns())
        self.others = list(self._others())
        self.dash_wires = list(self._dash_wires())

    @cached_property
    def wires(self) -> list[Wire]:
        """Every wire; a multiplexer's data and supply wires are two."""
        single = [*self.feeds, *self.outputs, *self.onward, *self.inputs, *self.returns, *self.sender_returns]
        return [*single, *self.fed, *self.box_switches, *self.others, *self.dash_wires, *self.boxes, *self.boxes]

    def loads_of(self, port: Port) -> list[Load]:
        """Return the loads of a circuit, guests included."""
        return [self.bike.load(name) for name in self.circuits[port]]

    def _wire(self, kind: str, name: str, row: Json, source: str, start: str, tips: list[Tip], at: str) -> Wire:
        legs = tuple(self.bike.leg(leg) for leg in row["legs"])
        return Wire(kind, name, self._size(row), legs, source, start, tuple(tips), row, at)

    def _size(self, row: Json) -> Size:
        return self.bike.wire(F(str(row["wire_mm2"])))

    # --- wires of ports

    def _feed(self, seat: Seat) -> Wire:
        tips, row = [Tip("battery", self.bike.battery, "battery")], seat.printed["feed"]
        feed = self._wire("feed", "feed", row, seat.feed_point, "unit", tips, f"{seat.at}feed")
        return replace(feed, unit=seat.number)

    def _outputs(self, seat: Seat) -> Iterator[Wire]:
        for number, row in enumerate(seat.printed["outputs"]):
            name = str(row["port"])
            tips = [tip for load in self.loads_of((seat.number, name)) for tip in self._tips_of(load, stop(load))]
            wire = self._wire("output", name, row, seat.at_port(name), "unit", tips, f"{seat.at}outputs/{number}")
            yield replace(wire, unit=seat.number)

    def _tips_of(self, load: Load, point: str) -> list[Tip]:
        """Return a load and the dashes that show it."""
        own = Tip(load.name, point, "relay" if self.is_coil(load) else "load", load=load)
        return [own, *(Tip(f"{load.name} shown by {dash.name}", dash.at) for dash in load.taps)]

    def is_coil(self, load: Load) -> bool:
        """Tell whether a load is the coil of a relay that feeds another."""
        return any(load.name == f"{fed.name} relay" for fed in self.bike.loads if fed.fed == "relay")

    @staticmethod
    def _first(tree: Wire) -> Wire:
        """Return the output's own wire of a circuit: the legs to what hangs on it, and to own switches."""
        led = {leg for tip in tree.tips for leg, _ in tree.way(tip.point)}
        return replace(tree, legs=tuple(leg for leg in tree.legs if leg in led))

    def _onward(self, tree: Wire) -> Iterator[Wire]:
        """Of loads on outputs the wires on from switches of their own, along the legs that lead to both."""
        for load in (load for load in self.loads_of(tree.port) if load.own_switch):
            there, here = ({leg for leg, _ in tree.way(point)} for point in (load.own_switch, load.at))
            legs = tuple(leg for leg in tree.legs if leg in there ^ here)
            tips = (Tip(load.name, load.at, load=load),)
            yield replace(tree, kind="onward", legs=legs, source=load.own_switch, start="load", tips=tips)

    def onward_of(self, wire: Wire) -> list[Wire]:
        """Return the wires on from own switches of a circuit, each as thick as its wire."""
        return [replace(one, copper=wire.copper) for one in self.onward if wire.kind == "output" and one.at == wire.at]

    def switch(self, name: str) -> Switch:
        """Return a switch by its name."""
        return next(switch for switch in self.bike.read.wired_switches if switch.name == name)

    def _switch_tips(self, names: list[str]) -> list[Tip]:
        """Return every point that a switch's wire reaches: its own, and those of the dashes that show it."""
        switches = [self.switch(name) for name in names]
        points = [(switch.name, point) for switch in switches for point in switch.points]
        dashes = [(f"{switch.name} shown by {dash}", point) for switch in switches for dash, point in switch.dashes]
        return [Tip(name, point) for name, point in [*points, *dashes]]

    def _inputs(self, seat: Seat) -> Iterator[Wire]:
        for number, row in enumerate(seat.printed["inputs"]):
            tips, name = self._switch_tips(row["inputs"]), str(row["port"])
            yield self._wire("input", name, row, seat.at_port(name), "unit", tips, f"{seat.at}inputs/{number}")

    def _boxes(self, seat: Seat) -> Iterator[Wire]:
        for number, row in enumerate(seat.printed["multiplexers"]):
            tip, at = Tip(row["name"], row["at"]), f"{seat.at}multiplexers/{number}"
            yield self._wire("multiplexer", row["name"], row, seat.at_port(row["port"]), "unit", [tip], at)

    def _box_switches(self, box: Wire) -> Iterator[Wire]:
        for number, row in enumerate(box.row["inputs"]):
            tips, at = self._switch_tips([row["input"]]), f"{box.at}/inputs/{number}"
            yield self._wire("switch", row["input"], row, box.row["at"], "load", tips, at)

    # --- back to earth

    def _returns(self) -> Iterator[Wire]:
        """Each with what hangs on it: loads, a bulb once; on the first of a point its switches and multiplexers too."""
        for number, row in enumerate(self.printed["returns"]):
            if row["kind"] == "return":
                tips = list(self._backs(row))
                if row["number"] == 1:
                    switches = [(name, at) for name, at in self._switches_back() if at == row["from"]]
                    tips += [Tip(name, at, size=self.bike.reels[0]) for name, at in switches]
                yield self._wire("return", row["name"], row, row["to"][0], "earth", tips, f"returns/{number}")

    def _backs(self, row: Json) -> Iterator[Tip]:
        """Return the short wires of loads to their joint: one for each pin, as thick as all that feeds it.

        What switches a coil, whose current comes back by its pin as well, has one no thinner than the joint return.
        """
        loads = [self.bike.load(name) for name in row["loads"]]
        for pin in dict.fromkeys(load.pin for load in loads):
            of_pin = {load.name for load in loads if load.pin == pin}
            fed = [wire.copper for wire in self.outputs if of_pin & set(self.circuits[wire.port])]
            fed += [wire.copper for wire in self.fed if wire.name in of_pin]
            if any("switched_by" in self.bike.items.get(name, {}) for name in of_pin):
                fed.append(self._size(row))
            owner = self.bike.load(pin)
            size = max(fed, key=lambda one: one.area)
            yield Tip(pin, owner.back, "relay" if self.is_coil(owner) else "load", size)

    def _switches_back(self) -> list[tuple[str, str]]:
        """Return what hangs on the returns beside loads: earth switches, multiplexers, switches of relays' coils."""
        switches = [
            (switch.name, point)
            for switch in self.bike.read.wired_switches
            if switch.earthed
            for point in switch.points
        ]
        boxes = [(box.name, str(box.row["at"])) for box in self.boxes]
        coils = [(load.name, load.own_switch) for load in self.bike.loads if load.fed == "relay" and load.own_switch]
        return switches + boxes + coils

    def _sender_returns(self) -> Iterator[Wire]:
        for number, row in enumerate(self.printed["returns"]):
            if row["kind"] == "sender return":
                tips, at = [Tip(row["name"], row["from"])], f"returns/{number}"
                yield self._wire("sender return", row["name"], row, row["to"][0], "earth", tips, at)

    # --- what no port feeds

    def _fed(self) -> Iterator[Wire]:
        for number, row in enumerate(self.printed["fed"]):
            tips = self._tips_of(self.bike.load(row["name"]), self.bike.load(row["name"]).at)
            yield self._wire("fed", row["name"], row, self.bike.battery, "battery", tips, f"fed/{number}")

    def stretches(self, fed: Wire) -> list[Wire]:
        """Return a fed load's wire in its stretches: the shortest way to its own switch, and from there on."""
        load = self.bike.load(fed.name)
        by_switch = [load.own_switch] if load.fed == "fuse" and load.own_switch else []
        stops, found = [self.bike.battery, *by_switch, load.at], []
        for number, (start, end) in enumerate(pairwise(stops)):
            tips = fed.tips if end == stops[-1] and number == len(stops) - 2 else (Tip(f"switch of {load.name}", end),)
            legs = tuple(self.frame.shortest({start, *(tip.point for tip in tips)}, load.avoid))
            kind = "load" if number else load.fed.replace("fuse", "battery")
            found.append(replace(fed, kind="stretch", legs=legs, source=start, start=kind, tips=tips))
        return found

    def _others(self) -> Iterator[Wire]:
        for number, row in enumerate(self.printed["other_wires"]):
            start, end = OTHER_ENDS[row["kind"]]
            points = self._live() if row["kind"] == "supply" else row["to"]
            tips = [Tip(f"{row['name']} {place}", point, end) for place, point in enumerate(points)]
            yield self._wire(row["kind"], row["name"], row, row["from"], start, tips, f"other_wires/{number}")

    def _live(self) -> list[str]:
        """Return where each switch that switches to supply has its live side."""
        live = [switch for switch in self.bike.read.wired_switches if switch.signal == "supply"]
        return [point for switch in live for point in switch.points]

    def _dash_wires(self) -> Iterator[Wire]:
        """Return the wires of what only dashes read, of which the document tells the number and the length."""
        for switch in self.bike.read.dash_switches:
            signal = [*switch.points[1:], *(point for _, point in switch.dashes)]
            for points in (signal, *[[switch.dashes[0][1]]] * switch.more_wires):
                source, tips = switch.points[0], tuple(Tip(switch.name, point) for point in points)
                legs = tuple(self.frame.shortest({source, *points}))
                yield Wire("dash wire", switch.name, self.bike.reels[0], legs, source, "load", tips, {})


OTHER_ENDS = {
    "supply": ("battery", "load"),
    "unit earth": ("unit", "battery"),
    "coil lead": ("relay", "load"),
}
"""What stands at the start and at the end of each other wire."""
