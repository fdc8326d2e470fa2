"""Bikes in the short form, parts and figures only, against HiGHS: the same cost, place, turn and verdict.

The bikes are random and answer every question that their parts raise. What a part brings, the reference in
``oracle`` knows from a table of its own, of the trade's common practice; it shares no code with the package.
More seeds are tried with ``CATALOGUE_SEEDS=400`` in the environment.
"""

import os
from collections import Counter
from collections.abc import Callable, Sequence
from functools import cache

import pytest
import yaml

from oracle import highs
from oracle.judge import Result
from oracle.random_bikes import random_case
from portloom.base.bike import Bike
from portloom.base.clock import Clock
from portloom.inputs.files import bike_from_text, unit_from_text
from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.rules.book import rules_of
from portloom.rules.sites import sites_of
from portloom.search.best import best_assignment
from portloom.search.places import NoPlan
from portloom.verify.judge import judged
from slices import on_seeds
from translated import Reference

FAMILY = "catalogue"
SEEDS = range(int(os.environ.get("CATALOGUE_SEEDS", "40")))
EACH = on_seeds(SEEDS[6:16], SEEDS)


@cache
def read(seed: int) -> Bike:
    """Return a bike as the package reads it. Raises where its file leaves a question open."""
    return bike_from_text(random_case(seed, FAMILY)[0], "bike")


@cache
def wanted(seed: int) -> Result:
    """Return what HiGHS finds."""
    return highs.optimum(*random_case(seed, FAMILY))


@cache
def found(seed: int) -> Assignment | None:
    """Return the best plan, which passes its check; None where it is proved that there is none."""
    job = Job(read(seed), unit_from_text(random_case(seed, FAMILY)[1], "unit"))
    rules = rules_of(job)
    best = best_assignment(job, rules, sites_of(job), Clock(None))
    if isinstance(best, NoPlan):
        return None
    assert isinstance(best, Assignment)
    assert best.proven
    assert judged((job,), rules, best) == ()
    return best


@EACH
def test_same_cost_and_verdict(seeds: Sequence[int]) -> None:
    """Each bike's best plan costs what HiGHS says, and none is found where HiGHS proves that there is none."""
    costs = {seed: plan.cost if (plan := found(seed)) else None for seed in seeds}
    assert costs == {seed: wanted(seed).cost_um for seed in seeds}


@EACH
def test_same_place_and_way_round(seeds: Sequence[int]) -> None:
    """The plan is at the first place, unturned first, of those that HiGHS finds as cheap."""
    for plan, result in ((found(seed), wanted(seed)) for seed in seeds):
        if plan is not None:
            cheap = [at for at, cost in result.per_place.items() if cost == result.cost_um]
            assert (plan.only.place, plan.only.turned) == cheap[0]


@EACH
def test_same_price_of_each_plan(seeds: Sequence[int]) -> None:
    """The reference lays and prices each plan anew, every rule kept, to the micrometre."""
    for seed in seeds:
        plan = found(seed)
        assert plan is None or Reference(*random_case(seed, FAMILY)).cost(plan) == plan.cost, seed


@EACH
def test_some_fit_and_some_do_not(seeds: Sequence[int]) -> None:
    """Of the bikes at least a tenth has no plan, and more than half have one."""
    lost = sum(found(seed) is None for seed in seeds)
    assert len(seeds) / 10 <= lost < len(seeds) / 2


# --- what the bikes try


TRIED: dict[str, Callable[[Bike], bool]] = {
    "stand: side": lambda bike: any("side stand" in switch.tells for switch in bike.inputs),
    "stand: none": lambda bike: bike.stand == "none",
    "stand: no switch": lambda bike: bike.stand == "no switch",
    "clutch: automatic": lambda bike: bike.clutch == "automatic",
    "made of clutch or stand": lambda bike: any(switch.made in ("pulled", "released", "up") for switch in bike.inputs),
    "brakes: one": lambda bike: bike.brakes == "one",
    "brakes: two, one switch": lambda bike: bike.brakes == "two, one switch",
    "engine stop by the key": lambda bike: bike.engine_stop == "key",
    "an engine that sparks by itself": lambda bike: bike.ignition == "own",
    "a pump run by the controller": lambda bike: bike.pump_by == "controller",
    "a pump run by the unit": lambda bike: any("engine-run" in load.mode for load in bike.loads),
    "fed by a relay": lambda bike: any(load.fed == "relay" for load in bike.loads),
    "a switch earthed by its body": lambda bike: any(switch.return_ == "frame" for switch in bike.inputs),
    "a beam held": lambda bike: any(load.part == "main beam" and "hold" in load.mode for load in bike.loads),
    "a beam toggled": lambda bike: any(load.part == "main beam" and "toggle" in load.mode for load in bike.loads),
    "a beam off with the other": lambda bike: any(load.except_ for load in bike.loads),
    "a tell-tale": lambda bike: any(load.from_ for load in bike.loads),
}


def test_answers_and_defaults_of_all_sorts_are_tried() -> None:
    """Each answer to a question, and each default that bears on a plan, comes with some bike."""
    seen = Counter(what for seed in SEEDS for what, on in TRIED.items() if on(read(seed)))
    assert set(seen) == set(TRIED)


def test_sharing_by_default_is_tried() -> None:
    """Some plans put loads on one output that no file said may share."""
    shared = (
        seed
        for seed in SEEDS
        if (plan := found(seed)) is not None
        and any(len(line.loads) > 1 for line in plan.outputs)
        and "share: none" not in random_case(seed, FAMILY)[0]
    )
    assert next(shared, None) is not None


@pytest.mark.parametrize("key", ["kind", "mode", "when", "name"])
def test_most_keys_are_left_to_the_part(key: str) -> None:
    """Of the loads in the files fewer than half say their kind, mode, states or name."""
    loads = [load for seed in SEEDS for load in yaml.safe_load(random_case(seed, FAMILY)[0])["loads"]]
    assert sum(key in load for load in loads) < len(loads) / 2
