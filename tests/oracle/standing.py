"""A loom that is built, planned again by trying every choice; no solver, and nothing of the program's own choice.

From the text: place and turn stay. Each circuit on a port is kept (built legs, the built size alone) or set anew (one
touch); so is each return, and the feed. A load or switch that is new joins a kept circuit by a wire that branches off
at a splice, a connector, a load or the unit, where some leg does not move unless it is a connector or the unit; it
lies in no leg and passes no point of the circuit's. Built wires stay in the looms. Least is, in this order: circuits
touched of brake, ignition, engine stop and start, feed and returns among them; others touched; legs with built wires in
which a new one is laid; what new wire and spare ports cost.

Wires to loads fed past the unit stay where legs and size do. Bikes have no multiplexers, no dashes and no switches of a
load's own here.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import combinations, product
from typing import Any

from .brute import _best_later, seatings
from .catalogue import Wire
from .circuits import Circuit, circuit, may_join, may_share
from .drive import Column, Drive, Shape
from .electrics import input_fits, trip_ma
from .frame import Frame, Run
from .guards import may_be_on
from .job import Job, Laid
from .judge import Plan, links_kept, room_kept, totals_kept
from .profiles import read_unit
from .reading import on_unit, read_bike
from .returns import Dealt, Joint, Key, pins, points
from .site import Site
from .sizing import LOADED_MA, Able, Feed, settled
from .things import Bike, InPort, Load, Output, Switch, Unit

Order = tuple[int, int, int, int]
"""Touched that matters, other touched, legs opened, cost (um)."""
MATTERING = {"brake lamp", "ignition coil", "ignition box", "engine controller", "starter solenoid"}
TELLING = {"key", "engine stop", "side stand", "fallen", "front brake", "rear brake", "neutral", "clutch"}
Json = dict[str, Any]


def least(bike_text: str, unit_text: str, built: Json) -> Order | None:
    """Take the texts of a bike as it is now and its unit, and the printed plan it was built by; None: nothing fits."""
    loom = Loom(read_bike(bike_text), built)
    job = BuiltJob(loom, read_unit(unit_text))
    place = next(place for place in job.bike.places if place.name == built["place"])
    best: Order | None = None
    for fuse in job.fuses_ma:
        site = BuiltSite(job, place, turned=built["turned"], fuse_ma=fuse)
        if site.sound:
            found = Search(site).best(best)
            best = found if best is None or (found is not None and found < best) else best
    return best


class Loom:
    """What was built, in legs by number and wires of the catalogue."""

    def __init__(self, bike: Bike, built: Json) -> None:
        """Take the bike and the printed plan."""
        self.bike, self.built = bike, built
        self.number = {leg.name: leg.number for leg in bike.legs}
        self.pieces = [piece for piece in built["wires"] if piece["kind"] != "alongside"]
        self.sleeved = {self.number[leg] for piece in built["wires"] for leg in piece["legs"]}
        self.returns: dict[Key, Json] = {
            (one["from"], one["number"] - 1): one for one in built["returns"] if one["kind"] == "return"
        }

    def wire(self, text: str) -> Wire:
        """Return a wire of the catalogue by its size."""
        wire = self.bike.stock.wire(text)
        return next((reel for reel in self.bike.reels if reel.area == wire.area), wire)

    def run(self, legs: Sequence[str]) -> Run:
        """Return the legs by their numbers."""
        return frozenset(self.number[leg] for leg in legs)

    def lying(self) -> list[Laid]:
        """Return every wire that was built."""
        return [Laid(self.wire(one["size"]).diameter_um, self.run(one["legs"])) for one in self.pieces]

    def of(self, kind: str, port: str) -> list[Json]:
        """Return the pieces of a circuit on a port."""
        return [one for one in self.pieces if one["kind"] == kind and one["port"] == port]

    def met(self, kind: str, port: str) -> set[tuple[str, str]]:
        """Return what these lead to: names with their points."""
        return {(end["name"], end["at"]) for one in self.of(kind, port) for end in (one["from"], one["to"])}


class BuiltJob(Job):
    """A job in which built returns keep their loads, and new loads are dealt after them."""

    def __init__(self, loom: Loom, unit: Unit) -> None:
        """Take the loom and the unit."""
        self.loom = loom
        super().__init__(loom.bike, unit)

    def _deal(self) -> dict[Key, Dealt]:
        made: dict[Key, Dealt] = {}
        for point in points(self.bike):
            filled: dict[int, list[Load]] = {n: [] for at, n in self.loom.returns if at == point}
            waiting = []
            for pin in pins(self.bike, point):
                names = {load.name for load in pin}
                mine = [
                    n for at, n in self.loom.returns if at == point and names & {*self.loom.returns[at, n]["loads"]}
                ]
                if mine:
                    filled[mine[0]] += pin
                else:
                    waiting.append(pin)
            built = set(filled)
            for pin in waiting:
                last = max(filled, default=0)
                there = filled.get(last, [])
                if (there or last in built) and not self._one_serves((point, last), [*there, *pin]):
                    last += 1
                filled.setdefault(last, []).extend(pin)
            switched = any(switch.earthed and point in switch.points for switch in self.bike.wired_switches)
            for number, loads in (filled or {0: []}).items():
                if loads or (number == 0 and switched):
                    made[point, number] = Dealt(
                        point, number, self._earth(point, number), frozenset(load.name for load in loads)
                    )
        return made

    def _earth(self, point: str, number: int) -> str:
        built = self.loom.returns.get((point, number))
        return self.nearest_earth(point) if built is None else built["to"][0]

    def _one_serves(self, key: Key, loads: Sequence[Load]) -> bool:
        built = self.loom.returns.get(key)
        if built is None:
            return super()._one_serves(key, loads)
        run, most = self.loom.run(built["legs"]), self._most_ma(loads, frozenset())
        return not run or self._serves(self.loom.wire(built["wire"]), run, most)

    def _joint(self, one: Dealt) -> Joint:
        found, built = super()._joint(one), self.loom.returns.get(one.key)
        if built is None:
            return found
        size = self.loom.wire(built["wire"])
        return replace(found, sizes=tuple(wire for wire in found.sizes if wire.area >= size.area))


class BuiltSite(Site):
    """A site whose feed is no thinner than it was built."""

    @cached_property
    def feed(self) -> Feed | None:
        """The feed from the built size up."""
        own: Feed | None = Site.feed.func(self)  # type: ignore[attr-defined]  # what a cached property has
        loom: Loom = self.job.loom  # type: ignore[attr-defined]
        size = loom.wire(loom.built["feed"]["wire"])
        return None if own is None else replace(own, sizes=tuple(w for w in own.sizes if w.area >= size.area))

    def kept_drive(self, held: Circuit, output: Output, tree: Run, root: str) -> Drive | None:
        """Return a circuit along a built tree with what branches off, in the built size alone; None where refused."""
        like = self._drive(held, output) if self._way(held, root) is not None else None
        if like is None:
            return None
        loom: Loom = self.job.loom  # type: ignore[attr-defined]
        size = loom.wire(next(line["wire"] for line in loom.built["outputs"] if line["port"] == output.name))
        shape = Shape(self.job, held, tree, root)
        drive = Drive(held, output, like.trip_ma, shape, shape.loaded(LOADED_MA), (size,), self._serves)
        return drive if drive.thinnest is not None and self._cranks(drive) else None


@dataclass(frozen=True)
class Choice:
    """A circuit or switches on a port, kept or anew: the built port that is kept, its new legs, its cost."""

    kept: str
    column: Column
    new: Run
    cost_um: int


@dataclass(frozen=True)
class Anew:
    """What of the wires that no port needs is touched, what it costs (um), where it lies anew."""

    first: int
    others: int
    cost_um: int
    new: Run
    wires: list[Laid]


class Search:
    """Every choice at one site."""

    def __init__(self, site: BuiltSite) -> None:
        """Take the site."""
        self.site, self.job, self.bike = site, site.job, site.bike
        self.loom: Loom = site.job.loom  # type: ignore[attr-defined]
        named = {load.name for load in self.bike.loads if load.part in MATTERING or load.counts_as in MATTERING}
        told = {s.name for s in self.bike.switches if s.tells & TELLING or s.operates & named}
        self.matter = named | told
        self._choices: dict[Any, list[Choice]] = {}
        self.loads = {load.name: load for load in self.bike.loads}
        self.switches = {switch.name: switch for switch in self.bike.switches}
        self.left_out = {line["port"]: self._left(line["port"], line["loads"]) for line in self.loom.built["outputs"]}
        self.left_in = {line["port"]: self._told(line["port"], line["inputs"]) for line in self.loom.built["inputs"]}

    def _left(self, port: str, names: Sequence[str]) -> frozenset[str]:
        met = self.loom.met("output", port)
        there = [n for n in names if n in self.loads and self.loads[n].fed == "unit"]
        return frozenset(name for name in there if (name, self.loads[name].at) in met)

    def _told(self, port: str, names: Sequence[str]) -> frozenset[str]:
        met = self.loom.met("input", port)
        there = [name for name in names if name in self.switches]
        return frozenset(n for n in there if all((n, at) in met for at in self.switches[n].points))

    # --- the wire of a kept circuit

    def kept_tree(self, kind: str, port: str, root: str, items: set[tuple[str, str]], avoid: frozenset[str]) -> Any:
        """Return the built legs that still lead to something, and those that branch off; None where that can't be."""
        pieces, met = self.loom.of(kind, port), self.loom.met(kind, port)
        whole = self.loom.run([leg for one in pieces for leg in one["legs"]])
        names = {self.bike.legs[number].name for number in whole}
        if names & avoid or not any(
            e["kind"] == "unit" and e["at"] == root for p in pieces for e in (p["from"], p["to"])
        ):
            return None
        paths = self.job.frame.paths_in(whole, root)
        old: Run = frozenset(leg for name, at in items if (name, at) in met for leg in paths[at])
        here = {root, *(end for number in old for end in self.bike.legs[number].ends)}
        there = {root, *(end for number in whole for end in self.bike.legs[number].ends)}
        still = {end for leg in self.bike.legs if leg.name not in self.moving for end in leg.ends}
        ends = {end["at"] for one in pieces for end in (one["from"], one["to"])}
        spots = {point for point in here if point == root or point in self.bike.connectors or point in ends & still}
        wanted = {at for name, at in items if (name, at) not in met} - spots
        if not wanted:
            return old, frozenset()
        if wanted & there:
            return None
        shut = set(avoid)
        legs = []
        for leg in self.bike.legs:
            one, other = ("*" if end in spots else end for end in leg.ends)
            if leg.number in whole or one == other or {one, other} & (there - spots):
                shut.add(leg.name)
            legs.append(replace(leg, ends=(one, other)))
        frame = Frame(legs, frozenset(shut))
        more = frame.tree(frozenset({"*", *wanted}))
        return None if more is None else (old, more)

    @property
    def moving(self) -> set[str]:
        """The names of the legs that move."""
        return {one["leg"] for one in self.loom.built["legs"] if one["moves"]}

    # --- what may be on a port

    def outputs_on(self, held: Circuit, output: Output) -> Iterator[Choice]:
        """Return a circuit on an output anew, and kept where it may be."""
        fresh = self.site.output_column(held, output)
        if fresh is not None and fresh.drive is not None:
            yield Choice("", fresh, fresh.drive.shape.tree, fresh.cost_um)
        left = self.left_out.get(output.name, frozenset())
        if not left or not left <= {load.name for load in held.members}:
            return
        root = self.site.faces[output.face]
        avoid = frozenset().union(*(load.avoid for load in held.members))
        found = self.kept_tree("output", output.name, root, {(load.name, load.at) for load in held.members}, avoid)
        if found is None or not may_be_on(self.bike, held.loads, output.name):
            return
        drive = self.site.kept_drive(held, output, found[0] | found[1], root)
        if drive is None or drive.thinnest is None:
            return
        loss = self.bike.ampere_um * (output.limit_ma - held.steady_ma)
        spare = loss / 1000 + self.bike.ability_um * len(output.abilities - held.loads[0].modes)
        assert spare == int(spare)
        column = Column(0, drive.laid(drive.thinnest), held.steady_ma, drive)
        yield Choice(output.name, column, found[1], self.job.frame.length_um(found[1]) + int(spare))

    def inputs_on(self, held: tuple[Switch, ...], port: InPort) -> Iterator[Choice]:
        """Return switches on an input anew, and kept where they may be."""
        fresh = self.site.input_column(held, port)
        if fresh is None:
            return
        yield Choice("", fresh, fresh.wires[0].run, fresh.cost_um)
        left = self.left_in.get(port.name, frozenset())
        if left and left <= {switch.name for switch in held}:
            items = {(switch.name, point) for switch in held for point in switch.points}
            found = self.kept_tree("input", port.name, self.site.faces[port.face], items, frozenset())
            if found is not None:
                column = Column(0, (Laid(self.job.thin.diameter_um, found[0] | found[1]),), 0, None)
                yield Choice(port.name, column, found[1], self.job.frame.length_um(found[1]))

    # --- the whole

    def best(self, known: Order | None) -> Order | None:
        """Return the least order of all choices here, no more than a known one; None where there is no plan."""
        best = known
        inputs = sorted(self._inputs(), key=lambda half: half[0])
        if not inputs:
            return best
        for touched, outputs, choices in sorted(self._outputs(), key=lambda half: half[0]):
            least = touched[0] + inputs[0][0][0], touched[1] + inputs[0][0][1]
            if best is not None and least > best[:2]:
                continue
            if not totals_kept(self.site, Plan(outputs, (), ())):
                continue
            drives = tuple(choice.column.drive for choice in choices if choice.column.drive is not None)
            sized = settled(self.site.looms, drives)
            if sized is None:
                continue
            for more, switches, told in inputs:
                found = self._order(outputs, choices, sized, (more, switches, told), touched)
                if found is not None and (best is None or found < best):
                    best = found
        return best

    def _order(self, outputs: Any, choices: Any, sized: Any, half: Any, touched: tuple[int, int]) -> Order | None:
        more, switches, told = half
        site = self.site
        first, others = touched[0] + more[0], touched[1] + more[1]
        wires: list[Laid] = []
        cost = sum(choice.cost_um for choice in (*choices, *told))
        new: set[int] = set().union(*(choice.new for choice in (*choices, *told)))
        for choice, (drive, sizes) in zip(choices, sized.drives, strict=True):
            wires += [Laid(sizes[0].diameter_um, choice.new)] if choice.kept else list(drive.laid(sizes[0]))
        wires += [Laid(self.job.thin.diameter_um, choice.new) for choice in told]
        always = self._always(sized)
        first, others, cost = first + always.first, others + always.others, cost + always.cost_um
        new, wires = new | always.new, [*wires, *always.wires]
        plan = Plan(outputs, switches, ())
        if not links_kept(site, plan):
            return None
        beside = [
            Laid(one.diameter_um, self.job.path(one.start, one.end))
            for one in self.bike.alongside
            for _ in range(one.count)
        ]
        if not room_kept(site, [*self.loom.lying(), *beside, *wires]):
            return None
        later = _best_later(site, outputs)
        placed = {one.load.name for one, _ in later}
        cost += sum(one.worth_um for one in self.bike.later if one.load.name not in placed)
        return first, others, len(new & self.loom.sleeved), cost

    def _always(self, sized: Able) -> "Anew":
        """Return what feed, fed loads and returns change."""
        first, others, cost, new, wires = 0, 0, 0, set[int](), list[Laid]()
        site, frame = self.site, self.job.frame
        feed, sizes = sized.feeds[0]
        if sizes[0] != self.loom.wire(self.loom.built["feed"]["wire"]):
            first, new = first + 1, new | feed.run
            cost += site.supply.length_um
            wires.append(Laid(sizes[0].diameter_um, feed.run))
        for joint, own in sized.joints:
            if not joint.run:  # at an earth point each thing has a short wire of its own
                continue
            built = self.loom.returns.get(joint.key)
            same = built is not None and own[0] == self.loom.wire(built["wire"])
            if not same:
                cost, new = cost + frame.length_um(joint.run), new | joint.run
                wires.append(Laid(own[0].diameter_um, joint.run))
            if built is not None and not same:
                at = {s.name for s in self.bike.wired_switches if s.earthed and joint.key[0] in s.points}
                names = {*joint.names, *built["loads"], *(at if joint.key[1] == 0 else ())}
                first, others = (first + 1, others) if names & self.matter else (first, others + 1)
        for fed, own in sized.fed:
            built = next((one for one in self.loom.built["fed"] if one["name"] == fed.load.name), None)
            run: Run = frozenset().union(*(wire.run for wire in fed.wires))
            if built is not None and (own[0], run) == (self.loom.wire(built["wire"]), self.loom.run(built["legs"])):
                continue
            cost, new = cost + sum(frame.length_um(wire.run) for wire in fed.wires), new | run
            wires += [Laid(own[0].diameter_um, wire.run) for wire in fed.wires]
            if built is not None:
                first, others = (first + 1, others) if fed.load.name in self.matter else (first, others + 1)
        return Anew(first, others, cost, frozenset(new), wires)

    def _touched(self, left: dict[str, frozenset[str]], choices: Sequence[Choice]) -> tuple[int, int]:
        kept = {choice.kept for choice in choices}
        gone = [names for port, names in left.items() if names and port not in kept]
        first = sum(bool(names & self.matter) for names in gone)
        return first, len(gone) - first

    def _outputs(self) -> Iterator[Any]:
        loads = on_unit(self.bike)
        shared = {frozenset((a, b)) for a, b in combinations(loads, 2) if may_share(self.bike, a, b)}
        usable = {(a, o) for a in loads for o in self.site.unit.outputs if trip_ma(circuit(self.bike, [a]), o)}
        for seating in seatings(
            loads, self.site.unit.outputs, lambda a, o: (a, o) in usable, lambda a, b: frozenset((a, b)) in shared
        ):
            outputs = tuple((circuit(self.bike, held), output) for held, output in seating)
            for choices in product(*(tuple(self._known(held, output)) for held, output in outputs)):
                yield self._touched(self.left_out, choices), outputs, choices

    def _known(self, held: Circuit, output: Output) -> list[Choice]:
        key = (tuple(load.name for load in held.loads), output.name)
        if key not in self._choices:
            self._choices[key] = list(self.outputs_on(held, output))
        return self._choices[key]

    def _inputs(self) -> Iterator[Any]:
        switches = list(self.bike.switches)
        kept: dict[Any, Any] = {}
        for seating in seatings(switches, self.site.unit.inputs, input_fits, may_join):
            seated = tuple((tuple(held), port) for held, port in seating)
            for choices in product(*(tuple(self.inputs_on(held, port)) for held, port in seated)):
                touched = self._touched(self.left_in, choices)
                follow = {output.follow for output in self.site.unit.outputs}
                runs = str(sorted(sorted(choice.new) for choice in choices))
                on = frozenset((held, port.name) for held, port in seated if port.name in follow)
                kept.setdefault((touched, runs, on), (touched, seated, choices))
        return iter(kept.values())
