"""``portloom why --json``: the keys that other programs rely on, and exact figures."""

import json
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from calls import ROOT, Portloom
from calls import WHY_DIMLESS as DIMLESS
from calls import WHY_HARBOUR as HARBOUR
from calls import WHY_WINTER as WINTER
from slices import first_of


def document(portloom: Portloom, *words: str) -> Any:
    """Return the document that a call prints, its figures exact."""
    return json.loads(portloom(*words, "--json").stdout, parse_float=Decimal)


def figures(node: Any) -> Iterator[tuple[str, Any]]:
    """Return every key with a number."""
    if isinstance(node, dict):
        for key, value in node.items():
            if isinstance(value, int | Decimal) and not isinstance(value, bool):
                yield key, value
            yield from figures(value)
    elif isinstance(node, list):
        for value in node:
            yield from figures(value)


def test_json_of_a_bike_that_does_not_fit(portloom: Portloom) -> None:
    """Conflicts with their facts, and fixes, by the keys that other programs rely on."""
    found = document(portloom, *WINTER)
    assert (found["status"], found["bike"], found["unit"]) == ("no plan", "Winter Trail 650", "fourteen-way")
    assert (found["conflicts_complete"], found["fixes_complete"]) == (True, True)
    for conflict in found["conflicts"]:
        assert {"facts", "sentence", "proof"} <= set(conflict)
        assert conflict["proof"] == "proved"
        assert all({"rule", "subject", "sentence", "where"} <= set(fact) for fact in conflict["facts"])
    keys = {"changes", "effort", "parts", "cost_mm", "spare", "sentence", "proven"}
    assert len(found["fixes"]) == 3
    assert all(keys <= set(fix) and fix["proven"] is True for fix in found["fixes"])
    efforts = [fix["effort"] for fix in found["fixes"]]
    assert efforts == sorted(efforts)


def test_json_tells_where_each_fact_is_written(portloom: Portloom) -> None:
    """By file and line; the words of the fact are there."""
    facts = [fact for conflict in document(portloom, *WINTER)["conflicts"] for fact in conflict["facts"]]
    loads = [fact for fact in facts if fact["fact"] == "mode"]
    assert loads
    for fact in loads:
        file, _, line = fact["where"].rpartition(":")
        assert fact["subject"] in (ROOT / file).read_text("utf-8").splitlines()[int(line) - 1]


def test_json_of_a_bike_that_fits(portloom: Portloom) -> None:
    """Its plan's cost to the last digit, and how near it is to its limits."""
    found = document(portloom, *HARBOUR)
    plan = document(portloom, "plan", *HARBOUR[1:])
    assert (found["status"], found["proven"]) == ("planned", True)
    assert {key: found[key] for key in ("place", "turned", "cost_mm")} == {
        key: plan[key] for key in ("place", "turned", "cost_mm")
    }
    assert {"tight", "first", "fullest_leg", "nearest_case"} <= set(found["near"])
    assert "why_not" not in found


def test_json_of_a_wish(portloom: Portloom) -> None:
    """The answer, its proof, and what it costs: both parts add up."""
    found = document(portloom, *HARBOUR, "--not", "fuel pump=out 2")["why_not"]
    price = found["price"]
    assert (found["answer"], found["proof"], found["conflict"]) == ("possible", "proved", None)
    assert price["wire_run_mm"] + price["spare_port_loss_mm"] == price["cost_mm"]
    assert price["moves"]
    assert all({"loads", "from", "to"} == set(move) for move in price["moves"])
    refused = document(portloom, *HARBOUR, "--not", "dipped beam=out 5")["why_not"]
    assert (refused["answer"], refused["price"], len(refused["refusals"])) == ("alone", None, 1)
    crowd = document(portloom, *HARBOUR, "--not", "brake lamp=out 7")["why_not"]
    assert (crowd["answer"], crowd["conflict"]["proof"]) == ("with the rest", "proved")


@first_of("words", [DIMLESS, HARBOUR, WINTER, (*HARBOUR, "--not-place", "under seat")], 2)
def test_lengths_in_json_are_whole_micrometres(words: tuple[str, ...], portloom: Portloom) -> None:
    """Exact decimals: no length or effort has a digit that the sums behind it do not have."""
    for key, value in figures(document(portloom, *words)):
        if key.endswith(("_mm", "_a")):
            assert (value * 1000) % 1 == 0, key
        elif key == "effort":
            assert isinstance(value, int)
