"""``portloom compare --two-units`` as shops call it: which pairs are tried, what is said, rows kept, bad calls.

Bikes and units are made up.
"""

import csv
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from calls import ROOT
from here import Here, command_in
from test_pairs import BIKE, LOADS, SWITCHES, UNIT

TWO_UNITS = ("compare", "bike.yaml", "--unit", "units", "--two-units")
NAMES = ("one", "one + one", "one + two", "two", "two + two")
OWN = {"unit", "price", "status", "unit_file", "beaten_by"}
OF_PLAN = {
    "proven", "cost_mm", "wire_run_mm", "spare_port_loss_mm", "copper_g", "room_for", "no_room_for", "thin_margins",
}  # fmt: skip
OF_UNIT = {"place", "turned", "outputs_left", "inputs_left", "feed"}


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """Return a folder with a bike of two places, one of one place, and two units that are small."""
    two_places = f"{BIKE % (LOADS, SWITCHES)}assume: {{unit earth: 0.5 mm2}}\nmargin: {{ends: 0 mm}}\n"
    (tmp_path / "bike.yaml").write_text(two_places, "utf-8")
    short = two_places.replace(", {name: at the tail, front: tail}", "").replace("long trial", "short trial")
    (tmp_path / "short.yaml").write_text(short, "utf-8")
    (tmp_path / "units").mkdir()
    for name, outputs, price in (("one", "[out 1]", 9), ("two", "[out 1, out 2]", 20)):
        text = UNIT.replace("trial way", name).replace("[out 1, out 2, out 3]", outputs)
        (tmp_path / "units" / f"{name}.yaml").write_text(f"{text}price: {price}\n", "utf-8")
    return tmp_path


@pytest.fixture
def run(shop: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Here:
    """Return what runs the command in the shop's folder."""
    return command_in(shop, monkeypatch, capsys)


def _rows(shop: Path) -> list[dict[str, str]]:
    with (shop / "rows.csv").open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file, strict=True))


def _document(run: Here, *call: str) -> dict[str, Any]:
    ran = run(*call, "--json")
    assert (ran.returncode, ran.stderr) == (0, "")
    document: dict[str, Any] = json.loads(ran.stdout)
    return document


# --- what is told


def test_json(run: Here) -> None:
    """A row of two has both units' own figures in their order, both files, and what is one plan's once."""
    document = _document(run, *TWO_UNITS)
    assert document["two_units"] == {"pairs_of": ["one", "two"], "do_alone": []}
    rows = {row["unit"]: row for row in document["bikes"][0]["rows"]}
    assert tuple(sorted(rows)) == NAMES
    assert set(rows["one + two"]) == OWN | OF_PLAN | {"units"}
    assert [set(unit) for unit in rows["one + two"]["units"]] == [OF_UNIT, OF_UNIT]
    assert set(rows["two"]) == OWN | OF_PLAN | OF_UNIT
    assert (rows["one + two"]["unit_file"], rows["one + two"]["price"]) == ("units/one.yaml + units/two.yaml", 29)
    assert document["fit_every_bike"] == ["two", "one + one", "one + two", "two + two"]
    assert "one + one" in rows["two"]["beaten_by"]


def test_without_pairs_nothing_is_said_of_them(run: Here) -> None:
    """The document of single units is as it always was."""
    document = _document(run, *TWO_UNITS[:-1])
    assert set(document) == {"ranked_by", "fit_every_bike", "bikes", "cautions"}
    ran = run(*TWO_UNITS[:-1])
    assert "instead of one" not in ran.stdout
    assert " + " not in ran.stdout.split("CAUTION")[0].replace("outputs + inputs", "")


def test_several_bikes(run: Here) -> None:
    """A bike of one place has no row of two and says so once; two units don't fit every bike then."""
    ran = run("compare", "bike.yaml", "short.yaml", "--unit", "units", "--two-units")
    assert ran.returncode == 0
    said = "No two units instead of one: two units sit at two different places, the bike has one place, 'at the neck'."
    assert " ".join(ran.stdout.split()).count(said) == 1
    assert ran.stdout.count("two + two") == ran.stdout.split("All 2 bikes")[0].count("two + two") + 1
    assert "All 2 bikes: two fits every one of them." in ran.stdout
    rows = {line.split("  ")[1]: line for line in ran.stdout.split("All 2 bikes")[1].splitlines() if "of 2" in line}
    assert "1 of 2" in rows["two + two"]
    document = _document(run, "compare", "short.yaml", "--unit", "units", "--two-units")
    assert document["bikes"][0]["no_two_units"].endswith("the bike has one place, 'at the neck'")


def test_a_pair_alone_fits(run: Here) -> None:
    """Where no single unit fits, two do: that is an answer, after the warnings, and the exit code says so."""
    ran = run("compare", "bike.yaml", "--unit", "units/one.yaml", "--two-units")
    assert ran.returncode == 0
    buy, warned, rest = ran.stdout.split("\n\n", 2)
    assert buy == "Cheapest that takes it: one + one, 18; the one at 9 does not."
    assert warned.startswith("WARNING, before anything else:\n  ! long trial: key and stand do not stop this engine")
    assert rest.startswith(
        "long trial: DOES NOT FIT the one, proved; with two units instead of one, 1 of 1 pair fits.\n"
    )
    assert run("compare", "bike.yaml", "--unit", "units/one.yaml").returncode == 1


def test_a_limit_that_is_reached(run: Here) -> None:
    """What is left open is not known, never called impossible."""
    ran = run(*TWO_UNITS, "--time-limit", "0")
    assert ran.returncode == 3
    assert "with two units instead of one, none of 3 pairs is known to fit, 3 not known: the time limit" in " ".join(
        ran.stdout.split()
    )
    assert ran.stdout.count("not known: the time limit was reached") >= 4


