"""Built looms against another program that tries every choice (`oracle/standing.py`): touches, opened legs, cost.

The bikes are random, and so is what was added, taken away, burnt or changed since. Bikes are small ones, so that every
choice can be tried in seconds: how many were judged is asserted.
"""

import json
from collections.abc import Sequence
from functools import cache

import pytest

from built_bikes import FAMILIES, built, changed
from oracle.standing import Order, least
from portloom.inputs.built_plan import built_from_text
from portloom.inputs.files import unit_from_text
from portloom.inputs.problems import BadFile
from portloom.planning.plan import Planned, plan
from slices import on_seeds
from unasked import bike_from_text

SOME, MORE = range(1000, 1006), range(1006, 1040)
MOST_PORTS = 7
EACH_SEED = on_seeds(SOME, MORE)
WITHOUT_LONG = [family for family in FAMILIES if family not in ("coils", "sharing")]


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


@pytest.mark.parametrize("family", WITHOUT_LONG)
@EACH_SEED
def test_no_choice_changes_less(family: str, seeds: Sequence[int]) -> None:
    """What matters and is touched, what else is, legs opened, new wire and spare ports: as when all is tried."""
    both = {seed: pair for seed in seeds if (pair := judged(seed, family)) is not None}
    assert {seed: mine for seed, (mine, _) in both.items()} == {seed: other for seed, (_, other) in both.items()}


def test_bikes_differ_in_what_changes() -> None:
    """Of the bikes of every run some need no touch, some do, some open legs, and some can't be planned any more."""
    each = [pair for family in WITHOUT_LONG for seed in SOME if (pair := judged(seed, family)) is not None]
    mine = [found for found, _ in each]
    assert len(each) >= 20
    assert any(found is None for found in mine)
    known = [found for found in mine if found is not None]
    assert any(found[:3] == (0, 0, 0) for found in known)
    assert any(found[0] or found[1] for found in known)
    assert any(found[2] for found in known)
