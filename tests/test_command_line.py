"""The command as users run it: exit codes, what goes to stdout and to stderr, and that nothing ends in a traceback."""

import platform
import re
import sys
import tomllib
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path

import pytest

import portloom.cli.plan
import portloom.explaining.solved
import unix
from calls import HARBOUR, NO_PLACE, ROOT, TOO_SMALL, Call, Portloom, changed, small_job
from portloom.cli.main import main
from portloom.inputs.files import bundled_units
from portloom.rules.clash import Clash
from portloom.verify.judge import PlanVerdict

# --- exit codes


def test_planned_is_0(portloom: Portloom) -> None:
    """A bike that fits ends with 0, the plan on stdout, and not a word on stderr."""
    ran = portloom(*HARBOUR)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "FITS, proven best" in ran.stdout


@pytest.mark.parametrize("call", [TOO_SMALL, NO_PLACE])
def test_no_plan_is_1(portloom: Portloom, call: Call) -> None:
    """A bike that can't fit ends with 1; why is data, so it goes to stdout."""
    ran = portloom(*call)
    assert (ran.returncode, ran.stderr) == (1, "")
    assert "NOTHING FITS, proved." in ran.stdout


@pytest.mark.parametrize(
    "call",
    [
        (),
        ("plan",),
        ("plan", "examples/harbour-trail.yaml"),
        ("plan", "nowhere.yaml", "--unit", "eleven-way"),
        (*HARBOUR, "--place", "on the moon"),
        (*HARBOUR, "--time-limit", "-1"),
        (*HARBOUR, "--time-limit", "nan"),
        (*HARBOUR, "--time-limit", "inf"),
        (*HARBOUR, "--time-limit", "soon"),
        (*HARBOUR, "--weather", "fine"),
        ("rules", "weather"),
        ("parts", "weather"),
        ("new", "car"),
        ("schema", "car"),
        ("weather",),
    ],
)
def test_wrong_call_is_2(portloom: Portloom, call: Call) -> None:
    """A wrong call ends with 2, with what is wrong on stderr and nothing on stdout."""
    ran = portloom(*call)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.strip()
    assert "Traceback" not in ran.stderr


def test_time_limit_without_answer_is_3(portloom: Portloom) -> None:
    """A time limit of nothing ends with 3, and is never called impossible."""
    text, document = portloom(*HARBOUR, "--time-limit", "0"), portloom(*HARBOUR, "--time-limit", "0", "--json")
    assert (text.returncode, document.returncode) == (3, 3)
    assert "UNKNOWN, the time limit was reached" in text.stdout
    assert "NOTHING FITS" not in text.stdout
    assert '"status": "unknown"' in document.stdout


def _main(monkeypatch: pytest.MonkeyPatch, *words: str) -> int | str | None:
    """Run the command in this process; give its exit code."""
    monkeypatch.setattr(sys, "argv", ["portloom", *words])
    monkeypatch.chdir(ROOT)
    with pytest.raises(SystemExit) as end:
        main()
    return end.value.code


