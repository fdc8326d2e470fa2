"""A circuit's wires along its tree from the unit's face: what flows in each stretch, and to which load."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace
from types import MappingProxyType

from portloom.base.drop import AmpereMetres, ampere_metres, conductor_temperature
from portloom.base.quantities import MilliAmps
from portloom.base.values import dataclass
from portloom.job.circuit_wires import CircuitWires, circuit_wires
from portloom.job.circuits import OutputCircuit
from portloom.job.flow import Draws, steady
from portloom.job.job import Job
from portloom.job.network import Network, Run
from portloom.job.site import Site

ONE = MilliAmps(1)


class DisconnectedRoute(ValueError):
    """The legs of a wire do not join its ends, or close a ring."""


@dataclass(frozen=True)
class PathTo:
    """The way to one point: the sum of its moments, and the current through connectors on the way."""

    moment: AmpereMetres
    through_connectors: MilliAmps
    """Summed over the connectors strictly between face and point."""
    moment_of_one: AmpereMetres
    """What the moment would be of 1 mA that flows to the point alone."""
    connectors: int
    """How many connectors lie strictly between face and point."""
    through_splices: MilliAmps = MilliAmps(0)
    """What enters each splice on the way, summed: one where three or more of the circuit's wires meet."""


@dataclass(frozen=True)
class RoutedTree:
    """An output circuit's tree from one face, the wires that lie along it, and the path to each load, by its name."""

    circuit: OutputCircuit
    run: Run
    root: str
    wires: CircuitWires
    paths: dict[str, PathTo]


def currents_at(circuit: OutputCircuit, draws: Draws) -> dict[str, MilliAmps]:
    """Return what an output's wire gives off at each of its points, each load the current that ``draws`` gives."""
    return {
        point: MilliAmps(sum(draws(load) for load in circuit.loads if load.fed_at == point))
        for point in dict.fromkeys(circuit.tips)
    }


def routed_tree(site: Site, circuit: OutputCircuit, run: Run, root: str) -> RoutedTree:
    """Lay a circuit along ``run`` from ``root``; raise DisconnectedRoute where its legs do not join face and loads."""
    network = site.job.network
    wires = circuit_wires(network, circuit, run, root)
    if wires.onward:
        _all_reached(circuit.points, _parents(network, run, root), root)
    return RoutedTree(circuit, run, root, wires, circuit_paths(site.job, circuit, wires, root, steady))


def circuit_paths(job: Job, circuit: OutputCircuit, wires: CircuitWires, root: str, draws: Draws) -> dict[str, PathTo]:
    """Return the path to each load of a circuit, by its name, all on, each with the current that ``draws`` gives.

    Raises DisconnectedRoute as paths does.
    """
    connectors, tips = job.bike.frame.connectors, Counter(circuit.tips)
    there = paths(job.network, wires.first, root, currents_at(circuit, draws), connectors, tips)
    onward = {wire.load.name: (wire.run, draws(wire.load)) for wire in wires.onward}
    return {
        load.name: _further(job, there[load.fed_at], *onward[load.name]) if load.name in onward else there[load.fed_at]
        for load in circuit.loads
        if load.fed_at is not None
    }


def _further(job: Job, path: PathTo, run: Run, current: MilliAmps) -> PathTo:
    """Return a path that goes on from a load's own switch, by a wire that carries what the load draws."""
    one, more = job.network.moment_of_one(run), job.network.inside(run).intersection(job.bike.frame.connectors)
    return replace(
        path,
        moment=AmpereMetres(path.moment + current * one),
        through_connectors=MilliAmps(path.through_connectors + len(more) * current),
        moment_of_one=AmpereMetres(path.moment_of_one + one),
        connectors=path.connectors + len(more),
    )


