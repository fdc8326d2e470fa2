"""Which legs a loom uses, where each is worth something: by hand on frames that are made up.

The triangle: unit and battery at the tray; tray - neck 500, tray - mid 300, mid - neck 240. Five lamps at the neck,
one at mid. Each wire its shortest way, six lamps' wires and the neck's return take tray - neck, in all three legs
nothing is shared: 3 legs. By way of mid every wire of the neck is 40 mm longer, and tray - neck is saved.
"""

import json
from dataclasses import replace
from itertools import chain, combinations
from pathlib import Path
from typing import Any

import pytest

from calls import Portloom
from outcomes import read
from portloom.base.clock import NO_LIMIT
from portloom.base.quantities import Micrometres
from portloom.documents.legs import LegsChosen
from portloom.inputs.problems import BadFile
from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.planning.plan import NothingFits, Planned, plan
from portloom.rules.book import rules_of
from portloom.rules.sites import sites_of
from portloom.search.legs import branching
from portloom.search.legs.best import LegChoice
from portloom.search.places import Found
from portloom.verify.judge import judged

LAMPS = 5
BIKE = """
bike: trial triangle
ignition: own
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame:
  legs:
    - {between: [tray, neck], length: 500 mm%s}
    - {between: [tray, mid], length: 300 mm}
    - {between: [mid, neck], length: 240 mm}
  earth: [tray]
places: [{name: on the tray, front: tray}]
weights: {ampere: 0 mm, ability: 0 mm, leg: %s mm}
later: []
loads:
  - {name: mid lamp, at: mid, power: 14 W, kind: led}
%s
inputs: []
"""
NECK = "\n".join(f"  - {{name: lamp {number}, at: neck, power: 14 W, kind: led}}" for number in range(LAMPS))
UNIT = """
unit: trial way
feed: {limit: 40 A}
outputs: [{names: [out 1, out 2, out 3, out 4, out 5, out 6], limit: 5 A, peak: 40 A, switch_modes: [steady]}]
inputs: [{name: in 1, accepts: earth}]
"""
MORE_RUN = 40 * (LAMPS + 1)
"""By way of mid: each lamp's wire at the neck, and their return."""


def bike(leg: int, opening: str = "") -> str:
    """Return the triangle with legs worth so many millimetres."""
    return BIKE % (opening, leg, NECK)


def planned(text: str, unit: str = UNIT) -> Planned:
    """Return the best plan, which must be there and proven."""
    answer = plan(*read(text, unit))
    assert isinstance(answer, Planned), answer
    assert answer.plan.proven
    return answer


def chosen(answer: Planned) -> LegsChosen:
    """Return the legs of a plan that chose them."""
    assert answer.plan.chosen_legs is not None
    return answer.plan.chosen_legs


# --- what is chosen


@pytest.mark.parametrize(("worth", "used"), [(MORE_RUN - 1, 2), (MORE_RUN + 1, 2)])
def test_two_legs_are_the_least(worth: int, used: int) -> None:
    """Tray - neck and tray - mid hold every wire the shortest way: two legs, and mid - neck is never in use."""
    legs = chosen(planned(bike(worth)))
    assert (legs.used, legs.not_used) == (used, ("mid - neck",))


RING = bike(0).replace("{name: mid lamp, at: mid, power: 14 W, kind: led}",
                       "{name: mid lamp, at: mid, power: 14 W, kind: led, fed: fuse, own_switch: neck}")  # fmt: skip
"""The lamp at mid is fed through a switch at the neck: all three legs are in use the shortest way."""
SWITCHED_RUN = 40 * (LAMPS + 1) + 40
"""By way of mid: also the wire up to the switch, tray - mid - neck instead of tray - neck."""


@pytest.mark.parametrize(("worth", "used"), [(SWITCHED_RUN - 1, 3), (SWITCHED_RUN, 3), (SWITCHED_RUN + 1, 2)])
def test_a_leg_is_saved_where_it_is_worth_more_than_the_wire(worth: int, used: int) -> None:
    """Tray - neck is given up as soon as a leg is worth more than the wire that it takes, by hand."""
    answer = planned(RING.replace("leg: 0 mm", f"leg: {worth} mm"))
    legs = chosen(answer)
    assert legs.used == used
    assert legs.all_open is not None
    assert answer.plan.legs_in_use == 1000 * worth * used
    if used == 2:
        assert legs.all_open.dropped == ("tray - neck",)
        assert legs.all_open.costs.wire_run == 1000 * SWITCHED_RUN
        assert legs.all_open.less_to_sleeve == 1


def test_nothing_is_chosen_where_a_leg_is_worth_nothing() -> None:
    """At 0 the plan is that of a bike that says nothing of legs, and tells nothing of them."""
    silent = planned(RING.replace(", leg: 0 mm", ""))
    answer = planned(RING)
    assert answer.plan == silent.plan
    assert answer.plan.chosen_legs is None


