"""Shortest trees of wire, exact and for all sets of points at once, beside networkx's approximate ones, one by one.

Run on demand: ``python -m tests.bench.trees``. Frames are those of large random bikes; all sets of up to so many of a
dozen points are joined to one root. The approximations are Mehlhorn's and that of Kou, Markowsky and Berman, as
networkx has them. That a tree of theirs is never shorter is checked.
"""

import random
from collections.abc import Iterator
from itertools import chain, combinations

import networkx as nx
from networkx.algorithms.approximation import steiner_tree

from portloom.job.network import Network, Trees

from .big_bikes import EVERY_SIZE, SIZES, Size, big_bike, typed
from .processes import processor
from .rows import PROCESSOR, Extent, Row, alone

SEEDS = range(3)
POINTS, MOST = 8, 4
METHODS = ("mehlhorn", "kou")


def joined(seed: int, size: Size, method: str) -> tuple[float, float]:
    """Return the exact trees' time and length, each beside those of an approximation.

    Raises RuntimeError where an approximate tree is shorter.
    """
    legs = typed(*big_bike(seed, size))[0].frame.legs
    names = Network(legs).points
    root, *ends = random.Random(seed).sample(names, min(POINTS + 1, len(names)))
    sets = [list(some) for some in chain.from_iterable(combinations(ends, count) for count in range(1, MOST + 1))]

    def exact() -> list[int]:
        trees = Trees(Network(legs), ends, [root])
        return [tree.length for some in sets if (tree := trees.tree(some, root)) is not None]

    def approximate() -> list[int]:
        graph = nx.Graph()
        for leg in legs:
            one, other = leg.between
            if not graph.has_edge(one, other) or graph[one][other]["weight"] > leg.length:
                graph.add_edge(one, other, weight=leg.length)
        return [int(steiner_tree(graph, [root, *some], method=method).size("weight")) for some in sets]

    (mine, seconds), (theirs, their_seconds) = processor(exact), processor(approximate)
    if len(mine) != len(theirs) or any(one > other for one, other in zip(mine, theirs, strict=True)):
        raise RuntimeError(f"big bike {seed}: an approximate tree is shorter than the shortest")
    return seconds / their_seconds, sum(theirs) / sum(mine)


def measured(extent: Extent) -> Iterator[Row]:
    """Return time and length for each size and approximation, for comparison."""
    for name in extent.of_sizes(SIZES):
        for method in METHODS:
            found = [joined(seed, EVERY_SIZE[name], method) for seed in extent.of_seeds(SEEDS)]
            times, lengths = (tuple(each) for each in zip(*found, strict=True))
            theirs = f"networkx's approximate ones, {method}"
            longer = f"theirs are {100 * (max(lengths) - 1):.1f} % longer at most"
            yield Row(f"{name}: shortest trees, all sets", theirs, PROCESSOR, times, remarks=longer)


if __name__ == "__main__":
    alone(measured, "trees")
