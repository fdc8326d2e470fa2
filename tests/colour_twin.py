"""Colours by another way: the measure on a networkx graph, every choice tried, and random wires."""

import random
from collections.abc import Iterator, Mapping
from itertools import combinations, product

import networkx as nx

from portloom.base.bike import Colour, Reel
from portloom.base.sizes import parse_size
from portloom.base.wire_colours import REFERENCE, colour_difference
from portloom.colours.question import ColouredWire, Question

Bases = Mapping[str, str]
"""The base colour of each wire; the twin knows no stripes."""


def graph_of(question: Question) -> nx.Graph:
    """Return the wires, an edge between any two, with how many connectors and legs they share."""
    graph = nx.Graph()
    graph.add_nodes_from((wire.key, {"wire": wire}) for wire in question.wires)
    for one, other in combinations(question.wires, 2):
        legs = len({*one.legs}.intersection(other.legs))
        connectors = len({*one.connectors}.intersection(other.connectors))
        weight = 1 + (one.size.label == other.size.label)
        graph.add_edge(one.key, other.key, legs=legs, connectors=connectors, weight=weight)
    return graph


def confused(one: str, other: str) -> bool:
    """Tell whether two base colours are less than 18 apart."""
    return colour_difference(REFERENCE[one], REFERENCE[other]) < 18  # type: ignore[index]


def by_graph(graph: nx.Graph, bases: Bases) -> tuple[int, ...]:
    """Return the eight counts as they are stated, over the edges of the graph; no wire here has a stripe."""
    kind = {key: graph.nodes[key]["wire"].kind for key in graph}
    earths = [key for key in graph if kind[key] == "earth"]
    alike = [(a, b, d) for a, b, d in graph.edges(data=True) if confused(bases[a], bases[b])]
    live = [(a, b, d) for a, b, d in alike if "earth" not in (kind[a], kind[b])]
    mixed = [(b if kind[a] == "earth" else a, d) for a, b, d in alike if (kind[a] == "earth") != (kind[b] == "earth")]
    most = max(([bases[key] for key in earths].count(bases[earth]) for earth in earths), default=0)
    return (
        len(earths) - most,
        len({key for key, d in mixed if d["legs"] or d["connectors"]}),
        sum(d["connectors"] * d["weight"] for _, _, d in live),
        sum(d["legs"] * d["weight"] for _, _, d in live),
        len({key for key, _ in mixed}),
        sum(kind[k] == "earth" and bases[k] != "BK" for k in graph)
        + sum(kind[k] == "feed" and bases[k] != "RD" for k in graph),
        0,
        sum(bases[a] == bases[b] for a, b, _ in live),
    )


def every_choice(question: Question) -> Iterator[dict[str, str]]:
    """Return every way to choose a colour for each wire."""
    offered = [_offered(question, wire) for wire in question.wires]
    for bases in product(*offered):
        yield dict(zip((wire.key for wire in question.wires), bases, strict=True))


def _offered(question: Question, wire: ColouredWire) -> list[str]:
    if wire.fixed:
        return [wire.fixed.base]
    reel = next(reel for reel in question.reels or () if reel.size == wire.size)
    return [code for code in reel.colours if code != "GNYE"]


def random_question(dice: random.Random, wires: int, colours: int) -> Question:
    """Return made-up wires on a line of legs, with connectors between them, and reels of two sizes."""
    codes = ["BK", "RD", "BU", "YE", "GD", "GY", "SR", "WH"]
    sizes = ("1 mm2", "2.5 mm2")
    reels = tuple(Reel.model_validate({"size": size, "colours": dice.sample(codes, colours)}) for size in sizes)
    return Question(tuple(_wire(dice, number, sizes, codes) for number in range(wires)), reels)


def _wire(dice: random.Random, number: int, sizes: tuple[str, ...], codes: list[str]) -> ColouredWire:
    first, last = sorted(dice.sample(range(5), 2))
    kind = dice.choice(("earth", "earth", "feed", "other", "other", "other", "other"))
    fixed = Colour.model_validate({"base": dice.choice(codes)}) if dice.random() < 0.15 else None
    return ColouredWire(
        key=f"wire {number}",
        size=parse_size(dice.choice(sizes)),
        legs=tuple(range(first, last)),
        connectors=tuple(f"joint {at}" for at in range(first, last) if at % 2),
        kind=kind,  # type: ignore[arg-type]
        fixed=fixed,
    )
