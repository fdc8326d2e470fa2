"""Every wire of a plan as a row: its size, its legs, where it starts, and what hangs on it.

Of the plan only what was decided is taken: which load or switch is on which port, sizes, legs, trips, fuses.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from decimal import Decimal
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from typing import Any

from .frame import Frame
from .loads import Load
from .tables import WIRE, F, WireRow, hot
from .things import Bike, Leg, Unit

Json = dict[str, Any]
DROPS_AT_C = F(85)
"""What conductors are taken to be at, or a hotter leg's ambient. Common practice, no source."""


@dataclass(frozen=True)
class Tip:
    """What hangs on a wire at a point; `end` is a row of the table of ends, `size` its own, where it is another."""

    name: str
    point: str
    end: str = "load"
    size: str = ""


@dataclass(frozen=True)
class Wire:
    """One wire of the plan, or one circuit's wires."""

    kind: str
    name: str
    size: str
    legs: tuple[Leg, ...]
    source: str
    start: str
    """What stands at its source: a row of the ends' table."""
    tips: tuple[Tip, ...]
    row: Json = field(repr=False, compare=False)

    @property
    def copper(self) -> WireRow:
        """Return its row of the table of wire."""
        return WIRE[self.size]

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
        return any(tip.name == load.name for tip in self.tips)

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