def test_a_full_opening_is_led_around() -> None:
    """Where tray - neck is too narrow nothing fits at 0; at 1 mm the loom takes the other way."""
    narrow = ", opening: 3 mm"
    assert isinstance(plan(*read(bike(0, narrow), UNIT)), NothingFits)
    answer = planned(bike(1, narrow))
    legs = chosen(answer)
    assert legs.not_used == ("tray - neck",)
    assert (legs.all_open, legs.none_open) == (None, True)


def test_what_is_alongside_stays_where_it_is() -> None:
    """A wire alongside takes its shortest way over every leg, in use or not, and makes no leg one that is in use."""
    beside = "alongside: [{name: stator, from: tray, to: neck, size: 0.5 mm2}]\n"
    text = RING.replace("leg: 0 mm", f"leg: {SWITCHED_RUN + 1} mm") + beside
    answer = planned(text)
    legs = chosen(answer)
    assert (legs.not_used, legs.alongside) == (("tray - neck",), ("tray - neck",))
    assert legs.all_open is not None
    assert legs.all_open.less_to_sleeve == 0
    stator = next(wire for wire in answer.laid.site.fixed_wires if wire.kind == "alongside")
    assert stator.run.legs == (0,)


def test_nothing_fits_over_any_set_of_legs() -> None:
    """Six lamps on five outputs have no plan over any legs, as counting proves."""
    unit = UNIT.replace(", out 6", "")
    assert isinstance(plan(*read(bike(100), unit)), NothingFits)


# --- against trying every set


def every_set(text: str, unit: str) -> int | None:
    """Return the least cost of the best plans of the frames that have some of the legs only, each leg at its worth."""
    job = Job(*read(text, unit))
    worth, numbers = 1000 * job.bike.weights.leg, range(len(job.network.legs))
    found: list[int] = []
    for legs in chain.from_iterable(combinations(numbers, count) for count in range(len(numbers) + 1)):
        labels = {job.network.legs[number].label for number in legs}
        lines = [line for line in text.splitlines() if "between" not in line or any(_is(line, one) for one in labels)]
        try:
            answer = plan(*read("\n".join(lines).replace(f"leg: {job.bike.weights.leg} mm", "leg: 0 mm"), unit))
        except BadFile:  # the frame falls apart: the file is refused
            continue
        if isinstance(answer, Planned):
            found.append(answer.plan.cost + worth * len(legs))
    return min(found, default=None)


def _is(line: str, label: str) -> bool:
    return f"[{', '.join(label.split(' - '))}]" in line


@pytest.mark.parametrize("worth", [1, 150, 279, 281, 400])
def test_no_set_of_legs_is_better(worth: int) -> None:
    """Files with fewer and fewer legs, each planned as a bike of its own, have no cheaper plan."""
    text = RING.replace("leg: 0 mm", f"leg: {worth} mm")
    assert planned(text).plan.cost == every_set(text, UNIT)


# --- limits, and the checker


