"""What the builder has decided of ports, as the command reads it, tells it, judges posts by it and takes it back."""

import json
from pathlib import Path

import pytest

from calls import ROOT, Portloom
from here import Here, command_in

BIKE = """\
bike: Harbour Trail trial
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame: {legs: [{between: [tray, neck], length: 300 mm}], earth: [tray]}
places: [{name: tray, front: tray}]
stand: none
engine_stop: key
ignition: own
later: []
loads:
- {name: lamp, at: neck, current: 1 A%s}
- {name: horn, at: neck, current: 2 A%s}
inputs:
- {part: key switch, at: tray}
- {name: button, at: neck, operates: horn%s}
%s
"""
UNIT = """\
unit: trial way
feed: {limit: 40 A}
outputs: [{names: [out 1, out 2, out 3], limit: 10 A, peak: 60 A}, {name: out 4, limit: 1.5 A, peak: 10 A}]
inputs: [{names: [in 1, in 2, in 3], accepts: earth}]
"""


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Here:
    """Return what runs the command beside a unit's file."""
    (tmp_path / "way.yaml").write_text(UNIT, "utf-8")
    return command_in(tmp_path, monkeypatch, capsys)


def written(lamp: str = "", horn: str = "", button: str = "", more: str = "") -> None:
    """Write a bike's file with more in its entries."""
    Path("bike.yaml").write_text(BIKE % (lamp, horn, button, more), "utf-8")


def test_a_plan_keeps_and_names_what_is_decided(here: Here) -> None:
    """Each with its line, in text and in JSON; ports that are like others are told apart by their names."""
    written(lamp=", on: out 3", horn=", not_on: [out 1]", button=", on: [in 2]", more="out_of_use: {in 1: corroded}")
    said = here("plan", "bike.yaml", "--unit", "way.yaml", "--only", "decided")
    assert said.returncode == 0
    for line in (
        "lamp must be on out 3 (bike.yaml line 10)",
        "horn must not be on out 1 (line 11)",
        "button must be on in 2 (line 14)",
        "in 1 is out of use: corroded (line 15)",
    ):
        assert f"  - {line}\n" in said.stdout
    plan = json.loads(here("plan", "bike.yaml", "--unit", "way.yaml", "--json").stdout)
    assert {line["port"]: line["loads"] for line in plan["outputs"]} == {"out 2": ["horn"], "out 3": ["lamp"]}
    assert {line["port"]: line["inputs"] for line in plan["inputs"]}["in 2"] == ["button"]
    assert plan["decided"][0] == {"sentence": "lamp must be on out 3", "where": "bike.yaml:10"}


def test_a_dead_port_is_not_free(here: Here) -> None:
    """Nor is it told as one: nobody plans a load on it."""
    written(more="out_of_use: {out 2: burnt, in 3: corroded}")
    plan = json.loads(here("plan", "bike.yaml", "--unit", "way.yaml", "--json").stdout)
    assert "out 2" not in plan["free_outputs"]
    assert "in 3" not in plan["free_inputs"]
    assert len(plan["free_outputs"]) == 1


@pytest.mark.parametrize(
    ("entries", "said"),
    [
        ({"lamp": ", on: out 9"}, "bike.yaml:10:44: the trial way has no output 'out 9'; write one of out 1, out 2"),
        ({"lamp": ", not_on: in 1"}, "bike.yaml:10:48: the trial way has no output 'in 1'; write one of out 1"),
        (
            {"button": ", on: out 1"},
            "bike.yaml:14:48: the trial way has no input 'out 1'; write one of in 1, in 2 or in 3",
        ),
        ({"more": "out_of_use: {out 7: burnt}"}, "bike.yaml:15:14: the trial way has no port 'out 7'; write one of"),
        ({"lamp": ", on: out 1, not_on: out 1"}, "bike.yaml:10:44: 'on' and 'not_on' both name out 1; keep it in one"),
        (
            {"lamp": ", on: out 1", "horn": ", on: out 1"},
            "bike.yaml:11:44: out 1 is what lamp is held to, and they share",
        ),
        ({"horn": ", on: out 1, fed: fuse, own_switch: neck"}, "'on' says nothing here: it is fed from the battery"),
        ({"horn": ", not_on: out 1, from: lamp"}, "'not_on' says nothing here: the loads that feed it decide this"),
        ({"lamp": ", on: out 2", "more": "out_of_use: {out 2: burnt}"}, "it must be on out 2, and that is out of use"),
        ({"more": "out_of_use: [out 2]"}, "bike.yaml:15:13: "),
    ],
)
def test_what_can_t_be_meant_is_one_clear_error(here: Here, entries: dict[str, str], said: str) -> None:
    """With its line and column, what is wrong and what would be right; nothing is planned."""
    written(**entries)
    ran = here("plan", "bike.yaml", "--unit", "way.yaml")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert said in ran.stderr


