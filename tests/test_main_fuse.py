"""The main fuse as a part of the plan: no more than the unit takes, above each trip, the smallest that will do.

Source of steps: ISO 8820-3. 1.25 x what flows: common practice, no source. The bikes are made up.
"""

import pytest

from heat_trials import at_the_neck
from oracle.random_bikes import random_case
from outcomes import EXAMPLES
from portloom.base.bike import Bike
from portloom.base.clock import Clock
from portloom.base.unit import Unit
from portloom.explaining.conflicts.kept import Instance, relaxed_to
from portloom.inputs.files import find_unit, read_bike, read_unit, unit_from_text
from portloom.inputs.problems import BadFile
from portloom.job.job import Job
from portloom.job.loading import fixed_loaded
from portloom.planning.plan import NothingFits, Planned, plan
from portloom.rules.book import place_clashes, rules_of
from portloom.rules.fact_kinds import LOAD, kind_of
from portloom.rules.main_fuse import RULE
from portloom.rules.sites import sites_of
from portloom.search.best import each_tableau, runs_over
from portloom.search.feasibility import Possible, any_plan
from rule_bikes import LAMP, OTHER, OUT, SECOND, bike, unit
from slices import FEW, first_of, on_seeds
from unasked import bike_from_text

STEPS = (1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80)
"""Amperes, ISO 8820-3."""


def on(texts: tuple[str, str]) -> tuple[Bike, Unit]:
    """Read both files."""
    return bike_from_text(texts[0], "bike"), unit_from_text(texts[1], "unit")


@pytest.mark.parametrize("name", ["harbour-trail", "dressed-tourer"])
def test_the_fuse_is_within_what_the_eleven_way_takes(name: str) -> None:
    """A step of 35 A at most, 1.25 x the worst case or more, above each trip."""
    found = plan(read_bike(EXAMPLES / f"{name}.yaml"), read_unit(find_unit("eleven-way")))
    assert isinstance(found, Planned)
    feed = found.plan.only.feed
    assert feed.main_fuse / 1000 in STEPS
    assert 1.25 * feed.worst <= feed.main_fuse <= 35_000
    assert all(line.trip < feed.main_fuse for line in found.plan.only.outputs)


def test_a_smaller_fuse_than_the_sum_needs_is_told_with_it() -> None:
    """The Harbour Trail draws 20.566 A: 1.25 x that are 25.708 A, so 30 A; a unit that takes 25 A says why not."""
    eleven = read_unit(find_unit("eleven-way"))
    small = eleven.model_copy(update={"feed": eleven.feed.model_copy(update={"fuse_max": 25_000})})
    found = plan(read_bike(EXAMPLES / "harbour-trail.yaml"), small)
    assert isinstance(found, NothingFits)
    (conflict,) = found.conflicts
    assert "the unit takes a main fuse of 25 A at most" in conflict.sentence
    assert "the unit takes a main fuse of up to 25 A" in [fact.sentence for fact in conflict.facts]


def test_beyond_the_largest_step_there_is_none() -> None:
    """80 A is the largest of ISO 8820-3, and carries 80 / 1.25 = 64 A for good."""
    large = unit(OUT.replace("15 A", "90 A").replace("60 A", "900 A"), feed="limit: 100 A")
    told = "with the key on: 64.001 A (lamp), 80 A, the largest main fuse, carries 64 A continuously"
    for drawn, wrong in (("64 A", []), ("64.001 A", [told])):
        (site,) = sites_of(Job(*on((bike(f"{LAMP}, current: {drawn}"), large))))
        assert [clash.sentence for clash in place_clashes([RULE], site)] == wrong


@pytest.mark.parametrize(("drawn", "wires"), [("999 mA", 0), ("1 A", 1)])
def test_a_feed_heats_its_company_from_an_ampere_on(drawn: str, wires: int) -> None:
    """33 CFR 183.425, Note 2, counts current-carrying wires: here from 1 A on (common practice, no source)."""
    job = Job(*on(at_the_neck((bike(f"{LAMP}, current: {drawn}"), unit(OUT)))))
    (site,) = sites_of(job)
    assert {fixed_loaded(site, 0, case) for case in job.steady} == {wires}


