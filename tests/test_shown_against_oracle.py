"""Bikes whose dashes show loads, switches and sensors: the search against the second program.

The bikes are random. The second program reads 'shows' for itself; HiGHS, by scipy, finds its best plan.
"""

from functools import cache

from oracle import brute, highs
from oracle.random_bikes import random_case
from portloom.inputs.files import unit_from_text
from portloom.job.job import Job
from portloom.rules.sites import sites_of
from slices import on_seeds
from translated import best_plan
from unasked import bike_from_text

EACH_SEED = on_seeds(range(1001, 1005), [1000, *range(1005, 1100)])
AGAINST_ENUMERATION = range(1000, 1008)


def job_of(seed: int) -> Job:
    """Return a random bike on its unit."""
    bike, unit = random_case(seed, "shown")
    return Job(bike_from_text(bike, "bike"), unit_from_text(unit, "unit"))


@cache
def searched(seed: int) -> int | None:
    """Return the cost of the best plan, which both programs' judges pass; None if there is none."""
    found = best_plan(*random_case(seed, "shown"))
    return None if found is None else found.cost


@EACH_SEED
def test_same_cost_and_verdict_as_highs(seeds: range) -> None:
    """On every bike the best plan costs what HiGHS says, and none is found where HiGHS proves that none is."""
    found = {seed: searched(seed) for seed in seeds}
    assert found == {seed: highs.optimum(*random_case(seed, "shown")).cost_um for seed in seeds}
    assert len([cost for cost in found.values() if cost is not None]) > len(seeds) // 2


@on_seeds(AGAINST_ENUMERATION[:3], AGAINST_ENUMERATION[3:])
def test_same_cost_and_verdict_as_enumeration(seeds: range) -> None:
    """On some of them it costs what trying every load on every output gives."""
    found = {seed: searched(seed) for seed in seeds}
    assert found == {seed: brute.optimum(*random_case(seed, "shown")).cost_um for seed in seeds}


@EACH_SEED
def test_all_that_a_dash_shows_is_tried(seeds: range) -> None:
    """Among them are shown loads, shown switches, sensors that only dashes read, and third wires."""
    jobs = [job_of(seed) for seed in seeds]
    kinds = {wire.kind for job in jobs for site in sites_of(job) for wire in site.fixed_wires}
    assert {"dash signal", "dash return", "dash supply"} <= kinds
    assert len([job for job in jobs if any(load.shown_by for load in job.loads.on_unit)]) > len(seeds) * 3 // 10
    assert len([job for job in jobs if any(switch.shown_by for switch in job.inputs)]) > len(seeds) * 3 // 10
