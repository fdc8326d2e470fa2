"""In a good share of random bikes each thing of the electrics decides: without it the best plan costs otherwise."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest

from .highs import best_at
from .job import Job
from .profiles import read_unit
from .random_bikes import random_case
from .reading import read_bike
from .sites import over_every_site
from .things import Bike

SEEDS = range(1000, 1012)
Change = Callable[[Bike], Bike]


def _resisting(**mohm: int) -> Change:
    """Return the change that some contacts resist so much."""
    said = {name: Fraction(value) for name, value in mohm.items()}
    return lambda bike: replace(bike, contacts=replace(bike.contacts, **said))


def _bulbs_apart(bike: Bike) -> Bike:
    loads = (load if load.kind == "ignition coil" else replace(load, pin=load.name) for load in bike.loads)
    return replace(bike, loads=tuple(loads))


def _without_own_switches(bike: Bike) -> Bike:
    return replace(bike, loads=tuple(replace(load, own_switch="") for load in bike.loads))


def _at_five_per_cent(bike: Bike) -> Bike:
    usual = bike.running_mv * 1000 / 20
    return replace(bike, drop_uv={group: max(limit, usual) for group, limit in bike.drop_uv.items()})


def result(family: str, seed: int, change: Change = lambda bike: bike) -> object:
    """Return the optimum of every place and way round, with something changed."""
    bike, unit = random_case(seed, family)
    return over_every_site(Job(change(read_bike(bike)), read_unit(unit)), best_at)


unchanged = cache(result)


@pytest.mark.long
@pytest.mark.parametrize(
    ("family", "least", "change"),
    [
        ("returns", 4, _resisting(splice=0)),
        ("returns", 3, _resisting(unit_plug=0, load_plug=0)),
        ("returns", 3, lambda bike: replace(bike, thickest_return=Fraction(1000))),
        ("returns", 1, _bulbs_apart),
        ("returns", 3, lambda bike: replace(bike, starter="")),
        ("feeds", 4, lambda bike: replace(bike, shortest_feed_um=0)),
        ("switched", 2, _resisting(relay_contact=0, own_switch=0)),
        ("switched", 4, _without_own_switches),
        ("switched", 1, _at_five_per_cent),
        ("openings", 2, lambda bike: replace(bike, unit_earth=Fraction(0))),
    ],
)
def test_so_many_of_a_dozen_bikes_turn_on_it(family: str, least: int, change: Change) -> None:
    """Splices, plugs, returns of one size, bulbs, the starter's earth, short feeds, switches, headlamps, the earth."""
    assert sum(result(family, seed, change) != unchanged(family, seed) for seed in SEEDS) >= least