def test_what_is_decided_is_the_reason_and_may_be_taken_back(here: Here) -> None:
    """A horn held to an output that is too small for it: the fix of least effort frees it, and the file then fits."""
    written(horn=", on: out 4")
    why = here("why", "bike.yaml", "--unit", "way.yaml")
    assert why.returncode == 1
    assert "horn must be on out 4 (bike.yaml line 11)" in why.stdout
    assert "1. Let horn be on other ports than out 4. (effort 2)" in why.stdout
    assert here("why", "bike.yaml", "--unit", "way.yaml", "--apply", "1", "--out", "free.yaml").returncode == 1
    freed = Path("free.yaml").read_text("utf-8").splitlines()
    assert freed[10].startswith("- {name: horn, at: neck, current: 2 A")
    assert "on:" not in freed[10]
    assert here("plan", "free.yaml", "--unit", "way.yaml").returncode == 0


def test_each_decision_has_its_price(here: Here) -> None:
    """By hand: out 4 leaves 8.5 A less unused than the others, at 50 mm each, so the lamp is at home there."""
    written(lamp=", on: out 3", horn=", not_on: out 4")
    said = here("why", "bike.yaml", "--unit", "way.yaml", "--pins").stdout
    assert "lamp must be on out 3 (bike.yaml line 10): costs 0.425 m in spare ports; without it, on out 4\n" in said
    assert "horn must not be on out 4 (line 11): costs nothing; without it, on out 1\n" in said
    assert "All of it together: costs 0.425 m in spare ports.\n" in said
    pins = json.loads(here("why", "bike.yaml", "--unit", "way.yaml", "--pins", "--json").stdout)["pins"]
    assert [one["price"]["cost_mm"] for one in pins] == [425, 0]
    written()
    assert "Nothing is decided of ports there." in here("why", "bike.yaml", "--unit", "way.yaml", "--pins").stdout


def test_a_post_is_judged_by_it(here: Here) -> None:
    """A plan that puts a load where it must not be is not sound, by that rule."""
    written(lamp=", on: out 3")
    Path("post.md").write_text("out 1: lamp\nout 2: horn\nin 1: button\nin 2: key switch\n", "utf-8")
    ran = here("check", "post.md", "bike.yaml", "--unit", "way.yaml")
    assert ran.returncode == 1
    assert "Lamp must be on out 3 (rule decided)." in ran.stdout
    Path("post.md").write_text("out 3: lamp\nout 2: horn\nin 1: button\nin 2: key switch\n", "utf-8")
    assert "rule decided)" not in here("check", "post.md", "bike.yaml", "--unit", "way.yaml").stdout


def test_two_units_keep_it(here: Here) -> None:
    """A port that is named is that of either unit."""
    text = BIKE.replace("places: [{", "places: [{name: neck, front: neck}, {")
    Path("bike.yaml").write_text(text % (", on: out 3", ", on: out 2", ", not_on: in 1", ""), "utf-8")
    plan = json.loads(here("plan", "bike.yaml", "--unit", "way.yaml", "--unit", "way.yaml", "--json").stdout)
    lines = [line for unit in plan["units"] for line in unit["outputs"]]
    assert {load: line["port"] for line in lines for load in line["loads"]} == {"lamp": "out 3", "horn": "out 2"}
    assert all(
        line["port"] != "in 1" for unit in plan["units"] for line in unit["inputs"] if "button" in line["inputs"]
    )


def test_a_switch_held_to_an_input_is_on_no_multiplexer(portloom: Portloom, tmp_path: Path) -> None:
    """The Harbour Trail's left button goes through the gatherer, and held to an input it is on that."""
    text = (ROOT / "examples/harbour-trail.yaml").read_text("utf-8")
    held = text.replace("left indicator button, at: left bar", "left indicator button, at: left bar, on: in 7")
    assert held != text
    (tmp_path / "bike.yaml").write_text(held, "utf-8")
    plan = json.loads(portloom("plan", str(tmp_path / "bike.yaml"), "--unit", "eleven-way", "--json").stdout)
    assert ["left indicator button"] in [line["inputs"] for line in plan["inputs"] if line["port"] == "in 7"]
    through = [way["input"] for box in plan["multiplexers"] for way in box["inputs"]]
    assert "left indicator button" not in through


def test_a_port_out_of_use_is_never_told_as_free(here: Here) -> None:
    """The man who sets the unit reads of it that nothing may come on it, in text and in tables."""
    written(more="out_of_use: {out 3: burnt, in 3: wet}")
    assert here("sheets", "bike.yaml", "--unit", "way.yaml", "--out", "bench").returncode == 0
    settings = " ".join(Path("bench/settings.txt").read_text("utf-8").split())
    assert "out 3 - - off; OUT OF USE: burnt; put nothing on it" in settings
    assert "in 3 OUT OF USE: wet; put nothing on it" in settings
    assert "out 3,not to be used: burnt," in Path("bench/setting-outputs.csv").read_text("utf-8-sig")
    assert "out of use: wet" in Path("bench/setting-inputs.csv").read_text("utf-8-sig")
