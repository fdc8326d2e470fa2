"""The lists of the files in another order: the cost of the best plan stays; which of equal plans is told may not."""

import random
from collections import Counter
from collections.abc import Iterator, Sequence
from functools import partial
from itertools import combinations

import networkx as nx

from .change import Change, Changed, Entry, NotSaid, Plan, millimetres, same_cost


def _shuffled(file: str, key: str, rng: random.Random, bike: Entry, unit: Entry) -> Changed:
    entry = bike if file == "bike" else unit
    owner = entry["frame"] if key == "legs" else entry
    entries = owner.get(key, [])
    if len(entries) < 2:
        raise NotSaid
    while (shuffled := rng.sample(entries, len(entries))) == entries:
        pass
    if key == "legs" and _equal_ways(entries):
        raise NotSaid
    owner[key] = shuffled
    return Changed(bike, unit, _but_returns if key == "loads" else same_cost)


def _but_returns(before: Plan, after: Plan) -> Iterator[str]:
    """Loads are dealt to the returns of their point in the order of the file: with several it may cost more or less."""
    if not any(wire.get("number", 1) > 1 for plan in (before, after) for wire in plan.get("returns", ())):
        yield from same_cost(before, after)


def _equal_ways(legs: Sequence[Entry]) -> bool:
    """Tell whether some legs are as long as others: of equally long wires that is taken whose legs come first."""
    frame = nx.MultiGraph()
    for leg in legs:
        frame.add_edge(*leg["between"], length=millimetres(leg["length"]))
    lengths = [length for *_, length in frame.edges(data="length")]
    sums = Counter(sum(few) for count in (1, 2) for few in combinations(lengths, count))
    if max(sums.values()) > 1:  # one or two that may stand for as many in a wire that branches
        return True
    for start, end in combinations(frame, 2):
        ways = (sum(frame.edges[edge]["length"] for edge in way) for way in nx.all_simple_edge_paths(frame, start, end))
        first, *others = sorted(ways)
        if first in others:
            return True
    return False


ORDERS: dict[str, Change] = {
    f"{key} of the {file} in another order": partial(_shuffled, file, key)
    for file, key in (
        ("bike", "loads"),
        ("bike", "inputs"),
        ("bike", "places"),
        ("bike", "legs"),
        ("unit", "outputs"),
        ("unit", "inputs"),
    )
}
