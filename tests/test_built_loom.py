"""A loom that is built: what stays, what a change does to it, and what is refused. Invented bikes, no real machine."""

import csv
import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from calls import ROOT, Portloom
from portloom.base.bike import Bike
from portloom.documents.change_order import ChangeOrder
from portloom.documents.json import plan_json
from portloom.inputs.built_plan import built_from_text
from portloom.inputs.files import bike_from_text, find_unit, read_unit
from portloom.inputs.problems import BadFile
from portloom.job.job import Job
from portloom.planning.plan import Planned, plan
from portloom.rules.book import rules_of
from portloom.search.assign import assignment_of
from portloom.verify.judge import judged
from slices import first_of, slices
from small_bikes import FOUR_WAY, THREE_LAMPS

EXAMPLES = (
    ("harbour-trail", "eleven-way"),
    ("bare-single", "six-way"),
    ("dressed-tourer", "eleven-way"),
    ("market-parallel", "fourteen-way"),
)
HARBOUR = (ROOT / "examples/harbour-trail.yaml").read_text(encoding="utf-8")
HORN = "- {part: horn, at: radiator"
Printed = dict[str, Any]


def planned(text: str, unit: str = "eleven-way", built: Printed | None = None) -> Planned:
    """Return the plan of a bike, with a built loom or without."""
    loom = None if built is None else built_from_text(json.dumps(built), "built.json")
    found = plan(bike_from_text(text, "bike"), read_unit(find_unit(unit)), built=loom)
    assert isinstance(found, Planned)
    return found


def order_of(found: Planned) -> ChangeOrder:
    """Return the change order of a plan with a built loom."""
    assert found.plan.change is not None
    return found.plan.change


@pytest.fixture(scope="module")
def harbour() -> Printed:
    """Return the printed plan of the Harbour Trail."""
    return plan_json(planned(HARBOUR).plan)


def with_load(entry: str) -> str:
    """Return the Harbour Trail with one more load."""
    return HARBOUR.replace(HORN, f"- {{{entry}}}\n{HORN}")


# --- what stays


@first_of(("bike", "unit"), EXAMPLES, 2)
def test_an_unchanged_bike_touches_nothing(bike: str, unit: str) -> None:
    """Its plan is the old one, every wire with its number, and no wire is new."""
    text = (ROOT / f"examples/{bike}.yaml").read_text(encoding="utf-8")
    printed = plan_json(planned(text, unit).plan)
    found = planned(text, unit, printed)
    again = plan_json(found.plan)
    assert order_of(found).nothing
    assert again["wire_run_mm"] == again["copper_g"] == 0
    for key in ("place", "turned", "inputs", "feed", "fed", "wires", "legs", "cases", "room_for", "spare_port_loss_mm"):
        assert again[key] == printed[key], key
    assert again["outputs"] == printed["outputs"]


ADDED = (
    "name: spot lights, at: headstock, power: 20 W, kind: led",
    "name: camera, at: tail, current: 0.4 A, kind: electronics",
    "name: seat lamp, at: tray, power: 5 W, kind: led, share: position lamps",
)


@first_of("entry", ADDED, 1)
def test_a_load_added_and_taken_away_ends_where_it_began(entry: str, harbour: Printed) -> None:
    """Nothing is touched either way, and the plan is the first one again; only dead wire is left."""
    more = planned(with_load(entry), built=harbour)
    assert order_of(more).change.mattering == order_of(more).change.others == ()
    back = planned(HARBOUR, built=plan_json(more.plan))
    printed = plan_json(back.plan)
    assert (order_of(back).change.mattering, order_of(back).change.others, order_of(back).change.opened) == ((), (), ())
    assert order_of(back).new == ()
    first = plan_json(planned(HARBOUR, built=harbour).plan)
    for key in ("outputs", "inputs", "feed", "spare_port_loss_mm", "wire_run_mm", "room_for"):
        assert printed[key] == first[key], key


@first_of(("bike", "unit"), [EXAMPLES[1], EXAMPLES[0], EXAMPLES[3]], 1)
def test_a_lamp_added_and_taken_away_touches_nothing(bike: str, unit: str) -> None:
    """A lamp where the unit sits, then the bike without it: the first circuits. The tourer has no output for it."""
    text = (ROOT / f"examples/{bike}.yaml").read_text(encoding="utf-8")
    printed = plan_json(planned(text, unit).plan)
    at = next(wire["from"]["at"] for wire in printed["wires"] if wire["kind"] == "output")
    indent = "" if "\n- {part:" in text else "  "
    lamp = f"{indent}- {{name: lamp, at: {at}, power: 2 W, kind: led, when: [day]}}"
    more = text.replace("\nloads:\n", f"\nloads:\n{lamp}\n", 1)
    added = planned(more, unit, printed)
    assert order_of(added).change.mattering == order_of(added).change.others == ()
    back = plan_json(planned(text, unit, plan_json(added.plan)).plan)
    first = plan_json(planned(text, unit, printed).plan)
    for key in ("outputs", "inputs", "feed", "spare_port_loss_mm", "wire_run_mm", "room_for"):
        assert back[key] == first[key], key


