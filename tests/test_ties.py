"""Of plans that cost the same, the one whose column numbers, sorted, come first as a list, as Python orders lists.

References: every plan of small random choices, tried one by one; HiGHS (scipy.optimize.milp) on the columns of random
bikes, asked for each column in turn how often it can be used at most; and, with true wire sizes, every plan of the
best cost of small random bikes, each listed and the first taken.
"""

import random
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import partial
from itertools import product
from typing import Any

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from bench.places import programme
from oracle.random_bikes import random_case
from portloom.base.clock import Clock
from portloom.inputs.files import unit_from_text
from portloom.inputs.problems import BadFile
from portloom.job.job import Job
from portloom.rules.book import rules_of
from portloom.rules.sites import sites_of
from portloom.search import solving, ties
from portloom.search.best import tableaux_of
from portloom.search.columns import Flag, Link, SumRow
from portloom.search.places import Contender, Found, best_of
from portloom.search.sizing_cuts import in_true_sizes
from portloom.search.solving import Solve
from portloom.search.tableau import NO_LOWER_BOUND, Tableau
from portloom.search.ties import break_ties
from slices import first_of, on_seeds
from unasked import bike_from_text

Chosen = tuple[int, ...]
NO_LIMIT = Clock(None)


def listed(chosen: Sequence[int]) -> list[int]:
    """Return the column numbers of a plan, sorted, one that is used twice standing twice."""
    return [number for number, times in enumerate(chosen) for _ in range(times)]


# --- random choices


@dataclass(frozen=True)
class Bare:
    """A column that is nothing but what it costs, and how often it may be used."""

    cost: int
    most: int


def choice_of(columns: Sequence[Bare], rows: Sequence[SumRow], links: Sequence[Link]) -> Tableau:
    """Return a choice that is nothing but numbers."""
    nothing: Any = None
    bare: Any = tuple(columns)
    return Tableau(nothing, bare, tuple(rows), tuple(links), fixed_cost=7)


def random_choice(dice: random.Random) -> Tableau:
    """Return a small choice with few different costs, so that many plans cost the same; nought and less among them."""
    size = dice.randint(3, 8)
    columns = [Bare(dice.choice((-1, 0, 0, 1, 1, 2)), dice.choice((1, 1, 1, 2))) for _ in range(size)]
    rows = []
    for _ in range(dice.randint(1, 4)):
        held = dice.sample(range(size), dice.randint(1, size))
        least = dice.choice((0, 0, 1, 1, 2))
        row = SumRow(tuple((n, dice.choice((1, 1, 2))) for n in sorted(held)), least, least + dice.choice((0, 1, 3)))
        rows.append(row if row.at_least else replace(row, at_least=dice.choice((0, NO_LOWER_BOUND))))
    links = [
        Link(dice.randrange(size), tuple(dice.sample(range(size), dice.randint(0, 2))))
        for _ in range(dice.randint(0, 2))
    ]
    return choice_of(columns, rows, links)


def every_plan(choice: Tableau) -> Iterator[Chosen]:
    """Return every way to use the columns that keeps rows and links."""
    for chosen in product(*(range(column.most + 1) for column in choice.columns)):
        sums = (sum(chosen[number] * amount for number, amount in row.entries) for row in choice.rows)
        if all(row.at_least <= total <= row.at_most for row, total in zip(choice.rows, sums, strict=True)) and all(
            not chosen[link.column] or any(chosen[other] for other in link.any_of) for link in choice.links
        ):
            yield chosen


def cost(choice: Tableau, chosen: Chosen) -> int:
    """Return what a plan costs."""
    return choice.fixed_cost + sum(times * column.cost for times, column in zip(chosen, choice.columns, strict=True))


def refusing(refused: frozenset[Chosen], choice: Tableau, chosen: Chosen) -> Callable[[], Tableau] | None:
    """Refuse some plans, as true wire sizes do: by a row and a flag that every other plan keeps."""
    if chosen not in refused:
        return None
    # Another plan uses some column more often or less often: a flag for each of these, one of which is up.
    first = len(choice.columns) + len(choice.flags)
    flags: list[Flag] = []
    rows, at = [], first
    for number, times in enumerate(chosen):
        most = choice.columns[number].most
        if times < most:
            rows.append(SumRow(((number, 1), (at, -times - 1)), 0, most))
            flags, at = [*flags, Flag(1, ())], at + 1
        if times:
            rows.append(SumRow(((number, 1), (at, most - times + 1)), NO_LOWER_BOUND, most))
            flags, at = [*flags, Flag(1, ())], at + 1
    some = SumRow(tuple((flag, 1) for flag in range(first, at)), 1, len(flags))
    return lambda: replace(choice, flags=(*choice.flags, *flags), rows=(*choice.rows, *rows, some))


