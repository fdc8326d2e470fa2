"""A plan's first screen: forty lines of eighty columns, nothing that warns hidden, the rest by its headings.

A terminal of 80 x 40 is what the first screen promises; examples and bundled units are made up. What must be on it is
taken from the plan's JSON and the bike's file, in which no screen has a part.
"""

import json
import re
from pathlib import Path
from typing import Any

import pytest

import unix
from calls import HARBOUR, ROOT, Call, Portloom
from portloom.cli.plan import parts_named
from portloom.inputs.files import bundled_units
from portloom.inputs.problems import BadFile
from portloom.report.text.plan import PARTS
from slices import first_of, later, slices
from terminal import on_a_screen, without_colour

EXAMPLES = sorted(path.stem for path in (ROOT / "examples").glob("*.yaml"))
UNITS = [name for name, _ in bundled_units()]
SOME = (("harbour-trail", "eleven-way"), ("bare-single", "six-way"))
OTHERS = tuple((bike, unit) for bike in EXAMPLES for unit in UNITS)
ROOM = 40


def _call(bike: str, unit: str) -> Call:
    return "plan", f"examples/{bike}.yaml", "--unit", unit


def _squeezed(text: str) -> str:
    return " ".join(text.split())


@unix.terminal
@slices("pairs", SOME, OTHERS)
def test_it_fits_forty_lines_of_eighty(
    portloom: Portloom, environment: dict[str, str], pairs: tuple[tuple[str, str], ...]
) -> None:
    """On each example with each unit that fits: verdict, warnings, outputs and switches, what to buy, headings."""
    for bike, unit in pairs:
        document = json.loads(portloom(*_call(bike, unit), "--json").stdout)
        if document["status"] != "planned":
            continue
        lines = without_colour(on_a_screen(environment, 80, _call(bike, unit))[1])
        screen = lines[: next(n for n, line in enumerate(lines) if "all of it: --full" in line) + 1]
        assert len(screen) <= ROOM, (bike, unit)
        assert max(map(len, screen)) <= 80
        _has_all(_squeezed("\n".join(screen)), screen, document)


def _has_all(text: str, screen: list[str], document: dict[str, Any]) -> None:
    """Look for the verdict, each output with its loads, what to buy, and a sign of every warning."""
    assert f"{document['bike']} on the {document['unit']}: FITS, proven best." in text
    rows = _rows(screen)
    assert [row[0] for row in rows] == [line["port"] for line in document["outputs"]]
    for row, line in zip(rows, document["outputs"], strict=True):
        assert all(set(load.split()) <= set(re.split(r"[ ,]+", row[1])) for load in line["loads"])
    assert all(line["name"] in text for line in document["fed"])
    assert f"To buy: the {document['unit']}; main fuse {document['feed']['main_fuse_a']:g} A; wire as cut: " in text
    assert "WARNING, before anything else" in text
    assert all(rule["rule"] in text for rule in document["set_aside"])
    assert re.search("warnings?( more)?, in full below|Warnings:", text)


def _rows(screen: list[str]) -> list[tuple[str, str]]:
    """Return each output of the table with the words of its row."""
    first = next(n for n, line in enumerate(screen) if re.match("  -{5,}$", line)) + 1
    rows: list[tuple[str, str]] = []
    for line in screen[first:]:
        if found := re.match(r"  (out \d+) (.*)", line):
            rows.append((found[1], found[2]))
        elif rows and line.startswith("    "):
            rows[-1] = (rows[-1][0], f"{rows[-1][1]} {line}")
        else:
            break
    return rows


def test_by_which_switch(portloom: Portloom) -> None:
    """Beside each load stand the switches that the file has for it; one that nobody works says when it is on."""
    lines = portloom(*_call("bare-single", "six-way"), "--plain").stdout.splitlines()
    by = {
        lines[n - 1].removeprefix("loads: "): line.removeprefix("by: ")
        for n, line in enumerate(lines)
        if line[:3] == "by:"
    }
    assert by["main beam"] == by["dipped beam"] == "dip button"
    assert by["brake lamp"] == "front brake switch, rear brake switch"
    assert by["ignition coil"] == "itself, with the key on"


