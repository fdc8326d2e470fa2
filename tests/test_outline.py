"""What is asked before any wire is laid, and ways round that a plan may choose: they lose no plan and make none.

Held against plain enumeration: each set of ways round written into the bike, and the search over all columns at once.
"""

from collections.abc import Iterator, Sequence
from itertools import combinations

import pytest

from explained import questions_on
from file_edit_named import bike, output, unit
from oracle.random_bikes import random_case
from portloom.base.clock import Clock
from portloom.explaining.conflicts.kept import Instance, relaxed_to
from portloom.explaining.conflicts.question import Questions
from portloom.explaining.fixes.change import Change, Target
from portloom.explaining.fixes.fix import made
from portloom.explaining.fixes.looms import ways_round
from portloom.inputs.problems import BadFile
from portloom.job.job import Job
from portloom.job.losses import Losses
from portloom.job.wired import laid_shortest
from portloom.rules.book import rules_of, unlaid_clashes, wired_clashes
from portloom.search import in_turn
from portloom.search.best import all_pairs, each_of, runs_over
from portloom.search.feasibility import Impossible, Possible, any_outline, any_plan
from portloom.search.model import Model
from portloom.search.near import Seats, near, seats_of
from portloom.search.outline import outline
from portloom.search.solving import Solve, Status
from portloom.search.tableau import counted_out
from rule_bikes import OUT
from rule_bikes import bike as small_bike
from rule_bikes import unit as small_unit
from rule_trials import ONE
from slices import FEW, on_seeds, third_of

FAMILIES = ("plain", "banks", "openings", "sharing", "follow", "multiplexed", "wires")
NARROW = (5002, 5003, 5009)
"""Seeds of bikes whose wires go through no opening as they lie, or through one."""


def _asked(family: str, seeds: Sequence[int]) -> Iterator[Questions]:
    for seed in seeds:
        try:
            yield questions_on(random_case(seed, family))
        except BadFile:
            continue


