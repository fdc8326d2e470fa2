"""Rows kept in a file: read back by Python's csv, gone on with after an interruption, done again where files changed.

Bikes and units are made up; RFC 4180 is what Python's csv module reads.
"""

import csv
import json
import os
import re
import signal
import subprocess
import sys
from codecs import BOM_UTF8
from pathlib import Path
from time import monotonic, sleep

import pandas as pd
import pytest

import unix
from calls import ROOT, changed
from here import Here, command_in
from small_bikes import FOUR_WAY, THREE_LAMPS

FOUR = ("out 1", "out 2", "out 3", "out 4")
UNITS = ("one", "two", "three")


@pytest.fixture
def run(shop: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Here:
    """Return what runs the command in the shop's folder."""
    return command_in(shop, monkeypatch, capsys)


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """Return a folder with two bikes and a folder of three units, all small."""
    bike, unit = THREE_LAMPS, FOUR_WAY
    (tmp_path / "first.yaml").write_text(bike, "utf-8")
    (tmp_path / "second.yaml").write_text(bike.replace("My bike", 'Ötzi\'s, "red"'), "utf-8")
    (tmp_path / "units").mkdir()
    for number, name in enumerate(UNITS, 2):
        named = unit.replace("unit: four-way", f"unit: {name}").replace(", ".join(FOUR), ", ".join(FOUR[:number]))
        (tmp_path / "units" / f"{name}.yaml").write_text(named, "utf-8")
    return tmp_path


COMPARE = ("compare", "first.yaml", "second.yaml", "--unit", "units", "--csv", "rows.csv")


def _rows(folder: Path) -> list[dict[str, str]]:
    with (folder / "rows.csv").open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file, strict=True))


def _pairs(folder: Path) -> list[tuple[str, str]]:
    return [(row["bike_file"], row["unit"]) for row in _rows(folder)]


EVERY = [(bike, unit) for bike in ("first.yaml", "second.yaml") for unit in ("one", "three", "two")]


def test_read_back(shop: Path, run: Here) -> None:
    """Python's csv reads the file; its figures are those of the JSON document, a row for each bike on each unit."""
    ran = run(*COMPARE, "--json")
    assert (ran.returncode, ran.stderr) == (0, "")
    document = json.loads(ran.stdout)
    told = {(bike["bike_file"], row["unit"]): (bike["bike"], row) for bike in document["bikes"] for row in bike["rows"]}
    assert _pairs(shop) == EVERY
    for row in _rows(shop):
        name, same = told[row["bike_file"], row["unit"]]
        assert (row["bike"], row["status"], row["unit_file"]) == (name, same["status"], same["unit_file"])
        if same["status"] == "planned":
            assert [float(row[key]) for key in ("cost_mm", "wire_run_mm", "copper_g")] == [
                same[key] for key in ("cost_mm", "wire_run_mm", "copper_g")
            ]
            assert (int(row["outputs_left"]), float(row["worst_a"])) == (
                len(same["outputs_left"]), same["feed"]["worst_a"],
            )  # fmt: skip
            assert row["beaten_by"] == "; ".join(same["beaten_by"])
        else:
            assert row["why_not"] == same["why_not"]["sentence"]
    assert {row["bike"] for row in _rows(shop)} == {"My bike", 'Ötzi\'s, "red"'}


def test_a_table_for_people(shop: Path, run: Here) -> None:
    """A line of titles, then rows of as many cells: no comment, no sum, no data of a program; that lies beside it."""
    run(*COMPARE)
    lines = (shop / "rows.csv").read_text("utf-8-sig").splitlines()
    titles, *rows = list(csv.reader(lines, strict=True))
    assert len(lines) == 7
    assert {len(row) for row in rows} == {len(titles)} == {len(set(titles))}
    assert [cell for row in rows for cell in row if "{" in cell or cell.startswith("#") or len(cell) > 400] == []
    assert not any(re.search("[0-9a-f]{64}", line) for line in lines)
    assert sorted(path.name for path in shop.glob("rows*")) == ["rows.csv", "rows.csv.resume"]
    assert len((shop / "rows.csv.resume").read_text("utf-8").splitlines()) == 7


def test_it_opens_clean_in_a_spreadsheet(shop: Path, run: Here) -> None:
    """It begins with the mark of UTF-8, just once, and pandas, told nothing, reads titles, letters and figures."""
    run(*COMPARE)
    held = (shop / "rows.csv").read_bytes()
    assert (held.startswith(BOM_UTF8), held.count(BOM_UTF8)) == (True, 1)
    table = pd.read_csv(shop / "rows.csv")
    assert list(table.columns)[:2] == ["bike", "bike_file"]
    assert set(table["bike"]) == {"My bike", 'Ötzi\'s, "red"'}
    assert all(pd.api.types.is_numeric_dtype(table[name]) for name in ("cost_mm", "worst_a", "outputs_left"))


