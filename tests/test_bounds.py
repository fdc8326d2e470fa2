"""No bound that is told is above the optimum, whatever is weighed and wherever a solve is stopped.

The optimum comes from HiGHS (scipy.optimize.milp) on the same columns and rows, and for two units from the reference
in ``oracle``. Solves are stopped by the solver's own deterministic time, so each test goes the same way each time.
"""

import random
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import replace

import pytest
import yaml
from scipy.optimize import milp

from bench.places import cost_of, programme
from calls import ROOT
from oracle import pairs
from oracle.pair_bikes import pair_case
from oracle.random_bikes import random_case
from portloom.base.clock import Clock
from portloom.inputs.files import find_unit, read_unit, unit_from_text
from portloom.inputs.problems import BadFile
from portloom.job.job import Job
from portloom.planning.plan import Planned, Unknown, plan
from portloom.rules.book import rules_of
from portloom.rules.shapes import Rule
from portloom.rules.sites import sites_of
from portloom.search import dual, running
from portloom.search.best import Choices, _without, tableaux_of
from portloom.search.model import Model
from portloom.search.pairs.joint import Wanted, joint_choice
from portloom.search.pairs.search import prospect
from portloom.search.pairs.seats import SeatChoices, lower_bound_of, seats_of
from portloom.search.places import Contender, Found, LimitReached, best_of
from portloom.search.solving import Solve, Status
from portloom.search.tableau import Tableau, lower_bound
from portloom.search.trade_offs import priced
from slices import first_of, of_trials, on_seeds
from unasked import bike_from_text

STOPS = (0.0, 1e-7, 1e-5, 1e-4, 1e-3)
"""Where solves are stopped, in seconds of deterministic time; nought stops before anything is proved."""
WEIGHTS = ((1, 1), (1, 5), (5, 1), (1, 0), (0, 1))
"""What a micrometre of wire run and one of spare-port loss weigh."""


class Stopped(Solve):
    """A run that is stopped by deterministic time."""

    stop = 0.0

    def __init__(self, seconds: float | None, **told: object) -> None:
        """Take what every run takes; the stop is the class's."""
        super().__init__(seconds, **told)  # type: ignore[arg-type]
        self.solver.settings.max_deterministic_time = self.stop