def test_a_limit_of_work_leaves_a_proven_gap(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where not all sets are looked at, the plan is not called the best, and no plan is below its bound."""
    text = RING.replace("leg: 0 mm", f"leg: {SWITCHED_RUN + 1} mm")
    best = planned(text).plan.cost
    monkeypatch.setattr(branching, "MOST_LOOKS", -1)
    answer = plan(*read(text, UNIT))
    assert isinstance(answer, Planned)
    assert not answer.plan.proven
    assert answer.plan.bound <= best < answer.plan.cost


def solved(text: str) -> tuple[Job, Assignment]:
    """Return the job and its best plan over all sets of legs."""
    job = Job(*read(text, UNIT))
    found = LegChoice(job, rules_of(job), sites_of(job), NO_LIMIT).best().answer
    assert isinstance(found, Assignment)
    return job, found


def test_the_checker_wants_each_wire_the_shortest_within_the_legs() -> None:
    """With tray - neck among the legs in use, wires by way of mid are no longer the shortest."""
    job, found = solved(RING.replace("leg: 0 mm", f"leg: {SWITCHED_RUN + 1} mm"))
    rules = rules_of(job)
    assert found.legs == (1, 2)
    assert judged((job,), rules, found) == ()
    said = [clash.sentence for clash in judged((job,), rules, replace(found, legs=(0, 1, 2)))]
    assert "the legs that the plan says are in use are not those that hold a wire" in said
    assert any("within the legs in use its wire is 500000 um, here it is 540000 um" in sentence for sentence in said)


def test_the_checker_counts_legs_in_use() -> None:
    """A plan that claims another worth of its legs is told."""
    job, found = solved(bike(100))
    cheaper = replace(found.costs, legs_in_use=Micrometres(found.costs.legs_in_use - 1))
    clashes = judged((job,), rules_of(job), replace(found, costs=cheaper))
    assert [clash.sentence for clash in clashes] == [
        "legs in use: the plan says 199999 um, worked out again it is 200000 um"
    ]


def test_bounds_hold_over_every_smaller_set() -> None:
    """What is told of plans with some legs closed is never above what a plan with these, or more, closed costs."""
    job = Job(*read(RING.replace("leg: 0 mm", "leg: 100 mm"), UNIT))
    choice = LegChoice(job, rules_of(job), sites_of(job), NO_LIMIT)
    sets = [frozenset(some) for count in range(4) for some in combinations(range(3), count)]
    for closed in sets:
        least = choice._bounds.least(0, closed)  # noqa: SLF001 - what is asked of it is its own
        costs = {more: choice._solved(0, more, None) for more in sets if closed <= more and _joined(choice, more)}  # noqa: SLF001
        found = [answer.cost for answer in costs.values() if isinstance(answer, Found)]
        assert all(least is not None and least.cost <= cost for cost in found)
        assert least is not None or not found


def _joined(choice: LegChoice, closed: frozenset[int]) -> bool:
    return choice._bounds.least(0, closed) is not None  # noqa: SLF001 - as above


# --- the command


def written(folder: Path, text: str) -> tuple[str, ...]:
    """Write a bike and the unit; give the words that name them."""
    (folder / "bike.yaml").write_text(text, "utf-8")
    (folder / "unit.yaml").write_text(UNIT, "utf-8")
    return "bike.yaml", "--unit", "unit.yaml"


def document(portloom: Portloom, folder: Path, *words: str) -> dict[str, Any]:
    """Return what a call prints in JSON."""
    found = json.loads(portloom(*words, "--json", folder=folder).stdout)
    assert isinstance(found, dict)
    return found


def test_trade_offs_are_the_corners(portloom: Portloom, tmp_path: Path) -> None:
    """Three legs with the least wire, two with more: both are the best for some worth of a leg."""
    call = written(tmp_path, RING.replace("leg: 0 mm", "leg: 100 mm"))
    legs = document(portloom, tmp_path, "plan", *call, "--trade-offs")["trade_offs"]["legs"]
    assert [corner["legs_in_use"] for corner in legs["corners"]] == [3, 2]
    assert legs["complete"]
    few, most = legs["corners"][1]["wire_run_mm"], legs["corners"][0]["wire_run_mm"]
    assert few - most == SWITCHED_RUN


def test_the_parts_of_the_cost_add_up(portloom: Portloom, tmp_path: Path) -> None:
    """Wire run, spare-port loss and the worth of the legs in use are what the plan costs."""
    found = document(portloom, tmp_path, "plan", *written(tmp_path, bike(100)))
    assert found["legs_in_use_mm"] == 200
    assert found["cost_mm"] == found["wire_run_mm"] + found["spare_port_loss_mm"] + found["legs_in_use_mm"]
    assert found["chosen_legs"]["with_every_leg_open"]["status"] == "planned"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("plan", "--unit", "unit.yaml"), "weights.leg is for one unit, here are two"),
        (("compare", "--two-units"), "--two-units is not for a bike with weights.leg"),
        (("compare", "--headroom"), "--headroom is not for a bike with weights.leg"),
    ],
)
def test_what_is_not_told_of_legs_is_refused(
    portloom: Portloom, tmp_path: Path, words: tuple[str, ...], said: str
) -> None:
    """Two units, and headroom, are refused in one line, with exit code 2."""
    command, *more = words
    ran = portloom(command, *written(tmp_path, bike(100)), *more, folder=tmp_path)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.count("\n") == 1
    assert said in ran.stderr


def test_an_explanation_says_what_it_does_not_cover(portloom: Portloom, tmp_path: Path) -> None:
    """'why' agrees that a bike fits that needs fewer legs, and says that reasons are of every leg open."""
    ran = portloom("why", *written(tmp_path, bike(1, ", opening: 3 mm")), folder=tmp_path)
    assert ran.returncode == 0
    assert "IT FITS" in ran.stdout
    assert "is told with every leg open" in " ".join(ran.stdout.split())


def test_a_wish_is_priced_over_all_legs(portloom: Portloom, tmp_path: Path) -> None:
    """A port just like the best one costs nothing more, with the legs that the plan chose."""
    call = written(tmp_path, bike(1, ", opening: 3 mm"))
    found = document(portloom, tmp_path, "why", *call, "--not", "mid lamp=out 3")
    assert found["why_not"]["answer"] == "possible"
    assert found["why_not"]["price"]["cost_mm"] == 0
