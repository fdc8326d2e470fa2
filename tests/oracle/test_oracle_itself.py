"""The two ways to the optimum agree, and the trees are the shortest there are."""

import random
from collections.abc import Sequence
from itertools import combinations

import networkx as nx
import pytest

from slices import FEW, ONE_MORE, each_seed, first_of, on_seeds, third_of

from . import brute, highs
from .drafts import written
from .frame import Frame
from .job import Job
from .judge import Result
from .profiles import read_unit
from .random_bikes import EVERY_FAMILY, random_case
from .reading import read_bike, tree_of

FUSED = "main fuses"
EACH_FUSED = on_seeds(range(1000, 1005), [*range(40), *range(1005, 1010)])
EACH_FAMILY = third_of("family", EVERY_FAMILY, 0)
SOON_TRIED = {
    "coils": (1000, 1005),
    "main fuses": (1003, 1004),
    "alike": (1001, 1004),
    "shown": (1001, 1003),
    "catalogue": (1002, 1003),
    **dict.fromkeys(("bundles", "faults", "openings", "switched"), (1001, 1002)),
}
"""Bikes of which every plan is soon tried, one that fits and one that doesn't; others of these families take long."""
SOON_THROWN = ("plain", "cases", "sharing", "safety", "cranking", "feeds", "main fuses", "shown", "catalogue", "alike")
"""Families of which no bike takes long to throw."""


def tried_soon(family: str) -> Sequence[int]:
    """Return seeds of bikes of a family that can be tried in every run."""
    return SOON_TRIED.get(family, (1002, 1003))


@pytest.mark.parametrize(
    ("family", "seed"),
    [
        *((family, tried_soon(family)[0]) for family in EVERY_FAMILY[::2]),
        *(
            pytest.param(family, seed, marks=pytest.mark.long)
            for family in EVERY_FAMILY
            for seed in (*range(4), 1001, 1002, 1003, 1004)
        ),
    ],
)
def test_enumeration_and_highs_agree(family: str, seed: int) -> None:
    """Plain enumeration and the integer programme give the same optimum at every place."""
    bike, unit = random_case(seed, family)
    assert brute.optimum(bike, unit) == highs.optimum(bike, unit)


@first_of("family", (*SOON_THROWN, *(family for family in EVERY_FAMILY if family not in SOON_THROWN)), len(SOON_THROWN))
@on_seeds((FEW[1], FEW[0]), (3, 4))
def test_a_seed_always_gives_the_same_texts(family: str, seeds: Sequence[int]) -> None:
    """A seed gives the same texts each time, another seed others."""
    one, other = seeds
    assert random_case.__wrapped__(one, family) == random_case(one, family)
    assert random_case(one, family) != random_case(other, family)


@pytest.mark.long
@EACH_FAMILY
def test_many_bikes_of_a_family_can_be_planned(family: str) -> None:
    """In each family a third of ten bikes and more can be planned; that one can be, every run sees below."""
    assert sum(highs.optimum(*random_case(seed, family)).feasible for seed in range(10)) >= 3


@pytest.mark.long
@EACH_FAMILY
@on_seeds((*FEW, ONE_MORE, 1001, 1003, 1004, *range(1006, 1010)), range(10))
def test_families_hold_possible_and_impossible_bikes(family: str, seeds: Sequence[int]) -> None:
    """In each family some bikes can be planned and some cannot; no more are tried than it takes to see that."""
    verdicts = (highs.optimum(*random_case(seed, family)).feasible for seed in seeds)
    first = next(verdicts)
    assert any(verdict is not first for verdict in verdicts)


@pytest.mark.long
@on_seeds(FEW, range(8))
def test_units_with_and_without_a_word_on_their_main_fuse_are_tried(seeds: Sequence[int]) -> None:
    """In each family some units say how large a main fuse they take; of all a seventh and more do not."""
    said = {family: [_said(seed, family) for seed in seeds] for family in EVERY_FAMILY}
    assert all(map(any, said.values()))
    assert sum(words.count(False) for words in said.values()) >= len(EVERY_FAMILY) * len(seeds) // 7


def _said(seed: int, family: str) -> bool:
    return "fuse_max" in tree_of(random_case(seed, family)[1])["feed"]


def with_any_fuse(seed: int, family: str) -> Result:
    """Return the optimum of the same bike on a unit that takes a main fuse of up to 30 A."""
    bike, unit = random_case(seed, family)
    data = tree_of(unit)
    return highs.optimum(bike, written({**data, "feed": {**data["feed"], "fuse_max": "30 A"}}))


@pytest.mark.long
@EACH_FUSED
def test_the_main_fuse_decides_in_a_good_share_of_its_bikes(seeds: range) -> None:
    """Of forty, eight and more have a plan only with a larger fuse, and six and more then have a cheaper one."""
    own = {seed: highs.optimum(*random_case(seed, FUSED)) for seed in seeds}
    free = {seed: with_any_fuse(seed, FUSED) for seed in seeds}
    lost = [seed for seed in seeds if free[seed].feasible and not own[seed].feasible]
    dearer = [seed for seed in seeds if own[seed].feasible and own[seed].cost_um != free[seed].cost_um]
    assert len(lost) >= len(seeds) * 8 // 40
    assert len(dearer) >= len(seeds) * 6 // 40


@EACH_FUSED
def test_larger_main_fuses_than_the_worst_case_asks_for_are_chosen(seeds: range) -> None:
    """Of the same forty ten and more have a plan whose fuse is not the least that carries what all draw together."""
    larger = 0
    for seed in seeds:
        bike, unit = random_case(seed, FUSED)
        best = min(filter(None, highs.optimum(bike, unit).per_site.values()), default=None)
        larger += best is not None and best.fuse_ma > Job(read_bike(bike), read_unit(unit)).fuses_ma[0]
    assert larger >= len(seeds) * 10 // 40


@each_seed(range(6), range(6, 25))
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
