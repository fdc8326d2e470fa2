"""What other machines bring, as far as it can be tried on this one: code pages, line ends, paths with backslashes.

What Windows does is from memory: consoles and pipes in a code page such as cp1252, CR LF at the ends of lines, a mark
before UTF-8, and paths with backslashes. The bikes are made up.
"""

import json
import subprocess
import sys
from io import BytesIO, TextIOWrapper
from pathlib import Path, PureWindowsPath

import pytest

from calls import Call, Portloom, changed, small_job
from portloom.cli.limit import begin
from portloom.cli.main import main
from portloom.cli.shell_words import as_typed

NAME = "Große Ωmega ²"
PLAIN_C = {"LC_ALL": "C", "PYTHONCOERCECLOCALE": "0", "PYTHONUTF8": "0", "PYTHONIOENCODING": ""}
"""The C locale, and nothing that makes UTF-8 of it."""


@pytest.fixture
def named(tmp_path: Path) -> Call:
    """Return a call that plans a bike with letters of many code pages in its name."""
    call = small_job(tmp_path)
    changed(tmp_path / "bike.yaml", ("bike: My bike", f"bike: {NAME}"))
    return call


@pytest.mark.parametrize(("page", "shown"), [("ascii", "Gro?e ?mega ?"), ("cp1252", "Große ?mega ²")])
def test_letters_that_a_code_page_lacks(
    named: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, page: str, shown: str
) -> None:
    """The answer is there, '?' for what can't be shown, and the exit code is the same; JSON stays whole."""
    monkeypatch.chdir(tmp_path)
    said = [_printed(page, (*named, *extra), monkeypatch) for extra in ((), ("--json",))]
    assert f"{shown} on the " in said[0]
    assert json.loads(said[1])["bike"] == NAME


def _printed(page: str, call: Call, monkeypatch: pytest.MonkeyPatch) -> str:
    """Return what the command prints, run in this process, to a stdout in a code page."""
    written = BytesIO()
    with monkeypatch.context() as patched:
        patched.setattr(sys, "argv", ["portloom", *call])
        patched.setattr(sys, "stdout", TextIOWrapper(written, encoding=page, write_through=True))
        begin()
        with pytest.raises(SystemExit) as end:
            main()
        assert end.value.code == 0
        return written.getvalue().decode(page)


def test_letters_in_the_c_locale(environment: dict[str, str], named: Call, tmp_path: Path) -> None:
    """In a process of its own, as its stdout is made of the locale: the same."""
    ran = subprocess.run(
        ["portloom", *named], cwd=tmp_path, env={**environment, **PLAIN_C}, capture_output=True, check=False
    )
    assert (ran.returncode, ran.stderr) == (0, b"")
    assert "Gro?e ?mega ? on the " in ran.stdout.decode("ascii")


def _as_windows_saves(file: Path) -> None:
    file.write_bytes("\ufeff".encode() + file.read_text("utf-8").replace("\n", "\r\n").encode())


def test_files_with_the_line_ends_of_windows(portloom: Portloom, tmp_path: Path) -> None:
    """Bike and unit give the same plan; answers make the same file; a mistake stands at the same line and column."""
    call = small_job(tmp_path)
    (tmp_path / "some.answers").write_text("frame: single\nname: Ölstand\nspark: pointz\n", "utf-8")
    asks = ("new", "bike", "--answers", "some.answers", "--yes")
    before = [portloom(*call, "--json", folder=tmp_path), portloom(*asks, folder=tmp_path)]
    other = tmp_path / "windows"
    other.mkdir()
    for name in ("bike.yaml", "unit.yaml", "some.answers"):
        (tmp_path / name).rename(other / name)
        _as_windows_saves(other / name)
    after = [portloom(*call, "--json", folder=other), portloom(*asks, folder=other)]
    assert [(ran.returncode, ran.stdout, ran.stderr) for ran in after] == [
        (ran.returncode, ran.stdout, ran.stderr) for ran in before
    ]
    assert [ran.returncode for ran in after] == [0, 2]
    assert "some.answers:3:8: 'pointz' is not one of these" in after[1].stderr


def test_a_backslash_in_a_path_stays_one(portloom: Portloom, tmp_path: Path) -> None:
    """In errors, in tables of CSV that are gone on with, and in JSON, a path is told as it was given."""
    small_job(tmp_path)
    path = r"shop\bike.yaml"
    (tmp_path / "bike.yaml").rename(tmp_path / path)
    call = ("compare", path, "--unit", "unit.yaml")
    first = portloom(*call, "--csv", r"shop\rows.csv", folder=tmp_path)
    assert (first.returncode, first.stderr) == (0, "")
    assert f",{path}," in (tmp_path / r"shop\rows.csv").read_text("utf-8")
    (tmp_path / r"shop\new").mkdir()
    again = portloom(*call, "--json", "--csv", r"shop\rows.csv", folder=tmp_path)
    assert again.stderr == "1 of 1 rows are in shop\\rows.csv already\n"
    assert json.loads(again.stdout)["bikes"][0]["bike_file"] == path
    changed(tmp_path / path, ("10 Ah", "10"))
    assert portloom("plan", path, "--unit", "unit.yaml", folder=tmp_path).stderr.startswith(f"{path}:5:")


def test_a_call_to_type_is_quoted_as_its_shell_has_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Sources: POSIX.1-2017, Shell 2.2.2; Microsoft, 'Parsing C command-line arguments': double quotes alone."""
    path = str(PureWindowsPath("C:/My bikes/twin.yaml"))
    assert as_typed("my bike.yaml") == "'my bike.yaml'"
    monkeypatch.setattr(sys, "platform", "win32")
    assert as_typed(path) == r'"C:\My bikes\twin.yaml"'
    assert as_typed(r"C:\bikes\twin.yaml") == r"C:\bikes\twin.yaml"
