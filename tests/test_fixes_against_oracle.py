"""Fixes against trying every choice of changes, each written into the bike's text and judged by HiGHS.

The bikes are random, and starved. The reference in ``oracle`` shares no code with the project; HiGHS comes with
scipy. Of the random bikes those were taken that have few choices of changes: each is tried.
"""

import json
from collections import Counter
from collections.abc import Iterator
from functools import cache
from itertools import combinations
from typing import Any

import pytest
import yaml

from every_choice import Choice, Trial, minimal_fixes
from oracle.profiles import each
from oracle.random_bikes import random_case
from oracle.starved import starved_case
from portloom.explaining.explain import DoesNotFit, explain
from portloom.explaining.fixes.fix import Fix
from portloom.explaining.fixes.hunt import ENOUGH, Fixes
from unasked import bike_from_text

pytestmark = pytest.mark.long

MENDED = {
    "bans": (14, 116),
    "coils": (20, 38, 108, 115, 116, 120, 129),
    "cranking": (4, 108, 114, 144),
    "dimming": (2, 3, 107, 111, 128),
    "drops": (28,),
    "following": (118, 287),
    "lonely": (10, 13, 26, 38, 40, 110, 128, 130, 138),
    "main fuse": (15, 25, 103),
    "multiplexed": (59, 124),
    "openings": (0, 16),
    "ports": (6, 20, 114, 117, 127, 140, 141),
    "several": (9, 63),
    "sums": (14, 24, 31, 44, 103, 107, 136, 140),
    "handier bans": (66,),
    "handier openings": (33, 50, 53, 64, 97, 113),
    "handier ports": (6, 35),
    "handier sums": (9, 14, 49),
}
"""Seeds of bikes, by family, that some change mends."""
ALL_TRIED = (
    ("coils", 20), ("cranking", 4), ("cranking", 108), ("dimming", 128), ("several", 63), ("lonely", 40),
    ("main fuse", 15), ("main fuse", 25), ("multiplexed", 124), ("sums", 31), ("sums", 103), ("handier bans", 66),
    ("handier openings", 53), ("handier openings", 97), ("handier ports", 6), ("handier ports", 35),
    ("handier sums", 9), ("handier sums", 14), ("handier sums", 49),
)  # fmt: skip
"""Those of which every choice is tried up to the effort of the last fix that is told, or all there are."""
HOPELESS = (
    ("bans", 120), ("dimming", 132), ("multiplexed", 115), ("multiplexed", 190), ("multiplexed", 207),
    ("multiplexed", 235), ("ports", 102), ("several", 6), ("several", 38), ("several", 52),
    ("several", 54), ("several", 108), ("terminals", 88), ("terminals", 114),
)  # fmt: skip
"""Bikes that no choice of changes mends."""
KINDS = {
    "sharing", "another way round", "LED lamp", "suppressor", "place", "opened up", "fused feed", "relay", "left off",
    "bigger unit", "multiplexer",
}  # fmt: skip
EACH_FAMILY = pytest.mark.parametrize("family", MENDED)