def paths(
    network: Network,
    run: Run,
    root: str,
    currents: Mapping[str, MilliAmps],
    connectors: Iterable[str],
    tails: Mapping[str, int] = MappingProxyType({}),
) -> dict[str, PathTo]:
    """Return the path to each point of ``currents`` (what is drawn there) along the legs of ``run``.

    ``tails`` says how many wires of loads end at a point. Raises DisconnectedRoute where the legs are no tree that
    joins the root to every point.
    """
    parents = _parents(network, run, root)
    _all_reached(currents, parents, root)
    beyond = _beyond(parents, currents)
    beyond[root] = MilliAmps(sum(currents.values()))
    parting, spliced = frozenset(connectors), _spliced(parents, tails)
    return {point: _path(network, point, root, parents, beyond, parting, spliced) for point in currents}


def _all_reached(points: Iterable[str], parents: "_Parents", root: str) -> None:
    missing = [point for point in points if point not in parents and point != root]
    if missing:
        raise DisconnectedRoute(f"its legs do not reach {missing[0]}")


def _spliced(parents: "_Parents", tails: Mapping[str, int]) -> frozenset[str]:
    """Return the points where one wire comes in and two or more lead on or end: three or more meet there."""
    onward = Counter(towards for _, towards in parents.values())
    onward.update(tails)
    return frozenset(point for point, count in onward.items() if count > 1)


def flows(network: Network, tree: RoutedTree) -> dict[int, tuple[MilliAmps, ...]]:
    """Return what flows in each wire of a circuit that lies in a leg, by the leg's number; all its loads are on.

    Raises DisconnectedRoute as paths does.
    """
    parents = _parents(network, tree.wires.first, tree.root)
    beyond = _beyond(parents, currents_at(tree.circuit, steady))
    found: dict[int, tuple[MilliAmps, ...]] = {number: (beyond[point],) for point, (number, _) in parents.items()}
    for wire in tree.wires.onward:
        found |= {leg: (*found.get(leg, ()), wire.load.current) for leg in wire.run.legs}
    return found


_Parents = dict[str, tuple[int, str]]
"""For each point its leg towards the root, and the point at that leg's other end; root first."""


def _parents(network: Network, run: Run, root: str) -> _Parents:
    ends: dict[str, list[tuple[int, str]]] = {}
    for number in run.legs:
        one, other = network.legs[number].between
        ends.setdefault(one, []).append((number, other))
        ends.setdefault(other, []).append((number, one))
    parents: _Parents = {}
    queue = [root]
    for point in queue:
        for number, other in ends.get(point, ()):
            if other != root and other not in parents:
                parents[other] = (number, point)
                queue.append(other)
    if len(parents) != len(run.legs):
        raise DisconnectedRoute("its legs close a ring or lie apart")
    return parents


def _beyond(parents: _Parents, currents: Mapping[str, MilliAmps]) -> dict[str, MilliAmps]:
    """Return the current in the leg that leads to each point: what is drawn there and beyond."""
    flows = {point: MilliAmps(currents.get(point, 0)) for point in parents}
    for point in reversed(parents):
        _, towards = parents[point]
        if towards in flows:
            flows[towards] = MilliAmps(flows[towards] + flows[point])
    return flows


def _path(
    network: Network,
    point: str,
    root: str,
    parents: _Parents,
    beyond: Mapping[str, MilliAmps],
    connectors: frozenset[str],
    spliced: frozenset[str],
) -> PathTo:
    total = alone = parted = passed = 0
    entering = beyond[root] if root in spliced else 0
    at = point
    while at != root:
        number, towards = parents[at]
        leg = network.legs[number]
        one = ampere_metres(ONE, leg.length, conductor_temperature(leg.ambient))
        total, alone = total + beyond[at] * one, alone + one
        if at != point and at in connectors:
            parted, passed = parted + beyond[at], passed + 1
        if at in spliced:
            entering += beyond[at]
        at = towards
    return PathTo(AmpereMetres(total), MilliAmps(parted), AmpereMetres(alone), passed, MilliAmps(entering))
