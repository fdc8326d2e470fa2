"""A circuit's wire as a tree from the unit's face: what flows in each stretch, and to which load."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from portloom.base.drop import AmpereMetres, ampere_metres, conductor_temperature
from portloom.base.quantities import MilliAmps
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
    """An output circuit's wire from one face: its run, and the path to each of its points."""

    circuit: OutputCircuit
    run: Run
    root: str
    paths: dict[str, PathTo]


def currents_at(circuit: OutputCircuit, draws: Draws = steady) -> dict[str, MilliAmps]:
    """Return what a circuit draws at each of its points, each load the current that ``draws`` gives."""
    return {
        point: MilliAmps(sum(draws(load) for load in circuit.loads if load.at == point)) for point in circuit.points
    }


def routed_tree(site: Site, circuit: OutputCircuit, run: Run, root: str) -> RoutedTree:
    """Lay a circuit along ``run`` from ``root``; raise DisconnectedRoute where its legs do not join face and loads."""
    return RoutedTree(circuit, run, root, circuit_paths(site.job, circuit, run, root, steady))


def circuit_paths(job: Job, circuit: OutputCircuit, run: Run, root: str, draws: Draws) -> dict[str, PathTo]:
    """Return the path to each point of a circuit, all its loads on, each with the current that ``draws`` gives.

    Raises DisconnectedRoute as paths does.
    """
    currents = currents_at(circuit, draws)
    return paths(job.network, run, root, currents, job.bike.frame.connectors, tails_at(circuit))


def tails_at(circuit: OutputCircuit) -> Counter[str]:
    """Count the tails that hang on a circuit's wire at each point: of its loads, and of the dashes that show them."""
    tails = Counter(load.at for load in circuit.loads if load.at is not None)
    tails.update(point.at for _, point in circuit.shown)
    return tails


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
    missing = [point for point in currents if point not in parents and point != root]
    if missing:
        raise DisconnectedRoute(f"its legs do not reach {missing[0]}")
    beyond = _beyond(parents, currents)
    beyond[root] = MilliAmps(sum(currents.values()))
    parting, spliced = frozenset(connectors), _spliced(parents, tails)
    return {point: _path(network, point, root, parents, beyond, parting, spliced) for point in currents}


def _spliced(parents: "_Parents", tails: Mapping[str, int]) -> frozenset[str]:
    """Return the points where one wire comes in and two or more lead on or end: three or more meet there."""
    onward = Counter(towards for _, towards in parents.values())
    onward.update(tails)
    return frozenset(point for point, count in onward.items() if count > 1)


def flows(network: Network, run: Run, root: str, currents: Mapping[str, MilliAmps]) -> dict[int, MilliAmps]:
    """Return what flows in each leg of ``run`` with ``currents`` drawn at its points.

    Raises DisconnectedRoute as paths does.
    """
    parents = _parents(network, run, root)
    beyond = _beyond(parents, currents)
    return {number: beyond[point] for point, (number, _) in parents.items()}


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
