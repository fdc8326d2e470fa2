"""The checker's own count of what a plan changes of a built loom, from what the old plan said and how the new one lies.

It asks nothing of what the search goes by: which built wires stay, which circuits are touched and which legs opened is
found from names, legs and sizes alone; and each wire that branches off a built one is followed to where it does.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from portloom.base.bike import Switch
from portloom.base.built import BuiltLoom, BuiltPiece
from portloom.base.parts.loads import BRAKE_LAMP, ENGINE_CONTROLLER, IGNITION_BOX, IGNITION_COIL, STARTER_SOLENOID
from portloom.job.assignment import Assignment, OnMultiplexer
from portloom.job.circuits import OutputCircuit
from portloom.job.fixed import conductor_of
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.network import Run
from portloom.job.wired import WiredOutput
from portloom.rules.clash import Clash
from portloom.rules.faults import not_wired

Legs = tuple[int, ...]
PARTS = tuple(part.name for part in (BRAKE_LAMP, IGNITION_COIL, IGNITION_BOX, ENGINE_CONTROLLER, STARTER_SOLENOID))
TOLD = ("key", "engine stop", "side stand", "fallen", "front brake", "rear brake", "neutral", "clutch")


def change_clashes(laid: Laid, plan: Assignment) -> Iterator[Clash]:
    """Return where a plan says that it changes something else of a built loom than is counted here."""
    job = laid.site.job
    if job.built is None:
        return
    count = _Count(laid, plan, job.built.loom)
    change = plan.change
    said = None if change is None else (len(change.mattering), len(change.others), frozenset(change.opened))
    counted = (count.touched(mattering=True), count.touched(mattering=False), count.opened())
    if said != counted:
        yield Clash("goal", "as built", f"the plan says that it changes {said}, counted again it is {counted}")
    yield from count.faults


class _Count:
    """What is touched, opened and laid anew."""

    def __init__(self, laid: Laid, plan: Assignment, loom: BuiltLoom) -> None:
        self._laid, self._plan, self._loom = laid, plan, loom
        self._job: Job = laid.site.job
        self.faults: list[Clash] = []
        self._matter = _important(self._job)
        self._legs = {leg.label: number for number, leg in enumerate(self._job.network.legs)}
        self._touched: list[bool] = []
        """For each circuit that is touched, whether it matters."""
        self._new: set[int] = set()
        """The legs in which anything is laid anew."""
        self._outputs()
        self._inputs()
        self._boxes()
        self._fixed()

    def touched(self, *, mattering: bool) -> int:
        """Return how many circuits are touched, those that matter or the others."""
        return self._touched.count(mattering)

    def opened(self) -> frozenset[str]:
        """Return the legs with a new wire beside a built one."""
        lying = (*self._loom.pieces, *self._loom.dead)
        return frozenset(name for piece in lying for name in piece.legs if self._legs[name] in self._new)

    # --- where built wires lead

    def _numbers(self, names: Iterable[str]) -> Legs:
        return tuple(sorted(self._legs[name] for name in names))

    def _ends(self, *kinds: str, port: str = "") -> set[tuple[str, str]]:
        own = (piece for piece in self._loom.pieces if piece.kind in kinds and piece.port == port)
        return {(end.name, end.point) for piece in own for end in piece.ends}

    def _lying(self, kind: str, port: str) -> set[str]:
        own = (piece for piece in self._loom.pieces if piece.kind == kind and piece.port == port)
        return {leg for piece in own for leg in piece.legs}

    def _needed(self, legs: Legs, root: str, points: Iterable[str]) -> Legs:
        """Return the legs of a tree that join its root to some points: leaves that are none are cut off."""
        wanted, left = {root, *points}, list(legs)
        while True:
            met = Counter(point for number in left for point in self._job.network.legs[number].between)
            bare = [n for n in left if any(met[p] == 1 and p not in wanted for p in self._job.network.legs[n].between)]
            if not bare:
                return tuple(left)
            left = [number for number in left if number not in bare]

    # --- circuits on ports

    def _outputs(self) -> None:
        now = {line.port: (line, wired) for line, wired in zip(self._plan.outputs, self._laid.outputs, strict=True)}
        there = {load.name: load for load in (*self._job.loads.on_unit, *self._job.loads.guests)}
        stay = set()
        for built in self._loom.outputs:
            ends = self._ends("output", port=built.port)
            left = {name for name in built.loads if name in there and (name, there[name].at) in ends}
            line, wired = now.get(built.port, (None, None))
            kept = line is not None and left <= set(line.loads) and line.staying is not None
            if left and not kept:
                self._touched.append(bool(left & self._matter))
            if line is not None and wired is not None and kept:
                stay.add(built.port)
                old = self._old(ends, self._lying("output", built.port), _items(wired.circuit), wired.tree.root)
                self._same(built.port, old, line.staying.old if line.staying else None)
                self._sized(built.port, line.size == built.size)
                self._branches("output", built.port, old, line.run, wired.tree.root)
                self._new.update(self._beside(wired.legs, old, wired, ends))
        for line, wired in zip(self._plan.outputs, self._laid.outputs, strict=True):
            if line.port not in stay:
                self._same(line.port, (), line.staying.old if line.staying else None)
                self._new.update(wired.legs)

    def _old(
        self,
        ends: set[tuple[str, str]],
        built: Iterable[str],
        items: Iterable[tuple[str, str]],
        root: str,
    ) -> Legs:
        """Return the legs of a built tree that still lead to something of a circuit."""
        met = [point for name, point in items if (name, point) in ends]
        return self._needed(self._numbers(built), root, met)

    def _beside(self, legs: Legs, old: Legs, wired: WiredOutput, ends: set[tuple[str, str]]) -> Iterator[int]:
        """Return the legs of new wires; of a load whose own switch is built, the wire on from it is built too."""
        left = Counter(legs) - Counter(old)
        for wire in wired.tree.wires.onward:
            load = wire.load
            if (load.name, load.at) in ends:
                both = Counter(wire.run.legs)
                left -= both & left
        yield from left

    def _inputs(self) -> None:
        now = {line.port: line for line in self._plan.inputs}
        there = {switch.name: switch for switch in self._job.inputs}
        stay = set()
        for built in self._loom.inputs:
            ends = self._ends("input", port=built.port)
            left = {n for n in built.switches if n in there and all((n, at) in ends for at in there[n].at)}
            line = now.get(built.port)
            kept = line is not None and left <= set(line.switches) and line.old is not None
            if left and not kept:
                self._touched.append(bool(left & self._matter))
            if line is not None and kept:
                stay.add(built.port)
                root = self._laid.site.face(next(p.face for p in self._job.unit.inputs if p.name == line.port))
                items = [item for name in line.switches for item in _told(there[name])]
                old = self._old(ends, self._lying("input", built.port), items, root)
                self._same(built.port, old, line.old)
                self._branches("input", built.port, old, line.run, root)
                self._new.update(set(line.run.legs) - set(old))
        for line in self._plan.inputs:
            if line.port not in stay:
                self._same(line.port, (), line.old)
                self._new.update(line.run.legs)

    def _boxes(self) -> None:
        now = {box.name: box for box in self._plan.multiplexers}
        there = {switch.name: switch for switch in self._job.inputs}
        ends = self._ends("multiplexer way")
        for built in self._loom.multiplexers:
            names = [way.switch for way in built.ways]
            left = {n for n in names if n in there and set(_told(there[n])) <= ends}
            box = now.get(built.name)
            kept = box is not None and (box.at, box.port) == (built.at, built.port) and box.old is not None
            kept = kept and box is not None and left <= {way.switch for way in box.ways if way.old is not None}
            if left and not kept:
                self._touched.append(bool(left & self._matter))
            if box is not None and kept:
                self._same(box.name, self._numbers(built.legs), box.old)
                for way in box.ways:
                    legs = next((self._numbers(w.legs) for w in built.ways if w.switch == way.switch), ())
                    self._same(way.switch, legs if way.old is not None else (), way.old)
                    self._new.update(() if way.old is not None else way.run.legs)
            elif box is not None:
                self._fresh(box)
        known = {built.name for built in self._loom.multiplexers}
        for box in self._plan.multiplexers:
            if box.name not in known:
                self._fresh(box)

    def _fresh(self, box: OnMultiplexer) -> None:
        self._same(box.name, (), box.old)
        self._new.update(box.run.legs)
        for way in box.ways:
            self._same(way.switch, (), way.old)
            self._new.update(way.run.legs)

    # --- wires of no port

    def _fixed(self) -> None:
        built = {line.key: line for line in self._loom.fixed}
        for wire in self._laid.site.fixed_wires:
            if wire.kind == "alongside":
                continue
            line, size = built.get(wire.key), conductor_of(self._laid.site, wire).size
            same = line is not None and Counter(wire.run.legs) == Counter(self._numbers(line.legs))
            same = same and line is not None and set(line.ends) == set(wire.ends)
            same = same and line is not None and (size == line.size or not wire.run.length)
            if line is not None and not same:
                self._touched.append(self._matters(wire.kind, wire.name, wire.number, line.loads))
            if not same:
                self._new.update(wire.run.legs)

    def _matters(self, kind: str, name: str, number: int, loads: Sequence[str]) -> bool:
        names = {name, *loads, *(load.name for load in self._job.loads.wired if load.back == (name, number))}
        if kind == "return" and number == 1:
            names |= {s.name for s in self._job.wired_inputs if s.earthed_by_wire and name in s.at}
        return kind == "feed" or bool(names & self._matter)

    # --- what a plan claims of a built wire

    def _same(self, name: str, counted: Legs, said: Run | None) -> None:
        if sorted(counted) != sorted(said.legs if said is not None else ()):
            self.faults.append(not_wired(name, f"{name}: what stays of its wire is not what was built"))

    def _sized(self, name: str, same: bool) -> None:  # noqa: FBT001 - what was asked
        if not same:
            self.faults.append(not_wired(name, f"{name}: a built wire has another size"))

    def _branches(self, kind: str, port: str, old: Legs, run: Run, root: str) -> None:
        """Each new part of a tree meets the built one at one point, where a hand can join it."""
        network, pieces = self._job.network, [p for p in self._loom.pieces if p.kind == kind and p.port == port]
        on = {root, *(point for number in old for point in network.legs[number].between)}
        spots = {point for point in on if self._joins(point, pieces)} | {root}
        left = [number for number in run.legs if number not in old]
        while left:
            part, points = [left[0]], set(network.legs[left[0]].between)
            grown = True
            while grown:
                more = [n for n in left if n not in part and (points - on) & set(network.legs[n].between)]
                grown = bool(more)
                part += more
                points.update(point for number in more for point in network.legs[number].between)
            met = points & on
            if len(met) != 1 or not met <= spots:
                self.faults.append(not_wired(port, f"{port}: a new wire joins the built one where no hand can"))
            left = [number for number in left if number not in part]

    def _joins(self, point: str, pieces: Sequence[BuiltPiece]) -> bool:
        """Tell whether a wire can be joined at a point: a connector; or where a wire ends, and a leg does not move."""
        if point in self._job.bike.frame.connectors:
            return True
        still = any(not leg.moves for leg in self._job.network.legs if point in leg.between)
        return still and any(end.point == point for piece in pieces for end in piece.ends)


def _items(circuit: OutputCircuit) -> Iterator[tuple[str, str]]:
    for load in circuit.loads:
        yield load.name, load.at or ""
        if load.own_switch:
            yield f"own switch of {load.name}", load.own_switch
    yield from ((dash.dash, dash.at) for load in circuit.loads for dash in load.shown_by)


def _told(switch: Switch) -> Iterator[tuple[str, str]]:
    yield from ((switch.name, at) for at in switch.at)
    yield from ((dash.dash, dash.at) for dash in switch.shown_by)


def _important(job: Job) -> set[str]:
    """Return what brake, ignition, engine stop and start hang on."""
    loads = {load.name for load in job.loads.wired if load.part in PARTS}
    telling = {s.name for s in job.bike.inputs if set(s.tells) & set(TOLD)}
    return loads | telling | {s.name for s in job.bike.inputs if loads & set(s.operates)}
