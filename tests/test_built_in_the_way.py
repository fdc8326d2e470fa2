"""A built loom in the way of a plan: which circuits, proved, and what to take out. Invented bikes, no real machine."""

import json
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from calls import ROOT, Portloom
from portloom.base.clock import NO_LIMIT
from portloom.documents.json import plan_json
from portloom.explaining.undoing import Looms, undone
from portloom.inputs.built_plan import built_from_text
from portloom.inputs.files import bike_from_text, find_unit, read_unit
from portloom.inputs.problems import BadFile
from portloom.planning.plan import NothingFits, Planned, plan

HARBOUR = (ROOT / "examples/harbour-trail.yaml").read_text(encoding="utf-8")
TIGHT = HARBOUR.replace("opening: 20 mm, opens_to: 24 mm, opens: grommet", "opening: 6 mm")
"""Its loom just passes the leg to the tail: one wire more does not."""
BURNT = TIGHT + "out_of_use: {out 3: burnt}\n"
Printed = dict[str, Any]


@pytest.fixture(scope="module")
def tight() -> Printed:
    """Return the printed plan of the bike with the narrow leg."""
    found = plan(bike_from_text(TIGHT, "bike"), read_unit(find_unit("eleven-way")))
    assert isinstance(found, Planned)
    return plan_json(found.plan)


def looms_of(text: str, printed: Printed) -> Looms:
    """Return what is asked of a bike and its built loom."""
    bike, unit = bike_from_text(text, "bike"), read_unit(find_unit("eleven-way"))
    return Looms(bike, unit, built_from_text(json.dumps(printed), "built.json"), NO_LIMIT)


def test_old_wires_that_leave_no_room_are_named_and_taken_out(tight: Printed) -> None:
    """The burnt output's wires fill the leg to the tail: they alone are in the way, and to take them out is enough."""
    looms = looms_of(BURNT, tight)
    found = undone(looms)
    assert [conflict.circuits for conflict in found.conflicts] == [("out 3",)]
    assert [(fix.circuits, fix.effort) for fix in found.fixes] == [(("out 3",), 2)]
    assert found.least
    assert found.to_blame
    assert [name for name in looms.circuits if looms.without([name]) is not None] == ["out 3"]


def test_what_was_taken_out_is_there_no_more(tight: Printed) -> None:
    """With 'taken_out' in the built plan there is a plan, and its numbers still go on from the old ones."""
    bike, unit = bike_from_text(BURNT, "bike"), read_unit(find_unit("eleven-way"))
    assert isinstance(plan(bike, unit, built=built_from_text(json.dumps(tight), "built.json")), NothingFits)
    after = {**tight, "taken_out": ["out 3"]}
    found = plan(bike, unit, built=built_from_text(json.dumps(after), "built.json"))
    assert isinstance(found, Planned)
    assert found.plan.change is not None
    assert found.plan.change.out == ()
    last = max(wire["number"] for wire in tight["wires"])
    assert min(wire.number for wire in found.plan.change.new) > last
    gone = {**plan_json(found.plan), "taken_out": ["out 10"]}
    again = plan(bike, unit, built=built_from_text(json.dumps(gone), "built.json"))
    assert isinstance(again, Planned)
    assert again.plan.change is not None
    assert min(wire.number for wire in again.plan.change.new) > max(wire.number for wire in found.plan.change.new)
    with pytest.raises(BadFile, match="the loom has no circuit 'out 99'"):
        built_from_text(json.dumps({**tight, "taken_out": ["out 99"]}), "built.json")


def test_two_narrow_legs_want_two_circuits_taken_out() -> None:
    """A port burnt at each: two conflicts, and fixes of effort 4; each choice of one or two circuits there is tried."""
    text = TIGHT.replace("{between: [engine, pedal], length: 280 mm}",
                         "{between: [engine, pedal], length: 280 mm, opening: 4.5 mm}")  # fmt: skip
    first = plan(bike_from_text(text, "bike"), read_unit(find_unit("eleven-way")))
    assert isinstance(first, Planned)
    looms = looms_of(text + "out_of_use: {out 3: burnt, in 12: burnt}\n", plan_json(first.plan))
    found = undone(looms)
    narrow = {"tray - tail", "engine - pedal"}
    near = [name for name, own in looms.loom_legs().items() if narrow & own]
    each = [names for size in (1, 2) for names in combinations(near, size) if looms.without(names) is not None]
    assert {len(names) for names in each} == {2}
    assert [fix.circuits for fix in found.fixes] == each
    assert len(found.conflicts) == 2
    assert found.least


def test_a_loom_that_is_not_to_blame(tight: Printed, tmp_path: Path, portloom: Portloom) -> None:
    """Where nothing fits at that place with an empty loom either, that is said, and no circuit is named."""
    bike, built = tmp_path / "bike.yaml", tmp_path / "built.json"
    bike.write_text(TIGHT.replace("opening: 6 mm", "opening: 3 mm"), encoding="utf-8")
    built.write_text(json.dumps(tight), encoding="utf-8")
    ran = portloom("why", str(bike), "--unit", "eleven-way", "--built", str(built))
    assert ran.returncode == 1
    assert "The loom is not to blame" in ran.stdout
    assert "is built:" not in ran.stdout


def test_the_command(tight: Printed, tmp_path: Path, portloom: Portloom) -> None:
    """Text and JSON name the circuit with its wires and what to take out; a bike that fits ends with 0."""
    bike, built = tmp_path / "bike.yaml", tmp_path / "built.json"
    bike.write_text(BURNT, encoding="utf-8")
    built.write_text(json.dumps(tight), encoding="utf-8")
    call = ("why", str(bike), "--unit", "eleven-way", "--built", str(built))
    ran = portloom(*call)
    assert ran.returncode == 1
    assert "out 3 is built: five wires of 0.5 mm2 in headstock - headlamp" in ran.stdout
    assert "Take out 3 out of the loom (effort 2)" in ran.stdout
    told = json.loads(portloom(*call, "--json").stdout)
    assert [fact["subject"] for conflict in told["conflicts"] for fact in conflict["facts"]] == ["out 3"]
    assert [(fix["taken_out"], fix["effort"], fix["proven"]) for fix in told["fixes"]] == [(["out 3"], 2, True)]
    fits = tmp_path / "fits.yaml"
    fits.write_text(TIGHT, encoding="utf-8")
    assert portloom("why", str(fits), *call[2:]).returncode == 0
    refused = portloom(*call, "--pins")
    assert (refused.returncode, len(refused.stderr.splitlines())) == (2, 1)