@first_of("start", range(0, 240, 120), 1)
def test_the_first_of_every_plan_of_the_best_cost(start: int) -> None:
    """Some plans of each choice are refused, as those are whose wires are too thin for their company."""
    planned = short = loops = 0
    for seed in range(start, start + 120):
        dice = random.Random(f"ties {seed}")
        choice = random_choice(dice)
        plans = list(every_plan(choice))
        refused = frozenset(dice.sample(plans, min(len(plans), dice.choice((0, 0, 1, len(plans) // 2)))))
        passing = [plan for plan in plans if plan not in refused]
        best = min((cost(choice, plan) for plan in passing), default=None)
        place = Contender(choice, partial(refusing, refused))
        found = best_of([place], NO_LIMIT)
        assert isinstance(found, Found) == (best is not None), seed
        if not isinstance(found, Found):
            continue
        equal = [listed(plan) for plan in passing if cost(choice, plan) == best]
        assert (found.cost, listed(found.chosen)) == (best, min(equal)), seed
        planned += len(equal) > 1
        # Where a list begins as another does and ends, it is the first, though it uses less of the column after that.
        short += min(equal) != listed(max(plan for plan in passing if cost(choice, plan) == best))
        loops += place.choice is not choice
        assert found.tableau is choice, seed  # what the search added on the way is no part of what is told
    assert min(planned, short, loops) > 0


# --- random bikes


def random_choices(families: Sequence[str], seeds: Sequence[int]) -> Iterator[tuple[int, tuple[Tableau, ...]]]:
    """Return random bikes of some families in turn, each with its seed and the choice at its sites."""
    for number, seed in enumerate(seeds):
        with suppress(BadFile):
            bike, unit = random_case(seed, families[number % len(families)])
            job = Job(bike_from_text(bike, "bike"), unit_from_text(unit, "unit"))
            choices = tableaux_of(job, rules_of(job), sites_of(job))
            if choices:  # else no main fuse serves the unit anywhere
                yield seed, choices


def most_first(choice: Tableau, value: int) -> Chosen:
    """Return, by HiGHS, the plan of a cost with the first column as often as can be, then the second, and so on."""
    asked = programme(choice)
    costs = asked.pop("c")
    least = np.array(asked["bounds"].lb, float) * np.ones(len(costs))
    most = np.array(asked["bounds"].ub, float)
    held = LinearConstraint(costs[None, :], value - choice.fixed_cost, value - choice.fixed_cost)
    for number in range(len(costs)):
        wanted = np.zeros(len(costs))
        wanted[number] = -1
        bounds = {"bounds": Bounds(least, most), "constraints": [asked["constraints"], held]}
        end = milp(wanted, integrality=asked["integrality"], **bounds)
        least[number] = most[number] = round(end.x[number])
    return tuple(round(times) for times in most)


@on_seeds(range(1000, 1005), range(8000, 8015))
def test_highs_says_the_same_of_random_bikes(seeds: range) -> None:
    """With wires at their thinnest, column after column. No plan ends where another goes on: each load is in each."""
    tried = 0
    for seed, choices in random_choices(("plain", "sharing", "later", "banks", "multiplexed"), seeds):
        found = best_of([Contender(choice, lambda *_: None) for choice in choices], NO_LIMIT)
        if isinstance(found, Found):
            assert found.chosen == most_first(found.tableau, found.cost), seed
            tried += 1
    assert tried > len(seeds) // 3


def plans_up_to(choice: Tableau, value: int, most: int) -> list[Chosen] | None:
    """Return every plan that costs ``value`` at most, by HiGHS, one forbidden after the other; None beyond so many."""
    asked = programme(choice)
    costs = asked["c"]
    count = len(costs)
    rules = [asked.pop("constraints"), LinearConstraint(costs[None, :], -np.inf, value - choice.fixed_cost)]
    plans: list[Chosen] = []
    while len(plans) <= most:
        end = milp(**asked, constraints=rules)
        if end.x is None:
            return plans
        plan = np.round(end.x)
        plans.append(tuple(int(times) for times in plan))
        rules.append(LinearConstraint((1 - 2 * plan)[None, :], 1 - plan.sum(), count))
    return None


@on_seeds((1004, 1001, 1006, 1003), range(1000, 1012), range(8000, 8032))
def test_true_wire_sizes_are_heeded(seeds: Sequence[int]) -> None:
    """Of all plans that cost no more than the best, those that pass with true wire sizes cost the same; it is first."""
    tried = refused = ties = 0
    for seed, choices in random_choices(("bundles", "wires", "faults", "openings"), seeds):
        rules = rules_of(choices[0].site.job)
        found = best_of([Contender(choice, partial(in_true_sizes, rules)) for choice in choices], NO_LIMIT)
        if not isinstance(found, Found) or any(column.most > 1 for column in found.tableau.columns):
            continue
        as_set_up = next(choice for choice in choices if choice.site is found.tableau.site)
        plans = plans_up_to(as_set_up, found.cost, 40)
        if plans is None:
            continue
        passing = [listed(plan) for plan in plans if in_true_sizes(rules, as_set_up, plan) is None]
        assert listed(found.chosen) == min(passing), seed
        tried += 1
        refused += len(passing) < len(plans)
        ties += len(passing) > 1
    assert min(tried, refused, ties) > 0


def test_part_by_part_finds_the_same_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where decisions in order are given no time, a few columns after the other lead to the first of every plan."""
    monkeypatch.setattr(solving, "IN_ORDER", 0.0)
    monkeypatch.setattr(ties, "WAYS", 4)
    tried = 0
    for seed in range(120):
        choice = random_choice(random.Random(f"ties {seed}"))
        costs = {plan: cost(choice, plan) for plan in every_plan(choice)}
        best = min(costs.values(), default=None)
        if best is not None:
            known = next(plan for plan, own in costs.items() if own == best) if seed % 2 else ()
            first = break_ties(choice, lambda *_: None, best, known, (), partial(Solve, None))
            assert isinstance(first, tuple), seed
            assert listed(first) == min(listed(plan) for plan, own in costs.items() if own == best), seed
            tried += 1
    assert tried > 60


def test_nothing_to_choose_is_a_plan() -> None:
    """A choice without columns has one plan, the empty one."""
    assert break_ties(choice_of((), (), ()), lambda *_: None, 7, (), (), partial(Solve, None)) == ()
