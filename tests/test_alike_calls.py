"""Loads that must be on outputs alike, as the command reads it, tells it, judges posts by it and takes it back."""

import json
from pathlib import Path

import pytest

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
- {name: left lamp, at: neck, current: 1 A, share: left%s}
- {name: right lamp, at: neck, current: 1 A%s}
- {name: horn, at: neck, current: 2 A}
- {name: fan, at: neck, current: 3 A, own_switch: neck, fed: fuse}
inputs: [{part: key switch, at: tray}]
alike: %s
"""
UNIT = """\
unit: trial way
feed: {limit: 40 A}
outputs:
- {names: [out 1, out 2], limit: 10 A, peak: 60 A, trip: [3 A, 5 A, 10 A]}
- {name: out 3, limit: 10 A, peak: 60 A, trip: [10 A, 5 A, 3 A], switch_modes: [steady, flash]}
- {name: out 4, limit: 1.5 A, peak: 10 A}
- {name: out 5, limit: 10 A, peak: 60 A, trip: [5 A, 10 A]}
inputs: [{names: [in 1, in 2], accepts: earth}]
"""
SAID = "left lamp and right lamp must be on outputs of the same limit and the same trips"


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Here:
    """Return what runs the command beside a unit's file."""
    (tmp_path / "way.yaml").write_text(UNIT, "utf-8")
    return command_in(tmp_path, monkeypatch, capsys)


def written(left: str = "", right: str = "", alike: str = "[[left, right lamp]]") -> None:
    """Write a bike's file with more in its entries, and what must be alike."""
    Path("bike.yaml").write_text(BIKE % (left, right, alike), "utf-8")


def outputs(here: Here, *more: str) -> dict[str, str]:
    """Return the output of each load in the best plan."""
    plan = json.loads(here("plan", "bike.yaml", "--unit", "way.yaml", *more, "--json").stdout)
    lines = plan["outputs"] if not more else [line for unit in plan["units"] for line in unit["outputs"]]
    return {load: line["port"] for line in lines for load in line["loads"]}


def test_a_plan_keeps_and_names_it(here: Here) -> None:
    """By hand: a lamp on out 4 saves 0.425 m of spare amperes, but out 4 is like no other; order of trips is no matter.

    Without it one of the lamps is on out 4.
    """
    written()
    said = here("plan", "bike.yaml", "--unit", "way.yaml", "--only", "decided")
    assert said.returncode == 0
    assert f"  - {SAID} (bike.yaml\n    line 15)\n" in said.stdout
    assert {outputs(here)[lamp] for lamp in ("left lamp", "right lamp")} <= {"out 1", "out 2", "out 3"}
    plan = json.loads(here("plan", "bike.yaml", "--unit", "way.yaml", "--json").stdout)
    assert plan["decided"] == [{"sentence": SAID, "where": "bike.yaml:15"}]
    written(alike="[]")
    assert "out 4" in {outputs(here)[lamp] for lamp in ("left lamp", "right lamp")}


def test_what_is_past_the_unit_does_not_count(here: Here) -> None:
    """The fan is on no output: the set asks nothing of it, and with one other load nothing at all."""
    written(alike="[[left lamp, fan]]")
    assert "out 4" in outputs(here).values()
    assert json.loads(here("plan", "bike.yaml", "--unit", "way.yaml", "--json").stdout)["decided"] == []


def test_trips_in_another_order_are_the_same(here: Here) -> None:
    """Out 3 lists its trips from the greatest on, out 5 has one trip less."""
    written(left=", on: out 3", right=", on: out 1")
    assert here("plan", "bike.yaml", "--unit", "way.yaml").returncode == 0
    written(left=", on: out 3", right=", on: out 5")
    assert here("plan", "bike.yaml", "--unit", "way.yaml").returncode == 1


@pytest.mark.parametrize(
    ("alike", "said"),
    [
        ("[[left, rigth lamp]]", "bike.yaml:15:16: there is no group and no load 'rigth lamp'; write 'right lamp'"),
        (
            "[[left]]",
            "bike.yaml:15:10: a set of loads on outputs alike has two names at least; write each set as a list",
        ),
        (
            "[left, right lamp]",
            "bike.yaml:15:9: a set of loads on outputs alike has two names at least; write each set",
        ),
        ("[[left, right lamp, left]]", "bike.yaml:15:28: 'left' stands in this set already; name each once"),
        ("[[left, horn], [horn, left lamp]]", "bike.yaml:15:24: these loads are what the set in line 15 says already"),
        ("[[fan, fan]]", "bike.yaml:15:15: 'fan' stands in this set already; name each once"),
        ("left", "bike.yaml:15:8: "),
        ("[{left: right}]", "bike.yaml:15:9: "),
        ("[[left, [horn]]]", "bike.yaml:15:"),
    ],
)
def test_what_can_t_be_meant_is_one_clear_error(here: Here, alike: str, said: str) -> None:
    """With its line and column, what is wrong and what would be right; nothing is planned."""
    written(alike=alike)
    ran = here("plan", "bike.yaml", "--unit", "way.yaml")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert said in ran.stderr
    first, *rest = ran.stderr.splitlines()
    assert first.startswith("bike.yaml:15:")
    assert rest in (["More: portloom help keys"], ["More: portloom help sharing"])


