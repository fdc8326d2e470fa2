"""Every column at a site: each candidate with its shortest wire, where the rules allow that (FORMULATION.md, 'Sets').

A used multiplexer takes an input; its data and supply lead there, so the way counts twice. A return is needed where
its point has none yet, once for all that stand there.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Protocol

from portloom.base.bike import Switch
from portloom.job.circuits import InputCircuit, OutputCircuit
from portloom.job.fixed_as_built import as_built
from portloom.job.fixed_wires import multiplexer_return
from portloom.job.goal import cost_of
from portloom.job.job import Job
from portloom.job.kinds import OutputKind
from portloom.job.laid import MultiplexerStand, WiredInput, WiredMultiplexer, WiredSwitch
from portloom.job.losses import Losses
from portloom.job.network import NOWHERE, Network, Run, Trees
from portloom.job.routed import RoutedTree, routed_tree
from portloom.job.site import Site
from portloom.job.wired import OutputWire, WiredOutput, not_laid
from portloom.rules.book import wired_clashes
from portloom.rules.shapes import Rule
from portloom.search.as_built import (
    change_columns,
    staying_input,
    staying_multiplexer,
    staying_output,
    staying_switch,
)
from portloom.search.candidates import Candidates
from portloom.search.columns import Column, InputColumn, MultiplexerColumn, OutputColumn, ReturnColumn, SwitchColumn
from portloom.search.fuses import fused

Families = dict[tuple[str | None, frozenset[str]], tuple[str, ...]]
"""For each share group, and what its loads avoid, the points that its circuits join."""


class Runs:
    """Shortest trees, worked out for all subsets of a group at once and kept."""

    def __init__(self, network: Network, roots: Iterable[str], families: Families | None = None) -> None:
        """Take the ``roots``, every frame point that a face of the unit, or a multiplexer, may meet.

        ``families`` are the points that are joined by circuits of one share group, where that is known.
        """
        self._network = network
        self._roots = tuple(dict.fromkeys(roots))
        self._trees: dict[tuple[frozenset[int], tuple[str, ...]], Trees] = {}
        self._known: dict[tuple[str, tuple[str, ...], frozenset[str]], Run | None] = {}
        self._families: Families = {} if families is None else families

    def over(self, network: Network) -> "Runs":
        """Return the shortest wires of the same circuits from the same roots over the frame with other legs closed."""
        return Runs(network, self._roots, self._families)

    def learn(self, circuits: Sequence[OutputCircuit]) -> None:
        """Note which points are joined by circuits of one share group, so that one table serves them all."""
        for circuit in circuits:
            key = (circuit.members[0].share, circuit.avoid)
            known = self._families.get(key, ())
            self._families[key] = tuple(dict.fromkeys((*known, *circuit.points)))

    def of_output(self, circuit: OutputCircuit, root: str, around: frozenset[str] = frozenset()) -> Run | None:
        """Return a circuit's shortest tree from ``root``, or None where no way leads to a load.

        It lies ``around`` some more legs than the circuit's own.
        """
        family = self._families[circuit.members[0].share, circuit.avoid] if len(circuit.points) > 1 else ()
        return self._tree(circuit.points, root, circuit.avoid | around, family)

    def ways_round(self, circuit: OutputCircuit, root: str, legs: frozenset[str]) -> dict[frozenset[str], Run]:
        """Return each tree that is the shortest around some of these legs, with legs for which it is.

        A tree changes only if a leg that it uses is left out (FORMULATION.md, X4).
        """
        found: dict[frozenset[str], Run] = {}
        seen: set[frozenset[str]] = {frozenset()}
        waiting: list[frozenset[str]] = [frozenset()]
        for around in waiting:
            run = self.of_output(circuit, root, around)
            if run is None:
                continue
            if run not in found.values():
                found[around] = run
            used = {self._network.legs[number].label for number in run.legs}
            for leg in sorted(legs & used):
                more = around | {leg}
                if more not in seen:
                    seen.add(more)
                    waiting.append(more)
        return found

    def of_input(self, circuit: InputCircuit, root: str) -> Run | None:
        """Return the shortest tree from ``root`` through switches."""
        return self._tree(circuit.points, root, frozenset(), circuit.points)

    def to_face(self, point: str, face: str) -> Run | None:
        """Return the shortest way from a point to one that a face of the unit meets."""
        return self._tree((point,), face, frozenset(), ())

    def _tree(self, points: tuple[str, ...], root: str, avoid: frozenset[str], family: tuple[str, ...]) -> Run | None:
        key = (root, points, avoid)
        if key not in self._known:
            self._known[key] = self._shortest(points, root, self._network.numbers_of(avoid), family)
        return self._known[key]

    def _shortest(
        self, points: tuple[str, ...], root: str, closed: frozenset[int], family: tuple[str, ...]
    ) -> Run | None:
        if len(points) < 2:
            return self._network.wire(root, points[0], closed) if points else NOWHERE
        table = (closed, family)
        if table not in self._trees:
            self._trees[table] = Trees(self._network, family, self._roots, closed)
        return self._trees[table].tree(points, root)


def columns_at(site: Site, rules: Sequence[Rule], pairs: Candidates, runs: Runs) -> tuple[Column, ...]:
    """Return each main fuse that may be needed at a site, then each candidate with its shortest wire, where allowed."""
    return (
        *fused(rules, site, tuple(allowed(rules, outputs_at(site, pairs, runs)))),
        *inputs_at(site, pairs, runs),
        *multiplexer_columns(site, pairs, runs),
        *change_columns(site),
    )


def allowed(rules: Sequence[Rule], columns: Iterable[OutputColumn]) -> Iterable[OutputColumn]:
    """Return the circuits that the rules allow with the wires that they have."""
    fitting = [rule for rule in rules if rule.wired_fit]
    return (column for column in columns if next(wired_clashes(fitting, column.wired), None) is None)


def outputs_at(site: Site, pairs: Candidates, runs: Runs) -> Iterable[OutputColumn]:
    """Return each circuit on each kind of output with its shortest wire, where one leads there; then later loads.

    Where a plan may choose around which legs a wire lies, the circuit is there once for each way.
    """
    laying = Laying(site, pairs, runs)
    for circuit, kind in pairs.outputs:
        yield from laying.all_of(circuit, kind)
    yield from later_columns(site, laying.losses, pairs)


def later_columns(site: Site, losses: Losses, pairs: Candidates) -> Iterator[OutputColumn]:
    """Return each later load on each kind of output that may take it: what is gained by having room for it."""
    for circuit, kind, later in pairs.later:
        wired = not_laid(site, losses, circuit, kind.ports[0])
        price = -cost_of(later)
        yield OutputColumn(wired, kind, price, price.total, later=later)


Led = Callable[[OutputCircuit, str, frozenset[str]], Iterable[RoutedTree]]
"""Gives the trees of a circuit from a root, around some legs or not."""


class Wires:
    """The wires of circuits from outputs, which hang on no site but by where they begin: each worked out once.

    The same serve all bikes that have the very same loads, on one frame.
    """

    def __init__(self) -> None:
        """Know none yet."""
        self._known: dict[object, tuple[OutputCircuit, tuple[OutputWire, ...]]] = {}
        """Each with its circuit, so that no other loads get the identities of those in it."""

    def along(
        self, job: Job, circuit: OutputCircuit, kind: OutputKind, root: str, around: frozenset[str], led: Led
    ) -> tuple[OutputWire, ...]:
        """Return the wires of a circuit from a root, ``around`` some legs or not, along the trees of ``led``."""
        members, guests = (tuple(map(id, loads)) for loads in (circuit.members, circuit.guests))
        key = (members, guests, kind.like, kind.ports[0].name, root, around)
        if key not in self._known:
            wires = tuple(OutputWire(job, tree, kind.ports[0]) for tree in led(circuit, root, around))
            self._known[key] = (circuit, wires)
        return self._known[key][1]


class Laying:
    """Lays circuits at one site; a tree serves all kinds of outputs that start at its root."""

    def __init__(self, site: Site, pairs: Candidates, runs: Runs, wires: Wires | None = None) -> None:
        """Take the site, the ways that wires may lie around there, the shortest wires, and wires that are known."""
        self._wires = wires or Wires()
        self._site = site
        self._ways = pairs.ways
        self._runs = runs
        self.losses = Losses(site)
        """What loads lose there outside their runs."""
        self._trees: dict[tuple[int, str], tuple[RoutedTree, ...]] = {}
        self._possible = Multiplicity(site.job)

    def all_of(self, circuit: OutputCircuit, kind: OutputKind) -> Iterator[OutputColumn]:
        """Return a circuit on a kind of output: each way that it may be laid, and as built where that may stay."""
        yield from self.columns(circuit, kind)
        yield from staying_output(self._site, self.losses, circuit, kind)

    def columns(self, circuit: OutputCircuit, kind: OutputKind) -> Iterator[OutputColumn]:
        """Return a circuit on a kind of output with its shortest wire, if any way leads there; with each way round."""
        face = self._site.face(kind.like.face)
        legs = frozenset(leg for load in circuit.loads for leg in self._ways.get(load.name, ())) - circuit.avoid
        for wire in self._wires.along(self._site.job, circuit, kind, face, legs, self._led):
            wired = WiredOutput(self._site, self.losses, wire)
            price = cost_of(wired)
            most = min(len(kind.ports), self._possible.times(circuit))
            yield OutputColumn(wired, kind, price, price.total, most)

    def _led(self, circuit: OutputCircuit, face: str, legs: frozenset[str]) -> tuple[RoutedTree, ...]:
        """Return the trees of a circuit from a face, around some of these legs or not."""
        key = (id(circuit), face)
        if key not in self._trees:
            self._trees[key] = tuple(self._laid(circuit, face, legs))
        return self._trees[key]

    def _laid(self, circuit: OutputCircuit, face: str, legs: frozenset[str]) -> Iterator[RoutedTree]:
        if not legs:
            run = self._runs.of_output(circuit, face)
            if run is not None:
                yield routed_tree(self._site, circuit, run, face)
            return
        for around, run in self._runs.ways_round(circuit, face, legs).items():
            yield routed_tree(self._site, circuit.around(around), run, face)


class Multiplicity:
    """How often each circuit can be made of the loads that there are."""

    def __init__(self, job: Job) -> None:
        """Count the loads that nothing but their names tells apart."""
        self._natures = job.alike
        self._alike = Counter(self._natures.values())
        self._times: dict[tuple[str, ...], int] = {}

    def times(self, circuit: OutputCircuit) -> int:
        """Return how often a circuit can be there."""
        key = tuple(load.name for load in circuit.members)
        if key not in self._times:
            used = Counter(self._natures[name] for name in key)
            self._times[key] = min(self._alike[own] // count for own, count in used.items())
        return self._times[key]


class InputRuns(Protocol):
    """The ways of wires from a face of the unit to inputs and multiplexers."""

    def of_input(self, circuit: InputCircuit, root: str, /) -> Run | None:
        """Return the way through switches."""

    def to_face(self, point: str, face: str, /) -> Run | None:
        """Return the way from a point to one that a face of the unit meets."""


def inputs_at(site: Site, pairs: Candidates, runs: InputRuns) -> Iterable[InputColumn]:
    """Return switches on each kind of input with their shortest wire."""
    for circuit, kind in pairs.inputs:
        yield from staying_input(site, circuit, kind)
        run = runs.of_input(circuit, site.face(kind.like.face))
        if run is not None:
            wired = WiredInput(site, circuit, run, kind.ports[0])
            price = cost_of(wired)
            yield InputColumn(wired, kind, price, price.total)


def multiplexer_columns(site: Site, pairs: Candidates, runs: InputRuns) -> Iterator[Column]:
    """Each switch on each multiplexer's way, each multiplexer on each kind of input, and the returns they need."""
    boxes = {box.name for box, _ in pairs.multiplexers}
    through = {name: [switch for switch, box in pairs.switches if box.name == name] for name in boxes}
    points: dict[str, None] = {}
    for box in site.job.bike.multiplexers:
        for at in box.at if through.get(box.name) else ():
            if not site.job.reaches_earth(at):
                continue
            points[at] = None
            yield from _switches(site, MultiplexerStand(box, at), through[box.name], runs)
            yield from _on_inputs(site, MultiplexerStand(box, at), pairs, runs)
    for point in points:
        missing = multiplexer_return(site.job, point)
        for wire in as_built(site.job.built, [] if missing is None else [missing]):
            price = cost_of(wire)
            yield ReturnColumn(wire, price, price.total)


def _switches(
    site: Site, stand: MultiplexerStand, switches: Sequence[Switch], runs: InputRuns
) -> Iterator[SwitchColumn]:
    for switch in switches:
        yield from staying_switch(site, stand, switch.name)
        run = runs.of_input(InputCircuit((switch,)), stand.at)
        if run is not None:
            wired = WiredSwitch(site, switch, run, stand)
            price = cost_of(wired)
            yield SwitchColumn(wired, price, price.total)


def _on_inputs(site: Site, stand: MultiplexerStand, pairs: Candidates, runs: InputRuns) -> Iterator[MultiplexerColumn]:
    for box, kind in pairs.multiplexers:
        if box.name == stand.multiplexer.name:
            yield from staying_multiplexer(site, stand, kind)
            run = runs.to_face(stand.at, site.face(kind.like.face))
            if run is None:
                continue
            wired = WiredMultiplexer(site, stand, run, kind.ports[0])
            price = cost_of(wired)
            yield MultiplexerColumn(wired, kind, price, price.total)
