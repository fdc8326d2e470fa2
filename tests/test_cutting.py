"""A tree cut into pieces, on random trees that are made up: nothing is lost, nothing is cut twice, all hangs together.

Judged by networkx.
"""

from collections import Counter

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portloom.base.bike import Leg
from portloom.base.quantities import Micrometres, MilliAmps
from portloom.documents.wiring.cutting import Cutting, Piece, RunEnd, RunFork, in_order, length
from portloom.documents.wiring.wire import WireEnd
from portloom.job.network import Network, Run
from portloom.job.routed import DisconnectedRoute

SOME = settings(max_examples=150, deadline=None, derandomize=True, database=None)
SOURCE = WireEnd("unit", "out 1", "p0")


def network(parents: list[int]) -> Network:
    """Return a tree of legs: the point after each parent hangs on it."""
    pairs = [(f"p{parent % number}", f"p{number}") for number, parent in enumerate(parents, 1)]
    legs = [
        Leg.model_validate({"between": pair, "length": f"{100 + number} mm"}) for number, pair in enumerate(pairs[::-1])
    ]
    return Network(legs)


def tree(frame: Network, points: list[str]) -> Run:
    """Return the legs that join the source to some points, by networkx."""
    graph = nx.Graph()
    graph.add_node("p0")
    for number, leg in enumerate(frame.legs):
        graph.add_edge(*leg.between, number=number)
    used = set()
    for point in points:
        used |= {graph.edges[pair]["number"] for pair in nx.utils.pairwise(nx.shortest_path(graph, "p0", point))}
    legs = tuple(sorted(used))
    return Run(length(frame, legs), legs)


def cut(parents: list[int], loads: list[int], connectors: list[int]) -> tuple[Network, Run, list[RunEnd], list[Piece]]:
    """Cut the tree that joins loads at some points; each load draws 1 A."""
    frame = network(parents)
    points = [f"p{load % (len(parents) + 1)}" for load in loads]
    tips = [RunEnd(WireEnd("load", f"load {n}", point, "+"), MilliAmps(1000)) for n, point in enumerate(points)]
    run = tree(frame, points)
    parting = [f"p{number}" for number in connectors]
    return frame, run, tips, list(Cutting(frame, run, SOURCE, tips, parting).pieces())


PARENTS, LOADS = (
    st.lists(st.integers(0, 50), min_size=1, max_size=14),
    st.lists(st.integers(0, 50), min_size=1, max_size=9),
)
CONNECTORS = st.lists(st.integers(0, 14), max_size=5, unique=True)


@given(parents=PARENTS, loads=LOADS, connectors=CONNECTORS)
@SOME
def test_each_leg_is_covered_once(parents: list[int], loads: list[int], connectors: list[int]) -> None:
    """The pieces together have every leg of the tree once, and its length."""
    frame, run, _, pieces = cut(parents, loads, connectors)
    assert Counter(leg for piece in pieces for leg in piece.legs) == Counter(run.legs)
    assert sum(length(frame, piece.legs) for piece in pieces) == run.length


@given(parents=PARENTS, loads=LOADS, connectors=CONNECTORS)
@SOME
def test_the_pieces_join_the_source_to_every_load(parents: list[int], loads: list[int], connectors: list[int]) -> None:
    """They are a tree whose ends are the source and the loads; at every splice three pieces or more meet."""
    *_, tips, pieces = cut(parents, loads, connectors)
    graph = nx.Graph([(piece.start, piece.end) for piece in pieces])
    assert nx.is_tree(graph)
    assert graph.number_of_edges() == len(pieces)
    assert {node for node in graph if not isinstance(node, RunFork)} == {SOURCE, *(tip.end for tip in tips)}
    assert all(graph.degree(node) >= 3 for node in graph if isinstance(node, RunFork))
    assert all(graph.degree(node) == 1 for node in graph if not isinstance(node, RunFork))


@given(parents=PARENTS, loads=LOADS, connectors=CONNECTORS)
@SOME
def test_a_piece_carries_what_hangs_on_it(parents: list[int], loads: list[int], connectors: list[int]) -> None:
    """Without the piece, so many loads of 1 A are cut off from the source."""
    *_, pieces = cut(parents, loads, connectors)
    graph = nx.Graph([(piece.start, piece.end) for piece in pieces])
    for piece in pieces:
        without = graph.copy()
        without.remove_edge(piece.start, piece.end)
        cut_off = [node for node in nx.node_connected_component(without, piece.end) if isinstance(node, WireEnd)]
        assert piece.current == 1000 * len(cut_off)


@given(parents=PARENTS, loads=LOADS, connectors=CONNECTORS)
@SOME
def test_no_load_passes_more_connectors_than_the_plan_counts(
    parents: list[int], loads: list[int], connectors: list[int]
) -> None:
    """On its way to a load a current passes each connector strictly between, once, and no other."""
    frame, _, tips, pieces = cut(parents, loads, connectors)
    graph = nx.Graph()
    for piece in pieces:
        graph.add_edge(piece.start, piece.end, parted=piece.parted)
    frame_graph = nx.Graph([leg.between for leg in frame.legs])
    for tip in tips:
        way = nx.utils.pairwise(nx.shortest_path(graph, SOURCE, tip.end))
        passed = [point for pair in way for point in graph.edges[pair]["parted"]]
        between = nx.shortest_path(frame_graph, "p0", tip.end.point)[1:-1]
        assert passed == [point for point in between if int(point[1:]) in connectors]


@pytest.mark.parametrize(("loads", "ways"), [([2, 3], 1), ([1, 2, 3], 2), ([1, 2], 1)])
def test_a_fork_at_a_connector_takes_few_ways(loads: list[int], ways: int) -> None:
    """One for all that lies beyond it, or one for each leg on where a load sits there, before the connector."""
    *_, pieces = cut([0, 1, 1], loads, [1])
    assert sum(len(piece.parted) for piece in pieces) == ways


def test_a_ring_is_refused() -> None:
    """Legs that close a ring are no wire."""
    legs = [{"between": pair, "length": "1 m"} for pair in (("a", "b"), ("b", "c"), ("c", "a"))]
    ring = Network([Leg.model_validate(leg) for leg in legs])
    with pytest.raises(DisconnectedRoute):
        in_order(ring, Run(Micrometres(3_000_000), (0, 1, 2)), "a")


def test_a_leg_to_nowhere_is_refused() -> None:
    """A leg at whose end nothing is connected is no part of a wire."""
    frame = network([0, 1])
    tip = RunEnd(WireEnd("load", "lamp", "p1", "+"))
    cutting = Cutting(frame, Run(Micrometres(0), (0, 1)), SOURCE, (tip,), ())
    with pytest.raises(DisconnectedRoute):
        list(cutting.pieces())
