"""Why not: three different answers to a wish, judged by the reference program that is made to fulfil it.

The bikes are random. The reference in ``oracle`` shares no code with the project; HiGHS comes with scipy.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from itertools import chain
from random import Random

import yaml

from oracle import highs
from oracle.profiles import each
from oracle.random_bikes import FAMILIES, random_case
from portloom.base.clock import Clock
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.conflicts.wish import LoadOnPort, UnitAtPlace, Wish
from portloom.explaining.solved import Solved, solve
from portloom.explaining.telling.conflict import Conflict
from portloom.explaining.why_not import ExtraCost, WhyNot, why_not
from portloom.inputs.files import unit_from_text
from portloom.job.job import Job
from portloom.rules.book import rules_of
from portloom.rules.facts import by_default
from slices import FEW, slices, third_of
from unasked import bike_from_text
from wished import Seat, Texts, cost_with, fits_alone, has_plan_with

SEATS, FEW_SEATS = 6, 2
"""Wishes for a load on each bike, and of every run; and one for each place."""
EACH_FAMILY = third_of("family", FAMILIES, 2)
EACH_SEED = slices("seeds", FEW, range(8))
SOON_ASKED = ("plain", "sharing", "follow", "later", "cases", "faults", "returns")
"""Families that are soon asked about, with every answer among them."""
ONE_OF = 3
"""Of so many random bikes the first that fits is asked about."""


@dataclass(frozen=True)
class Asked:
    """A wish for a bike that fits, the answer, and the best plan: what it costs (um), and each load's port."""

    texts: Texts
    wish: Wish
    answer: WhyNot
    cost: int
    ports: dict[str, str]

    @property
    def seat(self) -> Seat | None:
        """The load and the port that are wished for."""
        return (self.wish.load, self.wish.port) if isinstance(self.wish, LoadOnPort) else None

    @property
    def place(self) -> str | None:
        """The place that is wished for."""
        return self.wish.place if isinstance(self.wish, UnitAtPlace) else None

    @cached_property
    def best(self) -> int | None:
        """What the best plan with the wish costs (um), by HiGHS; None if there is none."""
        return cost_with(self.texts, [self.seat] if self.seat else [], self.place)

    @property
    def price(self) -> ExtraCost:
        """What the wish costs; it must be possible."""
        assert self.answer.price is not None
        return self.answer.price

    @property
    def conflict(self) -> Conflict:
        """What it conflicts with; it must be impossible with the rest."""
        assert self.answer.conflict is not None
        return self.answer.conflict


@cache
def asked(family: str, seeds: Sequence[int]) -> tuple[Asked, ...]:
    """Return wishes for random bikes of a family that fit, and what is answered."""
    parts = (seeds[start : start + ONE_OF] for start in range(0, len(seeds), ONE_OF))
    seats = SEATS if len(seeds) > ONE_OF else FEW_SEATS
    return tuple(chain.from_iterable(_of_first(family, part, seats) for part in parts))


def _of_first(family: str, seeds: Sequence[int], seats: int) -> list[Asked]:
    return next(filter(None, (_of_bike(random_case(seed, family), seed, seats) for seed in seeds)), [])


def _of_bike(texts: Texts, seed: int, count: int) -> list[Asked]:
    job = Job(bike_from_text(texts[0], "bike"), unit_from_text(texts[1], "unit"))
    instance = Instance(job, rules_of(job))
    found = solve(job, instance.rules, instance.sites, Clock(None))
    if not isinstance(found, Solved):
        return []
    ports = {load: line.port for line in found.assignment.outputs for load in line.loads if load in job.alike}
    return [
        Asked(texts, wish, why_not(instance, wish, found, by_default, Clock(None)), found.assignment.cost, ports)
        for wish in _wishes(job, Random(seed), count)
    ]


def _wishes(job: Job, dice: Random, count: int) -> list[Wish]:
    seats = [LoadOnPort(load.name, output.name) for load in job.loads.on_unit for output in job.unit.outputs]
    return [*dice.sample(seats, min(count, len(seats))), *(UnitAtPlace(place.name) for place in job.bike.places)]


def answered(family: str, seeds: Sequence[int], answer: str) -> list[Asked]:
    """Return the wishes of a family with this answer."""
    return [one for one in asked(family, seeds) if one.answer.answer == answer]


def all_asked(seeds: Sequence[int]) -> list[Asked]:
    """Return the wishes of every family; in every run of those that are soon asked."""
    families = FAMILIES if len(seeds) > ONE_OF else SOON_ASKED
    return [one for family in families for one in asked(family, seeds)]


# --- random bikes


