"""A built loom in the way of a plan: which circuits, proved, and what to take out. Invented bikes, no real machine."""

import json
from collections.abc import Sequence
from itertools import combinations
from math import sqrt
from pathlib import Path
from typing import Any

import pytest

from calls import ROOT, Portloom
from portloom.base.unit import Unit
from portloom.documents.json import plan_json
from portloom.explaining.conflicts.wish import LoadOnPort
from portloom.explaining.explain import DoesNotFit, Explained, explain
from portloom.inputs.built_plan import built_from_text
from portloom.inputs.built_taken_out import with_taken_out
from portloom.inputs.files import bike_from_text, find_unit, read_unit, unit_from_text
from portloom.inputs.problems import BadFile
from portloom.planning.plan import NothingFits, Planned, plan
from small_bikes import FOUR_WAY, THREE_LAMPS

FOUR = unit_from_text(FOUR_WAY, "unit")
SMALL = THREE_LAMPS.replace("[seat tray, tail], length: 360 mm", "[seat tray, tail], length: 360 mm, opening: 5.4 mm")
SMALL = SMALL.replace(", rear: tail, way_round: either", "")
"""Four wires pass the leg to the tail: two lamps, their return, a switch. One more does not."""
BURNT = SMALL + "out_of_use: {out 2: burnt}\n"
WITHOUT_TAIL = "".join(line for line in SMALL.splitlines(keepends=True) if "tail lamp" not in line)
WORK = "{name: work lamp, at: tail, power: 6 W, kind: led, when: [day], not_on: [out 1, out 2, out 3]}"
TWO_HELD = WITHOUT_TAIL.replace("when: [braking]}", f"when: [braking], not_on: [out 1, out 2, out 3]}}\n  - {WORK}")
"""Two lamps at the tail are held to one output."""
Printed = dict[str, Any]


def built_of(text: str, unit: Unit) -> Printed:
    """Return the printed plan of a bike."""
    found = plan(bike_from_text(text, "bike"), unit)
    assert isinstance(found, Planned)
    return plan_json(found.plan)


@pytest.fixture(scope="module")
def tight() -> Printed:
    """Return the printed plan of the bike with the narrow leg; its tail lamp is on out 2, its brake lamp on out 3."""
    printed = built_of(SMALL, FOUR)
    assert [(line["port"], line["loads"]) for line in printed["outputs"]][1:] == [
        ("out 2", ["tail lamp"]),
        ("out 3", ["brake lamp"]),
    ]
    return printed


def explained(text: str, printed: Printed, unit: Unit, **asked: Any) -> Explained:
    """Return why a bike does not fit with its built loom, or how it does."""
    loom = built_from_text(json.dumps(printed), "built.json")
    return explain(bike_from_text(text, "bike"), unit, built=loom, **asked)


def reasons(text: str, printed: Printed, unit: Unit = FOUR) -> DoesNotFit:
    """Return the same of one that does not."""
    answer = explained(text, printed, unit).answer
    assert isinstance(answer, DoesNotFit)
    return answer


def fits_without(text: str, printed: Printed, circuits: Sequence[str], unit: Unit = FOUR) -> bool:
    """Plan a bike whose built plan says that circuits were taken out."""
    bike, after = bike_from_text(text, "bike"), {**printed, "taken_out": list(circuits)}
    return isinstance(plan(bike, unit, built=built_from_text(json.dumps(after), "built.json")), Planned)


def circuits_in(printed: Printed, *legs: str) -> list[str]:
    """Return the circuits with a wire in any of these legs, as the printed plan tells of them."""
    wires = [wire for wire in printed["wires"] if wire["kind"] != "alongside" and set(legs) & set(wire["legs"])]
    return list(dict.fromkeys(wire["circuit"] for wire in wires))


@pytest.fixture(scope="module")
def burnt(tight: Printed) -> DoesNotFit:
    """Return why the bike does not fit once an output is burnt."""
    return reasons(BURNT, tight)


def test_a_conflict_names_built_wires_with_all_else_that_is_in_the_way(burnt: DoesNotFit, tight: Printed) -> None:
    """Five wires do not pass the opening, four do.

    Source: a bundle is 1.25 times the root of its wires' squares, the hand's table of looms (`tests/sheet`); a thin
    0.5 mm2 wire is 1.7 mm thick; the opening leaves 4.4 mm beside its sleeve.
    """
    (conflict,) = burnt.why.conflicts
    keys = [fact.key for fact in conflict.facts]
    built = [key[1] for key in keys if key[0] == "built"]
    there = [wire for wire in tight["wires"] if wire["circuit"] in built and "seat tray - tail" in wire["legs"]]
    assert {wire["size"] for wire in there} == {"0.5 mm2"}
    new = 1 if "return tail" in built else 2
    assert len(there) + new == 5
    assert 1.25 * sqrt(5 * 1.7**2) > 4.4 >= 1.25 * sqrt(4 * 1.7**2)
    others = {("opening", "seat tray - tail"), ("load", "tail lamp"), ("out of use", "out 2")}
    assert set(keys) == others | {("built", name) for name in built}
    assert "out 2" in built