@pytest.fixture(autouse=True)
def quick_yaml(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the reference read YAML by libyaml, where that is there: it finds the same, and sooner."""
    monkeypatch.setattr(yaml, "BaseLoader", getattr(yaml, "CBaseLoader", yaml.BaseLoader))


def roomier(unit_text: str, more: int) -> str:
    """Return a unit like another with more outputs and inputs, no banks, and a wider feed."""
    unit: dict[str, Any] = yaml.load(unit_text, Loader=yaml.BaseLoader)  # noqa: S506 - builds texts only
    for which in ("outputs", "inputs"):
        ports = [
            {key: value for key, value in port.items() if key not in ("names", "bank")} for port in each(unit[which])
        ]
        added = [{**ports[3 * number % len(ports)], "name": f"more {which} {number}"} for number in range(more)]
        unit[which] = [*ports, *added]
    amperes = float(unit["feed"]["limit"].removesuffix(" A")) * (1 + more / 4)
    feed = {**unit["feed"], "limit": f"{amperes:.2f} A"}
    return yaml.safe_dump({**unit, "unit": f"trial way, {more} more", "feed": feed, "banks": {}})


def handier(bike_text: str) -> str:
    """Return a bike like another whose openings can be opened up, and every other load has a switch of its own."""
    bike: dict[str, Any] = yaml.load(bike_text, Loader=yaml.BaseLoader)  # noqa: S506 - builds texts only
    for leg in bike["frame"]["legs"]:
        leg.update({"opens_to": "40 mm", "opens": "panel"} if "opening" in leg else {})
    for load in bike["loads"][1::2]:
        load.update({} if {"fed", "from", "own_switch"} & set(load) else {"own_switch": load["at"]})
    return yaml.safe_dump(bike, sort_keys=False)


def with_nothing_repeated(bike_text: str) -> str:
    """Return a bike's text without marks that stand for what is written elsewhere."""
    bike = json.loads(json.dumps(yaml.load(bike_text, Loader=yaml.BaseLoader)))  # noqa: S506 - builds texts only
    return yaml.safe_dump(bike, sort_keys=False)


@cache
def trial(family: str, seed: int) -> Trial:
    """Return a bike that does not fit its unit; every other time two bigger units are known."""
    if family == "multiplexed":
        bike, unit = random_case(seed, family)
        return Trial(with_nothing_repeated(bike), unit)
    bike, unit = starved_case(seed, family.removeprefix("handier "))
    if family.startswith("handier "):
        return Trial(handier(bike), unit)
    return Trial(bike, unit, (roomier(unit, 1), roomier(unit, 3)) if seed % 2 else ())


@cache
def told(family: str, seed: int) -> Fixes:
    """Return the fixes that are told of a bike."""
    one = trial(family, seed)
    answer = explain(one.bike, one.unit, known=one.known).answer
    assert isinstance(answer, DoesNotFit)
    return answer.fixes


def mended(family: str) -> Iterator[tuple[Trial, tuple[Fix, ...], list[Choice]]]:
    """Return each bike of a family that some change mends, its fixes, and which changes these are."""
    for seed in MENDED[family]:
        one, fixes = trial(family, seed), told(family, seed)
        assert fixes.complete, seed
        yield one, fixes.found, [choice_of(one, fix) for fix in fixes.found]


def choice_of(one: Trial, fix: Fix) -> Choice:
    """Return the numbers of a fix's changes."""
    slots = [(change.kind, change.slot) for change in one.changes]
    return tuple(sorted(slots.index((change.kind, change.slot)) for change in fix.changes))


def kinds_of(one: Trial, choice: Choice) -> tuple[tuple[str, int], ...]:
    """Return how many changes of each kind a choice makes."""
    return tuple(sorted(Counter(one.changes[number].kind for number in choice).items()))


# --- bikes that some change mends


@EACH_FAMILY
def test_no_choice_of_less_effort_mends_it(family: str) -> None:
    """Every choice of less effort than the first fix leaves the bike without a plan."""
    for one, fixes, _ in mended(family):
        assert [choice for choice in one.choices(fixes[0].effort - 1) if one.fits(choice)] == []


@EACH_FAMILY
def test_each_fix_has_a_plan_of_the_cost_that_is_told(family: str) -> None:
    """The changed text says just what was planned, and its best plan costs just as much."""
    for one, fixes, choices in mended(family):
        for fix, choice in zip(fixes, choices, strict=True):
            read = bike_from_text(one.texts(choice)[0], "bike", one.unit.own_modes)
            assert read.having_read(fix.bike.as_read) == fix.bike
            assert (fix.plan.proven, one.cost(choice)) == (True, fix.plan.cost)
            assert one.effort(choice) == fix.effort


@EACH_FAMILY
def test_no_fix_can_do_without_a_change(family: str) -> None:
    """No part of a fix has a plan, and no fix contains another."""
    for one, _, choices in mended(family):
        parts = {part for choice in choices for size in range(1, len(choice)) for part in combinations(choice, size)}
        assert [part for part in parts if one.fits(part)] == []
        assert not parts & set(choices)


@EACH_FAMILY
def test_fixes_are_few_and_least_effort_first(family: str) -> None:
    """One at least, three at most, none twice."""
    for _, fixes, choices in mended(family):
        assert 1 <= len(fixes) <= ENOUGH
        assert len(set(choices)) == len(choices)
        assert [fix.effort for fix in fixes] == sorted(fix.effort for fix in fixes)


@pytest.mark.parametrize(("family", "seed"), ALL_TRIED)
def test_of_all_fixes_the_cheapest_of_different_kinds_are_told(family: str, seed: int) -> None:
    """Every choice is tried: three fixes are told where there are as many, of the kinds with the least effort."""
    one, fixes = trial(family, seed), told(family, seed)
    choices = [choice_of(one, fix) for fix in fixes.found]
    first: dict[object, int] = {}
    for choice in choices:
        first.setdefault(kinds_of(one, choice), one.effort(choice))
    last = max(map(one.effort, choices)) if len(first) == ENOUGH else None
    every = list(minimal_fixes(one, one.choices(last)))
    kinds: dict[object, int] = {}
    for choice in every:
        kinds.setdefault(kinds_of(one, choice), one.effort(choice))
    assert set(choices) <= set(every)
    assert len(choices) == min(ENOUGH, len(every))
    assert sorted(first.values()) == sorted(kinds.values())[:ENOUGH]


# --- bikes that no change mends


@pytest.mark.parametrize(("family", "seed"), HOPELESS)
def test_where_no_choice_helps_none_is_told(family: str, seed: int) -> None:
    """Every choice is tried and none has a plan; the hunt came to its end, so that is told as proved."""
    one, fixes = trial(family, seed), told(family, seed)
    assert (fixes.found, fixes.complete) == ((), True)
    assert list(minimal_fixes(one, one.choices())) == []


@pytest.mark.parametrize(("family", "seed"), HOPELESS)
def test_what_is_told_at_a_glance_is_so(family: str, seed: int) -> None:
    """Of each number of changes the first choice, judged to the end by HiGHS, has no plan either."""
    one = trial(family, seed)
    firsts: dict[int, Choice] = {}
    for choice in one.choices():
        firsts.setdefault(len(choice), choice)
    assert {one.cost(choice) for choice in firsts.values()} == {None}


# --- the bikes themselves


def test_there_are_many_and_every_kind_of_change_mends_some() -> None:
    """Sixty and more with a fix, ten without one, and all sorts of changes, up to three at once."""
    fixes = [fix for family in MENDED for _, found, _ in mended(family) for fix in found]
    assert sum(map(len, MENDED.values())) >= 60
    assert len(HOPELESS) >= 10
    assert {change.kind for fix in fixes for change in fix.changes} == KINDS
    assert {len(fix.changes) for fix in fixes} >= {1, 2, 3}
