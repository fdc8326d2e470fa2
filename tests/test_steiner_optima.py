"""A circuit's wire is the shortest tree: three graphs as bikes, planned as users plan, against the published optimum.

Source: PACE 2018, exact track with few terminals; see ``data/steiner/README.md``.
"""

import csv
from dataclasses import dataclass
from pathlib import Path

import networkx as nx
import pytest
import yaml

from outcomes import planned
from portloom.documents.document import OutputLine

DATA = Path(__file__).parent / "data" / "steiner"
UNIT = "{unit: one-way, feed: {limit: 20 A}, outputs: [{name: out 1, limit: 2 A}]}"


@dataclass(frozen=True)
class Graph:
    """Edges with their weights, and terminals."""

    edges: tuple[tuple[str, str, int], ...]
    terminals: tuple[str, ...]


def read_graph(path: Path) -> Graph:
    """Read a graph as PACE 2018 writes it."""
    rows = [line.split() for line in path.read_text("ascii").splitlines()]
    edges = tuple((row[1], row[2], int(row[3])) for row in rows if row[:1] == ["E"])
    return Graph(edges, tuple(row[1] for row in rows if row[:1] == ["T"]))


def as_bike(graph: Graph) -> str:
    """Write a graph as a bike: edges are legs in mm, the first terminal the unit's face, the others loads."""
    face, *loads = graph.terminals
    bike = {
        "bike": "frame of the challenge",
        "supply": {"running": "14 V", "battery": {"capacity": "10 Ah", "at": face}},
        "frame": {
            "legs": [{"between": [one, other], "length": f"{weight} mm"} for one, other, weight in graph.edges],
            "earth": face,
        },
        "places": [{"name": "here", "front": face}],
        "loads": [{"name": f"load {at}", "at": at, "current": "10 mA", "share": "all"} for at in loads],
        "later": [],
    }
    return yaml.safe_dump(bike)


def published() -> list[tuple[str, int]]:
    """Return the published optimum of each graph."""
    with (DATA / "optimum.csv").open(encoding="ascii") as file:
        return [(row["file"], int(row["optimum"])) for row in csv.DictReader(file)]


def joins_all(line: OutputLine, graph: Graph) -> bool:
    """Tell whether the legs of a wire are one tree that holds every terminal."""
    tree = nx.Graph(leg.split(" - ") for leg in line.wire.legs)
    return nx.is_tree(tree) and set(graph.terminals) <= set(tree)


@pytest.mark.parametrize(("name", "optimum"), published())
def test_a_circuits_run_is_the_published_optimum(name: str, optimum: int) -> None:
    """The one circuit of the bike is as long, in mm, as the lightest tree weighs, and joins every load."""
    graph = read_graph(DATA / name)
    (line,) = planned(as_bike(graph), UNIT).outputs
    assert line.wire.run == optimum * 1000
    assert len(line.loads) == len(graph.terminals) - 1
    assert joins_all(line, graph)


def test_all_three_graphs_are_tried() -> None:
    """No graph lies unused, and the largest has ten terminals."""
    assert sorted(path.name for path in DATA.glob("*.gr")) == sorted(name for name, _ in published())
    assert max(len(read_graph(path).terminals) for path in DATA.glob("*.gr")) == 10
