"""Plans in which loads must be on outputs alike, against HiGHS and against trying everything.

The second program reads the sets by itself, and forbids each two circuits that would part one; HiGHS comes with scipy.
"""

from collections.abc import Sequence
from functools import cache
from itertools import combinations
from random import Random

import pytest
import yaml

from explained import questions_on
from oracle import brute, highs, pair_bikes, pairs
from oracle.filling import filled, sets_alike
from oracle.random_bikes import random_case
from oracle.reading import tree_of
from portloom.base.clock import Clock
from portloom.explaining.conflicts.find import first_conflict
from portloom.explaining.conflicts.question import Questions
from portloom.explaining.decisions import prices_of_decisions
from portloom.explaining.fixes.fix import Fix
from portloom.explaining.fixes.hunt import fixes_of
from portloom.explaining.fixes.pins import UNLIKE
from portloom.explaining.solved import Solved, solve
from portloom.inputs.files import unit_from_text
from portloom.job.assignment import Assignment
from portloom.planning.plan import Planned, Unknown, plan
from portloom.rules.book import decisions_of
from portloom.rules.facts import FactKey, by_default
from slices import on_seeds
from told_conflicts import told_of
from translated import best_plan
from unasked import bike_from_text


@cache
def best(seed: int) -> Assignment | None:
    """Return the best plan of a random bike, which passes the check and the reference's judge; None without one."""
    return best_plan(*random_case(seed, "alike"))


def cost(seed: int) -> int | None:
    """Return what it costs."""
    found = best(seed)
    return None if found is None else found.cost


def without(text: str, *names: Sequence[str]) -> str:
    """Return a bike's file without some sets, each by the names of its loads."""
    bike = yaml.safe_load(text)
    read = sets_alike(bike["alike"], filled(tree_of(text))["loads"])
    left = [said for said, own in zip(bike["alike"], read, strict=True) if own not in names]
    bike.pop("alike")
    return str(yaml.safe_dump({**bike, **({"alike": left} if left else {})}, sort_keys=False))


@on_seeds(range(3, 12), [*range(3), *range(12, 300)])
def test_same_cost_and_verdict_as_highs(seeds: Sequence[int]) -> None:
    """Sets of loads and groups, with loads past the unit and twins among them; with and without a plan."""
    found = {seed: cost(seed) for seed in seeds}
    assert found == {seed: highs.optimum(*random_case(seed, "alike")).cost_um for seed in seeds}
    planned = [each for each in found.values() if each is not None]
    assert len(seeds) / 4 < len(planned) < len(seeds)


@on_seeds((4, *range(10, 17), 18, 21), [*range(4), *range(5, 10), 17, 19, 20, *range(22, 300)])
def test_the_sets_matter(seeds: Sequence[int]) -> None:
    """Without them some of these bikes are cheaper, and some have a plan that had none."""
    dearer = lost = 0
    for seed in seeds:
        text, unit = random_case(seed, "alike")
        bike = yaml.safe_load(text)
        if "alike" in bike:
            free = best_plan(str(yaml.safe_dump({k: v for k, v in bike.items() if k != "alike"})), unit)
            found = best(seed)
            lost += free is not None and found is None
            dearer += free is not None and found is not None and free.cost < found.cost
            assert found is None or (free is not None and free.cost <= found.cost)
    assert dearer
    assert lost


def is_small(seed: int) -> bool:
    """Tell whether every load can be tried on every output in seconds."""
    text, unit = random_case(seed, "alike")
    return bool(len(yaml.safe_load(unit)["outputs"]) ** len(yaml.safe_load(text)["loads"]) < 5000)


@on_seeds(range(310, 320), [*range(300, 310), *range(320, 400)])
def test_same_cost_and_verdict_as_enumeration(seeds: Sequence[int]) -> None:
    """Trying every load on every output, and every switch on every input, gives the same."""
    small = [seed for seed in seeds if is_small(seed)]
    found = {seed: cost(seed) for seed in small}
    assert any(each is not None for each in found.values())
    assert found == {seed: brute.optimum(*random_case(seed, "alike")).cost_um for seed in small}


# --- two units


def pair_case(seed: int) -> tuple[str, str, str]:
    """Return a random bike for two units, on which two loads or three must be on outputs alike, and the units."""
    text, one, other = pair_bikes.pair_case(seed)
    bike = yaml.safe_load(text)
    dice = Random(f"alike {seed}")
    names = [load["name"] for load in bike["loads"] if not load.get("from") and load.get("fed", "unit") == "unit"]
    if len(names) > 1:  # a set of one is none
        bike["alike"] = [dice.sample(names, min(len(names), dice.choice([2, 2, 3])))]
    return str(yaml.safe_dump(bike, sort_keys=False)), one, other


