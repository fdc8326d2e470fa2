"""Trade-offs between wire run and spare-port loss: the extreme points of the lower hull.

References: every plan of small random bikes, tried one by one by a program that shares no code with the
search; and the sum of segments sorted by slope (a Minkowski sum) where each load has a choice of its own.
"""

import random
from fractions import Fraction
from functools import cache
from itertools import accumulate
from time import monotonic

import pytest
import yaml

from every_plan import Parts, every_plan
from portloom.base import clock
from portloom.base.clock import Clock
from portloom.documents.document import TradeOffs
from portloom.inputs.files import unit_from_text
from portloom.job.job import Job
from portloom.planning.plan import Planned, plan_prepared, prepared, trade_offs
from portloom.rules.book import RULES
from portloom.rules.sites import sites_of
from portloom.search.best import tableaux_of
from portloom.search.trade_offs import SHOWN, Extreme, hull, shown
from slices import on_seeds
from unasked import bike_from_text

MANY = 14
OWN_MODES = tuple(f"mode {number}" for number in range(MANY))
"""Modes that only this unit has: each load has two outputs that may drive it."""
LINE_MM = 3000
FEED_MM = 300
"""The battery sits at the near face; the shortest feed counts as 300 mm (common practice, no source)."""
AMPERE_MM = 100


def lower_hull(parts: set[Parts]) -> list[Parts]:
    """Return the extreme points from the least run (and least loss there) to the least loss (and least run there).

    Source: Andrew (1979), doi:10.1016/0020-0190(79)90072-3.
    """
    hull: list[Parts] = []
    for point in sorted(parts):
        while len(hull) > 1 and not bends(hull[-2], hull[-1], point):
            hull.pop()
        if not hull or point[1] < hull[-1][1]:
            hull.append(point)
    return hull


def bends(one: Parts, middle: Parts, other: Parts) -> bool:
    """Tell whether the middle point lies below the line between its neighbours."""
    return (middle[0] - one[0]) * (other[1] - one[1]) > (middle[1] - one[1]) * (other[0] - one[0])


def traded(bike: str, unit: str) -> list[Parts]:
    """Return the points that the search finds, all of them shown."""
    offs = trade_offs(prepared(bike_from_text(bike, "bike"), unit_from_text(unit, "unit")))
    assert offs.complete
    assert offs.not_shown == 0
    return [(point.wire_run, point.spare_port_loss) for point in offs.points]


def rich_case(seed: int, ways: int = 5) -> tuple[str, str]:
    """Throw a bike whose near outputs are too good for its loads, and whose far ones would do.

    Its largest main fuse is the step above the largest trip: with larger ones the same plans would be tried again.
    """
    dice = random.Random(seed)
    points = [f"point {number}" for number in range(6)]
    bike = {
        "bike": "small loads, large outputs",
        "supply": {"running": "14 V", "battery": {"capacity": "10 Ah", "at": points[0]}},
        "frame": {"legs": _legs(dice, points), "earth": points[:2]},
        "places": [
            {"name": "this way", "front": points[1], "rear": points[5], "way_round": "either"},
            {"name": "far away", "front": points[3], "rear": points[4]},
        ],
        "loads": [
            {"name": f"load {number}", "at": dice.choice(points), "current": f"{dice.randint(3, 9) * 100} mA", **more}
            for number, more in enumerate(({}, {}, {"share": "two"}, {"share": "two"}))
        ],
        "inputs": [
            {"name": f"key {number}", "at": dice.choice(points), "signal": "earth", "tells": "key"} for number in (1, 2)
        ],
        "later": [{"name": "socket", "current": "3 A", "worth": f"{dice.randint(200, 1500)} mm"}],
        "weights": {"ampere": f"{dice.randint(20, 120)} mm", "ability": f"{dice.randint(20, 300)} mm"},
    }
    faces = ("front", "rear")
    inputs = [{"name": f"in {face}", "accepts": "earth", "face": face} for face in faces]
    outputs = [_output(dice, number, faces[number % 2]) for number in range(ways)]
    unit = {"unit": "few-way", "feed": {"limit": "30 A", "fuse_max": "5 A"}, "outputs": outputs, "inputs": inputs}
    return yaml.safe_dump(bike), yaml.safe_dump(unit)