def test_a_set_past_the_unit_is_told_with_all_other_mistakes(here: Here) -> None:
    """Loads that no output feeds have no outputs that could be alike; each mistake of the file has its line."""
    written(left=", on: out 1, not_on: out 1", alike="[[fan, guest], [nobody, horn]]")
    text = (
        Path("bike.yaml")
        .read_text("utf-8")
        .replace("inputs:", "- {name: guest, at: neck, power: 1 W, kind: led, from: horn}\ninputs:")
    )
    Path("bike.yaml").write_text(text, "utf-8")
    *told, more = here("plan", "bike.yaml", "--unit", "way.yaml").stderr.splitlines()
    assert more.startswith("More: ")
    assert len(told) == 3
    assert "'on' and 'not_on' both name out 1" in told[0]
    assert "bike.yaml:16:10: none of these is fed by an output of the unit" in told[1]
    assert "bike.yaml:16:24: there is no group and no load 'nobody'" in told[2]


def test_it_is_the_reason_and_may_be_taken_back(here: Here) -> None:
    """Two lamps held to outputs unlike: lifting the set is as little as freeing one, and the file then fits."""
    written(left=", on: out 1", right=", on: out 4")
    why = here("why", "bike.yaml", "--unit", "way.yaml", "--json")
    assert why.returncode == 1
    answer = json.loads(why.stdout)
    (conflict,) = answer["conflicts"]
    assert conflict["sentence"] == (
        "Left lamp and right lamp must be on outputs of the same limit and the same trips: left lamp on out 1 (limit "
        "10 A, trip 3 A, 5 A or 10 A); right lamp on out 4 (limit 1.5 A, trip 1.5 A)."
    )
    assert SAID in {fact["sentence"] for fact in conflict["facts"]}
    lifting = "Let left lamp and right lamp be on outputs that are not alike."
    number = next(n for n, fix in enumerate(answer["fixes"], 1) if fix["sentence"] == lifting)
    assert answer["fixes"][number - 1]["effort"] == 2
    applied = here("why", "bike.yaml", "--unit", "way.yaml", "--apply", str(number), "--out", "free.yaml")
    assert applied.returncode == 1
    assert "alike" not in Path("free.yaml").read_text("utf-8")
    assert here("plan", "free.yaml", "--unit", "way.yaml").returncode == 0


def test_one_set_of_two_is_taken_back(here: Here) -> None:
    """The other stays as it is written."""
    written(left=", on: out 1", right=", on: out 4", alike="[[left, horn], [left, right lamp]]")
    fixes = json.loads(here("why", "bike.yaml", "--unit", "way.yaml", "--json").stdout)["fixes"]
    number = next(n for n, fix in enumerate(fixes, 1) if "not alike" in fix["sentence"])
    here("why", "bike.yaml", "--unit", "way.yaml", "--apply", str(number), "--out", "free.yaml")
    assert "alike: [[left, horn]]\n" in Path("free.yaml").read_text("utf-8")


def test_each_set_has_its_price(here: Here) -> None:
    """By hand: a lamp on out 4 leaves 0.5 A unused, on out 1 to 3 9 A, at 50 mm each."""
    written()
    said = here("why", "bike.yaml", "--unit", "way.yaml", "--pins").stdout
    assert f"{SAID} (bike.yaml\n    line 15): costs 0.425 m in spare ports\n" in said


def test_a_wish_is_answered_with_it(here: Here) -> None:
    """A lamp on out 4 asks for a second output of that sort, which there is not."""
    written()
    ran = here("why", "bike.yaml", "--unit", "way.yaml", "--not", "left lamp=out 4")
    assert ran.returncode == 1
    assert "impossible with the rest of the bike, proved" in ran.stdout.lower()
    assert "same limit and the same trips" in " ".join(ran.stdout.split())


def test_a_post_is_judged_by_it(here: Here) -> None:
    """By what is on outputs alone: of a lamp that is missing nothing is known."""
    written()
    post = "out 4: left lamp\nout 2: right lamp\nout 1: horn\nin 1: key switch\n"
    Path("post.md").write_text(post, "utf-8")
    ran = here("check", "post.md", "bike.yaml", "--unit", "way.yaml")
    assert ran.returncode == 1
    assert "(rule alike)" in " ".join(ran.stdout.split())
    Path("post.md").write_text(post.replace("out 4", "out 3"), "utf-8")
    assert "rule alike)" not in here("check", "post.md", "bike.yaml", "--unit", "way.yaml").stdout
    Path("post.md").write_text(post.replace("out 2: right lamp\n", ""), "utf-8")
    assert "rule alike)" not in here("check", "post.md", "bike.yaml", "--unit", "way.yaml").stdout


def test_two_units_keep_it(here: Here) -> None:
    """Both lamps are on outputs of one sort, whichever unit has them."""
    written()
    text = Path("bike.yaml").read_text("utf-8").replace("places: [{", "places: [{name: neck, front: neck}, {")
    Path("bike.yaml").write_text(text, "utf-8")
    on = outputs(here, "--unit", "way.yaml")
    sorts = {"out 1": 1, "out 2": 1, "out 3": 1, "out 4": 2, "out 5": 3}
    assert sorts[on["left lamp"]] == sorts[on["right lamp"]] == 2