@EACH_SEED
def test_each_answer_comes_often_enough(seeds: Sequence[int]) -> None:
    """The bikes fit, their wishes are many, and none of the three answers is rare; in every run each is there."""
    every = all_asked(seeds)
    least = 5 * (len(seeds) // ONE_OF) if len(seeds) > ONE_OF else 1
    often = Counter(one.answer.answer for one in every)
    assert set(often) == {"alone", "with the rest", "possible"}
    assert often.total() == len(every) >= 20 * least
    assert min(often.values()) >= least
    assert sum(one.answer.answer == "possible" and one.price.same_kind for one in every) >= least
    assert {type(one.wish) for one in every if one.answer.answer == "with the rest"} == {LoadOnPort, UnitAtPlace}


@EACH_FAMILY
@EACH_SEED
def test_possible_costs_what_the_best_plan_with_the_wish_costs_more(family: str, seeds: Sequence[int]) -> None:
    """To the micrometre, and its two parts add up."""
    for one in answered(family, seeds, "possible"):
        assert one.best == one.cost + one.price.cost, one.wish
        assert one.price.wire_run + one.price.spare_port_loss == one.price.cost


@EACH_FAMILY
@EACH_SEED
def test_the_moves_lead_to_the_best_plan_with_the_wish(family: str, seeds: Sequence[int]) -> None:
    """Each load on the port of the best plan, those that move on their new ones: at that place it costs just that."""
    for one in answered(family, seeds, "possible"):
        ports = dict(one.ports)
        for move in one.price.moves:
            assert {one.ports[load] for load in move.loads} == {move.before}
            ports |= dict.fromkeys(move.loads, move.after)
        if not one.price.same_kind:
            assert one.seat is None or ports[one.seat[0]] == one.seat[1]
            assert cost_with(one.texts, ports.items(), one.price.place) == one.best, one.wish


@EACH_FAMILY
@EACH_SEED
def test_a_port_of_the_same_kind_costs_nothing(family: str, seeds: Sequence[int]) -> None:
    """'Swap them' is said of ports that differ in nothing but the name: the wish costs nothing, and no load moves."""
    for one in answered(family, seeds, "possible"):
        if one.price.same_kind:
            assert (one.price.cost, one.price.moves) == (0, ())
            assert one.best == one.cost


@EACH_FAMILY
@EACH_SEED
def test_impossible_is_so_for_the_other_program(family: str, seeds: Sequence[int]) -> None:
    """HiGHS finds no plan with the wish, where the bike has one without it."""
    for one in (*answered(family, seeds, "alone"), *answered(family, seeds, "with the rest")):
        assert (highs.optimum(*one.texts).cost_um, one.best) == (one.cost, None), one.wish


@EACH_FAMILY
@EACH_SEED
def test_by_itself_and_with_the_rest_are_told_apart(family: str, seeds: Sequence[int]) -> None:
    """By itself: on that port no wire, trip or mode serves the load, at whichever place; else the rest counts."""
    seats = [one for one in asked(family, seeds) if one.seat is not None]
    told = {one.wish: one.answer.answer == "alone" for one in seats}
    assert told == {one.wish: not fits_alone(one.texts, one.seat) for one in seats if one.seat is not None}


@EACH_FAMILY
@EACH_SEED
def test_what_is_impossible_by_itself_names_the_rule(family: str, seeds: Sequence[int]) -> None:
    """What refuses is told with its rule, once for places that refuse alike."""
    for one in answered(family, seeds, "alone"):
        assert one.answer.refusals
        assert all("(rule " in refusal for refusal in one.answer.refusals)
        assert (one.answer.price, one.answer.conflict) == (None, None)


@EACH_FAMILY
@EACH_SEED
def test_with_the_rest_tells_a_minimal_conflict(family: str, seeds: Sequence[int]) -> None:
    """The wish and these facts have no plan; without the wish, or without any one of the facts, they have one."""
    for one in answered(family, seeds, "with the rest"):
        keys = [fact.key for fact in one.conflict.facts]
        facts = [key for key in keys if key[0] != "wish"]
        assert len(facts) == len(keys) - 1
        assert not has_plan_with(one.texts, facts, one.seat, one.place), one.wish
        assert has_plan_with(one.texts, facts), one.wish
        for fact in facts:
            others = [key for key in facts if key != fact]
            assert has_plan_with(one.texts, others, one.seat, one.place), (one.wish, fact)


# --- the reference program's wish, tried in another way


def forced(texts: Texts, seat: Seat) -> Texts:
    """Let a load want a switch mode that no output has but the one that it is to be on."""
    bike, unit = (yaml.load(text, Loader=yaml.BaseLoader) for text in texts)  # noqa: S506 - builds texts only
    load = next(item for item in bike["loads"] if item["name"] == seat[0])
    modes = load.get("mode", "steady")
    load["mode"] = [*([modes] if isinstance(modes, str) else modes), "pulsing"]
    unit["outputs"] = [
        {**output, "switch_modes": [*output["switch_modes"], *(["pulsing"] if output["name"] == seat[1] else [])]}
        for output in each(unit["outputs"])
    ]
    return yaml.safe_dump(bike), yaml.safe_dump(unit)


def any_share(bike: str) -> bool:
    """Tell whether two loads of a bike are of one group, which the file or their parts may say."""
    groups = Counter(load.share for load in bike_from_text(bike, "bike").loads if load.share is not None)
    return any(count > 1 for count in groups.values())


@EACH_SEED
def test_a_mode_that_no_other_output_has_forces_the_same(seeds: Sequence[int]) -> None:
    """The new ability is used, so the cost is the same.

    Loads that may share can't be forced so: they must want the same modes.
    """
    plain = [one for one in all_asked(seeds) if not any_share(one.texts[0])]
    own = [one for one in plain if one.seat is not None and not one.seat[0].endswith(" relay")]
    pairs = [(one, forced(one.texts, one.seat)) for one in own if one.seat is not None]
    assert len(pairs) >= (20 if len(seeds) > ONE_OF else 4)
    for one, texts in pairs:
        assert highs.optimum(*texts).cost_um == one.best, one.wish
