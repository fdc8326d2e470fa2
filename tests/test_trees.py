"""Shortest wires and trees, against networkx and against every set of legs of small random frames.

The frames are made up; the references are networkx's Dijkstra and Kruskal, and plain enumeration.
"""

import random
from collections.abc import Iterable, Sequence
from itertools import chain, combinations

import networkx as nx
import pytest

from portloom.base.bike import Leg
from portloom.base.quantities import Micrometres
from portloom.job.network import Network, Run, Trees
from slices import each_seed, on_seeds

EACH_SEED = on_seeds(range(12), range(12, 50))
MIXED, FEW, EQUAL = (110, 130, 170, 190, 230, 290), (100, 200, 300), (250,)
LENGTHS = pytest.mark.parametrize("lengths", [MIXED, FEW, EQUAL], ids=["mixed", "a few", "all equal"])
NONE_CLOSED = frozenset[int]()


def random_legs(dice: random.Random, lengths: Sequence[int], points: int, more: int) -> tuple[Leg, ...]:
    """Return the legs of a frame in one piece; ``more`` of them are not needed to hold it together."""
    names = [f"p{number}" for number in range(points)]
    pairs = [[dice.choice(names[:number]), name] for number, name in enumerate(names) if number]
    pairs += [dice.sample(names, 2) for _ in range(more)]
    dice.shuffle(pairs)
    return tuple(
        Leg.model_validate({"name": f"leg {number}", "between": pair, "length": f"{dice.choice(lengths)} mm"})
        for number, pair in enumerate(pairs)
    )


def by_trying(legs: Sequence[Leg], points: Iterable[str], closed: frozenset[int]) -> Run | None:
    """Return the shortest set of open legs that joins the points; of equally short ones the first as a list."""
    numbers = [number for number in range(len(legs)) if number not in closed]
    tries = chain.from_iterable(combinations(numbers, size) for size in range(len(numbers) + 1))
    joining = [(sum(legs[n].length for n in held), held) for held in tries if joined(legs, held, set(points))]
    length, held = min(joining, default=(0, None))
    return None if held is None else Run(Micrometres(length), held)


def joined(legs: Sequence[Leg], held: Iterable[int], points: set[str]) -> bool:
    """Tell whether legs lead from any of the points to all the others."""
    graph = nx.MultiGraph()
    graph.add_nodes_from(points)
    graph.add_edges_from(legs[number].between for number in held)
    return bool(points <= nx.node_connected_component(graph, min(points)))


def as_graph(legs: Iterable[Leg], closed: frozenset[int] = NONE_CLOSED) -> nx.MultiGraph:
    """Return the frame as networkx knows it; lengths in micrometres."""
    graph = nx.MultiGraph()
    for number, leg in enumerate(legs):
        graph.add_nodes_from(leg.between)
        if number not in closed:
            graph.add_edge(*leg.between, weight=leg.length)
    return graph


@LENGTHS
@EACH_SEED
def test_trees_are_the_first_of_the_shortest(lengths: Sequence[int], seeds: range) -> None:
    """A tree is, of all sets of legs that join its points, the shortest, and of those the first as a sorted list."""
    for seed in seeds:
        dice = random.Random(seed)
        legs = random_legs(dice, lengths, points=6, more=4)
        root, *points = dice.sample(Network(legs).points, dice.randint(2, 5))
        tree = Trees(Network(legs), points, [root]).tree(points, root)
        assert tree == by_trying(legs, [root, *points], NONE_CLOSED), seed


@LENGTHS
@EACH_SEED
def test_trees_keep_off_closed_legs(lengths: Sequence[int], seeds: range) -> None:
    """A tree that avoids legs is the first of the shortest without them; there is none where none is left."""
    cut_off = 0
    for seed in seeds:
        dice = random.Random(seed)
        legs = random_legs(dice, lengths, points=6, more=4)
        closed = frozenset(dice.sample(range(len(legs)), 3))
        root, *points = dice.sample(Network(legs).points, 4)
        wanted = by_trying(legs, [root, *points], closed)
        assert Trees(Network(legs), points, [root], closed).tree(points, root) == wanted, seed
        cut_off += wanted is None
    assert 0 < cut_off < len(seeds)


