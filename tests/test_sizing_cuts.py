"""Rows for true wire sizes cut off the plan that breaks something, and no plan that breaks nothing.

The reference is the sizing of wires itself, which knows no rows (``portloom.job.sizing``): a plan is sound or broken
as it is sized there. A short through a thicker wire is larger (Ohm's law), so a return can need a thicker reel beside
the true wires of the outputs than beside their thinnest; where a trip has a curve, a larger current trips it sooner.
"""

import random
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache, partial
from pathlib import Path
from typing import Any

import pytest

from oracle.random_bikes import random_case
from portloom.base.clock import Clock
from portloom.inputs.files import find_unit, read_unit, unit_from_text
from portloom.job.job import Job
from portloom.job.sizing import Sized, candidates, size_wires
from portloom.rules.book import broken_rows, rules_of
from portloom.rules.shapes import Key, Rule
from portloom.rules.sites import sites_of
from portloom.search.best import tableaux_of
from portloom.search.columns import FuseColumn, OutputColumn, SumRow
from portloom.search.model import Model
from portloom.search.places import Contender, Found, NoPlan, best_of
from portloom.search.sizing_cuts import NoProgress, SizingCuts, in_true_sizes, laid_by
from portloom.search.solving import Solve, Status
from portloom.search.tableau import Tableau
from slices import first_of
from unasked import bike_from_text, read_bike

EXAMPLES = Path(__file__).parents[1] / "examples"
Chosen = tuple[int, ...]
Sum = tuple[int, Key]
"""One row of a rule: the number of its budget, and the row's key."""
NO_CURVE = ()
EARLY = ((2_000, 1_500_000), (25_000, 400_000), (25_500, 1_000))
LATE = ((2_000, 1_500_000), (50_000, 400_000), (50_500, 1_000))
"""Trips that hold 0.4 s up to 25 or 50 times their value, and let go in a millisecond beyond."""
PEAK = 400_000
TRIPS = [(PEAK, NO_CURVE), (PEAK, EARLY), (PEAK, LATE)]


@dataclass(frozen=True)
class Shop:
    """The dressed tourer at its first place with a plan, and the rule of openings, of which it has one at every leg."""

    choice: Tableau
    opening: Rule

    def limited(self, limits: dict[Sum, int]) -> Rule:
        """Return the rule with limits of our own for some of its sums, and none for the others."""
        base = self.opening.budgets
        assert base is not None

        def budgets(site: Any) -> list[Any]:
            return [
                replace(
                    budget,
                    rows={
                        key: replace(row, at_most=limits.get((number, key), 10**15)) for key, row in budget.rows.items()
                    },
                )
                for number, budget in enumerate(base(site))
            ]

        return replace(self.opening, budgets=budgets)

    def taken(self, sized: Sized) -> dict[Sum, int]:
        """Return what a plan with its true sizes adds up to, sum by sum."""
        site = sized.laid.site
        assert self.opening.budgets is not None
        sums = [(number, key) for number, budget in enumerate(self.opening.budgets(site)) for key in budget.rows]
        none_left = self.limited(dict.fromkeys(sums, -1))
        return {(row.number, row.key): row.found for row in broken_rows([none_left], sized.laid)}


@cache
def shop(peak: int, curve: tuple[tuple[int, int], ...]) -> Shop:
    """Return the tourer with outputs that pass ``peak`` at a short, in milliamperes, and let go by ``curve``."""
    bike = read_bike(EXAMPLES / "dressed-tourer.yaml")
    opening = next(leg.opening for leg in bike.frame.legs if leg.opening)
    legs = tuple(leg if leg.opening else leg.model_copy(update={"opening": opening}) for leg in bike.frame.legs)
    # Tails of 0.5 mm2 would melt at any such short, whatever the loom's wires.
    loads = tuple(load.model_copy(update={"leads": None}) for load in bike.loads)
    bike = bike.model_copy(update={"frame": bike.frame.model_copy(update={"legs": legs}), "loads": loads})
    unit = read_unit(find_unit("twenty-four-way"))
    changed = {"peak": peak, "trip_curve": curve}
    job = Job(bike, unit.model_copy(update={"outputs": tuple(o.model_copy(update=changed) for o in unit.outputs)}))
    rules = rules_of(job)
    places = tableaux_of(job, rules, sites_of(job))
    choice = next(place for place in places if Model(place).solve(Solve(None)).chosen)
    return Shop(choice, next(rule for rule in rules if rule.slug == "opening"))


def depends_on_its_wire(choice: Tableau, number: int) -> bool:
    """Tell whether a column's short melts some return beside one of its reels and spares it beside another."""
    column = choice.columns[number]
    if not isinstance(column, OutputColumn) or column.later:
        return False
    wired = column.wired
    return any(
        len({wired.sized(reel).return_withstands(way, back.size) for reel in wired.serving}) > 1
        for way in wired.circuit.returns
        for back in choice.site.job.reels
    )


