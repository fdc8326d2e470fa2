"""What can never make things better, or worse: on single wires, and on random small bikes.

Sources: U = I x R; 33 CFR 183.425 Table 5 and its notes (ampacity falls with heat and company). The bikes are
random and made up.
"""

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from functools import cache

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from oracle.random_bikes import FAMILIES, random_case
from portloom.base.ampacity import carries_in_leg, derated
from portloom.base.clock import Clock
from portloom.base.copper import CATALOGUE, INSULATIONS, Conductor, catalogue
from portloom.base.drop import MicroVolts, ampere_metres, wire_drop
from portloom.base.quantities import Micrometres, MilliAmps, MilliCelsius
from portloom.base.sizes import WireSize
from portloom.inputs.files import unit_from_text
from portloom.inputs.problems import BadFile
from portloom.inputs.rule_slugs import NEVER_SET_ASIDE
from portloom.job.assignment import Assignment
from portloom.job.cases import Case
from portloom.job.fixed import conductor_of, first_conductor
from portloom.job.fixed_wires import common_fixed_wires
from portloom.job.job import Job
from portloom.job.sizing import Sized, size_wires
from portloom.rules.book import RULES
from portloom.rules.shapes import Rule
from portloom.rules.sites import sites_of
from portloom.search.best import best_assignment
from portloom.verify.relaid import lay
from slices import FEW, third_of
from unasked import bike_from_text

SEEDS = (*FEW, *(seed for seed in range(1000, 1020) if seed not in FEW))
SLOW = ("openings", "coils", "returns", "feeds", "switched", "spurs")
"""Families that take long to throw and to plan."""
EACH_FAMILY = third_of("family", [family for family in FAMILIES if family not in SLOW] + [*SLOW], 1)
SOME = settings(max_examples=100, deadline=None, derandomize=True, database=None)
AMPERES, LENGTHS, HEAT = st.integers(1, 80_000), st.integers(1, 5_000_000), st.integers(-20_000, 104_000)
Texts = tuple[str, str]


# --- single wires


def lost(wire: Conductor, amperes: int, length: int, heat: int) -> MicroVolts:
    """Return what is lost of mA over um at mC."""
    return wire_drop(wire, ampere_metres(MilliAmps(amperes), Micrometres(length), MilliCelsius(heat)))


@given(
    number=st.integers(0, len(CATALOGUE) - 1), amperes=AMPERES, length=LENGTHS, more=LENGTHS, heat=HEAT,
    hotter=st.integers(0, 60_000),
)  # fmt: skip
@SOME
def test_a_longer_or_hotter_wire_never_loses_less(
    number: int, amperes: int, length: int, more: int, heat: int, hotter: int
) -> None:
    """More length, more current or more heat in a wire of one size means more voltage lost; a thicker size less."""
    wire = CATALOGUE[number]
    here = lost(wire, amperes, length, heat)
    assert lost(wire, amperes, length + more, heat) > here
    assert lost(wire, amperes + more, length, heat) > here
    assert lost(wire, amperes, length, heat + hotter) >= here
    assert all(lost(thicker, amperes, length, heat) < here for thicker in CATALOGUE[number + 1 :])


@given(
    column=st.sampled_from(INSULATIONS),
    heat=st.integers(-20_000, 59_000),
    hotter=st.integers(0, 40_000),
    loaded=st.integers(1, 30),
    more=st.integers(0, 30),
    amperes=AMPERES,
)
@SOME
def test_hotter_or_fuller_never_carries_more(
    column: int, heat: int, hotter: int, loaded: int, more: int, amperes: int
) -> None:
    """What a wire carries in a hotter leg or among more wires, it carries in a cooler or emptier one."""
    insulation = MilliCelsius(column * 1000)
    worse = MilliCelsius(min(heat + hotter, insulation - 1))
    for wire in catalogue(column, "plain").values():
        here = derated(wire.ampacity, insulation, MilliCelsius(heat), loaded)
        assert derated(wire.ampacity, insulation, worse, loaded + more) <= here <= wire.ampacity
        if carries_in_leg(wire.ampacity, insulation, worse, loaded + more, MilliAmps(amperes)):
            assert carries_in_leg(wire.ampacity, insulation, MilliCelsius(heat), loaded, MilliAmps(amperes))


# --- random bikes


def job_of(texts: Texts) -> Job:
    """Return the job that two files set."""
    return Job(bike_from_text(texts[0], "bike"), unit_from_text(texts[1], "unit"))


def best(job: Job, rules: tuple[Rule, ...]) -> Assignment | None:
    """Return the best plan by some rules, or None if nothing fits."""
    found = best_assignment(job, rules, sites_of(job), Clock(None))
    return found if isinstance(found, Assignment) else None


def candidates(family: str) -> Iterator[tuple[int, Job]]:
    """Return the random bikes of a family, with their seeds, but for those that no file may say."""
    for seed in SEEDS:
        with suppress(BadFile):
            yield seed, job_of(random_case(seed, family))