def test_old_wires_that_leave_no_room_are_taken_out(burnt: DoesNotFit, tight: Printed) -> None:
    """To take the burnt output's wires out is the only fix of effort 2: of all circuits each one was tried."""
    first = burnt.fixes.found[0]
    assert (first.taken_out, first.effort, first.least) == (("out 2",), 2, True)
    near = circuits_in(tight, "seat tray - tail")
    assert len(near) == 4
    assert [name for name in near if fits_without(BURNT, tight, [name])] == ["out 2"]


def test_a_fix_mixes_what_is_undone_with_other_changes(tight: Printed) -> None:
    """Two lamps are held to one output, and a third one's wires lie there dead: a pin is lifted, they are taken out."""
    best = reasons(TWO_HELD, tight).fixes.found[0]
    assert (best.taken_out, best.effort, best.least) == (("out 2",), 4, True)
    assert sorted(change.kind for change in best.changes) == ["built circuit undone", "pin lifted"]


@pytest.mark.long
def test_no_less_would_do(tight: Printed) -> None:
    """Each less is tried: a pin alone, a circuit alone."""
    text = TWO_HELD
    freed = text.replace("when: [braking], not_on: [out 1, out 2, out 3]}", "when: [braking]}")
    assert fits_without(freed, tight, ["out 2"])
    for less in (freed, text.replace(", not_on: [out 1, out 2, out 3]}\ninputs", "}\ninputs")):
        assert not fits_without(less, tight, [])
    assert not any(fits_without(text, tight, [name]) for name in circuits_in(tight, "seat tray - tail"))


@pytest.mark.long
def test_two_narrow_legs_want_two_circuits_taken_out() -> None:
    """A port burnt at each: two conflicts, and fixes of effort 4; each choice of one or two circuits there is tried."""
    unit = read_unit(find_unit("eleven-way"))
    text = (ROOT / "examples/harbour-trail.yaml").read_text(encoding="utf-8")
    text = text.replace("opening: 20 mm, opens_to: 24 mm, opens: grommet", "opening: 6 mm")
    text = text.replace("[engine, pedal], length: 280 mm", "[engine, pedal], length: 280 mm, opening: 4.5 mm")
    printed = built_of(text, unit)
    burnt = text + "out_of_use: {out 3: burnt, in 12: burnt}\n"
    found = reasons(burnt, printed, unit)
    near = circuits_in(printed, "tray - tail", "engine - pedal")
    sets = (names for size in (1, 2) for names in combinations(near, size))
    each = {frozenset(names) for names in sets if fits_without(burnt, printed, names, unit)}
    assert {len(names) for names in each} == {2}
    assert {frozenset(fix.taken_out) for fix in found.fixes.found if fix.effort == 4} <= each
    assert found.fixes.found[0].effort == 4
    assert found.fixes.found[0].least
    kinds = [{fact.key[0] for fact in conflict.facts} for conflict in found.why.conflicts]
    assert ["built" in facts for facts in kinds] == [True, True]


def test_what_was_taken_out_is_there_no_more(tight: Printed) -> None:
    """With 'taken_out' in the built plan there is a plan, and its numbers still go on from the old ones."""
    bike, unit = bike_from_text(BURNT, "bike"), FOUR
    assert isinstance(plan(bike, unit, built=built_from_text(json.dumps(tight), "built.json")), NothingFits)
    after = {**tight, "taken_out": ["out 2"]}
    found = plan(bike, unit, built=built_from_text(json.dumps(after), "built.json"))
    assert isinstance(found, Planned)
    assert found.plan.change is not None
    assert found.plan.change.out == ()
    last = max(wire["number"] for wire in tight["wires"])
    assert min(wire.number for wire in found.plan.change.new) > last
    gone = {**plan_json(found.plan), "taken_out": ["out 4"]}
    again = plan(bike, unit, built=built_from_text(json.dumps(gone), "built.json"))
    assert isinstance(again, Planned)
    assert again.plan.change is not None
    assert min(wire.number for wire in again.plan.change.new) > max(wire.number for wire in found.plan.change.new)
    with pytest.raises(BadFile, match="the loom has no circuit 'out 99'"):
        built_from_text(json.dumps({**tight, "taken_out": ["out 99"]}), "built.json")


def test_a_loom_that_is_not_to_blame(tight: Printed) -> None:
    """Where nothing fits at that place with an empty loom either, no built circuit is named."""
    found = reasons(SMALL.replace("opening: 5.4 mm", "opening: 3 mm"), tight)
    assert not any(fact.key[0] == "built" for conflict in found.why.conflicts for fact in conflict.facts)


