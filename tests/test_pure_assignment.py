"""Loads that share nothing, each on an output of its own: the assignment problem, against scipy.

The bikes are random; lengths of wires come from networkx, the assignment from
``scipy.optimize.linear_sum_assignment`` (Crouse 2016, doi:10.1109/TAES.2016.140952), and the cost of
each load on each output is worked out here.
"""

import random
from dataclasses import dataclass
from math import inf

import networkx as nx
import numpy as np
import yaml
from scipy.optimize import linear_sum_assignment

from outcomes import fits, planned
from slices import on_seeds

POINTS = tuple(f"point {number}" for number in range(9))
TRIPS = (1, 2, 3, 5, 8, 12, 20)
AMPERE, ABILITY = 70, 130
"""What a spare ampere and a spare ability cost, mm."""
SHORTEST_FEED = 300
"""What a shorter feed counts as, mm: the fuse holder and its two pieces of wire (common practice, no source)."""
MODES = ("steady", "flash", "hold")


@dataclass(frozen=True)
class Load:
    """A load: its point, its current in mA, its switch mode."""

    at: str
    current: int
    mode: str


@dataclass(frozen=True)
class Output:
    """An output: its limit in A, its switch modes, its face."""

    limit: int
    modes: tuple[str, ...]
    face: str


@dataclass(frozen=True)
class Draft:
    """A random bike and unit; one load a point, the unit's faces at two points."""

    legs: tuple[tuple[str, str, int], ...]
    loads: tuple[Load, ...]
    outputs: tuple[Output, ...]
    faces: dict[str, str]
    battery: str
    earth: str


def draft(seed: int) -> Draft:
    """Throw a bike with four to nine loads, and up to two outputs more than loads."""
    dice = random.Random(seed)
    tree = [(dice.choice(POINTS[:number]), point) for number, point in enumerate(POINTS) if number]
    chords = [pair for pair in (tuple(dice.sample(POINTS, 2)) for _ in range(3)) if not {pair, pair[::-1]} & set(tree)]
    legs = tuple((one, other, dice.randint(80, 900)) for one, other in dict.fromkeys(map(tuple, tree + chords[:1])))
    count = dice.randint(4, 9)
    loads = tuple(
        Load(at, dice.choice([300, 850, 1600, 2400, 4000]), dice.choice(MODES)) for at in dice.sample(POINTS, count)
    )
    outputs = tuple(_output(dice) for _ in range(count + dice.randint(0, 2)))
    faces = {"front": dice.choice(POINTS), "rear": dice.choice(POINTS)}
    return Draft(legs, loads, outputs, faces, dice.choice(POINTS), dice.choice(POINTS))


def _output(dice: random.Random) -> Output:
    modes = dice.sample(MODES, dice.randint(1, 3))
    return Output(dice.choice([3, 5, 8, 12]), tuple(modes), dice.choice(["front", "rear"]))


def bike_text(made: Draft) -> str:
    """Write the bike."""
    return yaml.safe_dump(
        {
            "bike": "one load a point",
            "supply": {"running": "14 V", "battery": {"capacity": "10 Ah", "at": made.battery}},
            "frame": {
                "legs": [{"between": [one, other], "length": f"{mm} mm"} for one, other, mm in made.legs],
                "earth": made.earth,
            },
            "places": [{"name": "here", **made.faces}],
            "loads": [
                {"name": f"load {n}", "at": load.at, "current": f"{load.current} mA", "mode": load.mode}
                for n, load in enumerate(made.loads)
            ],
            "later": [],
            "reels": ["10 mm2"],
            "weights": {"ampere": f"{AMPERE} mm", "ability": f"{ABILITY} mm"},
        }
    )


def unit_text(made: Draft) -> str:
    """Write the unit."""
    return yaml.safe_dump(
        {
            "unit": "many-way",
            "feed": {"limit": "64 A"},
            "outputs": [
                {
                    "name": f"out {n}",
                    "limit": f"{output.limit} A",
                    "peak": "200 A",
                    "trip": [f"{trip} A" for trip in TRIPS],
                    "switch_modes": list(output.modes),
                    "face": output.face,
                }
                for n, output in enumerate(made.outputs)
            ],
        }
    )


def distances(made: Draft) -> dict[str, dict[str, int]]:
    """Return the length (mm) of the shortest wire between any two points."""
    graph = nx.Graph()
    graph.add_weighted_edges_from(made.legs)
    return dict(nx.all_pairs_dijkstra_path_length(graph))


def cost_mm(made: Draft, load: Load, output: Output, far: dict[str, dict[str, int]]) -> float:
    """Return what a load on an output costs: its wire, the amperes and the abilities left; infinite if it can't go."""
    trips = [trip for trip in TRIPS if trip <= output.limit and 1000 * trip >= 1.25 * load.current]
    if load.mode not in output.modes or not trips:
        return inf
    spare = AMPERE * (1000 * output.limit - load.current) / 1000
    return far[made.faces[output.face]][load.at] + spare + ABILITY * (len(output.modes) - 1)


def best_mm(made: Draft) -> float | None:
    """Return the cost of the best plan: feed, returns, and the cheapest assignment; None if there is none."""
    far = distances(made)
    costs = np.array([[cost_mm(made, load, output, far) for output in made.outputs] for load in made.loads])
    try:
        rows, columns = linear_sum_assignment(costs)
    except ValueError:
        return None
    feed = max(SHORTEST_FEED, far[made.battery][made.faces["front"]])
    fixed = feed + sum(far[load.at][made.earth] for load in made.loads)
    return float(fixed + costs[rows, columns].sum())


@on_seeds(range(6), range(6, 40), range(40, 60))
def test_as_cheap_as_the_cheapest_assignment(seeds: range) -> None:
    """With nothing shared, a plan costs feed, returns and scipy's cheapest assignment; some bikes have none."""
    possible = 0
    for seed in seeds:
        made = draft(seed)
        wanted = best_mm(made)
        if wanted is None:
            assert not fits(bike_text(made), unit_text(made)), seed
            continue
        possible += 1
        assert planned(bike_text(made), unit_text(made)).cost == round(wanted * 1000), seed
    assert 5 < possible < 20