def test_failed_check_is_4(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """A plan that fails its own check is not shown; the message names the rule."""
    clash = Clash("bank", "bank A", "23 A together, the bank gives 22 A")
    monkeypatch.setattr(portloom.explaining.solved, "check", lambda *_: PlanVerdict((clash,), None))
    assert _main(monkeypatch, *HARBOUR) == 4
    out, err = capsys.readouterr()
    assert out == ""
    assert "an error in the program, not in your files: rule bank: 23 A together" in err


def test_error_of_the_program_is_4(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """Whatever else breaks inside ends with 4 and a line that says so, never with a traceback."""
    monkeypatch.setattr(portloom.cli.plan, "prepared", lambda *_, **__: 1 / 0)
    assert _main(monkeypatch, *HARBOUR) == 4
    assert capsys.readouterr() == ("", "portloom: an error in the program, not in your files: division by zero\n")


def test_versions_are_those_that_are_installed(portloom: Portloom) -> None:
    """A line for the program, for each library that it declares, for Python and the system; the solver stays away."""
    lines = portloom("--version").stdout.splitlines()
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["dependencies"]
    names = ["portloom", *sorted(re.split(r"[<>=]", wanted)[0] for wanted in declared)]
    assert lines[: len(names)] == [f"{name} {version(name)}" for name in names]
    assert lines[len(names) :] == [f"Python {platform.python_version()}", platform.platform()]


# --- what is wrong with the files


def test_unknown_unit_gives_the_nearest(portloom: Portloom) -> None:
    """A unit's name with a slip in it gives the nearest names."""
    ran = portloom("plan", "examples/harbour-trail.yaml", "--unit", "elevn-way")
    assert ran.stderr.startswith(
        f"elevn-way: there is no such file in {ROOT}, and no bundled unit is called 'elevn-way'; "
    )
    assert "give a file, or one of eleven-way" in ran.stderr
    other = portloom("plan", "examples/harbour-trail.yaml", "--unit", "24-way")
    assert all(name in other.stderr for name, _ in bundled_units())


def test_unknown_place_gives_the_nearest(portloom: Portloom) -> None:
    """A place's name with a slip in it gives the right one, and where the places stand."""
    ran = portloom(*HARBOUR, "--place", "battery bx")
    lines = (ROOT / HARBOUR[1]).read_text("utf-8").splitlines()
    line, text = next((number, text) for number, text in enumerate(lines, 1) if "{name: under seat" in text)
    column = text.index("{name") - 1
    assert ran.stderr == f"{HARBOUR[1]}:{line}:{column}: the bike has no place 'battery bx'; write 'battery box'\n"


def test_errors_of_both_files_come_at_once(portloom: Portloom, tmp_path: Path) -> None:
    """What is wrong in the bike and in the unit is told in one go, a line each, by file and line."""
    call = small_job(tmp_path)
    changed(tmp_path / "bike.yaml", ("10 Ah", "10"), ("620 mm", "620 A"))
    changed(tmp_path / "unit.yaml", ("face: rear", "face: top"))
    ran = portloom(*call, folder=tmp_path)
    assert (ran.returncode, ran.stdout) == (2, "")
    told = [":".join(line.split(":")[:2]) for line in ran.stderr.splitlines()]
    assert told == ["bike.yaml:5", "bike.yaml:9", "unit.yaml:3", "More: portloom help keys"]


def _loop(path: Path) -> None:
    path.symlink_to(path)


def _locked(path: Path) -> None:
    path.write_text("bike: locked\n")
    path.chmod(0)


GARBAGE: dict[str, Callable[[Path], object]] = {
    "nothing": lambda path: path.write_bytes(b""),
    "noise": lambda path: path.write_bytes(bytes(range(256)) * 40),
    "half a mapping": lambda path: path.write_text("bike: {name: [", "utf-8"),
    "a list": lambda path: path.write_text("- bike\n- unit\n", "utf-8"),
    "deep nesting": lambda path: path.write_text("[" * 50_000, "utf-8"),
    "a folder": lambda path: path.mkdir(),
    "a link to itself": _loop,
    "a locked file": _locked,
}


@unix.links
@pytest.mark.parametrize("what", GARBAGE)
def test_garbage_is_refused(portloom: Portloom, tmp_path: Path, what: str) -> None:
    """Whatever is given for a bike or a unit, the answer is a line with its name and exit code 2."""
    GARBAGE[what](tmp_path / "garbage.yaml")
    bike = portloom("plan", "garbage.yaml", "--unit", "six-way", folder=tmp_path)
    unit = portloom("plan", str(ROOT / HARBOUR[1]), "--unit", "./garbage.yaml", folder=tmp_path)
    for ran in (bike, unit):
        assert (ran.returncode, ran.stdout) == (2, "")
        assert ran.stderr.startswith("garbage.yaml:")
        assert "Traceback" not in ran.stderr