def test_a_second_run_makes_nothing_anew(shop: Path, run: Here) -> None:
    """Run again, the file stays the same byte for byte, and so does the answer."""
    first, before = run(*COMPARE), (shop / "rows.csv").read_bytes()
    second = run(*COMPARE)
    assert second.stderr == "6 of 6 rows are in rows.csv already\n"
    assert (second.returncode, second.stdout) == (first.returncode, first.stdout)
    assert (shop / "rows.csv").read_bytes() == before


@pytest.mark.parametrize("end", [b"", b"\xc3", b'{"bike', b'{"bike_file":"first.yaml"'], ids=repr)
def test_a_torn_line_is_mended(shop: Path, run: Here, end: bytes) -> None:
    """What an interruption tore off the last line is made again, and both files are as if nothing had happened."""
    run(*COMPARE)
    whole, kept = ((shop / name).read_bytes() for name in ("rows.csv", "rows.csv.resume"))
    lines = [text.splitlines(keepends=True)[:4] for text in (whole, kept)]
    (shop / "rows.csv").write_bytes(b"".join(lines[0]))
    (shop / "rows.csv.resume").write_bytes(b"".join(lines[1]) + end)
    ran = run(*COMPARE)
    torn = "the last line of rows.csv.resume was not complete: it is taken out, and its row made again\n" if end else ""
    assert ran.stderr == f"{torn}3 of 6 rows are in rows.csv already\n"
    assert (shop / "rows.csv").read_bytes() == whole
    assert (shop / "rows.csv.resume").read_bytes() == kept


@pytest.mark.parametrize("cut", [1, 30, 300, 5000])
def test_a_torn_table_is_written_again(shop: Path, run: Here, cut: int) -> None:
    """A row goes into the file beside the table first: whatever the table lacks, down to its first line, is there."""
    run(*COMPARE)
    whole = (shop / "rows.csv").read_bytes()
    (shop / "rows.csv").write_bytes(whole[: max(0, len(whole) - cut)])
    ran = run(*COMPARE)
    assert ran.stderr == "6 of 6 rows are in rows.csv already\n"
    assert (shop / "rows.csv").read_bytes() == whole


def test_a_torn_header_is_mended(shop: Path, run: Here) -> None:
    """An interruption in the very first lines loses nothing either; an empty file is one that was just begun."""
    run(*COMPARE)
    both = {name: (shop / name).read_bytes() for name in ("rows.csv", "rows.csv.resume")}
    for kept in (0, 9):
        for name, whole in both.items():
            (shop / name).write_bytes(whole[:kept])
        assert run(*COMPARE).returncode == 0
        assert {name: (shop / name).read_bytes() for name in both} == both


def test_without_what_lies_beside_it_a_table_is_left_alone(shop: Path, run: Here) -> None:
    """A table that was copied by itself can't be gone on with, and is not written over."""
    run(*COMPARE)
    (shop / "rows.csv.resume").unlink()
    before = (shop / "rows.csv").read_bytes()
    ran = run(*COMPARE)
    assert ran.returncode == 2
    assert ran.stderr.startswith("rows.csv:2:1: this row is not one of rows.csv.resume beside it; nothing is written")
    assert (shop / "rows.csv").read_bytes() == before


def test_changed_files_are_done_again(shop: Path, run: Here) -> None:
    """A unit that changed is tried again on each bike, all else is kept; the old rows give way."""
    run(*COMPARE)
    changed(shop / "units" / "two.yaml", ("limit: 30 A", "limit: 7 A"))
    ran = run(*COMPARE)
    assert ran.stderr == "4 of 6 rows are in rows.csv already\n"
    assert _pairs(shop) == EVERY
    assert {row["status"] for row in _rows(shop) if row["unit"] == "two"} == {"no plan"}


def test_what_was_asked_counts(shop: Path, run: Here) -> None:
    """With headroom asked for, rows without it are done again."""
    run(*COMPARE)
    ran = run(*COMPARE, "--headroom")
    assert ran.stderr == ""
    assert all(row["headroom_current_percent"] for row in _rows(shop) if row["status"] == "planned")


def test_rows_of_others_stay(shop: Path, run: Here) -> None:
    """Another bike's rows that are in the file already stay there, as they are."""
    run(*COMPARE)
    before = (shop / "rows.csv").read_text("utf-8").splitlines()
    changed(shop / "units" / "three.yaml", ("limit: 30 A", "limit: 7 A"))
    run("compare", "first.yaml", "--unit", "units/three.yaml", "--csv", "rows.csv")
    after = (shop / "rows.csv").read_text("utf-8").splitlines()
    header, one, _, *others = before
    assert after[:-1] == [header, one, *others]
    assert _pairs(shop)[-1] == ("first.yaml", "three")