def test_a_load_that_comes_back_takes_its_dead_wire(harbour: Printed) -> None:
    """Taken away its wires are out of use; put back they are what it is on again."""
    less = HARBOUR.replace("- {part: plate lamp, at: tail, lamp: W5W}\n", "")
    without = planned(less, built=harbour)
    assert {wire.key for wire in order_of(without).out} == {"out 3.5", "return tail.2"}
    again = planned(HARBOUR, built=plan_json(without.plan))
    assert len(order_of(again).new) + len(order_of(again).out) == 0
    assert all(wire.used for wire in again.plan.wiring.wires)


# --- what a change does


def test_a_new_load_takes_a_free_port_and_touches_nothing(harbour: Printed) -> None:
    """Numbers and labels go on from the old ones; the leg in which its wire is laid is opened."""
    found = planned(with_load(ADDED[0]), built=harbour)
    order, last = order_of(found), max(wire["number"] for wire in harbour["wires"])
    assert (order.change.mattering, order.change.others, order.change.opened) == ((), (), ("headstock - tank",))
    assert [(wire.number, wire.key, wire.legs) for wire in order.new] == [
        (last + 1, "out 10.1", ("headstock - tank",)),
        (last + 2, "return headstock.4", ()),
    ]
    assert order.settings == ("out 10: spot lights, steady, trip 3 A",)


def test_a_new_load_joins_where_a_hand_can(harbour: Printed) -> None:
    """A lamp beside a splice of its group's circuit hangs on that splice: no leg is opened, no port is taken."""
    found = planned(with_load("name: rack lamp, at: tail, power: 5 W, kind: led, share: position lamps"), built=harbour)
    order = order_of(found)
    assert order.change.opened == ()
    assert next(line.port for line in found.plan.outputs if "rack lamp" in line.loads) == "out 3"
    assert next((wire.key, wire.start.name, wire.legs) for wire in order.new) == ("out 3.6", "S2", ())


def test_a_burnt_output_gives_its_loads_to_another(harbour: Printed) -> None:
    """Its circuit alone is touched, all its wires are out of use, and new ones have new numbers."""
    found = planned(HARBOUR + "out_of_use: {out 3: burnt}\n", built=harbour)
    order = order_of(found)
    assert (order.change.mattering, order.change.others) == ((), ("out 3",))
    assert {wire.key for wire in order.out} == {wire["wire"] for wire in harbour["wires"] if wire["circuit"] == "out 3"}
    old = {wire["number"] for wire in harbour["wires"]}
    assert old.isdisjoint(wire.number for wire in order.new)
    later = planned(HARBOUR + "out_of_use: {out 3: burnt}\n", built=plan_json(found.plan))
    assert order_of(later).nothing
    assert order_of(later).dead_before == len(order.out)


def test_what_matters_is_tested_whatever_is_done(harbour: Printed) -> None:
    """Stop, brakes and start always; else each circuit in a leg that was opened or in a plug that was parted."""
    order = order_of(planned(with_load(ADDED[0]), built=harbour))
    always = {one.circuit for one in order.retests if one.always}
    assert always == {"out 4", "out 7", "out 9", "out 11", *(f"in {n}" for n in (1, 2, 3, 4, 5, 6, 11, 12))}
    others = {one.circuit: (one.is_new, one.opened, one.parted) for one in order.retests if not one.always}
    rear = "the unit's plug at tank"
    assert others["out 8"] == (False, (), (rear,))
    assert others["out 10"] == (True, ("headstock - tank",), (rear,))
    assert "out 1" not in others


# --- what is refused


