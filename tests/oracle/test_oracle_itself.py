"""The two ways to the optimum agree, and the trees are the shortest there are."""

import random
from itertools import combinations

import networkx as nx
import pytest

from . import brute, highs
from .drafts import written
from .frame import Frame
from .job import Job
from .judge import Result
from .profiles import read_unit
from .random_bikes import EVERY_FAMILY, random_case
from .reading import read_bike, tree_of

FUSED, FUSED_SEEDS = "main fuses", range(40)
CASES = [(family, seed) for family in EVERY_FAMILY for seed in range(4)]


@pytest.mark.parametrize(("family", "seed"), CASES)
def test_enumeration_and_highs_agree(family: str, seed: int) -> None:
    """Plain enumeration and the integer programme give the same optimum at every place."""
    bike, unit = random_case(seed, family)
    assert brute.optimum(bike, unit) == highs.optimum(bike, unit)


@pytest.mark.parametrize("family", EVERY_FAMILY)
def test_a_seed_always_gives_the_same_texts(family: str) -> None:
    """A seed gives the same texts each time, another seed others."""
    assert random_case.__wrapped__(3, family) == random_case(3, family)
    assert random_case(3, family) != random_case(4, family)


@pytest.mark.parametrize("family", EVERY_FAMILY)
def test_families_hold_possible_and_impossible_bikes(family: str) -> None:
    """In each family most bikes can be planned and some cannot."""
    verdicts = [highs.optimum(*random_case(seed, family)).feasible for seed in range(10)]
    assert {True, False} == set(verdicts)
    assert sum(verdicts) >= len(verdicts) // 3


def test_units_with_and_without_a_word_on_their_main_fuse_are_tried() -> None:
    """In each family some units say how large a main fuse they take; of all a seventh and more do not."""
    said = {family: [_said(seed, family) for seed in range(8)] for family in EVERY_FAMILY}
    assert all(map(any, said.values()))
    assert sum(words.count(False) for words in said.values()) >= len(EVERY_FAMILY) * 8 // 7


def _said(seed: int, family: str) -> bool:
    return "fuse_max" in tree_of(random_case(seed, family)[1])["feed"]


def with_any_fuse(seed: int, family: str) -> Result:
    """Return the optimum of the same bike on a unit that takes a main fuse of up to 30 A."""
    bike, unit = random_case(seed, family)
    data = tree_of(unit)
    return highs.optimum(bike, written({**data, "feed": {**data["feed"], "fuse_max": "30 A"}}))


def test_the_main_fuse_decides_in_a_good_share_of_its_bikes() -> None:
    """Of forty, eight and more have a plan only with a larger fuse, and six and more then have a cheaper one."""
    own = {seed: highs.optimum(*random_case(seed, FUSED)) for seed in FUSED_SEEDS}
    free = {seed: with_any_fuse(seed, FUSED) for seed in FUSED_SEEDS}
    lost = [seed for seed in FUSED_SEEDS if free[seed].feasible and not own[seed].feasible]
    dearer = [seed for seed in FUSED_SEEDS if own[seed].feasible and own[seed].cost_um != free[seed].cost_um]
    assert len(lost) >= 8
    assert len(dearer) >= 6


def test_larger_main_fuses_than_the_worst_case_asks_for_are_chosen() -> None:
    """Of the same forty ten and more have a plan whose fuse is not the least that carries what all draw together."""
    larger = 0
    for seed in FUSED_SEEDS:
        bike, unit = random_case(seed, FUSED)
        best = min(filter(None, highs.optimum(bike, unit).per_site.values()), default=None)
        larger += best is not None and best.fuse_ma > Job(read_bike(bike), read_unit(unit)).fuses_ma[0]
    assert larger >= 10


@pytest.mark.parametrize("seed", range(25))
def test_trees_are_the_shortest_of_all_sets_of_legs(seed: int) -> None:
    """A tree is, of all sets of legs that join its ends, the shortest, then the first."""
    frame = Frame(read_bike(random_case(seed, "plain")[0]).legs)
    dice = random.Random(seed)
    points = sorted({point for leg in frame.legs for point in leg.ends})
    ends = frozenset(dice.sample(points, dice.randint(2, 4)))
    numbers = range(len(frame.legs))
    joining = [
        (frame.length_um(frozenset(legs)), list(legs))
        for size in numbers
        for legs in combinations(numbers, size + 1)
        if _joins(frame, legs, ends)
    ]
    assert sorted(frame.tree(ends) or ()) == min(joining)[1]


def _joins(frame: Frame, legs: tuple[int, ...], ends: frozenset[str]) -> bool:
    graph = nx.Graph([frame.legs[number].ends for number in legs])
    return set(ends) <= set(graph) and ends <= nx.node_connected_component(graph, min(ends))
