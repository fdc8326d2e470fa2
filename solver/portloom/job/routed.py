"""A circuit's wire as a tree from the unit's face: what flows in each stretch, and to which load."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from portloom.base.drop import AmpereMetres, ampere_metres, conductor_temperature
from portloom.base.quantities import MilliAmps
from portloom.job.circuits import OutputCircuit
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


@dataclass(frozen=True)
class RoutedTree:
    """An output circuit's wire from one face: its run, and the path to each of its points."""

    circuit: OutputCircuit
    run: Run
    root: str
    paths: dict[str, PathTo]


def currents_at(circuit: OutputCircuit) -> dict[str, MilliAmps]:
    """Return what a circuit draws at each of its points."""
    return {
        point: MilliAmps(sum(load.current for load in circuit.loads if load.at == point)) for point in circuit.points
    }


def routed_tree(site: Site, circuit: OutputCircuit, run: Run, root: str) -> RoutedTree:
    """Lay a circuit along ``run`` from ``root``; raise DisconnectedRoute where its legs do not join face and loads."""
    connectors = site.job.bike.frame.connectors
    return RoutedTree(circuit, run, root, paths(site.job.network, run, root, currents_at(circuit), connectors))


def paths(
    network: Network, run: Run, root: str, currents: Mapping[str, MilliAmps], connectors: Iterable[str]
) -> dict[str, PathTo]:
    """Return the path to each point of ``currents`` (what is drawn there) along the legs of ``run``.

    Raises DisconnectedRoute where the legs are no tree that joins the root to every point.
    """
    parents = _parents(network, run, root)
    missing = [point for point in currents if point not in parents and point != root]
    if missing:
        raise DisconnectedRoute(f"its legs do not reach {missing[0]}")
    beyond = _beyond(parents, currents)
    parting = frozenset(connectors)
    return {point: _path(network, point, root, parents, beyond, parting) for point in currents}


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
) -> PathTo:
    total = alone = parted = passed = 0
    at = point
    while at != root:
        number, towards = parents[at]
        leg = network.legs[number]
        one = ampere_metres(ONE, leg.length, conductor_temperature(leg.ambient))
        total, alone = total + beyond[at] * one, alone + one
        if at != point and at in connectors:
            parted, passed = parted + beyond[at], passed + 1
        at = towards
    return PathTo(AmpereMetres(total), MilliAmps(parted), AmpereMetres(alone), passed)