@pytest.mark.parametrize("how", [(), ("--full",), ("--only", "warnings,not-judged")], ids=" ".join)
@first_of("call", [_call("bare-single", "six-way"), HARBOUR, _call("sidecar-hauler", "twenty-way")], 3)
def test_nothing_that_warns_is_hidden(portloom: Portloom, call: Call, how: Call) -> None:
    """Every warning, all that is set aside or not judged, and every caution is there in full, once."""
    document = json.loads(portloom(*call, "--json").stdout)
    printed = _squeezed(portloom(*call, *how).stdout)
    aside = [f"rule {rule['rule']}: {rule['reason']}" for rule in document["set_aside"]]
    wanted = [*document["warnings"], *document["cautions"], *document["not_yet_judged"], *aside]
    assert [printed.count(_squeezed(line)) for line in wanted] == [1] * len(wanted)
    assert printed.endswith(_squeezed(document["cautions"][-1]))


def test_what_is_asked_for_is_printed_at_once(portloom: Portloom, tmp_path: Path) -> None:
    """Trade-offs, and the change order of a built loom, are answers and no headings."""
    assert "\nTrade-offs: less wire against more" in portloom(*HARBOUR, "--trade-offs").stdout
    (tmp_path / "built.json").write_text(portloom(*HARBOUR, "--json").stdout, "utf-8")
    assert "\nChange order, for the loom as built" in portloom(*HARBOUR, "--built", str(tmp_path / "built.json")).stdout


# --- by headings


@pytest.mark.parametrize("step", [8, *later((4, 1))])
def test_the_headings_named_are_those_there_are(portloom: Portloom, step: int) -> None:
    """The last line names what '--full' has and the screen has not; each by itself prints what stands there in full."""
    short, full = portloom(*HARBOUR).stdout, portloom(*HARBOUR, "--full").stdout
    named = re.search(r"--only, with any of (.*); all of it", _squeezed(short))
    assert named
    for name in named[1].split(", ")[::step]:
        part = portloom(*HARBOUR, "--only", name).stdout
        told = part.partition("--only warnings\n")[2].rpartition("\nCAUTION\n")[0]
        assert len(told.strip().splitlines()) > 1
        assert told in full
    whole = portloom(*HARBOUR, "--only", ",".join(PARTS)).stdout
    parts = whole[whole.index("\nWarnings\n") :].partition("\nNothing in this plan: ")[0]
    assert parts.strip() in full


def test_some_headings_only(portloom: Portloom) -> None:
    """What is picked is printed in the plan's order, after what can hurt and the verdict, before the cautions."""
    ran = portloom(*HARBOUR, "--only", "returns, Looms")
    assert ran.returncode == 0
    at = [
        ran.stdout.index(word)
        for word in ("WARNING", ": FITS", "Five warnings: --only warnings", "\nReturns\n", "\nLooms", "\nCAUTION")
    ]
    assert at == sorted(at)
    assert "\nOutputs" not in ran.stdout
    assert "Nothing in this plan: legs and not-judged." in portloom(*HARBOUR, "--only", "legs,looms,not judged").stdout


def test_an_unknown_heading(portloom: Portloom) -> None:
    """One error names every heading that is none, and lists those there are; nothing is planned, nothing printed."""
    ran = portloom(*HARBOUR, "--only", "looms,lombs, legz")
    assert (ran.returncode, ran.stdout) == (2, "")
    (line,) = ran.stderr.splitlines()
    assert line.startswith("portloom plan: a plan has no headings 'lombs' and 'legz'; the headings are change-order, ")
    assert all(name in line for name in PARTS)
    with pytest.raises(BadFile, match="a plan has no heading ''"):
        parts_named("")
    for other in ("--full", "--json"):
        assert portloom(*HARBOUR, "--only", "looms", other).returncode == 2


def test_the_headings_are_told(portloom: Portloom) -> None:
    """The topic has every heading."""
    told = _squeezed(portloom("help", "screens").stdout)
    assert f"Headings: {', '.join(PARTS)}." in told