@pytest.mark.parametrize("at_once", [0, in_turn.FEW])
@third_of("family", FAMILIES, 1)
@on_seeds(FEW, range(9000, 9020))
def test_without_wires_no_plan_is_lost(
    family: str, at_once: int, seeds: Sequence[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the outline has no plan no place has one; and a question has the answer of all columns together.

    So it has whether few candidates are laid at once or one after the other.
    """
    monkeypatch.setattr(in_turn, "FEW", at_once)
    for questions in _asked(family, seeds):
        instance = questions.instance
        runs = runs_over(instance.job, instance.sites)
        for kept in (instance.everything, *(instance.everything - {key} for key in instance.keys[:3])):
            part = relaxed_to(instance, kept)
            pairs = all_pairs(part.job, part.rules, runs)
            all_columns = any_plan(part.rules, each_of(pairs, part.rules, part.sites, runs), Clock(None))
            sketch = any_outline(outline(part.rules, part.sites[0], pairs), Clock(None), twice=True)
            assert not (isinstance(sketch, Impossible) and isinstance(all_columns, Possible))
            assert questions.has_plan(kept) == isinstance(all_columns, Possible)


@third_of("family", FAMILIES, 1)
@on_seeds(FEW, range(9000, 9020))
def test_near_a_plan_all_columns_have_one(family: str, seeds: Sequence[int]) -> None:
    """Where a plan is looked for near the one that was found last, the answer is that of all columns together.

    So it is at the place that is told: each of some facts is left out, one after the other, and comes back.
    """
    near_by = 0
    for questions in _asked(family, seeds):
        instance = questions.instance
        runs = runs_over(instance.job, instance.sites)
        seats: Seats | None = None
        for key in instance.keys[:12]:
            kept = instance.everything - {key}
            part = relaxed_to(instance, kept)
            pairs = all_pairs(part.job, part.rules, runs)
            near_by += seats is not None and near(seats, part.job, part.rules) is not None
            place = questions.place_of(kept)
            sites = [site for site in part.sites if place in (None, site.label)]
            all_columns = any_plan(part.rules, each_of(pairs, part.rules, sites, runs), Clock(None))
            assert isinstance(all_columns, Possible) == (place is not None)
            seats = seats_of(all_columns) if isinstance(all_columns, Possible) else seats
    assert near_by >= len(seeds)


@pytest.mark.parametrize("at_once", [0, in_turn.FEW])
@on_seeds(NARROW, range(5000, 5060))
def test_open_ways_have_a_plan_where_some_set_of_them_has(
    at_once: int, seeds: Sequence[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A plan may choose among ways round; it has just the plans of the bikes that are led so."""
    monkeypatch.setattr(in_turn, "FEW", at_once)
    seen: set[bool] = set()
    for questions in _asked("openings", seeds):
        whole = questions.instance
        loads = whole.job.loads
        there = {load.name for load in (*loads.on_unit, *loads.guests)}
        ways = [change for change in ways_round(whole) if change.slot[1] in there][:4]
        if not ways or questions.has_plan(whole.keys):
            continue
        legs = {load: frozenset(way.slot[2] for way in ways if way.slot[1] == load) for load in there}
        opened = Instance(whole.job, whole.rules, ways=legs)
        found = Questions(opened, Clock(None)).has_plan(opened.keys)
        assert found == any(_fits(whole, some) for count in range(1, 5) for some in combinations(ways, count))
        seen.add(found)
    assert seen == {True, False}


@pytest.mark.parametrize("led", ["left", "right"])
def test_either_of_two_that_are_alike_may_be_led_round(led: str) -> None:
    """One column stands for both, and has the ways of both.

    By hand: with the return three wires of 1.7 mm lie in the leg, 1.25 x sqrt(3) x 1.7 = 3.7 mm, and the sleeve's 1 mm;
    two are 3.4 mm side by side.
    """
    loads = (f"{{name: {name}, at: neck, current: 0.6 A}}" for name in ("left", "right"))
    whole = questions_on((bike(*loads, leg=", opening: 4.5 mm"), unit(output("out 1"), output("out 2")))).instance
    assert not Questions(whole, Clock(None)).has_plan(whole.keys)
    opened = Instance(whole.job, whole.rules, ways={led: frozenset({"tray - neck"})})
    assert Questions(opened, Clock(None)).has_plan(opened.keys)


@on_seeds(FEW, range(9000, 9060))
def test_what_is_counted_out_has_no_plan(seeds: Sequence[int]) -> None:
    """Where counting says that a choice has no plan, the solver, which counts nothing, finds none either."""
    counted: list[bool] = []
    for family in ("plain", "banks", "openings", "multiplexed"):
        for questions in _asked(family, seeds):
            instance = questions.instance
            runs = runs_over(instance.job, instance.sites)
            for choice in each_of(all_pairs(instance.job, instance.rules, runs), instance.rules, instance.sites, runs):
                without = Model(choice).solve(Solve(None)).status is Status.IMPOSSIBLE
                assert without or not counted_out(choice)
                counted += [counted_out(choice)] if without else []
    assert True in counted


@pytest.mark.parametrize(
    ("trip", "tails", "refused"), [("11 A", "", False), ("11.001 A", "", True), ("11 A", "0.35 mm2", True)]
)
def test_what_no_wire_would_do_for_is_refused_before_one_is_laid(trip: str, tails: str, refused: bool) -> None:  # noqa: FBT001
    """0.5 mm2 carries 11 A in 30 C (from memory), less where it is hotter; 0.35 mm2 carries less than that.

    What is refused before a wire is laid is refused with each that could be laid.
    """
    lamp = f"{ONE}, leads: {tails}" if tails else ONE
    questions = questions_on((small_bike(lamp), small_unit(f"{OUT}, trip: {trip}, wire_max: 0.5 mm2")))
    job, rules, sites = questions.instance.job, questions.instance.rules, questions.instance.sites
    circuit, port = job.circuit(job.loads.on_unit), job.unit.outputs[0]
    assert bool(next(unlaid_clashes(rules, job, circuit, port), None)) == refused
    laid = [laid_shortest(site, Losses(site), circuit, port) for site in sites]
    assert all(bool(wired and next(wired_clashes(rules, wired), None)) == refused for wired in laid)


def _fits(whole: Instance, ways: Sequence[Change]) -> bool:
    """Tell whether a bike has a plan whose wires are led these ways round."""
    target = made(Target(whole.job.bike, whole.job.unit), ways)
    assert target is not None
    job = Job(target.bike, target.unit)
    instance = Instance(job, rules_of(job))
    return Questions(instance, Clock(None)).has_plan(instance.keys)
