"""Fixes against every set of changes to the bike's file: made on its tree, dumped, and planned.

Which changes there are, and what each is worth, is written in ``file_edits`` and taken from nothing in the program.
"""

from functools import cache
from typing import Any

import pytest

from file_edit_bikes import random_bench
from file_edit_named import NAMED
from file_edit_sets import Bench, bigger_than, has_plan
from file_edit_told import KNOWN, Told, faults, told, too_few, why
from oracle.starved import FAMILIES, starved_case
from slices import first_of

MOST = 17
"""The most effort that is tried of random bikes, as far as so many plans go."""
QUICK = (73,)
EVERY = range(100)
SEEDS = range(30)
"""Of each family of starved bikes."""


@cache
def named(name: str) -> Bench:
    return NAMED[name].bench


@cache
def told_of(name: str) -> tuple[dict[str, Any], list[Told]]:
    document = why(named(name))
    return document, told(named(name), document)


SLOW = ("bare single and two lamps", "two off with their switch")
QUICK_NAMED = [name for name in NAMED if name not in SLOW][::3]
EACH_NAMED = first_of("name", [*QUICK_NAMED, *(name for name in NAMED if name not in QUICK_NAMED)], len(QUICK_NAMED))


@EACH_NAMED
def test_by_hand_the_least_effort_is_as_worked_out(name: str) -> None:
    """The bike does not fit as it is, and of all sets of changes the least that makes it fit is that by hand."""
    bench, least = named(name), NAMED[name].least
    assert not has_plan(bench.bike_text, bench.unit_text)
    assert (bench.least(least) or (0,))[0] == least


@EACH_NAMED
def test_by_hand_a_fix_of_least_effort_is_told_first(name: str) -> None:
    """Nothing cheaper fits, each fix fits as its words say, at its cost, and its words are true of its plan."""
    document, fixes = told_of(name)
    assert document["status"] == "no plan"
    assert faults(named(name), fixes, NAMED[name].least) == []
    assert (fixes[0].effort, fixes[0].least) == (NAMED[name].least, True)
    assert not NAMED[name].sentences or fixes[0].sentence in NAMED[name].sentences


def check(bench: Bench) -> None:
    document = why(bench)
    assert document["status"] == "no plan"
    fixes = told(bench, document)
    assert faults(bench, fixes, MOST, complete=document["fixes_complete"]) == []
    assert not document["fixes_complete"] or too_few(bench, fixes, MOST) == []


@pytest.mark.parametrize("seed", QUICK)
def test_a_random_bike_and_what_is_told_of_it(seed: int) -> None:
    """No set of less effort fits than is told as proved; each fix is so as its words say; three if there are three."""
    check(random_bench(seed))


@pytest.mark.long
@pytest.mark.parametrize("seed", EVERY)
def test_random_bikes_and_what_is_told_of_them(seed: int) -> None:
    """No set of less effort fits than is told as proved; each fix is so as its words say; three if there are three."""
    check(random_bench(seed))


@cache
def starved(family: str) -> tuple[Bench, ...]:
    """Return bikes of a family of the other program's that their units do not take."""
    cases = (starved_case(seed, family) for seed in SEEDS)
    lacking = ((bike, unit) for bike, unit in cases if not has_plan(bike, unit))
    return tuple(Bench(bike, unit, bigger_than(unit, KNOWN), most_plans=150) for bike, unit in lacking)


@pytest.mark.long
@pytest.mark.parametrize("family", FAMILIES)
def test_starved_bikes_and_what_is_told_of_them(family: str) -> None:
    """The same of bikes that lack what the family is named for: ports, banks, modes, openings, links, amperes."""
    assert len(starved(family)) >= len(SEEDS) // 2
    for bench in starved(family):
        check(bench)
