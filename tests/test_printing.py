"""What the command prints, and where: to a pipe, to a screen, to a closed pager, to a full disk."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

import unix
from calls import DIMLESS, FITTING, HARBOUR, NO_PLACE, PLANS, QUICK, ROOT, TOO_SMALL, Call, Portloom, small_job
from portloom.report.text.plan import PARTS
from slices import first_of, later, slices, third_of
from terminal import ANSI, on_a_screen, without_colour


@first_of("call", [*FITTING[:2], DIMLESS, *QUICK, (*FITTING[1], "--trade-offs"), *PLANS[2:]], 4 + len(QUICK))
def test_plain_text_to_a_pipe(portloom: Portloom, call: Call) -> None:
    """To a pipe: no line over 100 columns or with blanks at its end, no colour codes, nothing on stderr."""
    ran = portloom(*call)
    assert ran.stderr == ""
    assert ANSI.search(ran.stdout) is None
    lines = ran.stdout.splitlines()
    if call[0] != "schema":  # JSON, whose sentences stand on one line each
        assert [line for line in lines if len(line) > 100] == []
    assert [line for line in lines if line != line.rstrip()] == []


SECTIONS = (
    "WARNING, before anything else", "SET ASIDE by the bike file",
    "FITS, proven best.", "Unit ", "Main fuse ", "Worst case: ", "Warnings", "Outputs",
    "Inputs (", "Returns", "Cases against limits", "Looms against openings", "What it takes", "  Wire run ",
    "  Spare-port loss ", "Room left", "Trade-offs", "What was assumed", "Read, but not checked yet", "CAUTION",
)  # fmt: skip
NOT_ALWAYS = {
    "WARNING, before anything else", "SET ASIDE by the bike file", "Warnings", "Trade-offs",
    "Read, but not checked yet",
}  # fmt: skip


def _sections(text: str) -> list[str]:
    lines = text.splitlines()
    first = {
        part: next((n for n, line in enumerate(lines) if line.startswith(part) or line.endswith(f": {part}")), None)
        for part in SECTIONS
    }
    found = {part: number for part, number in first.items() if number is not None}
    return sorted(found, key=lambda part: found[part])


@first_of("call", FITTING, 1)
def test_order_of_the_sections(portloom: Portloom, call: Call) -> None:
    """A plan's sections come in the order in which they are needed, cautions last."""
    for extra in ((), ("--trade-offs",)):
        found = _sections(portloom(*call, *extra, "--full").stdout)
        assert found == [part for part in SECTIONS if part in found]
        assert set(SECTIONS) - set(found) <= NOT_ALWAYS
        assert ("Trade-offs" in found) == bool(extra)


def test_set_aside_is_shown_first(portloom: Portloom, tmp_path: Path) -> None:
    """Next to what can hurt it is the first thing told, whether the bike fits, does not, or is not known to."""
    call = small_job(tmp_path)
    bike = tmp_path / "bike.yaml"
    bike.write_text(bike.read_text("utf-8") + "set_aside: {opening: the headstock is open}\n", "utf-8")
    told = "SET ASIDE by the bike file:\n  ! rule opening: the headstock is open\n\nMy bike on the four-way: "
    for extra, verdict in (((), "FITS"), (("--time-limit", "0"), "UNKNOWN")):
        first, _, rest = portloom(*call, *extra, folder=tmp_path).stdout.partition(told + verdict)
        assert first.startswith("WARNING, before anything else:\n  ! ")
        assert rest
    printed = portloom(*NO_PLACE).stdout
    assert printed.index("SET ASIDE by the bike file:\n  ! rule indicator-pair: ") < printed.index("NOTHING FITS")


def test_outputs_and_inputs_are_in_the_units_order(portloom: Portloom) -> None:
    """Outputs and inputs stand in the order of the unit's file, out 2 before out 10."""
    lines = portloom(*HARBOUR, "--only", "outputs,inputs").stdout.splitlines()
    for word in ("out", "in"):
        numbers = [int(found[1]) for line in lines if (found := re.match(rf"  {word} (\d+) ", line))]
        assert len(numbers) >= 9
        assert numbers == sorted(numbers)


@pytest.mark.parametrize("call", PLANS, ids=" ".join)
def test_cautions_on_every_answer(portloom: Portloom, call: Call) -> None:
    """Whether the bike fits or not, the cautions come last."""
    last = portloom(*call).stdout.rpartition("\nCAUTION\n")[2].splitlines()
    assert len([line for line in last if line.startswith("  ! ")]) == 4
    assert all(line.startswith(("  ! ", "    ")) for line in last)


