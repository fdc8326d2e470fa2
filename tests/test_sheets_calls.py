"""``portloom sheets`` as a user calls it: the folder, its files, what is in the way, readings."""

import csv
import json
import re
from codecs import BOM_UTF8
from hashlib import sha256
from pathlib import Path

import pandas as pd
import pytest

from calls import Portloom, Ran
from outcomes import EXAMPLES, PROFILES
from portloom.disk.folder import LIST
from portloom.report.html.pages import NAMES

SINGLE, SIX = str(EXAMPLES / "bare-single.yaml"), str(PROFILES / "six-way.yaml")
PARALLEL = str(EXAMPLES / "market-parallel.yaml")


@pytest.fixture(scope="module")
def made(portloom: Portloom, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of the Bare Single's sheets."""
    folder = tmp_path_factory.mktemp("job")
    ran = portloom("sheets", SINGLE, "--unit", SIX, "--out", "sheets", folder=folder)
    assert (ran.returncode, ran.stdout) == (0, "")
    assert "start with job-sheet.html" in ran.stderr
    return folder / "sheets"


def test_all_sheets_are_there_and_listed(made: Path) -> None:
    """Every list, page and picture, and the list that tells that they are ours, with their fingerprints."""
    names = {path.name for path in made.iterdir()} - {LIST}
    assert set(NAMES) < names
    assert {name.partition("-")[0] for name in names if name.endswith(".svg")} == {"loom", "circuit", "cases", "labels"}
    listed = json.loads((made / LIST).read_text("utf-8"))["files"]
    assert listed == {name: sha256((made / name).read_bytes()).hexdigest() for name in sorted(names)}


def test_the_same_input_gives_the_same_bytes(made: Path, portloom: Portloom, tmp_path: Path) -> None:
    """A second run into another folder writes the same files to the byte."""
    portloom("sheets", SINGLE, "--unit", SIX, "--out", "again", folder=tmp_path)
    again = tmp_path / "again"
    assert {path.name: path.read_bytes() for path in again.iterdir()} == {
        path.name: path.read_bytes() for path in made.iterdir()
    }


def test_a_second_run_replaces_ours_and_asks_for_the_rest(portloom: Portloom, tmp_path: Path) -> None:
    """Sheets that somebody wrote on are named and left; --force writes over them."""
    call = ("sheets", SINGLE, "--unit", SIX, "--out", str(tmp_path / "sheets"))
    assert portloom(*call).returncode == 0
    (tmp_path / "sheets" / "cut-list.txt").write_text("two metres more", "utf-8")
    refused = portloom(*call, "--time-limit", "60")  # other words: the same call is not run twice
    assert refused.returncode == 2
    assert "'cut-list.txt'" in refused.stderr
    assert (tmp_path / "sheets" / "cut-list.txt").read_text("utf-8") == "two metres more"
    assert portloom(*call, "--force").returncode == 0
    assert (tmp_path / "sheets" / "cut-list.txt").read_text("utf-8") != "two metres more"


def test_what_is_in_the_way_is_told_before_anything_is_planned(portloom: Portloom, tmp_path: Path) -> None:
    """A folder that is not ours, a file, a parent that is missing, no folder at all: exit code 2, nothing written."""
    (tmp_path / "letters").mkdir()
    (tmp_path / "letters" / "dear.txt").write_text("dear", "utf-8")
    (tmp_path / "file").write_text("", "utf-8")

    def called(*words: str) -> Ran:
        return portloom("sheets", SINGLE, "--unit", SIX, *words, folder=tmp_path)

    for words, said in (
        (("--out", "letters"), "holds 'dear.txt' and no list from portloom"),
        (("--out", "file"), "file is not a folder"),
        (("--out", "no/where"), "there is no folder no to write to"),
        ((), "neither a folder to write nor readings to check"),
    ):
        ran = called(*words)
        assert (ran.returncode, ran.stdout) == (2, "")
        assert said in ran.stderr
    assert sorted(path.name for path in tmp_path.rglob("*")) == ["dear.txt", "file", "letters"]


def test_where_nothing_fits_no_folder_is_made(portloom: Portloom, tmp_path: Path) -> None:
    """As ``plan``: exit code 1 and the first conflict."""
    ran = portloom("sheets", PARALLEL, "--unit", SIX, "--out", "sheets", folder=tmp_path)
    assert ran.returncode == 1
    assert "NOTHING FITS, proved." in ran.stdout
    assert list(tmp_path.iterdir()) == []


def test_lists_agree_to_the_millimetre(made: Path) -> None:
    """What is cut by the wiring list is what the cut list cuts and what the reels give."""

    def rows(name: str) -> list[dict[str, str]]:
        with (made / name).open(encoding="utf-8", newline="") as file:
            return list(csv.DictReader(file))

    wires = sum(float(row["cut_mm"] or 0) for row in rows("wiring-list.csv"))
    assert wires == sum(float(row["cut_mm"]) for row in rows("cut-list.csv"))
    assert wires == sum(float(row["cut_mm"]) for row in rows("reels.csv"))
    assert wires > 1000


# --- readings


def judged(portloom: Portloom, folder: Path, text: str, name: str = "readings.csv") -> Ran:
    """Have readings judged; other readings want another name, as the same call is not run twice."""
    (folder / name).write_text(text, "utf-8")
    return portloom("sheets", SINGLE, "--unit", SIX, "--readings", name, folder=folder)


def test_lists_open_clean_in_a_spreadsheet(made: Path) -> None:
    """Each begins with the mark of UTF-8, just once, and pandas, told nothing, reads its titles."""
    lists = list(made.glob("*.csv"))
    assert len(lists) > 8
    for file in lists:
        held = file.read_bytes()
        assert (held.startswith(BOM_UTF8), held.count(BOM_UTF8)) == (True, 1), file.name
        assert re.fullmatch("[a-z_0-9]+", pd.read_csv(file).columns[0]), file.name


def test_the_empty_form_is_judged_as_empty(made: Path, portloom: Portloom, tmp_path: Path) -> None:
    """The form that lies with the sheets can be read back as it is."""
    ran = judged(portloom, tmp_path, (made / "readings.csv").read_text("utf-8"))
    assert ran.returncode == 0
    assert "no reading is filled in" in ran.stdout


def test_readings_are_judged_against_the_plan(made: Path, portloom: Portloom, tmp_path: Path) -> None:
    """A dead circuit is told with what that usually means."""
    steps = [line.split(",")[0] for line in (made / "readings.csv").read_text("utf-8").splitlines()[1:]]
    ran = judged(portloom, tmp_path, f"step,supply_v,current_a,voltage_v\n{steps[-4]},12.6,0,0\n")
    assert ran.returncode == 0
    assert "one not as expected" in ran.stdout
    assert "open return" in " ".join(ran.stdout.split())


def test_bad_readings_are_told_with_their_lines(portloom: Portloom, tmp_path: Path) -> None:
    """A step that the sheet does not have, a word for a number: exit code 2."""
    ran = judged(portloom, tmp_path, "step,supply_v,current_a,voltage_v\n999,12.6,1,\n")
    assert ran.returncode == 2
    assert "readings.csv:2:1: the sheet has no step 999" in ran.stderr
    ran = judged(portloom, tmp_path, "step,supply_v,current_a,voltage_v\n1,much,1,\n2,12.6,lots,\n", "more.csv")
    assert ran.returncode == 2
    assert len(ran.stderr.strip().splitlines()) == 2