@on_seeds(range(6), range(6, 60))
def test_two_units_cost_what_highs_finds(seeds: Sequence[int]) -> None:
    """Whichever unit they are on, their outputs are alike."""
    planned = 0
    for seed in seeds:
        text, *units = pair_case(seed)
        found = plan(bike_from_text(text, "bike"), *(unit_from_text(unit, "unit") for unit in units))
        assert not isinstance(found, Unknown)
        cost_um = found.plan.cost if isinstance(found, Planned) else None
        assert cost_um == pairs.optimum(text, *units).cost_um, seed
        planned += cost_um is not None
    assert planned


# --- where nothing fits


@on_seeds((14, 15, 17, 18), [12, 13, 16, *range(19, 160)])
def test_conflicts_are_minimal(seeds: Sequence[int]) -> None:
    """HiGHS finds no plan with the facts of a conflict alone, and one without any single one of them."""
    about: set[str] = set()
    for told in told_of(random_case, "alike", seeds):
        assert told.wrong == (), told.written
        assert told.spare == (), told.written
        about.update(key[0] for conflict in told.conflicts for key in conflict)
    assert "alike" in about


def fewest_lifted(text: str, unit: str, keys: Sequence[FactKey]) -> int | None:
    """Return how few sets must be lifted for a bike to fit; None where lifting all does not help."""
    for count in range(len(keys) + 1):
        for some in combinations(keys, count):
            if highs.optimum(without(text, *(key[1:] for key in some)) if some else text, unit).feasible:
                return count
    return None


@pytest.mark.long
@on_seeds((*range(10, 17), 18, 21), [*range(10), 17, 19, 20, *range(22, 150)])
def test_as_few_sets_are_lifted_as_can_be(seeds: Sequence[int]) -> None:
    """Where only sets are in the way, no fix that lifts nothing else lifts more than must be."""
    tried = lifting = 0
    for seed in seeds:
        text, unit = random_case(seed, "alike")
        if "alike" not in yaml.safe_load(text):
            continue
        questions = questions_on((text, unit))
        fewest = fewest_lifted(text, unit, [key for key in questions.instance.keys if key[0] == "alike"])
        if fewest:
            conflict = first_conflict(questions, questions.instance.everything)
            found = fixes_of(Questions(questions.instance, Clock(None)), [conflict.keys], ()).found
            efforts = [fix.effort for fix in found if {change.kind for change in fix.changes} == {UNLIKE}]
            assert found[0].effort <= 2 * fewest, seed
            assert not efforts or min(efforts) == 2 * fewest, seed
            assert all(fits_without(text, unit, fix) for fix in found), seed
            tried, lifting = tried + 1, lifting + bool(efforts)
    assert tried > 1
    assert lifting


def fits_without(text: str, unit: str, fix: Fix) -> bool:
    """Tell whether HiGHS has a plan with a fix that does nothing but lift sets; of any other nothing is asked here."""
    if {change.kind for change in fix.changes} != {UNLIKE}:
        return True
    return highs.optimum(without(text, *(change.slot[1:] for change in fix.changes)), unit).feasible


# --- what it costs


@on_seeds((2, 5, 7), [0, 1, 3, 4, 6, *range(8, 150)])
def test_each_price_is_the_difference_of_two_optima(seeds: Sequence[int]) -> None:
    """HiGHS finds the best plan with all sets, and once more without each."""
    dearer = 0
    for seed in seeds:
        text, unit = random_case(seed, "alike")
        instance = questions_on((text, unit)).instance
        best_plan = solve(instance.job, instance.rules, instance.sites, Clock(None))
        if not isinstance(best_plan, Solved):
            continue
        cost_um = highs.optimum(text, unit).cost_um
        assert cost_um is not None
        told = prices_of_decisions(instance, best_plan, by_default, Clock(None))
        for fact, one in zip(decisions_of(instance.job), told.each, strict=True):
            other = highs.optimum(without(text, fact.key[1:]), unit).cost_um
            assert one.price is not None
            assert other is not None
            assert one.price.total == cost_um - other, (seed, fact.key)
            dearer += one.price.total > 0
    assert dearer