# --- on a screen


@unix.terminal
@slices("widths", (100,), (0,))
@first_of("call", [HARBOUR, ("rules",), TOO_SMALL], 2)
def test_colour_adds_no_words_to_a_plan(
    portloom: Portloom, environment: dict[str, str], call: Call, widths: tuple[int, ...]
) -> None:
    """On a screen there is colour, and the words are the same."""
    assert_coloured(portloom, environment, call, widths)


@unix.terminal
def test_colour_adds_no_words_whatever_the_width(portloom: Portloom, environment: dict[str, str]) -> None:
    """On a screen of 100 columns, or of a width that nobody knows, there is colour, and the words are the same."""
    assert_coloured(portloom, environment, ("units",), (100, 0))


def assert_coloured(portloom: Portloom, environment: dict[str, str], call: Call, widths: tuple[int, ...]) -> None:
    """On screens of some widths: coloured, and word for word what a pipe gets."""
    ran = portloom(*call)
    for columns in widths:
        code, shown = on_a_screen(environment, columns, call)
        assert code == ran.returncode
        assert ANSI.search(shown)
        assert without_colour(shown) == ran.stdout.splitlines()


@unix.terminal
@pytest.mark.parametrize("columns", [*later((80, 60, 40)), 20])
def test_narrow_screen_loses_nothing(portloom: Portloom, environment: dict[str, str], columns: int) -> None:
    """On a narrow screen every word and figure of the plan is still there, and no line is wider than the screen."""
    every = (*HARBOUR, "--only", ",".join(PARTS))  # the first screen is shorter where there is less room
    _, shown = on_a_screen(environment, columns, every)
    lines = without_colour(shown)
    assert max(len(line) for line in lines) <= columns
    assert _words(portloom(*every).stdout.splitlines()) - _words(lines) <= FIRST_TITLES


FIRST_TITLES = {"output", "load", "input", "from", "case", "leg"}
"""Titles of first columns, which a table that is too narrow does without."""


def _words(lines: list[str]) -> set[str]:
    return {word for line in lines for word in re.findall(r"[^\s,;:]+", line) if set(word) != {"-"}}


# --- to nowhere, to a pager that is closed, to a full disk, and to a screen


@unix.shell
@first_of(("call", "code"), [(DIMLESS, 1), (("units",), 0), (TOO_SMALL, 1), (HARBOUR, 0), (("schema", "bike"), 0)], 2)
def test_closed_stdout(environment: dict[str, str], call: Call, code: int) -> None:
    """Without a stdout, and with a reader that has gone, the exit code still tells the answer, in silence."""
    closed = subprocess.run(
        ["sh", "-c", 'exec portloom "$@" >&-', "sh", *call],
        cwd=ROOT, env=environment, stderr=subprocess.PIPE, encoding="utf-8", check=False,
    )  # fmt: skip
    read, write = os.pipe()
    os.close(read)
    gone = subprocess.run(
        ["portloom", *call],
        cwd=ROOT,
        env=environment,
        stdout=write,
        stderr=subprocess.PIPE,
        encoding="utf-8",
        check=False,
    )
    os.close(write)
    assert (closed.returncode, closed.stderr) == (code, "")
    assert (gone.returncode, gone.stderr) == (code, "")


@unix.shell
@first_of("call", [FITTING[1], HARBOUR, ("units",), ("schema", "bike")], 1)
def test_no_room_to_write(environment: dict[str, str], tmp_path: Path, call: Call) -> None:
    """Where the answer can't be written, that is said, with exit code 2."""
    with (tmp_path / "out.txt").open("w") as file:
        ran = subprocess.run(
            ["sh", "-c", 'ulimit -f 0; exec portloom "$@"', "sh", *call],
            cwd=ROOT, env=environment, stdout=file, stderr=subprocess.PIPE, encoding="utf-8", check=False,
        )  # fmt: skip
    assert ran.returncode == 2
    assert ran.stderr.startswith("portloom: can't write to stdout: ")
    assert len(ran.stderr.splitlines()) == 1


@third_of("words", QUICK, 1)
def test_quick_commands_do_without_ortools(environment: dict[str, str], words: Call) -> None:
    """Help, lists, schemas and files to start from come without the solver, which takes long to load."""
    code = (
        "import atexit, sys; from portloom.cli.main import main; sys.argv = ['portloom', *sys.argv[1:]];"
        "atexit.register(lambda: print('ortools' in sys.modules, file=sys.stderr)); main()"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code, *words],
        cwd=ROOT,
        env=environment,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert (ran.returncode, ran.stderr) == (0, "False\n")