def _legs(dice: random.Random, points: list[str]) -> list[dict[str, object]]:
    return [
        {"between": [dice.choice(points[:number]), point], "length": f"{dice.randint(100, 900)} mm"}
        for number, point in enumerate(points)
        if number
    ]


def _output(dice: random.Random, number: int, face: str) -> dict[str, object]:
    return {
        "name": f"out {number}",
        "limit": f"{dice.choice([10, 13, 17, 22] if face == 'front' else [3, 4, 6])} A",
        "peak": "60 A",
        "trip": ["1.2 A", "2 A", "3 A", "4 A"],
        "switch_modes": ["steady", *["flash", "hold", "toggle"][: dice.randint(0, 3)]],
        "face": face,
    }


@cache
def every_part(seed: int, ways: int = 5) -> set[Parts]:
    """Return the two parts of the cost of every plan of a bike."""
    return every_plan(*rich_case(seed, ways))


FEW_RICH = range(2)


@on_seeds(FEW_RICH, range(2, 8), range(8, 16))
def test_the_hull_is_that_of_every_plan(seeds: range) -> None:
    """The points shown are the extreme points of all plans there are, least run first, over all places and turns."""
    corners = 0
    for seed in seeds:
        texts = rich_case(seed)
        wanted = lower_hull(every_part(seed))
        assert traded(*texts) == wanted, seed
        corners += len(wanted[1:-1])
    assert corners > 0


@pytest.mark.long
@pytest.mark.parametrize("seed", [1, 5])
def test_points_between_other_points_are_found(seed: int) -> None:
    """With six outputs these bikes have four extreme points: one more is found on one side of the first between."""
    wanted = lower_hull(every_part(seed, ways=6))
    assert len(wanted) == 4
    assert traded(*rich_case(seed, ways=6)) == wanted


@on_seeds(FEW_RICH, range(2, 8))
def test_the_ends_are_the_best_of_one_part_and_then_of_the_other(seeds: range) -> None:
    """First the least run with the least loss that it allows, last the least loss with the least run."""
    for seed in seeds:
        parts, points = every_part(seed), traded(*rich_case(seed))
        assert points[0] == min(parts), seed
        assert points[-1] == min(parts, key=lambda both: both[::-1]), seed


def test_nothing_is_traded_where_nothing_fits() -> None:
    """A bike without a plan has no points."""
    bike, unit = rich_case(1)
    assert traded(bike, unit.replace("limit: 30 A", "limit: 300 mA")) == []


