"""The two ways to the optimum agree, and the trees are the shortest there are."""

import random
from itertools import combinations

import networkx as nx
import pytest

from . import brute, highs
from .frame import Frame
from .random_bikes import EVERY_FAMILY, random_case
from .reading import read_bike

CASES = [(family, seed) for family in EVERY_FAMILY for seed in range(4)]


@pytest.mark.parametrize(("family", "seed"), CASES)
def test_enumeration_and_highs_agree(family: str, seed: int) -> None:
    """Plain enumeration and the integer programme give the same optimum at every place."""
    bike, unit = random_case(seed, family)
    assert brute.optimum(bike, unit) == highs.optimum(bike, unit)


@pytest.mark.parametrize("family", EVERY_FAMILY)
def test_a_seed_always_gives_the_same_texts(family: str) -> None:
    """A seed gives the same texts each time, another seed others."""
    assert random_case(3, family) == random_case(3, family)
    assert random_case(3, family) != random_case(4, family)


@pytest.mark.parametrize("family", EVERY_FAMILY)
def test_families_hold_possible_and_impossible_bikes(family: str) -> None:
    """In each family most bikes can be planned and some cannot."""
    verdicts = [highs.optimum(*random_case(seed, family)).feasible for seed in range(16)]
    assert {True, False} == set(verdicts)
    assert sum(verdicts) >= len(verdicts) // 3


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