@slices("numbers", range(0, 10, 3), range(10))
def test_bad_built_plans_are_refused(numbers: range, tmp_path: Path, portloom: Portloom, harbour: Printed) -> None:
    """No JSON, no plan, an old format, an impossible one, another bike or unit: each in lines, and exit code 2."""
    text = json.dumps(harbour, indent=2)
    cases = {
        "bike: Harbour Trail 650\n": ":1:1: this is no JSON",
        "{}": ":1:1: this is no plan that was printed",
        json.dumps({**harbour, "status": "no plan"}): "nothing was built by this: its status is 'no plan'",
        json.dumps({key: value for key, value in harbour.items() if key != "wires"}): "this plan is of an old format",
        text.replace('"number": 4,', '"number": 3,', 1): "no loom is built like this: wire 3 is there twice",
        text.replace('"wire": "6 mm2"', '"wire": "thick"', 1): "'thick' is no wire size",
        text.replace("Harbour Trail 650", "Winter Trail 650"): "the plan is of the bike Winter Trail 650",
        text.replace('"eleven-way"', '"six-way"'): "the plan is on the unit six-way",
        text.replace('"down tube"', '"cross tube"'): "the bike has no leg cross tube",
        text.replace('"out 4"', '"out 44"'): "the unit has no output out 44",
    }
    bike = tmp_path / "bike.yaml"
    bike.write_text(HARBOUR, encoding="utf-8")
    for number in numbers:
        written, told = list(cases.items())[number]
        file = tmp_path / f"built {number}.json"
        file.write_text(written, encoding="utf-8")
        ran = portloom("plan", str(bike), "--unit", "eleven-way", "--built", str(file))
        assert (ran.returncode, ran.stdout) == (2, ""), told
        assert told in ran.stderr


def test_every_name_that_differs_is_listed(tmp_path: Path, portloom: Portloom, harbour: Printed) -> None:
    """The bike's name and two ports: three lines, each where it stands."""
    text = json.dumps(harbour, indent=2)
    for name, other in (("Harbour Trail 650", "Quay 1"), ('"out 4"', '"out 44"'), ('"in 5"', '"in 55"')):
        text = text.replace(name, other)
    file = tmp_path / "built.json"
    file.write_text(text, encoding="utf-8")
    ran = portloom("plan", str(ROOT / "examples/harbour-trail.yaml"), "--unit", "eleven-way", "--built", str(file))
    assert [line.split(": ", 1)[1].split(";")[0] for line in ran.stderr.splitlines()] == [
        "the plan is of the bike Quay 1, the file of Harbour Trail 650",
        "the unit has no output out 44",
        "the unit has no input in 55",
    ]


def test_options_that_are_of_no_built_loom(tmp_path: Path, portloom: Portloom) -> None:
    """Each is refused in one line before anything is read."""
    for more in (("--unit", "six-way"), ("--place", "tail"), ("--trade-offs",), ("--model", str(tmp_path / "m"))):
        ran = portloom("plan", "no.yaml", "--unit", "eleven-way", *more, "--built", "no.json")
        assert (ran.returncode, ran.stdout, len(ran.stderr.splitlines())) == (2, "", 1)
        assert "--built" in ran.stderr


@pytest.mark.parametrize("call", [("plan",), ("why",), ("sheets", "--out", "folder")])
def test_legs_in_use_are_not_chosen_of_a_built_loom(
    call: tuple[str, ...], tmp_path: Path, portloom: Portloom, harbour: Printed
) -> None:
    """A bike with 'weights.leg' is refused in one line, and nothing is written: built wires stay in their legs."""
    bike, built = tmp_path / "bike.yaml", tmp_path / "built.json"
    bike.write_text(HARBOUR + "weights: {leg: 300 mm}\n", encoding="utf-8")
    built.write_text(json.dumps(harbour), encoding="utf-8")
    command, *more = call
    more = [str(tmp_path / word) if word == "folder" else word for word in more]
    ran = portloom(command, str(bike), "--unit", "eleven-way", *more, "--built", str(built))
    assert (ran.returncode, ran.stdout, len(ran.stderr.splitlines())) == (2, "", 1)
    assert "weights.leg is for a loom that is not built yet" in ran.stderr
    assert not (tmp_path / "folder").exists()


# --- the check


def test_a_wrong_count_of_touches_fails_the_check(harbour: Printed) -> None:
    """A plan that says that it touches or opens less or more, or that a built wire stays that can't, is not passed."""
    text = with_load(ADDED[0])
    found = planned(text, built=harbour)
    bike: Bike = bike_from_text(text, "bike")
    job = Job(bike, read_unit(find_unit("eleven-way")), built=built_from_text(json.dumps(harbour), "built.json"))
    assert found.found is not None
    right = assignment_of(found.found)
    rules = rules_of(job)
    assert judged((job,), rules, right) == ()
    assert right.change is not None
    wrong = (
        replace(right, change=replace(right.change, opened=())),
        replace(right, change=replace(right.change, others=("out 3",))),
        replace(right, change=replace(right.change, mattering=("the feed",))),
        replace(right, change=None),
        right.seated(replace(right.only, outputs=tuple(replace(line, staying=None) for line in right.outputs))),
    )
    assert all(judged((job,), rules, spoilt) for spoilt in wrong)


