"""Fixes against every set of changes to the bike's file: made on its tree, dumped, and planned.

Which changes there are, and what each is worth, is written in ``file_edits`` and taken from nothing in the program.
"""

from functools import cache
from typing import Any

import pytest

from file_edit_bikes import random_bench
from file_edit_named import NAMED
from file_edit_sets import Bench, has_plan
from file_edit_told import Told, faults, told, too_few, why

MOST = 17
"""The most effort that is tried of random bikes, as far as so many plans go."""
LONGEST = 120.0
"""Seconds in which a bike of five loads is to be explained to the end."""
QUICK = (73,)
EVERY = range(100)


@cache
def named(name: str) -> Bench:
    return NAMED[name].bench


@cache
def told_of(name: str) -> tuple[dict[str, Any], list[Told]]:
    document = why(named(name))
    return document, told(named(name), document)


SLOW = ("bare single and two lamps",)
EACH_NAMED = pytest.mark.parametrize(
    "name", [pytest.param(name, marks=[pytest.mark.long] if name in SLOW else []) for name in NAMED]
)


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


def check_random(seed: int) -> None:
    bench = random_bench(seed)
    document = why(bench, LONGEST)
    assert (document["status"], document["fixes_complete"]) == ("no plan", True)
    fixes = told(bench, document)
    assert faults(bench, fixes, MOST) == []
    assert too_few(bench, fixes, MOST) == []


@pytest.mark.parametrize("seed", QUICK)
def test_a_random_bike_and_what_is_told_of_it(seed: int) -> None:
    """No set of less effort fits than is told as proved; each fix is so as its words say; three if there are three."""
    check_random(seed)


@pytest.mark.long
@pytest.mark.parametrize("seed", EVERY)
def test_random_bikes_and_what_is_told_of_them(seed: int) -> None:
    """No set of less effort fits than is told as proved; each fix is so as its words say; three if there are three."""
    check_random(seed)