@cache
def plans(peak: int, curve: tuple[tuple[int, int], ...]) -> tuple[Chosen, ...]:
    """Return plans that keep every rule with wires at their thinnest, and where every wire has a reel."""
    choice = shop(peak, curve).choice
    dice = random.Random("true sizes")
    liked = [number for number in range(len(choice.columns)) if depends_on_its_wire(choice, number)]
    assert liked
    found = []
    for _ in range(12):
        costs = (dice.randint(1, 50) - 40 * (n in liked) for n in range(len(choice.columns)))
        columns = (replace(column, cost=cost) for column, cost in zip(choice.columns, costs, strict=True))
        model = Model(replace(choice, columns=tuple(columns)))
        model.minimise_cost()
        chosen = model.solve(Solve(None)).chosen
        if chosen and not size_wires(laid_by(choice, chosen)).unprotected:
            found.append(chosen)
    return tuple(dict.fromkeys(found))


def allowed(choice: Tableau, chosen: Chosen) -> bool:
    """Tell whether a plan keeps every row and link of a choice, whatever its flags."""
    fixed = tuple(SumRow(((number, 1),), times, times) for number, times in enumerate(chosen))
    return Model(replace(choice, rows=(*choice.rows, *fixed))).solve(Solve(None)).status is Status.BEST


@first_of(("step", "curve"), [(4, EARLY), (2, LATE), (4, NO_CURVE), (2, NO_CURVE), (2, EARLY)], 1)
def test_the_broken_plan_is_cut_off_and_no_sound_one(step: int, curve: tuple[tuple[int, int], ...]) -> None:
    """Some openings in turn a hair too narrow for a plan: it is cut off, and every plan that passes there is not."""
    own, choice = shop(PEAK, curve), shop(PEAK, curve).choice
    taken = {chosen: own.taken(size_wires(laid_by(choice, chosen))) for chosen in plans(PEAK, curve)}
    cut = kept = 0
    for chosen, sums in list(taken.items())[:1]:
        for at in list(sums)[::step]:
            rule = own.limited({at: sums[at] - 1})
            cut_off = in_true_sizes([rule], choice, chosen)
            assert cut_off is not None
            stricter = cut_off()
            assert not allowed(stricter, chosen), at
            cut += 1
            sound = [other for other, theirs in taken.items() if theirs.get(at, 0) < sums[at]]
            assert [other for other in sound if not allowed(stricter, other)] == [], at
            kept += len(sound)
    assert min(cut, kept) > 0


@dataclass(frozen=True)
class Cut:
    """A choice before and after the cuts for a plan that does not pass there."""

    before: Tableau
    after: Tableau
    chosen: Chosen

    @property
    def kinds(self) -> set[str]:
        """Return what the rows that were added are of."""
        fuses = {n for n, column in enumerate(self.before.columns) if isinstance(column, FuseColumn)}
        found = set()
        for row in self.after.rows[len(self.before.rows) :]:
            of_fuse = any(number in fuses for number, _ in row.entries)
            of_feed = any("the feed" in part for part in row.name)
            found |= {f"{row.name[0]}{', the feed' * of_feed}{', by its fuse' * of_fuse}"}
            if of_fuse and of_feed and row.at_most == 0 and len(row.entries) == 2:
                found |= {"first size of the feed, by its fuse"}
        return found


def cuts_of(job: Job, rules: tuple[Rule, ...]) -> list[Cut]:
    """Return all cuts that the search makes for a bike, place after place, where a relaxation is not the plan."""
    cuts: list[Cut] = []

    def recorded(choice: Tableau, chosen: Chosen) -> Callable[[], Tableau] | None:
        cut_off = in_true_sizes(rules, choice, chosen)
        if cut_off is not None:
            cuts.append(Cut(choice, cut_off(), chosen))
        return cut_off

    for choice in tableaux_of(job, rules, sites_of(job)):
        best_of([Searched(choice, recorded)], Clock(None))
    return cuts


class Searched(Contender):
    """A place whose plan is always searched for."""

    def at_once(self) -> None:
        """It takes a solve."""


def liked_at_random(choice: Tableau, dice: random.Random) -> Chosen:
    """Return a plan that keeps every rule with wires at their thinnest, by costs that the dice say."""
    columns = tuple(replace(column, cost=dice.randint(1, 50)) for column in choice.columns)
    model = Model(replace(choice, columns=columns))
    model.minimise_cost()
    return model.solve(Solve(None)).chosen