def test_a_conflict_names_the_fuse_like_any_other_fact() -> None:
    """An output that trips at 13 A, and a unit that takes 10 A: ISO 8820-3 has nothing between."""
    found = plan(*on((bike(f"{LAMP}, current: 6 A"), unit(f"{OUT}, trip: 13 A", feed="limit: 20 A, fuse_max: 10 A"))))
    assert isinstance(found, NothingFits)
    (conflict,) = found.conflicts
    within = "no main fuse is above the 13 A that out 1 trips at for lamp and within the 10 A that the unit takes"
    assert within in conflict.sentence


def test_a_unit_that_does_not_say_takes_the_largest_step_within_its_limit() -> None:
    """A limit of 20 A: a fuse of 20 A, which carries 16 A for good; so says a plan, and a bike of 16.001 A has none."""
    lamps = bike(f"{LAMP}, current: 8 A", f"{OTHER}, current: 8 A")
    outputs = (f"{OUT}, trip: 10 A", f"{SECOND}, trip: 10 A")
    found = plan(*on((lamps, unit(*outputs, feed="limit: 20 A"))))
    assert isinstance(found, Planned)
    assert any("and so carries 16 A of 20 A" in line for line in found.plan.assumed)
    said = plan(*on((lamps, unit(*outputs, feed="limit: 20 A, fuse_max: 20 A"))))
    assert isinstance(said, Planned)
    assert not any("16 A of 20 A" in line for line in said.plan.assumed)
    more = bike(f"{LAMP}, current: 8 A", f"{OTHER}, current: 8.001 A")
    assert isinstance(plan(*on((more, unit(*outputs, feed="limit: 20 A")))), NothingFits)


def test_of_equal_plans_the_smallest_fuse() -> None:
    """1 A on outputs that trip at 2 A: of all steps above that, 3 A."""
    found = plan(*on((bike(f"{LAMP}, current: 1 A"), unit(f"{OUT}, trip: 2 A"))))
    assert isinstance(found, Planned)
    assert found.plan.only.feed.main_fuse == 3000


def test_a_larger_fuse_where_it_saves_a_drop() -> None:
    """2 A: 150 mV on the feed, 100 mV at a fuse's rating; a load that may lose little asks for a larger fuse.

    Fuses of 3 and 10 A lose 66.7 and 20 mV (by proportion), 46.7 mV less.
    """
    fuses = []
    for allowed in range(500, 200, -10):
        limit = f"limits: {{drop: {{other: {allowed} mV}}}}"
        found = plan(*on((bike(f"{LAMP}, current: 2 A", more=limit), unit(f"{OUT}, trip: 2.5 A"))))
        fuses += [found.plan.only.feed.main_fuse] if isinstance(found, Planned) else []
    assert fuses == sorted(fuses)
    assert fuses[0] == 3000
    assert fuses[-1] > 3000


@first_of("family", ["plain", "sharing", "faults", "openings"], 3)
@on_seeds(FEW, range(7000, 7006))
def test_to_leave_a_load_out_never_loses_a_plan(family: str, seeds: range) -> None:
    """On small random bikes that have a plan there is one without each of their loads."""
    tried = 0
    for seed in seeds:
        try:
            job = Job(*on(random_case(seed, family)))
        except BadFile:
            continue
        rules = rules_of(job)
        instance = Instance(job, rules)
        runs = runs_over(job, instance.sites)

        def fits(instance: Instance, *dropped: tuple[str, ...], runs: object = runs) -> bool:
            kept = relaxed_to(instance, instance.everything.difference(dropped))
            choices = each_tableau(kept.job, kept.rules, kept.sites, runs)  # type: ignore[arg-type]
            return isinstance(any_plan(kept.rules, choices, Clock(None)), Possible)

        if not fits(instance):
            continue
        for key in [key for key in instance.keys if kind_of(key) is LOAD][:3]:
            assert fits(instance, key), (seed, key)
            tried += 1
    assert tried