@pytest.fixture(params=STOPS)
def stop(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> float:
    """Stop every solve of the race at a time; each place needs one."""
    monkeypatch.setattr(Contender, "at_once", lambda _: None)
    monkeypatch.setattr(running, "Solve", Stopped)
    monkeypatch.setattr(Stopped, "stop", request.param)
    return float(request.param)


def later_bikes(count: int) -> Iterator[tuple[tuple[Tableau, ...], tuple[int, int]]]:
    """Return the choices at all sites of random bikes with later loads worth much, and how their cost is weighed."""
    dice = random.Random("bounds")
    while count:
        with suppress(BadFile):
            text, unit = random_case(dice.randrange(10**6), dice.choice(("plain", "wires", "sharing", "banks")))
            bike = yaml.safe_load(text)
            bike["later"] = [
                {"name": f"later {number}", "current": "1 A", "worth": f"{dice.randint(0, 20_000)} mm"}
                for number in range(dice.randint(0, 3))
            ]
            bike["weights"] = {"ampere": f"{dice.randint(0, 500)} mm", "ability": f"{dice.randint(0, 500)} mm"}
            job = Job(bike_from_text(yaml.safe_dump(bike), "bike"), unit_from_text(unit, "unit"))
            rules = rules_of(job)
            weights = dice.choice(WEIGHTS)
            yield tuple(priced(each, *weights) for each in tableaux_of(job, rules, sites_of(job))), weights
            count -= 1


def optimum(choice: Tableau) -> int | None:
    """Return what HiGHS says that the best plan costs, true wire sizes aside."""
    return cost_of(choice, milp(**programme(choice)))


@of_trials(16, 40)
def test_the_bound_at_a_glance_is_never_above_the_optimum(count: int) -> None:
    """Of each site of so many bikes, however wire run and loss are weighed."""
    tried = [(lower_bound(choice), optimum(choice)) for choices, _ in later_bikes(count) for choice in choices]
    planned = [(bound, best) for bound, best in tried if best is not None]
    assert len(planned) > count
    assert [(bound, best) for bound, best in planned if bound > best] == []
    assert any(bound > 0 for bound, _ in planned)


@first_of("family", ["plain", "banks", "multiplexed", "sharing", "feeds", "wires"], 3)
@on_seeds(range(500, 506), range(506, 530))
def test_a_glance_at_a_site_is_never_above_its_optimum(family: str, seeds: range) -> None:
    """Before any wire is judged there, with every multiplexer and without one."""
    tried = near = 0
    for seed in seeds:
        bike, unit = random_case(seed, family)
        job = Job(bike_from_text(bike, "bike"), unit_from_text(unit, "unit"))
        rules = rules_of(job)
        choices = Choices(job, rules, sites_of(job))
        for number, choice in enumerate(choices):
            assert choice.site is choices.sites[number]
            for box in (None, *(each.name for each in job.bike.multiplexers)):
                best = optimum(choice if box is None else _without(box, choice))
                if best is not None:
                    glance = choices.least_at(number, box)
                    assert glance <= best, (seed, number, box)
                    tried += 1
                    near += 100 * glance > 98 * best
    assert near > tried / 2 > 2


@pytest.mark.parametrize("aim", [1, -1])
@of_trials(5, 15)
def test_a_plan_that_is_there_at_once_is_the_best(aim: int, count: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever the linear relaxation is said to be: the true one, the dearest plan, or all of each column."""
    true, wrong = 0, 0
    for choices, weights in later_bikes(count):
        for choice in choices:
            best, own = optimum(choice), Contender(choice, lambda *_: None).at_once()
            assert own is None or own.value == best, weights
            true += own is not None
            costs = {number: aim * column.cost for number, column in enumerate(choice.columns)}
            model = Model(weighed(choice, costs))
            model.minimise_cost()
            plan = model.solve(Solve(None)).chosen
            most = tuple(column.most for column in choice.columns)
            for said in (plan or most, most):
                with monkeypatch.context() as patched:
                    patched.setattr(dual.Relaxation, "whole", lambda *_, said=said: said)
                    told = Contender(choice, lambda *_: None).at_once()
                assert told is None or told.value == best, weights
                wrong += told is None
    assert true
    assert wrong


def test_what_is_half_on_one_sort_and_half_on_another_is_there_at_once() -> None:
    """The linear relaxation has halves of circuits that are to be alike; HiGHS has no cheaper plan than whole ones."""
    text = (ROOT / "examples/dressed-tourer.yaml").read_text("utf-8")
    alike = f"{text}\nalike: [[front left indicator, front right indicator]]\n"
    job = Job(bike_from_text(alike, "bike"), read_unit(find_unit("twenty-four-way")))
    halves = 0
    for choice in Choices(job, rules_of(job), sites_of(job)):
        asked = programme(choice)
        relaxed = milp(**{**asked, "integrality": 0})
        halves += any(abs(value - round(value)) > 0.1 for value in relaxed.x)
        own = Contender(choice, lambda *_: None).at_once()
        assert own is not None
        assert own.value == optimum(choice)
    assert halves


@of_trials(5, 20)
def test_no_bound_of_a_stopped_race_is_above_the_optimum(stop: float, count: int) -> None:
    """The race over all sites ends with a plan, or without, and with a bound that every plan keeps."""
    unproved = 0
    for choices, weights in later_bikes(count):
        costs = [cost for choice in choices if (cost := optimum(choice)) is not None]
        answer = best_of([Contender(choice, lambda *_: None) for choice in choices], Clock(None))
        if isinstance(answer, Found):
            assert answer.bound <= min(costs) <= answer.cost, weights
            unproved += not answer.proven
        elif isinstance(answer, LimitReached):
            assert answer.bound <= min(costs, default=answer.bound), weights
            unproved += 1
        else:
            assert costs == []
    assert unproved or stop >= min(STOPS[-2:])


@pytest.mark.usefixtures("stop")
@of_trials(1, 8)
def test_no_bound_of_two_units_is_above_the_optimum(count: int) -> None:
    """The same for two units instead of one."""
    for seed in range(count):
        bike, unit, other = pair_case(seed)
        best = pairs.optimum(bike, unit, other).cost_um
        answer = plan(bike_from_text(bike, "bike"), unit_from_text(unit, "unit"), unit_from_text(other, "other"))
        if isinstance(answer, Planned):
            assert best is not None
            assert answer.plan.bound <= best <= answer.plan.cost
        elif isinstance(answer, Unknown) and best is not None:
            assert answer.bound <= best


def weighed(choice: Tableau, weights: Mapping[int, int]) -> Tableau:
    """Return a choice in which columns cost these, all else nothing."""
    columns = (replace(column, cost=weights.get(number, 0)) for number, column in enumerate(choice.columns))
    return replace(choice, columns=tuple(columns), fixed_cost=0)


@of_trials(12, 40)
def test_the_bound_is_of_the_goal(count: int) -> None:
    """Of a weighing of columns HiGHS says what it is at least; of no goal, value and bound are nought."""
    dice = random.Random("goals")
    negative = 0
    for choices, _ in later_bikes(count):
        choice = choices[0]
        numbers = range(len(choice.columns))
        weights = {number: dice.randint(-2, 9) for number in dice.sample(numbers, len(numbers) // 2)}
        aimed, aimless = Model(weighed(choice, weights)), Model(choice)
        aimed.minimise_cost()
        end, nothing = aimed.solve(Solve(None)), aimless.solve(Solve(None))
        asked = {**programme(choice), "c": [weights.get(number, 0) for number in numbers]}
        best = milp(**asked)
        assert (end.status is Status.BEST) == (best.x is not None)
        if best.x is not None:
            assert end.value == end.bound == round(best.fun)
            assert (nothing.value, nothing.bound) == (0, 0)
            negative += round(best.fun) < 0
    assert negative


def test_the_bound_of_a_goal_that_was_stopped_is_of_the_goal() -> None:
    """A solve that ends before it begins proves no more than what the least of every column, or the most, weighs."""
    for choices, _ in later_bikes(3):
        model = Model(weighed(choices[0], {0: 1, 1: -2}))
        model.minimise_cost()
        assert model.solve(Solve(0.0)).bound == -2 * choices[0].columns[1].most


Pair = tuple[SeatChoices, SeatChoices]


def seats_of_case(seed: int) -> tuple[tuple[Rule, ...], Wanted, list[Pair]]:
    """Return the rules, who wants which switch, and every two seats at two places of a random bike with two units."""
    bike, unit, other = pair_case(seed)
    whole = bike_from_text(bike, "bike")
    first, second = Job(whole, unit_from_text(unit, "unit")), Job(whole, unit_from_text(other, "other"))
    rules = tuple(rules_of(first))
    seats = [(one, two) for one in seats_of(first, rules) for two in seats_of(second, rules) if one.place != two.place]
    return rules, Wanted(rules, first), seats


@of_trials(3, 6)
def test_the_bound_of_two_seats_is_never_above_the_optimum(count: int) -> None:
    """The least of all seats against the reference's best, and each against the best there but for sizes."""
    planned = 0
    for seed in range(count):
        rules, wanted, seats = seats_of_case(seed)
        for one, two in seats:
            model = Model(joint_choice(rules, wanted, one, two))
            model.minimise_cost()
            end = model.solve(Solve(None))
            assert end.value is None or lower_bound_of(one, two) <= end.value
        best = pairs.optimum(*pair_case(seed)).cost_um
        if best is not None:
            assert min(lower_bound_of(one, two) for one, two in seats) <= best
            planned += 1
    assert planned


def test_two_seats_can_be_asked_before_they_are_solved() -> None:
    """What is best there, and whether anything fits, has an answer at any time."""
    rules, wanted, seats = seats_of_case(0)
    both = prospect(rules, wanted, seats[0], Clock(None))
    assert both.choice.columns
    assert both.prove_again(None, lambda: Solve(None, again=True)) is not Status.UNKNOWN
