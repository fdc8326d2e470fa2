"""What a plan costs: each term by hand on a bike that is made up, and a wrong term of the search is caught.

Lengths are whole millimetres. tray - mid 300, mid - neck 500, neck - bars 200; the unit sits at mid, the battery at
the tray, where everything is earthed, too.
"""

import ast
from dataclasses import replace

import pytest

from calls import ROOT
from outcomes import planned
from portloom.base.clock import Clock
from portloom.explaining.solved import FailedCheck, solve
from portloom.inputs.files import unit_from_text
from portloom.job import goal
from portloom.job.goal import TERMS, Held, Term
from portloom.job.job import Job
from portloom.planning.plan import Planned, plan
from portloom.rules.book import rules_of
from portloom.rules.sites import sites_of
from portloom.verify.count import LEGS, SPARES, WIRES
from unasked import bike_from_text

BIKE = """
bike: trial single
ignition: own
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame:
  legs:
    - {between: [tray, mid], length: 300 mm}
    - {between: [mid, neck], length: 500 mm}
    - {between: [neck, bars], length: 200 mm}
  earth: [tray]
places: [{name: in the middle, front: mid}]
weights: {ampere: 50 mm, ability: 100 mm, later: 2 m, leg: 40 mm}
later: [{name: second lamp, power: 14 W, kind: led}]
loads:
  - {name: lamp, at: neck, power: 14 W, kind: led, shows: fork sensor}
  - {name: radio, at: bars, current: 1 A, kind: electronics, fed: fuse, own_switch: bars}
inputs:
  - {name: a, at: bars, signal: earth, operates: lamp}
  - {name: b, at: bars, signal: earth, operates: lamp}
  - {name: c, at: bars, signal: earth, operates: lamp}
  - {name: d, at: neck, signal: earth, operates: lamp}
  - {name: fuel level, at: neck, signal: sender, operates: lamp}
  - {name: fork sensor, at: bars, signal: pulse, wires: 3}
multiplexers: [{name: gatherer, at: [bars], ways: 5, takes: earth}]
"""
UNIT = """
unit: trial way
feed: {limit: 40 A}
outputs: [{name: out 1, limit: 5 A, peak: 40 A, pwm: false, switch_modes: [steady, flash]}]
inputs:
  - {names: [in 1, in 2, in 3, in 4], accepts: earth}
  - {name: in 5, accepts: [earth, coded]}
  - {name: in 6, accepts: sender}
"""
BY_HAND = {
    "feed": 300,  # tray, mid
    "returns": 800 + 1000 + 800,  # neck and bars, each jointly; the sender's own
    "fed loads": 1000,  # tray, mid, neck, bars
    "dash wires": 3 * 200,  # the sensor on the bars to the lamp at the neck that shows it: signal, return and supply
    "output wires": 500,  # mid, neck
    "input wires": 500,  # mid, neck: the sender goes straight to the unit
    "switch wires": 200,  # d, from the neck to the box on the bars; the others sit beside it
    "multiplexer wires": 2 * 700,  # mid, neck, bars: data and supply
    "spare amperes": 4 * 50,  # 5 A less 14 W at 14 V
    "spare abilities": 100,  # flash
    "later loads": 2000,  # the only output is in use
    "legs in use": 3 * 40,  # all three
}


def bike_and_unit() -> Job:
    """Return the job."""
    return Job(bike_from_text(BIKE, "bike"), unit_from_text(UNIT, "unit"))


def test_every_term_by_hand() -> None:
    """The checker counts each term as paper does; the plan says what they come to."""
    job = bike_and_unit()
    answer = plan(job.bike, job.unit)
    assert isinstance(answer, Planned)
    counted = {name: count(answer.laid) / 1000 for name, count in (WIRES | SPARES | LEGS).items()}
    assert counted == BY_HAND
    assert answer.plan.wire_run == 1000 * sum(BY_HAND[name] for name in WIRES)
    assert answer.plan.spare_port_loss == 1000 * sum(BY_HAND[name] for name in SPARES)
    assert answer.plan.legs_in_use == 1000 * sum(BY_HAND[name] for name in LEGS)
    assert answer.plan.cost == 1000 * sum(BY_HAND.values())


def test_search_and_checker_have_the_same_terms() -> None:
    """Each term of the goal has one entry in the checker, on the same side, in the same order."""
    assert [term.name for term in TERMS if term.part == "wire run"] == list(WIRES)
    assert [term.name for term in TERMS if term.part == "spare-port loss"] == list(SPARES)
    assert [term.name for term in TERMS if term.part == "legs in use"] == list(LEGS)


def test_the_checker_looks_at_nothing_of_the_goal() -> None:
    """No module that verifies plans imports the goal or the search."""
    imports = [
        node.module or ""
        for path in (ROOT / "solver" / "portloom" / "verify").glob("*.py")
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.ImportFrom)
    ]
    assert len(imports) > 20
    assert [name for name in imports if name == "portloom.job.goal" or name.startswith("portloom.search")] == []


def a_thousandth_dearer(term: Term) -> Term:
    """Spoil a term: whatever it counts is counted with a thousandth more."""

    def amount(held: Held) -> int:
        return term.amount(held) * 1001 // 1000

    return replace(term, amount=amount)


@pytest.mark.parametrize("spoilt", TERMS, ids=[term.name for term in TERMS])
def test_a_term_that_is_wrong_in_the_search_fails_the_check(spoilt: Term, monkeypatch: pytest.MonkeyPatch) -> None:
    """With any one term spoilt the plan that is found does not pass, and the clash is about the goal."""
    monkeypatch.setattr(goal, "TERMS", [a_thousandth_dearer(term) if term is spoilt else term for term in TERMS])
    job = bike_and_unit()
    rules = rules_of(job)
    with pytest.raises(FailedCheck, match="rule goal") as failed:
        solve(job, rules, sites_of(job), Clock(None))
    assert {clash.rule for clash in failed.value.clashes} == {"goal"}


def test_a_term_left_out_fails_the_check(monkeypatch: pytest.MonkeyPatch) -> None:
    """A term that the search forgets altogether is missed by the checker."""
    monkeypatch.setattr(goal, "TERMS", [term for term in TERMS if term.name != "multiplexer wires"])
    job = bike_and_unit()
    rules = rules_of(job)
    with pytest.raises(FailedCheck, match="wire run: the plan says"):
        solve(job, rules, sites_of(job), Clock(None))


def test_what_a_spare_port_is_worth_is_told() -> None:
    """The plan names the weights of the bike's file among what it assumed."""
    said = (
        "a spare ampere is worth 50 mm of wire, a spare ability 100 mm, a later load 2000 mm unless the file says "
        "otherwise, a leg in use 40 mm"
    )
    assert said in planned(BIKE, UNIT).assumed
