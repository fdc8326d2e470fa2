"""Notes on loads and inputs: printed beside each wherever it is listed, and bearing on nothing."""

import csv
import json
from io import StringIO
from pathlib import Path

import pytest
from rich.console import Console

from here import Here, command_in
from outcomes import planned
from portloom.report.text.layout import TextPage
from portloom.report.text.plan import write_ports

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
- {name: lamp, at: neck, current: 1 A, share: front%s}
- {name: horn, at: neck, current: 2 A, share: front%s}
- {name: fan, at: neck, current: 3 A, own_switch: neck, fed: fuse%s}
- {name: dash, at: neck, current: 100 mA, shows: [oil switch]}
inputs:
- {part: key switch, at: tray%s}
- {name: button, at: neck, operates: [lamp, horn]%s}
- {name: oil switch, part: oil pressure switch, at: neck%s}
multiplexers: [{name: gatherer, at: neck, ways: 3, takes: earth}]
"""
UNIT = """\
unit: trial way
feed: {limit: 40 A}
outputs: [{names: [out 1, out 2, out 3], limit: 10 A, peak: 60 A}]
inputs: [{names: [in 1, in 2, in 3], accepts: [earth, coded]}]
"""
TEXTS = (".txt", ".csv", ".html")
NOTES = ("left-of-the-tank", "keep-its-plug", "behind-the-grille", "the-lock-of-1971", "green-cap", "new-in-May")
"""Of one word each, so that none is folded."""


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Here:
    """Return what runs the command beside a unit's file."""
    (tmp_path / "way.yaml").write_text(UNIT, "utf-8")
    return command_in(tmp_path, monkeypatch, capsys)


def written(*notes: str) -> None:
    """Write the bike with these notes, in the order of the file."""
    said = (f", note: {note}" if note else "" for note in notes)
    Path("bike.yaml").write_text(BIKE % tuple(said), "utf-8")


def test_the_plan_has_each_beside_its_load_or_switch(here: Here) -> None:
    """Outputs, fed loads, inputs, and what dashes show: in text, and in JSON by the names."""
    written(*NOTES)
    said = here("plan", "bike.yaml", "--unit", "way.yaml", "--full").stdout
    assert [note for note in NOTES if f"({note})" not in said] == []
    plan = json.loads(here("plan", "bike.yaml", "--unit", "way.yaml", "--json").stdout)
    (fed,) = plan["fed"]
    assert fed["notes"] == {"fan": NOTES[2]}
    assert {k: v for line in plan["outputs"] for k, v in line.get("notes", {}).items()} == {
        "lamp": NOTES[0],
        "horn": NOTES[1],
    }
    assert {k: v for line in plan["inputs"] for k, v in line.get("notes", {}).items()} == {
        "key switch": NOTES[3],
        "button": NOTES[4],
    }
    assert [line["notes"] for line in plan["shown"]] == [{"oil switch": NOTES[5]}]


def test_nothing_else_is_another(here: Here) -> None:
    """The same plan to the last figure, with all notes and with none."""
    written(*NOTES)
    with_notes = json.loads(here("plan", "bike.yaml", "--unit", "way.yaml", "--json").stdout)
    written(*[""] * 6)
    without = json.loads(here("plan", "bike.yaml", "--unit", "way.yaml", "--json").stdout)

    def bare(node: object) -> object:
        if isinstance(node, dict):
            return {key: bare(value) for key, value in node.items() if key != "notes"}
        return [bare(one) for one in node] if isinstance(node, list) else node

    assert bare(with_notes) == without


def test_twins_stay_twins(here: Here) -> None:
    """Thirteen lamps of one group that differ in nothing but names and notes are one sort of load."""
    lamps = "".join(f"- {{name: lamp {n}, at: neck, current: 10 mA, share: front, note: no. {n}}}\n" for n in range(13))
    text = BIKE % ("", "", "", "", "", "")
    Path("bike.yaml").write_text(text.replace("inputs:\n", f"{lamps}inputs:\n", 1), "utf-8")
    assert here("plan", "bike.yaml", "--unit", "way.yaml").returncode == 0


def test_sheets_and_their_tables_have_them(here: Here) -> None:
    """Wiring list, setting sheet and plan, as text, as pages and as CSV."""
    written(*NOTES)
    assert here("sheets", "bike.yaml", "--unit", "way.yaml", "--out", "made").returncode == 0
    files = {path.name: path.read_text("utf-8") for path in Path("made").rglob("*") if path.suffix in TEXTS}
    for note in NOTES[:5]:
        for name in ("wiring-list.txt", "settings.txt"):
            if (name, note) != ("settings.txt", NOTES[2]):  # what no output feeds is not set
                assert note in files[name], (name, note)
    outputs = list(csv.DictReader(StringIO(files["setting-outputs.csv"])))
    assert {row["load"]: row["note"] for row in outputs if row["load"]}["horn"] == NOTES[1]
    inputs = list(csv.DictReader(StringIO(files["setting-inputs.csv"])))
    assert {row["switch"]: row["note"] for row in inputs}["button"] == NOTES[4]
    wires = list(csv.DictReader(StringIO(files["wiring-list.csv"])))
    assert {note for row in wires for note in row["notes"].split("; ")} >= set(NOTES)
    for name in ("cut-list.csv", "connectors.csv"):
        rows = list(csv.DictReader(StringIO(files[name])))
        assert {note for row in rows for note in row["notes"].split("; ")} >= {NOTES[3], NOTES[4]}, name


def test_lists_that_name_a_load_have_its_note(here: Here) -> None:
    """Cut list, connector views, the record for the next owner, bench steps, and pictures of loom and circuits."""
    written(*NOTES)
    assert here("sheets", "bike.yaml", "--unit", "way.yaml", "--out", "made").returncode == 0
    for name, notes in (("cut-list.txt", NOTES), ("connectors.txt", NOTES[3:5]), ("next-owner.html", NOTES)):
        text = next(Path("made").rglob(name)).read_text("utf-8")
        assert [note for note in notes if note not in text] == [], name
    for name in ("bench-test*.html", "loom-*.svg", "circuit-*.svg"):
        text = "".join(path.read_text("utf-8") for path in Path("made").rglob(name))
        assert [note for note in NOTES if f"{note})" not in text and f": {note}." not in text] == [], name


def test_a_long_note_wraps() -> None:
    """No line of a plan is wider than a terminal of 80 columns, whatever is noted, and all of it is there."""
    brittle = "its plug is brittle and has been glued twice so leave it on and crimp behind it " * 3
    notes = ("", f", note: {brittle}", "", "", f", note: {'x' * 150}", "")
    told = planned(BIKE % notes, UNIT)
    text = StringIO()
    write_ports(told, TextPage(Console(file=text, width=80)))
    lines = text.getvalue().splitlines()
    assert max(map(len, lines)) <= 80
    assert text.getvalue().count("x") >= 150
    assert text.getvalue().count("glued") == 3


@pytest.mark.parametrize(
    ("note", "said"),
    [
        ('"keep\\u202Eits plug"', "can't be seen; take it out"),
        ('"keep\\u0007its plug"', "can't be seen; take it out"),
        ('""', "bike.yaml:11:"),
        ("[keep, its plug]", "bike.yaml:11:"),
    ],
)
def test_what_can_t_be_printed_is_refused(here: Here, note: str, said: str) -> None:
    """As in names: one error with its line and column."""
    written("", note, "", "", "", "")
    ran = here("plan", "bike.yaml", "--unit", "way.yaml")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert said in ran.stderr