# --- the command


@pytest.fixture(scope="module")
def files(tight: Printed, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with the bike that is burnt, the one that fits, and the built plan."""
    folder = tmp_path_factory.mktemp("built")
    (folder / "bike.yaml").write_text(BURNT, encoding="utf-8")
    (folder / "fits.yaml").write_text(SMALL, encoding="utf-8")
    (folder / "unit.yaml").write_text(FOUR_WAY, encoding="utf-8")
    (folder / "built.json").write_text(json.dumps(tight, indent=2), encoding="utf-8")
    return folder


def called(files: Path, bike: str, *more: str) -> tuple[str, ...]:
    """Return a call of 'why' with the built plan."""
    built = str(files / "built.json")
    return ("why", str(files / bike), "--unit", str(files / "unit.yaml"), "--built", built, *more)


def test_a_fix_is_written_for_both_files(files: Path, portloom: Portloom) -> None:
    """Its bike's file as it is, the built plan's copy says what is taken out: with both there is a plan."""
    out = files / "fixed.yaml"
    ran = portloom(*called(files, "bike.yaml", "--apply", "1", "--out", str(out)))
    assert ran.returncode == 1
    assert "out 2 is built: one wire of 0.5 mm2 in seat tray - tail" in ran.stdout
    assert "built.json line" in ran.stdout
    assert "Take out 2 out of the loom. (effort 2)" in ran.stdout
    assert out.read_text(encoding="utf-8") == BURNT
    beside = files / "fixed.yaml.built.json"
    assert json.loads(beside.read_text(encoding="utf-8"))["taken_out"] == ["out 2"]
    assert portloom("plan", str(out), "--unit", str(files / "unit.yaml"), "--built", str(beside)).returncode == 0
    again = with_taken_out(beside.read_text(encoding="utf-8"), ["out 3"])
    assert json.loads(again) == {**json.loads(beside.read_text(encoding="utf-8")), "taken_out": ["out 2", "out 3"]}


def test_a_built_plan_is_never_written_over(files: Path, portloom: Portloom) -> None:
    """Neither under its own name nor under that of the copy beside the bike's new file."""
    (files / "x.built.json").write_bytes((files / "built.json").read_bytes())
    call = ("why", str(files / "bike.yaml"), "--unit", str(files / "unit.yaml"), "--built", str(files / "x.built.json"))
    for out in ("x.built.json", "x"):
        ran = portloom(*call, "--apply", "1", "--out", str(files / out))
        assert (ran.returncode, len(ran.stderr.splitlines())) == (2, 1)
        assert "the built plan's file" in ran.stderr


def test_a_wish_is_judged_in_the_loom(tight: Printed) -> None:
    """The dipped beam on a free output has its price and what it touches; at the tail built wires leave no room."""
    possible = explained(SMALL, tight, FOUR, wish=LoadOnPort("dipped beam", "out 4")).why_not
    assert possible is not None
    assert possible.price is not None
    assert possible.price.loom is not None
    assert possible.price.loom.touched == ("out 1",)
    assert "headstock - seat tray" in possible.price.loom.opened
    refused = explained(SMALL, tight, FOUR, wish=LoadOnPort("tail lamp", "out 4")).why_not
    assert refused is not None
    assert refused.answer == "with the rest"
    assert refused.conflict is not None
    assert ("built", "out 2") in [fact.key for fact in refused.conflict.facts]


def test_what_else_is_asked_of_a_built_loom(files: Path, portloom: Portloom) -> None:
    """Of a bike that fits it is told what is touched; another place is refused in a line that says what to do."""
    told = json.loads(portloom(*called(files, "fits.yaml", "--pins", "--for", "dipped beam", "--json")).stdout)
    assert (told["status"], told["touched"], told["opened"]) == ("planned", [], [])
    assert told["pins"] == []
    assert [one["ports"] for one in told["elsewhere"]] == [["out 2"], ["out 3"], ["out 4"]]
    place = portloom(*called(files, "fits.yaml", "--not-place", "under seat"))
    assert (place.returncode, len(place.stderr.splitlines())) == (2, 1)
    assert "ask without --built" in place.stderr


def test_plan_tells_the_first_conflict_with_a_built_loom(files: Path, portloom: Portloom) -> None:
    """Built circuits are facts of it, with the built plan's lines."""
    call = ("plan", *called(files, "bike.yaml")[1:], "--json")
    told = json.loads(portloom(*call).stdout)
    facts = told["conflicts"][0]["facts"]
    assert {fact["fact"] for fact in facts} == {"built", "opening", "load", "out of use"}
    assert all("built.json:" in fact["where"] for fact in facts if fact["fact"] == "built")
    assert told["built"].endswith("built.json")