class Plan:
    """A printed plan, as the wires that it says are to be drawn."""

    def __init__(self, bike: Bike, unit: Unit, printed: Json) -> None:
        """Take the files, and the plan as it was printed for programs."""
        self.bike, self.unit, self.printed = bike, unit, printed
        self.frame = Frame(bike)
        place = next(place for place in bike.places if place["name"] == printed["place"])
        faces = {"front": str(place["front"]), "rear": str(place["rear"])}
        self.faces = {"front": faces["rear"], "rear": faces["front"]} if printed["turned"] else faces
        self.main_fuse_a = F(printed["feed"]["main_fuse_a"])
        self.trips_a = {row["port"]: F(row["trip_a"]) for row in printed["outputs"]}
        self.circuits = {row["port"]: tuple(row["loads"]) for row in printed["outputs"]}
        self.outputs = list(self._outputs())
        self.onward = list(self._onward())
        self.inputs = list(self._inputs())
        self.fed = list(self._fed())
        self.returns = list(self._returns())
        self.boxes = list(self._boxes())
        self.box_switches = list(self._box_switches())
        self.others = list(self._others())
        feed = printed["feed"]
        self.feed = self._wire(
            "feed", "feed", feed, self.faces[unit.feed_face], "unit", [Tip("battery", bike.battery, "battery")]
        )

    @property
    def wires(self) -> list[Wire]:
        """Every wire; a multiplexer's data and supply wires are two."""
        single = [
            self.feed,
            *self.outputs,
            *self.onward,
            *self.inputs,
            *self.returns,
            *self.fed,
            *self.box_switches,
            *self.others,
        ]
        return [*single, *self.boxes, *self.boxes]

    def at_port(self, port: str) -> str:
        """Return the point that the face of a port meets."""
        return self.faces[str(self.unit.ports[port]["face"])]

    def loads_of(self, port: str) -> list[Load]:
        """Return the loads of a circuit, guests included."""
        return [self.bike.load(name) for name in self.circuits[port]]

    def _wire(self, kind: str, name: str, row: Json, source: str, start: str, tips: list[Tip]) -> Wire:
        legs = tuple(self.bike.leg(leg) for leg in row["legs"])
        size = str(Decimal(str(row["wire_mm2"])).normalize())
        return Wire(kind, name, "10" if size == "1E+1" else size, legs, source, start, tuple(tips), row)

    def _outputs(self) -> Iterator[Wire]:
        for row in self.printed["outputs"]:
            loads = self.loads_of(row["port"])
            tips = [Tip(one.name, one.stop, "relay" if one.name.endswith(" relay") else "load") for one in loads]
            tree = self._wire("output", row["port"], row, self.at_port(row["port"]), "unit", tips)
            led = {leg for tip in tips for leg, _ in tree.way(tip.point)}
            yield replace(tree, legs=tuple(leg for leg in tree.legs if leg in led))

    def _onward(self) -> Iterator[Wire]:
        """Of loads on outputs the wires on from switches of their own, along the legs that lead to both."""
        for row in self.printed["outputs"]:
            for load in (load for load in self.loads_of(row["port"]) if load.own_switch):
                tip = Tip(load.name, load.at)
                tree = self._wire("onward", row["port"], row, self.at_port(row["port"]), "unit", [tip])
                there, here = ({leg for leg, _ in tree.way(point)} for point in (load.own_switch, load.at))
                legs = tuple(leg for leg in tree.legs if leg in there ^ here)
                yield replace(tree, legs=legs, source=load.own_switch, start="load")

    def onward_of(self, wire: Wire) -> list[Wire]:
        """Return the wires on from own switches of a circuit, each as thick as its wire."""
        return [replace(one, size=wire.size) for one in self.onward if wire.kind == "output" and one.name == wire.name]

    def _switch_tips(self, names: list[str]) -> list[Tip]:
        at = {switch.name: switch.at for switch in self.bike.switches}
        return [Tip(name, at[name]) for name in names]

    def _inputs(self) -> Iterator[Wire]:
        for row in self.printed["inputs"]:
            tips = self._switch_tips(row["inputs"])
            yield self._wire("input", row["port"], row, self.at_port(row["port"]), "unit", tips)

    def _boxes(self) -> Iterator[Wire]:
        for row in self.printed["multiplexers"]:
            tip = Tip(row["name"], row["at"])
            yield self._wire("multiplexer", row["name"], row, self.at_port(row["port"]), "unit", [tip])

    def _box_switches(self) -> Iterator[Wire]:
        for box in self.printed["multiplexers"]:
            for row in box["inputs"]:
                yield self._wire("switch", row["input"], row, box["at"], "load", self._switch_tips([row["input"]]))

    def _returns(self) -> Iterator[Wire]:
        """Each with what hangs on it: loads, a bulb once; on the first of a point its switches and multiplexers too."""
        for row in self.printed["returns"]:
            loads = [self.bike.load(name) for name in row["loads"]]
            pins = dict.fromkeys(load.pin for load in loads if load.at == load.returns_at)
            tips = [self._back(pin, [load for load in loads if load.pin == pin]) for pin in pins]
            if row["number"] == 1:
                tips += [
                    Tip(name, at, size=self.bike.reels[0]) for name, at in self._switches_back() if at == row["from"]
                ]
            yield self._wire("return", row["name"], row, row["to"][0], "earth", tips)

    def _back(self, pin: str, loads: list[Load]) -> Tip:
        """Return the short wire of a load, or of a bulb, to its joint: as thick as what feeds it."""
        names = {load.name for load in loads}
        fed = [wire for wire in self.outputs if names & set(self.circuits[wire.name])]
        fed += [wire for wire in self.fed if wire.name in names]
        size = max((wire.size for wire in fed), key=F)
        return Tip(pin, loads[0].at, "relay" if pin.endswith(" relay") else "load", size)

    def _switches_back(self) -> list[tuple[str, str]]:
        """Return what hangs on the returns beside loads: earth switches, multiplexers, switches of relays' coils."""
        switches = [(switch.name, switch.at) for switch in self.bike.switches if switch.wired_back]
        boxes = [(row["name"], row["at"]) for row in self.printed["multiplexers"]]
        coils = [(load.name, load.own_switch) for load in self.bike.loads if load.fed == "relay" and load.own_switch]
        return switches + boxes + coils

    def _fed(self) -> Iterator[Wire]:
        for row in self.printed["fed"]:
            tip = Tip(row["name"], row["to"][-1])
            yield self._wire("fed", row["name"], row, self.bike.battery, "battery", [tip])

    def stretches(self, fed: Wire) -> list[Wire]:
        """Return a fed load's wire in its stretches: the shortest way to its own switch, and from there on."""
        load, row = self.bike.load(fed.name), fed.row
        by_switch = [load.own_switch] if row["by"] == "fuse" and load.own_switch else []
        stops = [self.bike.battery, *by_switch, load.at]
        found = []
        for number, (start, end) in enumerate(pairwise(stops)):
            legs = tuple(self.frame.shortest((start, end), load.avoid))
            kind = "load" if number else row["by"].replace("fuse", "battery")
            found.append(Wire("stretch", fed.name, fed.size, legs, start, kind, (Tip(fed.name, end),), row))
        return found

    def _others(self) -> Iterator[Wire]:
        kinds = {"supply": ("battery", "load"), "unit earth": ("unit", "battery"), "coil lead": ("relay", "load")}
        for row in self.printed["other_wires"]:
            start, end = kinds[row["kind"]]
            tips = [Tip(f"{row['name']} {number}", point, end) for number, point in enumerate(row["to"])]
            yield self._wire(row["kind"], row["name"], row, row["from"], start, tips)