@cache
def first_planned(family: str) -> tuple[int, Job, Assignment]:
    """Return the first random bike of a family that has a plan by every rule, with its seed."""
    return next(planned(family))


def planned(family: str) -> Iterator[tuple[int, Job, Assignment]]:
    """Return the random bikes of a family that have a plan by every rule, each with its seed."""
    found = ((seed, job, best(job, RULES)) for seed, job in candidates(family))
    return ((seed, job, plan) for seed, job, plan in found if plan is not None)


def sizes(sized: Sized) -> dict[str, WireSize]:
    """Return every wire's settled size, by what it is."""
    outputs = {wired.output.name: wired.drawn.size for wired in sized.laid.outputs}
    site = sized.laid.site
    own = [wire for wire in site.fixed_wires if wire.kind != "alongside"]
    return outputs | {f"{wire.kind} {wire.name}": conductor_of(site, wire).size for wire in own}


@EACH_FAMILY
def test_no_wire_is_thinner_than_its_first_size(family: str) -> None:
    """Derating and faults thicken wires after their first sizes, never thin them."""
    _, job, plan = first_planned(family)
    laid = lay((job,), plan)
    found = size_wires(laid)
    for before, after in zip(laid.outputs, found.laid.outputs, strict=True):
        assert after.drawn.size >= before.serving[0].size
    for wire in laid.site.fixed_wires:
        if wire.kind != "alongside":
            assert conductor_of(found.laid.site, wire).size >= first_conductor(laid.site, wire).size


def beside(texts: Texts, count: int) -> Texts:
    """Lay loaded wires alongside through every leg of a bike, and open its openings wide."""
    bike = yaml.safe_load(texts[0])
    for number, leg in enumerate(bike["frame"]["legs"]):
        start, end = leg["between"]
        wire = {"name": f"charger {number}", "from": start, "to": end, "size": "1 mm2", "current": "5 A"}
        bike.setdefault("alongside", []).append({**wire, "count": str(count)})
    return yaml.safe_dump(bike, sort_keys=False, allow_unicode=True), texts[1]


def among(count: int, seed: int, family: str, plan: Assignment) -> Sized:
    """Size a plan of a random bike with so many loaded wires more in every leg."""
    fuller = job_of(beside(random_case(seed, family), count))
    own = [wire for wire in plan.fixed_wires if wire.kind != "alongside"]
    wires = (*own, *(wire for wire in common_fixed_wires(fuller) if wire.kind == "alongside"))
    return size_wires(lay((fuller,), replace(plan, fixed_wires=wires)))


@EACH_FAMILY
def test_a_loaded_wire_alongside_never_thins_a_wire(family: str) -> None:
    """The same plan among ever more loaded wires has no thinner wire anywhere.

    Where a bike has no reel thick enough beside one wire more, as for a feed that just carries its main fuse, another
    is tried.
    """
    found = ((seed, plan, sizes(size_wires(lay((job,), plan)))) for seed, job, plan in planned(family))
    seed, plan, before = next(
        each for each in found if family == "bundles" or not among(1, each[0], family, each[1]).unprotected
    )
    for count in (1, 3, 30):
        found_so = among(count, seed, family, plan)
        if found_so.unprotected:  # no reel is thick enough any more
            assert count > 1 or family == "bundles"
            return
        after = sizes(found_so)
        assert after.keys() == before.keys()
        assert all(after[wire] >= before[wire] for wire in before)
        before = after


def names_on(job: Job, case: Case) -> frozenset[str]:
    """Return the loads that are on in a case."""
    return frozenset(load.name for load in (*job.loads.on_unit, *job.loads.guests) if job.on(load, case))


@EACH_FAMILY
@pytest.mark.parametrize("when", ["day, braking", "cranking, horn"])
def test_one_more_load_never_lowers_a_total(family: str, when: str) -> None:
    """For every case there is one with the extra load on the bike in which as much is on and as much flows."""
    text, unit = random_case(first_planned(family)[0], family)
    bike = yaml.safe_load(text)
    bike["loads"].append({"name": "extra", "at": bike["loads"][0]["at"], "current": "1.7 A", "when": when.split(", ")})
    less, more = job_of((text, unit)), job_of((yaml.safe_dump(bike), unit))
    totals = [(names_on(more, case), more.unit_current(case)) for case in more.cases]
    for case in less.cases:
        on = names_on(less, case)
        assert max(total for fuller, total in totals if on <= fuller) >= less.unit_current(case)
    assert more.worst >= less.worst


@EACH_FAMILY
def test_a_rule_set_aside_never_makes_a_plan_dearer(family: str) -> None:
    """Without a rule the best plan costs as much or less."""
    _, job, plan = first_planned(family)
    for rule in (rule for rule in RULES if rule.slug not in NEVER_SET_ASIDE):
        others = tuple(other for other in RULES if other is not rule)
        cheaper = best(job, others)
        assert cheaper is not None, rule.slug
        assert cheaper.cost <= plan.cost, rule.slug
