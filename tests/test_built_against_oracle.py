"""Built looms against another program that tries every choice (`oracle/standing.py`): touches, opened legs, cost.

The bikes are random, and so is what was added, taken away, burnt or changed since. Bikes are small ones, so that every
choice can be tried in seconds: how many were judged is asserted.
"""

import json
from collections.abc import Callable, Iterator
from functools import cache
from itertools import count, islice

import pytest

from built_bikes import FAMILIES, built, changed
from oracle.standing import Order, least
from portloom.inputs.built_plan import built_from_text
from portloom.inputs.files import unit_from_text
from portloom.inputs.problems import BadFile
from portloom.planning.plan import Planned, plan
from unasked import bike_from_text

FIRST = 1000
"""The first seed."""
MOST_PORTS = 7
WITHOUT_LONG = [family for family in FAMILIES if family not in ("coils", "sharing")]
Both = tuple[str, Order | None, Order | None]
"""A bike's name, what the program finds of it, and what the oracle does."""


@cache
def judged(seed: int, family: str) -> tuple[Order | None, Order | None] | None:
    """Return what the program and what the oracle finds of a bike; None where it is none of the small ones."""
    before = built(seed, family)
    if before is None:
        return None
    bike, unit, printed = before
    text = changed(bike, printed, 100 * seed)
    profile = unit_from_text(unit, "unit")
    try:
        now = bike_from_text(text, "bike")
    except BadFile:
        return None
    if any(load.own_switch for load in now.loads):  # of which the oracle knows nothing
        return None
    if len(profile.outputs) + len(profile.inputs) > 2 * MOST_PORTS or len(now.loads) > 5 or len(now.inputs) > 4:
        return None
    found = plan(now, profile, built=built_from_text(json.dumps(printed), "built"))
    mine = None
    if isinstance(found, Planned):
        assert found.plan.change is not None
        assert found.plan.proven
        change = found.plan.change.change
        mine = len(change.mattering), len(change.others), len(change.opened), int(found.plan.cost)
    return mine, least(text, unit, printed)


def bikes_judged() -> Iterator[Both]:
    """Return small bikes, seed after seed and family after family, each with what both programs find; without end."""
    for seed in count(FIRST):
        for family in WITHOUT_LONG:
            pair = judged(seed, family)
            if pair is not None:
                yield f"{family} {seed}", *pair


QUICK = (("main fuses", 1000), ("wires", 1002), ("banks", 1003), ("follow", 1003), ("openings", 1005), ("later", 1005))
"""Of the first bikes a few of which every choice is soon tried."""


def quick_ones() -> Iterator[Both]:
    """Return what both programs find of the bikes of every run."""
    for family, seed in QUICK:
        pair = judged(seed, family)
        assert pair is not None
        yield f"{family} {seed}", *pair


@pytest.mark.parametrize(
    ("bikes", "number"), [(quick_ones, len(QUICK)), pytest.param(bikes_judged, 200, marks=pytest.mark.long)]
)
def test_no_choice_changes_less(bikes: Callable[[], Iterator[Both]], number: int) -> None:
    """What matters and is touched, what else is, legs opened, new wire and spare ports: as when all is tried.

    Two hundred bikes in the long part, counted.
    """
    both = list(islice(bikes(), number))
    assert len({name for name, _, _ in both}) == number
    assert {name: mine for name, mine, _ in both} == {name: other for name, _, other in both}


def test_bikes_differ_in_what_changes() -> None:
    """Of the bikes of every run some need no touch, some do, some open legs, and some can't be planned any more."""
    mine = [found for _, found, _ in quick_ones()]
    assert any(found is None for found in mine)
    known = [found for found in mine if found is not None]
    assert any(found[:3] == (0, 0, 0) for found in known)
    assert any(found[0] or found[1] for found in known)
    assert any(found[2] for found in known)