def test_an_unsettled_row_is_done_again(shop: Path, run: Here) -> None:
    """A row that a time limit left open is no answer to go on from."""
    assert run(*COMPARE, "--time-limit", "0").returncode in (0, 3)
    ran = run(*COMPARE)
    assert ran.returncode == 0
    assert "unknown" not in {row["status"] for row in _rows(shop)}


# --- interrupted

SLOWLY = """
import sys, time
sys.argv[:] = ['portloom', *sys.argv[1:]]
import portloom.comparing.compare as comparing
from portloom.cli.start import main
plain = comparing.try_on
def slowly(*words, **more):
    time.sleep(0.4)
    return plain(*words, **more)
comparing.try_on = slowly
main()
"""
"""The command, with so much time between two rows that a test can come in between."""


@unix.signals
@pytest.mark.parametrize("sign", [signal.SIGINT, signal.SIGKILL], ids=["Ctrl-C", "killed"])
def test_interrupted(shop: Path, run: Here, sign: signal.Signals) -> None:
    """Ended in the middle, the rows so far are there; run again, it goes on from them to the same file."""
    calm = dict(os.environ, PYTHONPATH=str(ROOT))
    with subprocess.Popen(
        [sys.executable, "-c", SLOWLY, *COMPARE], cwd=shop, env=calm, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        encoding="utf-8", start_new_session=True,
    ) as started:  # fmt: skip
        _wait_for(started, shop / "rows.csv", lines=3)
        os.killpg(started.pid, sign)
        out, err = started.communicate(timeout=30)
    kept = len(_rows(shop))
    assert 2 <= kept < 6
    if sign == signal.SIGINT:
        assert (started.returncode, out) == (130, "")
        assert err == "interrupted\n"
    again = run(*COMPARE)
    assert again.stderr == f"{kept} of 6 rows are in rows.csv already\n"
    assert _pairs(shop) == EVERY
    at_once = (shop / "rows.csv").read_bytes()
    for name in ("rows.csv", "rows.csv.resume"):
        (shop / name).unlink()
    run(*COMPARE)
    assert (shop / "rows.csv").read_bytes() == at_once


def _wait_for(started: subprocess.Popen[str], file: Path, lines: int) -> None:
    end = monotonic() + 30
    while monotonic() < end and started.poll() is None:
        if file.exists() and file.read_bytes().count(b"\n") >= lines:
            return
        sleep(0.02)
    raise AssertionError("no rows came")


# --- not ours

NOT_OURS = "rows.csv:1:1: this is not a file of rows that portloom wrote; give a file that does not exist yet"


@pytest.mark.parametrize(
    "text", [b"name,price\nsix-way,130\n", b"bike: Harbour\n", b"\x00\xff\n", b"bikes", b"bike,bike_file\n"], ids=repr
)
def test_a_file_that_is_not_ours_is_refused(shop: Path, run: Here, text: bytes) -> None:
    """Anything else is never written to."""
    (shop / "rows.csv").write_bytes(text)
    ran = run(*COMPARE)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.startswith(NOT_OURS)
    assert (shop / "rows.csv").read_bytes() == text


def test_a_row_that_somebody_changed_is_refused(shop: Path, run: Here) -> None:
    """What somebody wrote into the table is told by its line, and left alone; so is the file beside it."""
    run(*COMPARE)
    text = (shop / "rows.csv").read_text("utf-8")
    changed_rows = text.replace("planned,yes", "planned,dear", 1)
    for wrong, line in ((text + "a,b\n", 8), (text + text.splitlines()[0] + "\n", 8), (text + "my", 8)):
        _refused(shop, run, wrong, f"rows.csv:{line}:1: this ")
    at = next(n for n, line in enumerate(changed_rows.splitlines(), 1) if "dear" in line)
    _refused(shop, run, changed_rows, f"rows.csv:{at}:1: this row is not one of rows.csv.resume beside it; nothing is")
    (shop / "rows.csv").write_text(text, "utf-8")
    kept = (shop / "rows.csv.resume").read_text("utf-8")
    (shop / "rows.csv.resume").write_text(kept + "{}\n", "utf-8")
    ran = run(*COMPARE)
    assert ran.stderr.startswith("rows.csv.resume:8:1: this line is not what was written there; take the line out")


def _refused(shop: Path, run: Here, text: str, told: str) -> None:
    (shop / "rows.csv").write_text(text, "utf-8")
    ran = run(*COMPARE)
    assert ran.returncode == 2
    assert ran.stderr.startswith(told)
    assert (shop / "rows.csv").read_text("utf-8") == text


@pytest.mark.parametrize(
    ("file", "told"),
    [("units", "units:1:1: this is not a file"), ("nowhere/rows.csv", "portloom: can't write nowhere")],
)
def test_where_it_can_not_be_written(run: Here, file: str, told: str) -> None:
    """A folder, and a folder that is not there, are told before anything is worked out."""
    ran = run(*COMPARE[:-1], file)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.startswith(told)
    assert "Traceback" not in ran.stderr