# --- as the shop made it


def test_a_wire_that_was_made_thicker_stays_thicker(harbour: Printed) -> None:
    """Its circuit stays, of its built size; its length is told, and so is its colour."""
    made = {**harbour, "as_built": {"out 9.1": {"size": "1 mm2", "length_mm": 1200, "colour": "BU/WH"}}}
    found = planned(HARBOUR, built=made)
    assert order_of(found).nothing
    assert next(line.size.label for line in found.plan.outputs if line.port == "out 9") == "1 mm2"
    printed = next(wire for wire in plan_json(found.plan)["wires"] if wire["wire"] == "out 9.1")
    assert (printed["size"], printed["cut_mm"], printed["colour"]) == ("1 mm2", [1200], "BU/WH")


def test_a_wire_that_was_made_too_thin_is_set_anew(harbour: Printed) -> None:
    """0.35 mm2 does not carry the pump's trip, nor 2.5 mm2 the main fuse: the pump is touched, and so is the feed."""
    made = {**harbour, "as_built": {"out 8.1": {"size": "0.35 mm2"}, "feed.2": {"size": "2.5 mm2"}}}
    change = order_of(planned(HARBOUR, built=made)).change
    assert (change.mattering, change.others) == (("the feed",), ("out 8",))


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ({"out 99.1": {"size": "1 mm2"}}, "the plan has no wire 'out 99.1'"),
        ({"out 9.1": {"size": "thick"}}, "'thick' is no wire size"),
        ({"out 9.1": {"colour": "blue"}}, "'blue' is no colour such as BU or BU/WH"),
        ({"out 9.1": {"width": 3}}, "'as_built' says nothing of 'width'"),
        (["out 9.1"], "'as_built' is no mapping of wires"),
    ],
)
def test_what_is_said_wrongly_of_a_wire(said: object, told: str, harbour: Printed) -> None:
    """It is refused, with what would be right."""
    with pytest.raises(BadFile) as refused:
        built_from_text(json.dumps({**harbour, "as_built": said}), "built.json")
    assert told in str(refused.value)


# --- sheets


@first_of(
    ("text", "unit", "dead", "anew"),
    [(THREE_LAMPS, None, "out 2", {"out 4.1"}), (HARBOUR, "eleven-way", "out 3", {f"out 10.{n}" for n in range(1, 6)})],
    1,
)
def test_sheets_of_a_built_loom(
    text: str, unit: str | None, dead: str, anew: set[str], tmp_path: Path, portloom: Portloom
) -> None:
    """The change order is there; built wires have the colours of their own sheets; cut is what is new alone."""
    for name, written in (("bike", text), ("burnt", f"{text}out_of_use: {{{dead}: burnt}}\n"), ("unit", FOUR_WAY)):
        (tmp_path / f"{name}.yaml").write_text(written, encoding="utf-8")
    call = ("--unit", unit or "unit.yaml")
    built = portloom("plan", "bike.yaml", *call, "--json", folder=tmp_path).stdout
    (tmp_path / "built.json").write_text(built, encoding="utf-8")
    assert portloom("sheets", "bike.yaml", *call, "--out", "old", folder=tmp_path).returncode == 0
    anew_sheets = ("sheets", "burnt.yaml", *call, "--out", "new", "--built", "built.json")
    assert portloom(*anew_sheets, folder=tmp_path).returncode == 0
    old, new = (coloured_in(tmp_path / name / "wiring-list.csv") for name in ("old", "new"))
    assert old.items() - new.items() == {(name, old[name]) for name in old if name.startswith(f"{dead}.")}
    cut = (tmp_path / "new" / "cut-list.csv").read_text(encoding="utf-8").splitlines()[1:]
    assert {line.split(",")[4] for line in cut} == new.keys() - old.keys() == anew
    assert "Cut new" in (tmp_path / "new" / "change-order.txt").read_text(encoding="utf-8")


def coloured_in(file: Path) -> dict[str, str]:
    """Return the colour of each wire of a wiring list, by its label."""
    with file.open(encoding="utf-8-sig", newline="") as rows:
        return {row["wire"]: row["colour"] for row in csv.DictReader(rows)}