DECIDED_BY_CUTS = [
    ("faults", 1006, {"melts", "level", "too thin", "opening", "first size of the feed, by its fuse"}),
    pytest.param("faults", 1008, {"melts", "level", "too thin", "opening"}, marks=pytest.mark.long),
    ("returns", 1008, {"too thin, the feed, by its fuse", "opening"}),
    ("feeds", 1007, {"too thin, the feed, by its fuse"}),
    ("openings", 1009, {"too thin, the feed, by its fuse", "opening"}),
]
"""Random bikes and the kinds of cuts that are made there."""


def job_and_rules(family: str, seed: int) -> tuple[Job, tuple[Rule, ...]]:
    """Return a random bike on its unit."""
    bike, unit = random_case(seed, family)
    job = Job(bike_from_text(bike, "bike"), unit_from_text(unit, "unit"))
    return job, rules_of(job)


@pytest.mark.parametrize(("family", "seed", "kinds"), DECIDED_BY_CUTS)
def test_every_kind_of_cut(family: str, seed: int, kinds: set[str]) -> None:
    """Each cut forbids the plan that it is made for, and no plan of a site that passes with its true sizes."""
    job, rules = job_and_rules(family, seed)
    cuts = cuts_of(job, rules)
    assert kinds <= set().union(*(cut.kinds for cut in cuts))
    dice = random.Random("true sizes")
    sound = 0
    for cut in cuts:
        assert not allowed(cut.after, cut.chosen)
        for chosen in {liked_at_random(cut.before, dice) for _ in range(6)}:
            if chosen and in_true_sizes(rules, cut.before, chosen) is None:
                assert allowed(cut.after, chosen)
                sound += 1
    assert sound > 0


def test_a_return_may_be_thicker_beside_a_thicker_wire_than_beside_the_thinnest() -> None:
    """Each output of a plan in turn with the thickest reel that serves it: a larger current can short there."""
    laid = laid_by(shop(400_000, NO_CURVE).choice, plans(400_000, NO_CURVE)[0])
    thicker = 0
    for at, wired in enumerate(laid.outputs):
        thick = (*laid.outputs[:at], wired.sized(wired.serving[-1]), *laid.outputs[at + 1 :])
        for wire in laid.site.fixed_of("return"):
            first, true = (next(iter(candidates(laid.site, wire, each))) for each in (laid.outputs, thick))
            assert true.size >= first.size
            thicker += true.size > first.size
    assert thicker


@pytest.mark.parametrize(("peak", "curve"), TRIPS)
def test_a_curve_melts_some_returns_beside_the_thinner_wire_alone(
    peak: int, curve: tuple[tuple[int, int], ...]
) -> None:
    """Without a curve a thicker wire never spares what a thinner one melts; with these curves it does."""
    choice = shop(peak, curve).choice
    spared_later = 0
    for column in choice.columns:
        if isinstance(column, OutputColumn) and not column.later:
            wires = [column.wired.sized(reel) for reel in column.wired.serving]
            for way in column.wired.circuit.returns:
                for back in choice.site.job.reels:
                    spared = [wired.return_withstands(way, back.size) for wired in wires]
                    spared_later += spared != sorted(spared, reverse=True)
    assert (spared_later > 0) == bool(curve)


def test_the_search_ends_where_an_opening_binds() -> None:
    """The loop runs to its end, with a plan that passes or without, with an opening a hair narrower than one takes."""
    own, choice = shop(400_000, NO_CURVE), shop(400_000, NO_CURVE).choice
    sums = own.taken(size_wires(laid_by(choice, plans(400_000, NO_CURVE)[0])))
    for at in list(sums)[10:12]:
        rule = own.limited({at: sums[at] - 1})
        answer = best_of([Contender(choice, partial(in_true_sizes, [rule]))], Clock(None))
        if isinstance(answer, Found):
            assert in_true_sizes([rule], choice, answer.chosen) is None
        else:
            assert answer == NoPlan()
            assert all(in_true_sizes([rule], choice, chosen) for chosen in plans(400_000, NO_CURVE))


def no_rows(*_: object) -> None:
    """Add nothing."""


def test_a_loop_that_would_not_end_is_an_error(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no row cuts off what a plan breaks, that is told as an error of the program, not repeated for ever."""
    own, choice = shop(400_000, NO_CURVE), shop(400_000, NO_CURVE).choice
    chosen = plans(400_000, NO_CURVE)[0]
    sums = own.taken(size_wires(laid_by(choice, chosen)))
    monkeypatch.setattr(SizingCuts, "restate", no_rows)
    at = next(iter(sums))
    with pytest.raises(NoProgress):
        (in_true_sizes([own.limited({at: sums[at] - 1})], choice, chosen) or no_rows)()
