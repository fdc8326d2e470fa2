"""The JSON of a plan: one document, the keys that other programs rely on, exact figures that add up."""

import json
import re
from decimal import Decimal
from itertools import pairwise
from typing import Any

import pytest

from calls import DIMLESS, FITTING, HARBOUR, NO_PLACE, PLANS, TOO_SMALL, Call, Portloom
from slices import first_of

PLAN = {
    "status", "bike", "unit", "place", "turned", "proven", "bound_mm", "cost_mm", "wire_run_mm", "spare_port_loss_mm",
    "copper_g", "outputs", "inputs", "feed", "fed", "multiplexers", "returns", "cases", "legs", "energy", "room_for",
    "no_room_for", "set_aside", "not_yet_judged", "assumed", "warnings", "cautions",
}  # fmt: skip
OUTPUT = {
    "port", "loads", "mode", "current_a", "inrush_a", "trip_a", "run_mm", "legs", "wire_mm2", "drop_v",
}  # fmt: skip
INPUT = {"port", "inputs", "run_mm", "legs"}
FEED = {"run_mm", "wire_mm2", "main_fuse_a", "limit_a", "worst_a", "worst_case", "drop_v"}
FACT = {"rule", "subject", "sentence", "where"}


def _document(portloom: Portloom, *call: str) -> dict[str, Any]:
    ran = portloom(*call, "--json")
    assert ran.stderr == ""
    document = json.loads(ran.stdout, parse_float=Decimal, parse_int=Decimal)
    assert isinstance(document, dict)
    return document


@pytest.mark.parametrize("call", FITTING, ids=" ".join)
def test_keys(portloom: Portloom, call: Call) -> None:
    """A plan has every key that other programs rely on, and so has every line in it."""
    plan = _document(portloom, *call)
    assert set(plan) >= PLAN
    assert set(plan["feed"]) >= FEED
    assert all(set(line) >= OUTPUT for line in plan["outputs"])
    assert all(set(line) >= INPUT for line in plan["inputs"])
    assert plan["outputs"]
    assert plan["status"] == "planned"
    assert (type(plan["turned"]), type(plan["proven"])) == (bool, bool)


@pytest.mark.parametrize("call", FITTING, ids=" ".join)
def test_cost_adds_up(portloom: Portloom, call: Call) -> None:
    """Wire run and spare-port loss add up to the cost to the last micrometre, and a proven plan is at its bound."""
    plan = _document(portloom, *call)
    assert plan["wire_run_mm"] + plan["spare_port_loss_mm"] == plan["cost_mm"] == plan["bound_mm"]
    runs = [wire["run_mm"] for part in ("outputs", "inputs", "fed", "returns") for wire in plan[part]]
    runs += [wire["run_mm"] for wire in plan["other_wires"] if wire["kind"] == "coil lead"]
    for box in plan["multiplexers"]:
        runs += [2 * box["run_mm"], *(switch["run_mm"] for switch in box["inputs"])]
    assert sum(runs) + plan["feed"]["run_mm"] == plan["wire_run_mm"]


@pytest.mark.parametrize("call", FITTING, ids=" ".join)
def test_worst_case(portloom: Portloom, call: Call) -> None:
    """The worst case told with the feed is the case with the most current, within the unit's limit."""
    plan = _document(portloom, *call)
    worst = max(plan["cases"], key=lambda case: case["current_a"])
    assert (plan["feed"]["worst_case"], plan["feed"]["worst_a"]) == (worst["case"], worst["current_a"])
    assert worst["current_a"] <= plan["feed"]["limit_a"]


@pytest.mark.parametrize("call", [TOO_SMALL, NO_PLACE])
def test_no_plan(portloom: Portloom, call: Call) -> None:
    """Where nothing fits, each conflict has its facts, a sentence and the proof, with where it is written."""
    document = _document(portloom, *call)
    assert document["status"] == "no plan"
    assert document["conflicts"]
    assert document["cautions"]
    for conflict in document["conflicts"]:
        assert set(conflict) >= {"facts", "sentence", "proof"}
        assert conflict["facts"]
        assert all(set(fact) >= FACT for fact in conflict["facts"])
        assert all(re.fullmatch(r"default|(examples/)?\S+\.yaml:[0-9]+", fact["where"]) for fact in conflict["facts"])


def test_no_plan_and_unknown_say_what_is_set_aside(portloom: Portloom) -> None:
    """What is set aside stands in the JSON whatever the answer is."""
    for extra in ((), ("--time-limit", "0")):
        assert _document(portloom, *NO_PLACE, *extra)["set_aside"][0]["rule"] == "indicator-pair"


def test_trade_offs(portloom: Portloom) -> None:
    """Trade-offs run from the least wire to the least loss; each trades one for the other, and the plan is one."""
    document = _document(portloom, *HARBOUR, "--trade-offs")
    points = document["trade_offs"]["points"]
    assert len(points) >= 2
    for one, other in pairwise(points):
        assert one["wire_run_mm"] < other["wire_run_mm"]
        assert one["spare_port_loss_mm"] > other["spare_port_loss_mm"]
    assert document["cost_mm"] == min(point["cost_mm"] for point in points)


@first_of("call", [PLANS[1], DIMLESS, PLANS[0], *PLANS[2:]], 2)
def test_text_and_json_agree(portloom: Portloom, call: Call) -> None:
    """The text tells the same plan as the JSON: the same ports, or the same conflicts."""
    text, plan = portloom(*call).stdout, _document(portloom, *call)
    words = " ".join(text.split())
    for line in plan.get("outputs", []):
        assert f"{line['port']} " in text
        assert all(load.split()[0] in words for load in line["loads"])
    for conflict in plan.get("conflicts", []):
        assert conflict["sentence"] in words
