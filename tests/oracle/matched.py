"""Loads that the bike's file wants on outputs alike: one limit, and one list of trips, on every output that holds one.

Loads past the unit are on no output, nor are those that others feed.
"""

from collections.abc import Iterable, Iterator
from itertools import combinations

from .circuits import Circuit
from .things import Bike, Load, Output

Driven = tuple[Circuit, Output]


def sets_on_outputs(bike: Bike) -> Iterator[tuple[tuple[str, ...], tuple[Load, ...]]]:
    """Return each set with those of its loads that need an output, where they are two at least."""
    for names in bike.alike:
        there = tuple(load for load in bike.loads if load.name in names and load.on_unit)
        if len(there) > 1:
            yield names, there


def matched(bike: Bike, driven: Iterable[Driven]) -> bool:
    """Tell whether every output that holds a load of a set is as every other that does."""
    outputs = list(driven)
    return all(len({_like(port) for held, port in outputs if held.names & set(names)}) < 2 for names in bike.alike)


def apart(bike: Bike, columns: Iterable[tuple[int, Circuit, Output]]) -> Iterator[tuple[int, int]]:
    """Return each two of some columns, by number, that can't both be chosen."""
    every = list(columns)
    for names, _ in sets_on_outputs(bike):
        held = [(number, _like(port)) for number, circuit, port in every if circuit.names & set(names)]
        yield from ((one, other) for (one, here), (other, there) in combinations(held, 2) if here != there)


def _like(port: Output) -> tuple[int, frozenset[int]]:
    return port.limit_ma, frozenset(port.trips_ma)