def near_or_far(dice: random.Random) -> tuple[list[tuple[int, int, int]], str, str]:
    """Throw loads on a line with a face at each end, each load with a near output and a smaller one at the far end.

    Return for each load its distance from the near face (mm) and its outputs' limits (A), then both files.
    """
    choices = [
        (at, dice.randint(9, 20), dice.randint(3, 8)) for at in sorted(dice.sample(range(50, LINE_MM // 2, 7), MANY))
    ]
    points = ["near", *(f"point {number}" for number in range(MANY)), "far"]
    stops = [0, *(at for at, _, _ in choices), LINE_MM]
    bike = {
        "bike": "a long line",
        "supply": {"running": "14 V", "battery": {"capacity": "10 Ah", "at": "near"}},
        "frame": {
            "legs": [
                {"between": points[number : number + 2], "length": f"{stops[number + 1] - stops[number]} mm"}
                for number in range(MANY + 1)
            ],
            "earth": points,
        },
        "places": [{"name": "here", "front": "near", "rear": "far"}],
        "loads": [
            {"name": f"load {number}", "at": f"point {number}", "current": "1 A", "mode": OWN_MODES[number]}
            for number in range(MANY)
        ],
        "later": [],
        "weights": {"ampere": f"{AMPERE_MM} mm"},
    }
    outputs = [
        {
            "name": f"{face} {number}",
            "limit": f"{limit} A",
            "trip": "2 A",
            "switch_modes": OWN_MODES[number],
            "face": face,
        }
        for number, (_, near, far) in enumerate(choices)
        for face, limit in (("front", near), ("rear", far))
    ]
    unit = {"unit": "long-way", "feed": {"limit": "60 A"}, "outputs": outputs, "own_modes": list(OWN_MODES)}
    return choices, yaml.safe_dump(bike), yaml.safe_dump(unit)


def by_slope(choices: list[tuple[int, int, int]]) -> list[Parts]:
    """Return the hull from all loads near, sending first the load to the far end that saves most for its wire."""
    run = 1000 * (FEED_MM + sum(at for at, _, _ in choices))
    loss = 1000 * AMPERE_MM * sum(near - 1 for _, near, _ in choices)
    steps = [(1000 * (LINE_MM - 2 * at), 1000 * AMPERE_MM * (near - far)) for at, near, far in choices]
    steps.sort(key=lambda step: Fraction(step[0], step[1]))
    slopes = [Fraction(*step) for step in steps]
    assert len(set(slopes)) == len(slopes)
    return list(accumulate(steps, lambda point, step: (point[0] + step[0], point[1] - step[1]), initial=(run, loss)))


@pytest.mark.parametrize("seed", [1, 2])
def test_where_each_load_has_a_choice_of_its_own_the_hull_is_known(seed: int) -> None:
    """Fourteen loads, near or far, make fifteen extreme points, one load more at the far end each."""
    choices, *texts = near_or_far(random.Random(seed))
    job = Job(bike_from_text(texts[0], "bike", OWN_MODES), unit_from_text(texts[1], "unit"))
    found = hull(RULES, tableaux_of(job, RULES, sites_of(job)), Clock(None))
    assert found.complete
    assert [(point.run, point.loss) for point in found.points] == by_slope(choices)


def test_twelve_are_shown_and_the_others_counted() -> None:
    """Of fifteen points twelve are shown, both ends among them, and three are counted."""
    choices, *texts = near_or_far(random.Random(3))
    offs = trade_offs(prepared(bike_from_text(texts[0], "bike", OWN_MODES), unit_from_text(texts[1], "unit")))
    points, known = [(point.wire_run, point.spare_port_loss) for point in offs.points], by_slope(choices)
    assert (len(points), offs.not_shown) == (SHOWN, len(known) - SHOWN) == (12, 3)
    assert (points[0], points[-1]) == (known[0], known[-1])
    assert points == sorted(set(points) & set(known))


def test_those_shown_are_the_widest_apart() -> None:
    """Of many points close together and a few far off, the far ones are shown."""
    crowd = [Extreme("here", turned=False, run=number, loss=1000 - number) for number in range(30)]
    apart = [Extreme("here", turned=False, run=run, loss=900 - run) for run in (200, 400, 600, 800)]
    picked = shown([*crowd, *apart])
    assert len(picked) == SHOWN
    assert {crowd[0], *apart} <= set(picked)
    assert list(picked) == sorted(picked, key=lambda point: point.run)


@pytest.mark.parametrize("count", range(13))
def test_up_to_twelve_are_all_shown(count: int) -> None:
    """Twelve points or fewer are shown as they are."""
    points = tuple(Extreme("here", turned=False, run=number, loss=-number * number) for number in range(count))
    assert shown(points) == points


def test_plan_and_trade_offs_have_one_time_limit(monkeypatch: pytest.MonkeyPatch) -> None:
    """What planning leaves of the limit is all that trade-offs have; where that is nothing, they are not complete."""
    bike, unit = rich_case(1)
    ready = prepared(bike_from_text(bike, "bike"), unit_from_text(unit, "unit"), time_limit=60)
    assert isinstance(plan_prepared(ready), Planned)
    now = monotonic()
    monkeypatch.setattr(clock, "monotonic", lambda: now + 60)
    assert trade_offs(ready) == TradeOffs((), 0, complete=False)
