"""Answers on real terminals: how wide, with which attributes, in which form; the bikes are made up.

What is taken from outside: https://no-color.org (no attributes where NO_COLOR is set and not empty); ECMA-48 (SGR, EL).
"""

import json
import re
import subprocess
from io import StringIO

import pytest
from rich.console import Console

import unix
from calls import DIMLESS, HARBOUR, ROOT, WHY_HARBOUR, Call, Portloom
from portloom.report.text.layout import TableColumn, TextPage
from slices import first_of
from terminal import ANSI, WAITING, on_a_screen, without_colour

COMPARE: Call = ("compare", "examples/bare-single.yaml", "--unit", "six-way", "--unit", "eight-way")
RULE = re.compile(r"  -{5,}$", re.MULTILINE)
"""The line below a table's titles."""
BOXES = re.compile("[\u2500-\u259f\u2800-\u28ff]")
"""Box drawing, blocks, and the dots that some programs make pictures of: Unicode's charts."""


def _lines(environment: dict[str, str], columns: int, call: Call) -> list[str]:
    code, shown = on_a_screen(environment, columns, call)
    assert code == 0
    return without_colour(shown)


@unix.terminal
@first_of("columns", (80, 250, 120, 140), 2)
def test_a_screen_is_used_as_far_as_it_is_wide(environment: dict[str, str], columns: int) -> None:
    """No line is wider than the screen, none than 140; a wide one is used."""
    widest = max(len(line) for line in _lines(environment, columns, COMPARE))
    most = min(columns, 140)
    assert most - 20 < widest <= most


@first_of("columns", ("40", "200"), 1)
def test_elsewhere_it_has_a_hundred_columns(portloom: Portloom, environment: dict[str, str], columns: str) -> None:
    """In a pipe a line has 100 columns at most, whatever the terminal that it was called in says of itself."""
    plain = portloom(*COMPARE).stdout
    ran = subprocess.run(
        ["portloom", *COMPARE], cwd=ROOT, env={**environment, "COLUMNS": columns}, capture_output=True,
        encoding="utf-8", check=False,
    )  # fmt: skip
    assert ran.stdout == plain
    assert 90 < max(map(len, plain.splitlines())) <= 100


@unix.terminal
@pytest.mark.parametrize("call", [COMPARE, HARBOUR, ("units",)], ids=" ".join)
def test_tables_stay_tables_at_80(portloom: Portloom, environment: dict[str, str], call: Call) -> None:
    """What is a table at 100 columns is one at 80, or two, one below the other."""
    _, shown = on_a_screen(environment, 80, call)
    narrow = "\n".join(without_colour(shown))
    assert max(map(len, narrow.splitlines())) <= 80
    assert len(RULE.findall(narrow)) >= len(RULE.findall(portloom(*call).stdout)) > 0


def test_a_table_in_two_parts_loses_nothing() -> None:
    """Both parts have the first column, and all others come once, in their order."""
    columns: list[TableColumn] = [(f"title {number}", "right") for number in range(7)]
    rows = [[f"{row}.{number:09}" for number in range(7)] for row in range(3)]
    file = StringIO()
    TextPage(Console(file=file, width=60)).table(columns, rows)
    parts = file.getvalue().split("\n\n")
    cells = [[line.split() for line in part.splitlines() if "." in line] for part in parts]
    assert len(parts) == 2
    assert [one + other[1:] for one, other in zip(*cells, strict=True)] == rows


# --- attributes


@unix.terminal
@first_of(
    ("value", "bare", "call"),
    [("1", True, HARBOUR), ("", False, ("units",)), ("1", True, ("units",)), ("", False, HARBOUR)],
    2,
)
def test_no_color_takes_every_attribute(environment: dict[str, str], value: str, bare: bool, call: Call) -> None:  # noqa: FBT001
    """Neither colour nor bold is left where NO_COLOR says something; where it is empty, it says nothing."""
    _, shown = on_a_screen({**environment, "NO_COLOR": value}, 100, call)
    assert (re.search("\x1b\\[[0-9;]*m", shown) is None) == bare


# --- what is being done


@unix.terminal
def test_work_says_what_it_is_doing_and_how_long_it_may_take(environment: dict[str, str]) -> None:
    """After a second a line on stderr tells, and is gone in the end; nothing of it is on stdout."""
    _, shown = on_a_screen(environment, 100, ("why", "examples/market-parallel.yaml", "--unit", "eleven-way"))
    steps = WAITING.findall(shown)
    assert any(re.search(r"in the way: [^\n]*, \d+ s \(mostly under 20 s\)", step) for step in steps)
    assert steps[-1] == "\r\x1b[2K"
    assert all(len(step) - 5 < 100 for step in steps)


@pytest.mark.long
@unix.terminal
def test_work_says_its_limit(environment: dict[str, str]) -> None:
    """Where there is a limit of time, the line tells that."""
    limited = on_a_screen(environment, 100, (*WHY_HARBOUR, "--time-limit", "90"))[1]
    assert "(90 s at most)" in limited or "looking" not in limited


# --- without tables

PLAIN: tuple[Call, ...] = (
    HARBOUR, COMPARE, ("units",), ("keys", "bike"), ("check", "examples/harbour-trail-posted.md", *HARBOUR[1:]),
    ("why", *DIMLESS[1:]), ("rules",), ("parts",), WHY_HARBOUR,
    ("why", "examples/winter-trail.yaml", "--unit", "fourteen-way"),
)  # fmt: skip


@first_of("call", PLAIN, 6)
def test_plain_has_no_tables(portloom: Portloom, call: Call) -> None:
    """No line of a table, no indent, no rule, no box, one fact a line; and the same exit code."""
    ran, usual = portloom(*call, "--plain"), portloom(*call)
    assert (ran.returncode, ran.stderr) == (usual.returncode, usual.stderr)
    lines = ran.stdout.splitlines()
    assert [line for line in lines if line != line.strip() or "   " in line or re.search("-{3}", line)] == []
    assert BOXES.search(ran.stdout) is None


def test_plain_says_label_and_value(portloom: Portloom) -> None:
    """Each cell has its title before it, the figures of the plan in JSON; what is nothing is not said."""
    plan = json.loads(portloom("plan", COMPARE[1], "--unit", "eight-way", "--json").stdout)
    lines = portloom(*COMPARE, "--plain").stdout.splitlines()
    at = lines.index("unit: eight-way")
    told = dict(line.split(": ", 1) for line in lines[at : at + 9])
    assert told["price"] == "185"
    assert told["wire and spare ports"] == f"{plan['cost_mm'] / 1000:.3f} m"
    assert told["place"] == plan["place"] or told["place"].endswith(plan["place"])


@unix.terminal
def test_plain_shows_no_moving_line(environment: dict[str, str]) -> None:
    """On a terminal nothing is written over: what is done stays as lines of its own."""
    _, shown = on_a_screen(environment, 80, ("why", "examples/winter-trail.yaml", "--unit", "six-way", "--plain"))
    assert "\r\x1b" not in shown
    assert ANSI.search(shown) is None
    assert re.search(r"^(looking|it does not fit|in the way).*, \d+ s \(mostly under 20 s\)$", shown, re.MULTILINE)
