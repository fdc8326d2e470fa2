"""``portloom compare`` as shops call it: exit codes, what is wrong with a call, and the same answer each time.

Bikes and units are made up.
"""

import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import unix
from calls import ROOT, Call, Portloom, changed
from here import Here, command_in
from slices import first_of
from small_bikes import FOUR_WAY, THREE_LAMPS
from terminal import ANSI, on_a_screen

SINGLE = ("compare", "examples/bare-single.yaml")
SMALL = ("--unit", "six-way", "--unit", "eight-way")
FIT = {
    "unit", "price", "status", "proven", "place", "turned", "cost_mm", "wire_run_mm", "spare_port_loss_mm", "copper_g",
    "outputs_left", "inputs_left", "room_for", "no_room_for", "feed", "thin_margins", "beaten_by", "unit_file",
}  # fmt: skip
HEADROOM = {
    "later_loads", "later_loads_end", "next_later_load", "current_percent", "current_end", "worst_a", "why_not_more",
}  # fmt: skip


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Here:
    """Return what runs the command in the project's folder."""
    return command_in(ROOT, monkeypatch, capsys)


@pytest.fixture
def run_small(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Here:
    """Return what runs the command in a folder with a small bike and a small unit."""
    for what in ("bike", "unit"):
        (tmp_path / f"{what}.yaml").write_text(THREE_LAMPS if what == "bike" else FOUR_WAY, "utf-8")
    return command_in(tmp_path, monkeypatch, capsys)


def _document(run: Here, *call: str) -> dict[str, Any]:
    ran = run(*call, "--json")
    assert ran.stderr == ""
    document = json.loads(ran.stdout)
    assert isinstance(document, dict)
    return document


# --- exit codes


def test_exit_codes(run: Here) -> None:
    """0 where a unit fits every bike, 1 where it is proved that none does, 3 where a limit left that open."""
    winter = ("compare", "examples/winter-trail.yaml", "--unit", "six-way")
    assert run(*SINGLE, *SMALL).returncode == 0
    assert run(*winter).returncode == 1
    assert run("compare", "examples/bare-single.yaml", *winter[1:]).returncode == 1
    ran = run(*SINGLE, *SMALL, "--time-limit", "0")
    assert ran.returncode == 3
    assert "none of 2 units is known to fit, 2 not known: the time limit was reached." in ran.stdout
    assert "proved for each" not in ran.stdout


def test_nothing_fits_is_said(run: Here) -> None:
    """Where no unit fits, that is said first, and that it is proved; then come warnings."""
    one = ("compare", "examples/winter-trail.yaml", "--unit", "six-way")
    two = (*one, "--unit", "sixteen-way")
    for words, first, said in (
        (one, "The six-way does not take the bike, proved.", "Winter Trail 650: DOES NOT FIT the six-way, proved."),
        (two, "None of the 2 tried takes the bike, proved.", "Winter Trail 650: NO UNIT FITS, proved for each."),
    ):
        buy, warned, rest = run(*words).stdout.split("\n\n", 2)
        assert buy == first
        assert warned.startswith("WARNING, before anything else:\n  ! Winter Trail 650: engine stop switch: ")
        assert rest.startswith(f"{said}\n")


# --- JSON


def test_json(run: Here) -> None:
    """One document has every row's figures, with headroom where it was asked for, and the cautions."""
    document = _document(run, *SINGLE, *SMALL, "--headroom")
    assert set(document) == {"ranked_by", "fit_every_bike", "bikes", "cautions"}
    (bike,) = document["bikes"]
    assert (bike["bike"], bike["bike_file"], bike["set_aside"]) == ("Bare Single 400", "examples/bare-single.yaml", [])
    for row in bike["rows"]:
        assert set(row) == FIT | {"headroom"}
        assert set(row["headroom"]) == HEADROOM
        assert row["wire_run_mm"] + row["spare_port_loss_mm"] == pytest.approx(row["cost_mm"])
    assert document["fit_every_bike"] == ["six-way", "eight-way"]
    assert [row["unit"] for row in bike["rows"]] == sorted(
        document["fit_every_bike"], key=lambda name: next(r["cost_mm"] for r in bike["rows"] if r["unit"] == name)
    )


def test_json_of_what_does_not_fit(run: Here) -> None:
    """A row without a plan has the reason, and the rules that it hangs on."""
    document = _document(run, "compare", "examples/winter-trail.yaml", "--unit", "six-way")
    (row,) = document["bikes"][0]["rows"]
    assert row["status"] == "no plan"
    assert row["why_not"]["rules"] == ["mode"]
    assert row["why_not"]["sentence"] == (
        "no output takes fuel pump: it must be driven in mode 'engine-run', out 1 to out 6 lack that mode (rule mode); "
        "may help: take a unit that has it"
    )


FAR_LAMP = """\
bike: far lamp
ignition: own
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame:
  legs: [{between: [tray, neck], length: 500 mm}, {between: [tray, tail], length: 4 m}]
  earth: [tray, tail, neck]
places: [{name: tray, front: tray}]
loads:
- {name: near lamp, at: neck, current: 1.5 A, inrush: 30 A, inrush_for: 50 ms}
- {name: far lamp, at: tail, current: 1.4 A, inrush: 25 A, inrush_for: 50 ms}
inputs: [{name: button, at: tray, operates: [near lamp, far lamp]}]
reels: [0.5 mm2, 2.5 mm2]
limits: {drop: {other: 0.3 V}}
later: []
"""
THREE_WAY = """\
unit: three-way
feed: {limit: 20 A}
outputs:
- {names: [out 1, out 3], limit: 5 A, peak: 60 A, wire_max: 0.5 mm2}
- {name: out 2, limit: 5 A, peak: 20 A, wire_max: 0.5 mm2}
inputs: [{name: in 1, accepts: earth}]
"""


def test_a_load_is_refused_by_what_it_draws_and_loses_itself(run_small: Here, tmp_path: Path) -> None:
    """Another one, which the same output refuses by the same rule, is no reason."""
    (tmp_path / "bike.yaml").write_text(FAR_LAMP, "utf-8")
    (tmp_path / "unit.yaml").write_text(THREE_WAY, "utf-8")
    (fit,) = _document(run_small, "compare", "bike.yaml", "--unit", "unit.yaml")["bikes"][0]["rows"]
    assert fit["why_not"]["sentence"].startswith("no output takes far lamp: it would lose 0.165 V (feed and main fuse)")
    assert "near lamp" not in fit["why_not"]["sentence"]


def test_by_a_column(run: Here) -> None:
    """The column that is asked for ranks the units, whichever way its words are joined."""
    by_price = _document(run, *SINGLE, *SMALL, "--by", "price")["bikes"][0]["rows"]
    assert [row["price"] for row in by_price] == [130, 185]
    one, other = (run(*SINGLE, *SMALL, "--by", word) for word in ("wire-run", "Wire_Run"))
    assert (one.returncode, one.stdout) == (other.returncode, other.stdout)
    assert "Ranked by wire run." in one.stdout


def test_no_line_is_too_long(run: Here) -> None:
    """No line is over 100 columns, or has blanks at its end, with several bikes and with headroom too."""
    several = ("compare", "examples/bare-single.yaml", "examples/winter-trail.yaml", *SMALL, "--headroom")
    for call in (several, (*SINGLE, *SMALL, "--by", "unit")):
        lines = run(*call).stdout.splitlines()
        assert [line for line in lines if len(line) > 100 or line != line.rstrip()] == []
        assert "CAUTION" in lines


# --- the same each time


@first_of(
    "asked",
    [("bare-single.yaml", *SMALL), ("bare-single.yaml", "harbour-trail.yaml", *SMALL, "--unit", "eleven-way")],
    1,
)
def test_the_same_byte_for_byte(asked: Call, tmp_path: Path, environment: dict[str, str]) -> None:
    """Under another seed of hashes, and with one process or several, the document and the rows are the same."""
    found = []
    for number, (seed, cores) in enumerate((("1", 1), ("2", 2))):
        rows = tmp_path / f"{number}.csv"
        code = f"import os, sys; os.cpu_count = lambda: {cores}; from portloom.cli.main import main; main()"
        words = ("compare", *asked, "--json")
        ran = subprocess.run(
            [sys.executable, "-c", code, *words, "--csv", str(rows)],
            cwd=ROOT / "examples",
            env={**environment, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            check=False,
        )
        assert (ran.returncode, ran.stderr) == (0, b"")
        found.append((ran.stdout, rows.read_bytes()))
    assert found[0] == found[1]


# --- what is wrong with the call


def _refused(run: Here, *call: str) -> list[str]:
    ran = run(*call)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "Traceback" not in ran.stderr
    return ran.stderr.splitlines()


def test_an_unknown_column_gives_the_nearest(run: Here) -> None:
    """A column with a slip in it gives the nearest, one that is like none gives all."""
    told = _refused(run, *SINGLE, "--by", "prize")
    assert told == ["portloom compare: there is no column 'prize' to rank by; write 'price'"]
    (told_all,) = _refused(run, *SINGLE, "--by", "xyz")
    assert "write one of wire and spare ports, wire run, " in told_all


def test_headroom_must_be_asked_for(run: Here) -> None:
    """What is not worked out ranks nothing."""
    (told,) = _refused(run, *SINGLE, "--by", "headroom")
    assert told.endswith("give --headroom, too")


def test_all_that_is_wrong_is_told_at_once(run_small: Here, tmp_path: Path) -> None:
    """An unknown unit, an empty folder, and a bike that is not there are told together, each once."""
    (tmp_path / "empty").mkdir()
    (tmp_path / "empty" / "notes.txt").write_text("no profile", "utf-8")
    call = ("compare", "no.yaml", "no.yaml", "--unit", "elevn-way", "--unit", "empty")
    told = _refused(run_small, *call)
    assert [line.partition(": ")[0] for line in told] == ["elevn-way", "empty", "no.yaml", "More"]
    assert "give a file, or one of eleven-way" in told[0]
    assert "there is no profile in this folder; give one with units' files" in told[1]


@unix.links
def test_a_folder_with_a_file_that_is_no_profile(run_small: Here, tmp_path: Path) -> None:
    """A file in the folder that is no unit is not passed over; a hidden one is."""
    (tmp_path / "units").mkdir()
    (tmp_path / "units" / ".hidden.yaml").write_text("x", "utf-8")
    os.link(tmp_path / "unit.yaml", tmp_path / "units" / "good.yaml")
    assert run_small("compare", "bike.yaml", "--unit", "units").returncode == 0
    os.link(tmp_path / "bike.yaml", tmp_path / "units" / "other.yaml")
    told = _refused(run_small, "compare", "bike.yaml", "--unit", "units", "--by", "cost")
    assert {line.partition(":")[0] for line in told} == {"units/other.yaml"}


def test_two_units_of_one_name(run_small: Here, tmp_path: Path) -> None:
    """Two files that give their units one name are refused; the same file named twice counts once."""
    once = run_small("compare", "bike.yaml", "--unit", "unit.yaml", "--unit", "./unit.yaml", "--json")
    assert [row["unit"] for row in json.loads(once.stdout)["bikes"][0]["rows"]] == ["four-way"]
    (tmp_path / "copy.yaml").write_text((tmp_path / "unit.yaml").read_text("utf-8"), "utf-8")
    (told,) = _refused(run_small, "compare", "bike.yaml", "--unit", "unit.yaml", "--unit", "copy.yaml")
    assert told.startswith("copy.yaml:1:1: the unit 'four-way' of unit.yaml has the same name; ")


def test_two_bikes_of_one_name(run_small: Here, tmp_path: Path) -> None:
    """Two customers may ride the same bike: each table says whose file it is of."""
    (tmp_path / "other.yaml").write_text((tmp_path / "bike.yaml").read_text("utf-8"), "utf-8")
    changed(tmp_path / "other.yaml", ("620 mm", "720 mm"))
    ran = run_small("compare", "bike.yaml", "other.yaml", "--unit", "unit.yaml")
    assert "My bike (bike.yaml): FITS the four-way." in ran.stdout
    assert "My bike (other.yaml): FITS the four-way." in ran.stdout


# --- on a screen


@unix.terminal
def test_progress_is_shown_on_a_screen_only(portloom: Portloom, environment: dict[str, str]) -> None:
    """A terminal shows how many rows are done, and the same answer; a pipe has nothing but the answer."""
    ran = portloom(*SINGLE, *SMALL)
    assert ran.stderr == ""
    code, shown = on_a_screen(environment, 100, (*SINGLE, *SMALL))
    plain = ANSI.sub("", shown)
    assert code == 0
    assert re.search(r"comparing, 2 of 2, \d+ s", plain)
    assert ran.stdout.splitlines()[-1] in plain
