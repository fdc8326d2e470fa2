"""What goes wrong outside the program: full disks, closed streams, no permission, pipes that nobody writes to.

The exit code is what the README says: 2, never 1, which says that no plan fits.
"""

import ctypes
import os
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import replace
from io import StringIO
from pathlib import Path

import pytest
from rich.console import Console

import unix
from calls import Portloom, changed, small_job
from portloom.inputs.files import bike_from_text, unit_from_text
from portloom.planning.plan import Planned, plan
from portloom.report.text.layout import TextPage
from portloom.report.text.plan import write_plan
from slices import third_of
from small_bikes import FOUR_WAY, THREE_LAMPS, small_bike

BIN = Path(sys.executable).parent


def in_shell(script: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """Run a line of shell in which the command is called."""
    path = os.pathsep.join([str(BIN), os.environ["PATH"]])
    return subprocess.run(
        ["sh", "-c", script],
        cwd=folder,
        env=os.environ | {"PATH": path},
        capture_output=True,
        encoding="utf-8",
        timeout=120,
        check=False,
    )


def _without_privileges() -> None:
    """Let root be refused as anybody else is. Source: Linux, capabilities(7): CAP_DAC_OVERRIDE 1, _READ_SEARCH 2."""
    for capability in (1, 2):
        ctypes.CDLL(None).prctl(24, capability, 0, 0, 0)  # PR_CAPBSET_DROP


@unix.shell
@unix.linux
@pytest.mark.parametrize(
    "call",
    ["portloom --help >/dev/full", "portloom plan --help >/dev/full", "portloom parts >/dev/full",
     "portloom 2>/dev/full", "portloom plan nowhere.yaml --unit six-way 2>/dev/full",
     "portloom plan --weather fine 2>/dev/full", "portloom check - --unit six-way 2>/dev/full <&-"],
)  # fmt: skip
def test_a_full_disk_is_2(call: str, tmp_path: Path) -> None:
    """Whether an answer, the help or an error finds no room."""
    ran = in_shell(call, tmp_path)
    assert ran.returncode == 2
    assert "Traceback" not in ran.stderr
    assert ran.stdout == ""


@unix.shell
def test_whoever_reads_the_help_may_have_had_enough(tmp_path: Path) -> None:
    """A closed pager is no error."""
    assert in_shell("{ portloom --help; echo $? >&2; } | true", tmp_path).stderr == "0\n"


@unix.shell
def test_stdin_may_be_closed(tmp_path: Path) -> None:
    """A post that should come from there is missed in one line."""
    ran = in_shell("portloom check - --unit six-way <&-", tmp_path)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr == "post: stdin is closed; give the plan's file, or send the plan to stdin\n"


@unix.forks
@unix.links
@unix.linux
@third_of(
    ("call", "told"),
    [
        (("plan", "locked.yaml", "--unit", "unit.yaml"), "locked.yaml: this file can't be opened for reading; "),
        (("plan", "shut/bike.yaml", "--unit", "unit.yaml"), "shut/bike.yaml: this file can't be opened "),
        (("plan", "bike.yaml", "--unit", "shut/unit.yaml"), "shut/unit.yaml: this file can't be opened "),
        (("compare", "bike.yaml", "--unit", "shut"), "shut: this folder can't be read; "),
        (("sheets", "bike.yaml", "--unit", "unit.yaml", "--out", "shut"), "portloom: can't read or write shut: Perm"),
        (("sheets", "bike.yaml", "--unit", "unit.yaml", "--out", "shut/s"), "portloom: can't read or write shut/s: P"),
        (("sheets", "bike.yaml", "--unit", "unit.yaml", "--readings", "locked.yaml"), "locked.yaml: this file c"),
        (("new", "bike", "--out", "shut/new"), "portloom: can't write shut/new: Permission denied"),
    ],
    0,
)
def test_no_permission_is_2(call: Sequence[str], told: str, tmp_path: Path) -> None:
    """What can't be read or written is named, and is no error of the program."""
    small_job(tmp_path)
    (tmp_path / "locked.yaml").write_text("bike: locked\n", "utf-8")
    (tmp_path / "shut").mkdir()
    for locked in ("locked.yaml", "shut"):
        (tmp_path / locked).chmod(0)
    ran = subprocess.run(
        [str(BIN / "portloom"), *call],
        cwd=tmp_path,
        capture_output=True,
        encoding="utf-8",
        timeout=120,
        check=False,
        preexec_fn=_without_privileges,
    )
    (tmp_path / "shut").chmod(0o700)
    assert ran.returncode == 2
    assert ran.stderr.startswith(told)
    assert "Traceback" not in ran.stderr


@unix.links
@unix.linux
def test_a_pipe_that_nobody_writes_to_is_waited_for_aloud(tmp_path: Path) -> None:
    """After a second it is said, once; what comes then is read."""
    small_job(tmp_path)
    os.mkfifo(tmp_path / "pipe")
    call = [str(BIN / "portloom"), "plan", "pipe", "--unit", "unit.yaml"]
    with subprocess.Popen(call, cwd=tmp_path, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as running:
        assert running.stderr is not None
        assert running.stderr.readline() == "waiting for pipe: nothing has come yet\n"
        (tmp_path / "pipe").write_text(THREE_LAMPS, "utf-8")
        told, also = running.communicate(timeout=120)
    assert (running.returncode, also) == (0, "")
    assert "FITS, proven best" in told


def test_a_list_of_sheets_may_be_any_nonsense(portloom: Portloom, tmp_path: Path) -> None:
    """A hundred thousand brackets are no list of ours, and no error of the program."""
    call = small_job(tmp_path)
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "portloom-sheets.json").write_text("[" * 100_000, "utf-8")
    ran = portloom("sheets", *call[1:], "--out", "out", folder=tmp_path)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "no list from portloom" in ran.stderr


def test_a_frame_of_thousands_of_legs_in_a_row_is_planned(portloom: Portloom, tmp_path: Path) -> None:
    """None of them is too much for the stack, nor for what stands for 'no way leads there'."""
    chain = [f"    - {{between: [p{n}, p{n + 1}], length: 1 mm}}" for n in range(1_200)]
    text = small_bike(["{part: tail lamp, at: p1200, power: 1 W, kind: led}"], [], "ignition: own", "stand: none")
    text = text.replace("  earth:", "\n".join(["    - {between: [tail, p0], length: 1 mm}", *chain, "  earth:"]))
    (tmp_path / "bike.yaml").write_text(text, "utf-8")
    (tmp_path / "unit.yaml").write_text(FOUR_WAY, "utf-8")
    ran = portloom("plan", "bike.yaml", "--unit", "unit.yaml", "--json", folder=tmp_path)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert '"p1199 - p1200"' in ran.stdout


def test_a_plan_without_a_time_limit_tells_of_none() -> None:
    """What is not proved is said to be so, not why: a limit need not be the cause."""
    answer = plan(bike_from_text(THREE_LAMPS, "bike.yaml"), unit_from_text(FOUR_WAY, "unit.yaml"))
    assert isinstance(answer, Planned)
    text = StringIO()
    write_plan(replace(answer.plan, proven=False), TextPage(Console(file=text, width=100)))
    assert "best found, not proven best" in text.getvalue()
    assert "time limit" not in text.getvalue()


# --- readings


@pytest.mark.parametrize(
    ("line", "column"),
    [
        (f"{'9' * 5_000},12.6,,", 1), (f"1,{'9' * 5_000},,", 3), ("1,1_2.6,,", 3), ("1,\uff11\uff12.6,,", 3),
        ("\uff11,12.6,,", 1), ("1,nan,,", 3), ("1,1e999999999,,", 3), ("1,12.6,1\u0660,", 8),
    ],
    ids=lambda part: ascii(part)[:20],
)  # fmt: skip
def test_a_reading_is_a_figure_in_plain_digits(portloom: Portloom, tmp_path: Path, line: str, column: int) -> None:
    """Anything else is refused in one short line with its place."""
    call = small_job(tmp_path)
    (tmp_path / "r.csv").write_text(f"step,supply_v,current_a,voltage_v\n{line}\n", "utf-8")
    ran = portloom("sheets", *call[1:], "--readings", "r.csv", folder=tmp_path)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.startswith(f"r.csv:2:{column}: ")
    assert len(ran.stderr) < 250
    assert ran.stderr.count("\n") == 1


def test_readings_of_a_spreadsheet_with_decimal_commas_are_read(portloom: Portloom, tmp_path: Path) -> None:
    """Fields parted by ';' and decimal commas say what points and commas say."""
    call = small_job(tmp_path)
    texts = (
        "step,supply_v,current_a,voltage_v\n3,12.6,0.3,-0.3\n",
        "step;supply_v;current_a;voltage_v\n3;12,6;0,3;-0,3\n",
    )
    told = []
    for number, text in enumerate(texts):
        (tmp_path / f"r{number}.csv").write_text(text, "utf-8")
        ran = portloom("sheets", *call[1:], "--readings", f"r{number}.csv", folder=tmp_path)
        told.append((ran.returncode, ran.stdout, ran.stderr))
    assert told[0] == told[1]
    assert told[0][0] == 0


# --- names


def test_no_input_is_called_as_an_output(portloom: Portloom, tmp_path: Path) -> None:
    """Nobody could tell which of the two a file or a post means."""
    call = small_job(tmp_path)
    changed(tmp_path / "unit.yaml", ("[in 1, in 2", "[out 3, in 2"))
    ran = portloom(*call, folder=tmp_path)
    assert (ran.returncode, ran.stdout) == (2, "")
    told = "unit.yaml:15:14: the port in line 5 is called 'out 3' too; give each port a name of its own\n"
    assert ran.stderr == f"{told}More: portloom help units\n"


def test_what_pages_put_between_letters_is_no_part_of_a_post(portloom: Portloom, tmp_path: Path) -> None:
    """Soft hyphens, zero-width spaces and marks of byte order come along when a post is copied."""
    call = small_job(tmp_path)
    for name, word in (("plain", "horn"), ("copied", "\ufeffho\xadr\u200bn\u200e")):
        (tmp_path / name).write_text(f"out 1: {word} 3 A\nout 2: tail lamp\n", "utf-8")
    plain, copied = (portloom("check", name, *call[2:], folder=tmp_path) for name in ("plain", "copied"))
    assert (copied.returncode, copied.stdout) == (plain.returncode, plain.stdout)
