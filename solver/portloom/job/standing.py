"""A built loom on its bike: which wires may stay, what they lead to, and where a hand can join more to them.

A new wire branches off at a splice, a connector, a load or the unit; a splice is made in a leg that does not move, so
a splice or a load where every leg moves takes no branch. The branch lies in legs and passes points in which the
circuit has no wire, in use or not, so that all its wires are one tree. It is the shortest such.
Source: common practice, no source.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cached_property

from portloom.base.bike import Bike, Switch
from portloom.base.built import BuiltEnd, BuiltFixed, BuiltInput, BuiltLoom, BuiltMultiplexer, BuiltOutput, BuiltPiece
from portloom.base.quantities import Micrometres
from portloom.base.values import dataclass
from portloom.job.circuit_wires import circuit_wires
from portloom.job.circuits import InputCircuit, OutputCircuit
from portloom.job.consumers import Consumer
from portloom.job.network import NOWHERE, Network, Run, Trees

Meets = tuple[str, str]
"""What a wire leads to: its name, and the frame point where it is."""
THERE = ("unit", "splice", "earth", "battery", "fuse", "own switch", "elsewhere")
"""What stands at the end of a wire as long as that stays; anything else may be gone."""
TREE = "the built wire"
"""Stands for every point at which a new wire may branch off."""


@dataclass(frozen=True)
class Staying:
    """The wire of a circuit of which a built part stays: the whole tree, and that part."""

    run: Run
    old: Run
    old_legs: tuple[int, ...]
    """The legs in which built wires of it stay; one in which two lie is there twice."""

    @property
    def new(self) -> Run:
        """What branches off the built part."""
        return self.run.without(self.old)


class Standing:
    """A built loom, its legs found on the bike."""

    def __init__(self, loom: BuiltLoom, bike: Bike, network: Network) -> None:
        """Take a loom that was read for this bike: it has each of its legs and points."""
        self.loom = loom
        self.bike = bike
        self.network = network
        self.outputs: dict[str, BuiltOutput] = {line.port: line for line in loom.outputs}
        self.inputs: dict[str, BuiltInput] = {line.port: line for line in loom.inputs}
        self.multiplexers: dict[str, BuiltMultiplexer] = {box.name: box for box in loom.multiplexers}
        self.fixed: dict[tuple[str, str, int], BuiltFixed] = {line.key: line for line in loom.fixed}

    def run(self, legs: Iterable[str]) -> Run:
        """Return the run along built legs."""
        numbers = sorted(number for label in legs for number in self.network.numbers_of([label]))
        return Run(Micrometres(sum(self.network.legs[number].length for number in numbers)), tuple(numbers))

    def stub_run(self, pieces: Sequence[BuiltPiece], root: str, stubs: Iterable[BuiltEnd], run: Run) -> Run:
        """Return a run with the built legs that lead on to stubs."""
        more = self.network.joining(self.whole(pieces), root, [end.point for end in stubs])
        legs = sorted({*run.legs, *more.legs})
        return Run(Micrometres(sum(self.network.legs[number].length for number in legs)), tuple(legs))

    @cached_property
    def bundle(self) -> tuple[tuple[tuple[int, ...], BuiltPiece], ...]:
        """Every wire that was cut for the loom and lies in it, in use or not, with the numbers of its legs."""
        pieces = (piece for piece in (*self.loom.pieces, *self.loom.dead) if piece.ours)
        return tuple((self.run(piece.legs).legs, piece) for piece in pieces)

    @cached_property
    def sleeved(self) -> frozenset[int]:
        """The numbers of the legs in which a built wire lies: to lay another there, the sleeve is opened."""
        alongside = (self.run(piece.legs).legs for piece in self.loom.pieces if not piece.ours)
        return frozenset(leg for legs in (*(legs for legs, _ in self.bundle), *alongside) for leg in legs)

    # --- what a circuit was built with

    def pieces(self, kind: str, port: str) -> tuple[BuiltPiece, ...]:
        """Return the pieces of the circuit of a kind on a port, or of that name where it is on none."""
        return self._pieces.get((kind, port), ())

    @cached_property
    def _pieces(self) -> dict[tuple[str, str], tuple[BuiltPiece, ...]]:
        found: dict[tuple[str, str], list[BuiltPiece]] = {}
        for piece in self.loom.pieces:
            found.setdefault((piece.kind, piece.port or piece.circuit), []).append(piece)
        return {key: tuple(pieces) for key, pieces in found.items()}

    def whole(self, pieces: Iterable[BuiltPiece]) -> Run:
        """Return the tree in which pieces lie, what leads to nothing any more among it."""
        return self.run(dict.fromkeys(leg for piece in pieces for leg in piece.legs))

    def stubs(self, pieces: Sequence[BuiltPiece], items: Iterable[Meets]) -> tuple[BuiltEnd, ...]:
        """Return where built pieces of a circuit end at what is not among its items any more."""
        left = {end for piece in pieces for end in piece.ends if end.kind not in THERE}
        known = set(items)
        ends = (end for piece in pieces for end in piece.ends if end in left and end.meets not in known)
        return tuple(dict.fromkeys(ends))

    def still_on(self, port: str, loads: Iterable[Consumer]) -> tuple[str, ...]:
        """Return the loads of those given that are built on an output, where they are still."""
        line, met = self.outputs[port], _met(self.pieces("output", port))
        return tuple(load.name for load in loads if load.name in line.loads and (load.name, load.at or "") in met)

    def switches_on(self, port: str, switches: Iterable[Switch]) -> tuple[str, ...]:
        """Return the switches of those given that are built on an input, all their ends still there."""
        line, met = self.inputs[port], _met(self.pieces("input", port))
        return tuple(s.name for s in switches if s.name in line.switches and all((s.name, at) in met for at in s.at))

    def switches_through(self, box: str, switches: Iterable[Switch]) -> tuple[str, ...]:
        """Return the switches of those given that are built on ways of a multiplexer, all their ends still there."""
        names = [way.switch for way in self.multiplexers[box].ways]
        met = _met(piece for piece in self.loom.pieces if piece.kind == "multiplexer way")
        return tuple(s.name for s in switches if s.name in names and met.issuperset(told_of(InputCircuit((s,)))))

    def ways(self, box: str) -> dict[str, int]:
        """Return the number of the way of each switch that was built on a multiplexer."""
        return {way.switch: way.way for way in self.multiplexers[box].ways}

    def way(self, box: str, switch: str) -> Run:
        """Return the built run of a switch to its multiplexer."""
        return self.run(next(way.legs for way in self.multiplexers[box].ways if way.switch == switch))

    # --- what may stay

    def output(self, port: str, circuit: OutputCircuit, root: str) -> Staying | None:
        """Return the wire of a circuit on an output, the built one with what branches off; None where it can't."""
        closed = self.network.numbers_of(circuit.avoid)
        pieces = self.pieces("output", port)
        found = self._joined(pieces, root, tuple(items_of(circuit)), closed)
        if found is None or all(load.own_switch is None for load in circuit.loads):
            return found
        built = [load for load in circuit.loads if (load.name, load.at or "") in _met(pieces)]
        wires = circuit_wires(self.network, OutputCircuit(tuple(built), ()), found.old, root)
        return replace(found, old_legs=wires.legs)

    def input(self, port: str, circuit: InputCircuit, root: str) -> Staying | None:
        """Return the same for switches on an input."""
        return self._joined(self.pieces("input", port), root, tuple(told_of(circuit)))

    def _joined(
        self,
        pieces: Sequence[BuiltPiece],
        root: str,
        items: Sequence[Meets],
        closed: frozenset[int] = frozenset(),
    ) -> Staying | None:
        met, tree = _met(pieces), self.whole(pieces)
        starts = {end.point for piece in pieces for end in piece.ends if end.kind == "unit"}
        if root not in starts or closed.intersection(tree.legs):
            return None
        old = self.network.joining(tree, root, [point for name, point in items if (name, point) in met])
        spots = self._spots(pieces, root, old)
        points = dict.fromkeys(point for name, point in items if (name, point) not in met and point not in spots)
        more = self._branches(tree, spots, tuple(points), root, closed)
        return None if more is None else Staying(old.with_(more), old, old.legs)

    def _spots(self, pieces: Sequence[BuiltPiece], root: str, tree: Run) -> frozenset[str]:
        """Return the points of a built tree at which a hand can join another wire."""
        on = self._points_of(tree, root)
        parting = on.intersection(self.bike.frame.connectors)
        ends = on.intersection(end.point for piece in pieces for end in piece.ends)
        still = {point for point in ends if any(not self.network.legs[n].moves for n in self.network.legs_at(point))}
        return frozenset({root, *parting, *still})

    def _points_of(self, tree: Run, root: str) -> set[str]:
        return {root, *(point for number in tree.legs for point in self.network.legs[number].between)}

    def _branches(
        self, tree: Run, spots: frozenset[str], points: tuple[str, ...], root: str, closed: frozenset[int]
    ) -> Run | None:
        """Return the shortest wires from any of the spots to points, beside the tree; None where no way leads there.

        All spots are one point of a network that has no other point and no leg of the tree, so a shortest tree there
        is a wood in which each tree begins at one spot.
        """
        if not points:
            return NOWHERE
        passed = self._points_of(tree, root) - spots
        if passed.intersection(points):
            return None
        numbers, legs = [], []
        for number, leg in enumerate(self.network.legs):
            one, other = (TREE if point in spots else point for point in leg.between)
            if number in closed or number in tree.legs or one == other or passed.intersection((one, other)):
                continue
            numbers.append(number)
            legs.append(leg.model_copy(update={"between": (one, other)}))
        beside = Network(legs)
        if not {TREE, *points} <= set(beside.points):
            return None
        found = Trees(beside, points, (TREE,)).tree(points, TREE)
        return None if found is None else Run(found.length, tuple(numbers[number] for number in found.legs))

    # --- wires that no port needs

    def dealing(self) -> dict[str, dict[int, frozenset[str]]]:
        """Return for each point the numbers of its built returns with their loads; those that still end at earth."""
        found: dict[str, dict[int, frozenset[str]]] = {}
        for line in self.loom.fixed:
            if line.kind == "return" and line.ends[-1] in self.bike.frame.earth:
                found.setdefault(line.name, {})[line.number] = frozenset(line.loads)
        return found


def _met(pieces: Iterable[BuiltPiece]) -> frozenset[Meets]:
    return frozenset(end.meets for piece in pieces for end in piece.ends)


def items_of(circuit: OutputCircuit) -> Iterable[Meets]:
    """Return all that the wires of a circuit lead to: loads, own switches, dashes."""
    for load in circuit.loads:
        if load.at is not None:
            yield load.name, load.at
        if load.own_switch is not None:
            yield f"own switch of {load.name}", load.own_switch
    yield from ((point.dash, point.at) for _, point in circuit.shown)


def told_of(circuit: InputCircuit) -> Iterable[Meets]:
    """Return all that the wire of an input leads to: switches, and dashes that show them."""
    for switch in circuit.switches:
        yield from ((switch.name, point) for point in switch.at)
        yield from ((point.dash, point.at) for point in switch.shown_by)
