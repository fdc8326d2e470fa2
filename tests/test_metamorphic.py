"""What is said otherwise is planned alike: a slice of ``python -m tests.metamorphic``, and that it notices what is not.

The bikes are random and invented; what must stay is said beside each change, and follows from the goal of a plan.
"""

import random
from collections import Counter
from typing import Any

import pytest
import yaml

from metamorphic.change import NotSaid, copies, same_but, same_cost
from metamorphic.frames import twice_as_long
from metamorphic.order import ORDERS
from metamorphic.trials import CHANGES, findings
from metamorphic.words import other_units
from oracle.random_bikes import EVERY_FAMILY, random_case
from referee.command import command
from referee.record import HELD
from slices import FEW, ONE_MORE

QUICK = ("plain", "shown", "catalogue")
"""Families of which every run takes a bike; the long part takes more of all."""
BIKES = [(family, FEW[0]) for family in QUICK]
MORE = [(family, seed) for family in EVERY_FAMILY for seed in (*FEW, ONE_MORE) if (family, seed) not in BIKES]


@pytest.mark.parametrize(("family", "seed"), [*BIKES, *(pytest.param(*bike, marks=pytest.mark.long) for bike in MORE)])
def test_a_bike_said_otherwise_has_the_same_plan(family: str, seed: int) -> None:
    """Other names, another order, a leg in two, other units: the plan is the same, or costs the same."""
    with command() as call:
        found = [*findings(call, family, seed)]
    assert [said for one in found if one.outcome != HELD for said in one.said] == []


@pytest.mark.long
def test_every_change_is_made_of_some_bike() -> None:
    """No change is one that the random bikes have nothing for."""
    made: Counter[str] = Counter()
    for family in EVERY_FAMILY:
        files = [yaml.safe_load(text) for text in random_case(FEW[0], family)]
        for name, change in CHANGES.items():
            try:
                changed = change(random.Random(name), *copies(*files))
            except NotSaid:
                continue
            made[name] += [changed.bike, changed.unit] != files
    assert set(made) == set(CHANGES)
    assert min(made.values()) > 2


PLANNED: dict[str, Any] = {"status": "planned", "cost_mm": 900, "wire_run_mm": 600, "spare_port_loss_mm": 300}


def test_a_plan_that_costs_more_is_noticed() -> None:
    """A millimetre, or no plan where there was one."""
    assert [*same_cost(PLANNED, PLANNED)] == []
    assert [*same_cost(PLANNED, PLANNED | {"cost_mm": 901})] == ["cost_mm: 900 became 901"]
    assert "status: 'planned' became 'no plan'" in [*same_cost(PLANNED, {"status": "no plan"})]
    differing = PLANNED | {"outputs": [{"port": "out 1", "drop_v": 0.1}]}
    assert [*same_but()(differing, PLANNED | {"outputs": [{"port": "out 1", "drop_v": 0.2}]})] == [
        "outputs: number 0: drop_v: 0.1 became 0.2"
    ]


def test_what_fits_twice_as_long_must_fit_and_cost_half() -> None:
    """No plan twice as long is one that is dearer as it is."""
    files = [yaml.safe_load(text) for text in random_case(FEW[0], "plain")]
    wrong = twice_as_long(random.Random(0), *copies(*files)).wrong
    assert [*wrong(PLANNED, {"status": "no plan"})] == []
    assert [*wrong(PLANNED, PLANNED | {"cost_mm": 1800})] == []
    assert [*wrong(PLANNED, PLANNED | {"cost_mm": 1799})] == ["costs 900 mm, and twice as long 1799 mm"]
    assert [*wrong({"status": "no plan"}, PLANNED)] == ["fits twice as long, and is 'no plan' as it is"]


def test_figures_in_other_units_are_the_same_figures() -> None:
    """Metres for millimetres and milliamperes for amperes; what has neither stays as it is written."""
    bike = {"frame": {"legs": [{"length": "283.5 mm", "between": ["a", "b"]}]}, "reels": ["0.5 mm2"]}
    unit = {"feed": {"limit": "31 A", "standby": "400 mA"}}
    changed = other_units(random.Random(0), bike, unit)
    assert changed.bike == {"frame": {"legs": [{"length": "0.2835 m", "between": ["a", "b"]}]}, "reels": ["0.5 mm2"]}
    assert changed.unit == {"feed": {"limit": "31000 mA", "standby": "0.4 A"}}


def test_legs_are_not_reordered_where_two_ways_are_as_long() -> None:
    """Of equally long ways the one whose legs come first in the file is taken, and a plan may well cost another sum."""
    legs = [{"between": list(pair), "length": "200 mm"} for pair in ("ab", "bc", "cd", "da")]
    bike = {"frame": {"legs": legs}}
    with pytest.raises(NotSaid):
        ORDERS["legs of the bike in another order"](random.Random(0), *copies(bike, {}))
