"""Hall's theorem checked with networkx: a crowd is more things than the ports that take them, and one fewer fits.

Sources: Hall (1935), 'On representatives of subsets', doi:10.1112/jlms/s1-10.37.26; the matching is
``networkx.bipartite.maximum_matching`` (Hopcroft and Karp 1973, doi:10.1137/0202019).
"""

from collections.abc import Collection, Iterable, Mapping, Sequence

import networkx as nx

Takes = Mapping[str, Collection[str]]
"""For each thing the ports that take it."""


def most_seated(things: Iterable[str], takes: Takes) -> int:
    """Return how many of some things have a port of their own at most, by networkx."""
    graph = nx.Graph()
    own = [("thing", thing) for thing in things]
    graph.add_nodes_from(own)
    graph.add_edges_from((("thing", thing), ("port", port)) for _, thing in own for port in takes[thing])
    return len(nx.bipartite.maximum_matching(graph, top_nodes=own)) // 2


def assert_crowd(things: Sequence[str], ports: Collection[str], takes: Takes) -> None:
    """Hall: they go on these ports only, which are one too few, and fit if any one of them is left out."""
    assert set(ports) == {port for thing in things for port in takes[thing]}
    assert len(things) == len(ports) + 1
    for thing in things:
        assert most_seated([other for other in things if other != thing], takes) == len(things) - 1