@LENGTHS
@EACH_SEED
def test_one_table_serves_every_subset_and_every_root(lengths: Sequence[int], seeds: range) -> None:
    """A tree through some of a table's points is what a table of those points alone gives."""
    for seed in seeds:
        dice = random.Random(seed)
        network = Network(random_legs(dice, lengths, points=9, more=5))
        roots, points = network.points[:2], dice.sample(network.points, 5)
        table = Trees(network, points, roots)
        for root in roots:
            some = dice.sample(points, dice.randint(1, 5))
            assert table.tree(some, root) == Trees(network, some, [root]).tree(some, root), seed


def test_no_points_need_no_wire() -> None:
    """A tree through its root alone, or through nothing, has no length and no legs."""
    network = Network(random_legs(random.Random(1), MIXED, points=5, more=2))
    root = network.points[0]
    table = Trees(network, [root], [root])
    assert table.tree([root], root) == table.tree([], root) == Run(Micrometres(0), ())


@EACH_SEED
def test_wires_are_as_long_as_dijkstra_says(seeds: range) -> None:
    """A wire between any two points is as long as networkx's shortest path, closed legs left out."""
    for seed in seeds:
        dice = random.Random(seed)
        legs = random_legs(dice, FEW, points=12, more=9)
        closed = frozenset(dice.sample(range(len(legs)), dice.randint(0, 6)))
        network, graph = Network(legs), as_graph(legs, closed)
        for start, reached in nx.all_pairs_dijkstra_path_length(graph):
            runs = {end: network.wire(start, end, closed) for end in network.points}
            assert {end: run.length for end, run in runs.items() if run} == reached, (seed, start)


@LENGTHS
@EACH_SEED
def test_wires_are_the_first_of_the_shortest(lengths: Sequence[int], seeds: range) -> None:
    """Of equally short wires the one whose sorted leg numbers come first as a list is laid."""
    for seed in seeds:
        dice = random.Random(seed)
        legs = random_legs(dice, lengths, points=6, more=4)
        start, end = dice.sample(Network(legs).points, 2)
        assert Network(legs).wire(start, end) == by_trying(legs, [start, end], NONE_CLOSED), seed


def test_a_tie_is_settled_by_the_whole_list_not_by_how_many_legs() -> None:
    """Legs 1 and 4 (the second and the fifth of the file) are taken before legs 2 and 3, equally long."""
    pairs = [("a", "z"), ("a", "b"), ("a", "c"), ("c", "d"), ("b", "d")]
    lengths = [900, 200, 200, 200, 200]
    legs = [
        Leg.model_validate({"between": pair, "length": f"{length} mm"})
        for pair, length in zip(pairs, lengths, strict=True)
    ]
    assert Network(legs).wire("a", "d") == Run(Micrometres(400_000), (1, 4))


def test_the_nearest_end_of_equally_near_ones_is_the_first() -> None:
    """A return goes to the nearest earth point; of equally near ones to the first that is named."""
    pairs = (("a", "b", 300), ("b", "c", 200), ("b", "d", 200), ("d", "e", 100))
    network = Network(Leg.model_validate({"between": p[:2], "length": f"{p[2]} mm"}) for p in pairs)
    assert network.nearest("b", ["a", "d", "c"])[0] == "d"
    assert network.nearest("b", ["a", "c", "d"])[0] == "c"
    assert network.nearest("e", ["c", "a"])[1].length == 500_000


@each_seed([0], range(1, 4))
def test_a_group_of_twelve(seed: int) -> None:
    """Twelve loads and a face on a frame of 19 points: the shortest tree is the least spanning tree of some points.

    Source: the reference is networkx's Kruskal over every choice of points where the tree may part.
    """
    dice = random.Random(seed)
    legs = random_legs(dice, MIXED, points=19, more=14)
    root, *points = dice.sample(Network(legs).points, 13)
    tree = Trees(Network(legs), points, [root]).tree(points, root)
    assert tree is not None
    assert tree.length == least_over_choices(as_graph(legs), [root, *points])
    assert joined(legs, tree.legs, {root, *points})


def least_over_choices(graph: nx.MultiGraph, wanted: Sequence[str]) -> int:
    """Return the least spanning tree over the wanted points and any choice of the others."""
    others = [point for point in graph if point not in wanted]
    choices = chain.from_iterable(combinations(others, size) for size in range(len(others) + 1))
    parts = (graph.subgraph([*wanted, *extra]) for extra in choices)
    return min(int(nx.minimum_spanning_tree(part).size("weight")) for part in parts if nx.is_connected(part))