def test_headroom_is_of_single_units_only(run: Here) -> None:
    """It is said so, in the help, too."""
    ran = run(*TWO_UNITS, "--headroom")
    assert "Headroom is given for single units only." in ran.stdout.splitlines()
    told = ran.stdout.partition("Headroom:")[2].partition("Two units")[0]
    assert "one + one" not in told
    assert all("headroom" not in row for row in _document(run, *TWO_UNITS)["bikes"][0]["rows"])
    assert "single unit, not on two" in " ".join(run("compare", "--help").stdout.replace("│", " ").split())


def test_bundled_units_that_do_alone_are_left_out(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Every bundled unit does for the smallest bike: none is paired, and how to ask for it is said."""
    ran = command_in(ROOT, monkeypatch, capsys)("compare", "examples/bare-single.yaml", "--two-units")
    assert "; with two" not in ran.stdout
    said = " ".join(ran.stdout.split())
    assert "Two units instead of one: none was tried. six-way, eight-way," in said
    assert "twenty-four-way are enough alone; name units with --unit to pair these as well." in said


# --- rows in a file


def test_rows_are_kept_and_gone_on_with(shop: Path, run: Here) -> None:
    """A second run makes nothing anew; after an interruption the rows that are missing are done, to the same file."""
    first = run(*TWO_UNITS, "--csv", "rows.csv")
    at_once = (shop / "rows.csv").read_text("utf-8")
    assert [row["unit"] for row in _rows(shop)] == ["one", "two", "one + one", "one + two", "two + two"]
    again = run(*TWO_UNITS, "--csv", "rows.csv")
    told = "2 of 2 rows are in rows.csv already\n3 of 3 rows of two units are in rows.csv already\n"
    assert (again.stdout, again.stderr) == (first.stdout, told)
    assert (shop / "rows.csv").read_text("utf-8") == at_once
    for name, end in (("rows.csv", ""), ("rows.csv.resume", "torn")):
        kept = (shop / name).read_text("utf-8").splitlines(keepends=True)[:4]
        (shop / name).write_text("".join(kept) + end, "utf-8")
    torn = run(*TWO_UNITS, "--csv", "rows.csv")
    mended = "the last line of rows.csv.resume was not complete: it is taken out, and its row made again\n"
    assert torn.stderr == mended + told.replace("3 of 3", "1 of 3")
    assert (torn.stdout, (shop / "rows.csv").read_text("utf-8")) == (first.stdout, at_once)


def test_cells_of_two(shop: Path, run: Here) -> None:
    """Both units' own cells are in one, the sums are numbers."""
    document = _document(run, *TWO_UNITS, "--csv", "rows.csv")
    same = {row["unit"]: row for row in document["bikes"][0]["rows"]}
    for row in _rows(shop):
        told = same[row["unit"]]
        assert (row["status"], row["unit_file"]) == (told["status"], told["unit_file"])
        if "units" in told:
            assert row["place"] == "; ".join(unit["place"] for unit in told["units"])
            assert row["worst_a"] == "; ".join(str(unit["feed"]["worst_a"]) for unit in told["units"])
            assert int(row["outputs_left"]) == sum(len(unit["outputs_left"]) for unit in told["units"])
            assert float(row["cost_mm"]) == told["cost_mm"]


def test_a_changed_unit_is_done_again(shop: Path, run: Here) -> None:
    """Rows of two go by the texts of both files; headroom is no part of them."""
    run(*TWO_UNITS, "--csv", "rows.csv")
    unit = shop / "units" / "two.yaml"
    unit.write_text(unit.read_text("utf-8").replace("limit: 40 A", "limit: 41 A"), "utf-8")
    ran = run(*TWO_UNITS, "--csv", "rows.csv")
    assert ran.stderr.splitlines()[1] == "1 of 3 rows of two units are in rows.csv already"
    ran = run(*TWO_UNITS, "--csv", "rows.csv", "--headroom")
    assert ran.stderr == "3 of 3 rows of two units are in rows.csv already\n"


@pytest.mark.long
def test_the_same_byte_for_byte(shop: Path, environment: dict[str, str]) -> None:
    """Under another seed of hashes, and with one process or several, the document and the rows are the same."""
    found = []
    for seed, cores in (("1", 1), ("2", 2)):
        code = f"import os, sys; os.cpu_count = lambda: {cores}; from portloom.cli.main import main; main()"
        ran = subprocess.run(
            [sys.executable, "-c", code, *TWO_UNITS, "--json", "--csv", f"{seed}.csv"],
            cwd=shop,
            env={**environment, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            check=False,
        )
        assert (ran.returncode, ran.stderr) == (0, b"")
        found.append((ran.stdout, (shop / f"{seed}.csv").read_bytes()))
    assert found[0] == found[1]


# --- what is wrong with the call


def test_a_unit_called_as_two_are_together(shop: Path, run: Here) -> None:
    """It could not be told apart from them: one clear error, and only where pairs are asked for."""
    text = (shop / "units" / "one.yaml").read_text("utf-8")
    (shop / "units" / "sum.yaml").write_text(text.replace("unit: one", "unit: one + two"), "utf-8")
    ran = run(*TWO_UNITS)
    assert (ran.returncode, ran.stdout) == (2, "")
    what = "the unit 'one + two' has the name that one and two have together; give it another name, or leave it out"
    assert ran.stderr == f"units/sum.yaml:1:1: {what}\n"
    assert run(*TWO_UNITS[:-1]).returncode == 0
