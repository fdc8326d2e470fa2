"""Three bikes from an empty folder to all their sheets, without an editor, in a real terminal and in a wide one.

Each is answered with the slips that people make: a wrong word, a figure out of range, a unit left out, Enter where
nothing is usual, Ctrl-C in the middle, and an answer that is changed later. What was on the screen is kept as a whole.
"""

import shlex
from collections.abc import Callable, Mapping, Sequence
from functools import cache
from pathlib import Path

import pytest

import unix
from asked_in_terminal import CTRL_C, Asked
from calls import ROOT, Portloom
from portloom.inputs.starting.bike.file import OF_BIKE
from slices import first_of

WIDTHS = (80, 120)
ROWS = 24
KEPT = ROOT / "tests" / "golden" / "asked"
BIKES: dict[str, Mapping[str, Sequence[str]]] = {
    "fen-single": {
        "file": ["fen-single", "fen-single.yaml"],
        "name": ["Fen Single 350"],
        "frame": ["", "singel", "single"],
        "lengths": ["headstock - tail: 400 mm", "seat tray - tail: 510", "seat tray - tail: 510 mm"],
        "lamps": ["+ plat lamp", "- position lamp"],
        "bulbs": ["dipped beam: HS1; main beam: HS1", "tail lamp: 4 W", "tail lamp: 4 W led"],
        "brakes": ["rear of two", "both"],
        "spark": ["back", "magneto", "coil and points"],
        "starter": ["kick"],
        "engine stop": ["", "on", "run"],
        "stand": ["3"],
        "draws": ["horn 2.5 A; ignition coil: 60 A", "horn 2.5 A"],
        "lamps sit": [CTRL_C],
        "battery": ["500 Ah", "7", "7 Ah"],
    },
    "quay-twin": {
        "file": ["quay-twin.yaml"],
        "name": ["Quay Twin: 700"],
        "frame": ["twin", "parallel twin"],
        "lengths": ["headstock - seat tray 9 m", "headstock - seat tray 66 cm", CTRL_C],
        "unit sits": ["none", "1, 2"],
        "bulbs": ["indicators: 2 W led", "front indicators: WY5W"],
        "beam switches": ["dip switch, dip button", "+ pass button"],
        "hazard": ["yes"],
        "spark": ["", "3"],
        "pump by": ["", "unit"],
        "engine speed": ["", "tach", "tacho"],
        "engine stop": ["run"],
        "stand": ["up"],
        "clutch": ["pushed", "pulled", "released"],
        "neutral": ["back", ""],
        "extras": ["horn, ABS", "horn, fan, speedo, phone charger"],
        "fan by": ["own"],
        "dash shows": ["oil light", "+ oil pressure switch, + fuel sender"],
        "draws": ["fuel pump: 5,5 A", "fuel pump: 5.5 A; horn: 3.5 A", "engine controller: 2"],
        "loads sit": ["battery: left handlebar", "fuel pump: seat tray"],
        "alternator": ["at idle: 120", "at idle: 120 W; at cruising speed: 320 W; fuse of its lead: 30 A"],
        "wire": ["1.5", "0.5 mm2, 1 mm2, 1.5 mm2, 2.5 mm2, 4 mm2, 6 mm2, 10 mm2"],
    },
    "hill-outfit": {
        "file": [""],
        "name": ["Hill Outfit 1100"],
        "frame": ["4"],
        "lengths": ["chair mount - chair tail: 12 m", "chair mount - chair tail: 870 mm"],
        "more": ["panniers", "1, openings, later, supply switches, alongside"],
        "points": ["trunk lamp: 30 from chair tail", "trunk lamp: 30 cm from chair tail"],
        "openings": ["chair mount - chair nose: 12 mm", "chair mount - chair nose: 14 mm", CTRL_C],
        "later": ["+ heated seat", "heated seat: 40 W; heated grips: none"],
        "supply switches": ["front brake", "front brake switch, rear brake switch"],
        "alongside": ["chair sender: 0.5 mm2", "chair hose: chair seat to engine, 12 mm"],
        "earth points": ["- 1", "+ headstock"],
        "unit sits": ["back", ""],
        "lamps": ["all", "+ instrument lamps, + indicator tell-tale"],
        "indicators by": ["one switch"],
        "brakes": ["7", ""],
        "spark": ["igniter", "coil and box"],
        "engine stop": ["", "stop"],
        "stand": ["no switch"],
        "clutch": ["", "automatic"],
        "neutral": ["gear"],
        "fall sensor": ["unit"],
        "extras": ["horn, heated grips, cool box", "horn, hot grips"],
        "heat by": ["level"],
        "draws": ["heated grips: 36", "heated grips: 36 W; starter solenoid: 11 A", "", "starter solenoid: 4 A"],
        "pull in": ["", "5 A", "back"],
        "switches sit": ["key switch: tank bag", "key switch: tank"],
        "end": ["back", ""],
    },
}  # fmt: skip
LENGTH_OF_SLIPS = 6
"""Slips that each of them makes, Ctrl-C and the answer that is changed among them."""
AskedBike = Callable[[str, int], tuple[Asked, Path]]


@pytest.fixture(scope="module")
def asked(environment: dict[str, str], tmp_path_factory: pytest.TempPathFactory) -> AskedBike:
    """Return what answers for one bike in a terminal of some width, once, and the folder in which it does."""

    @cache
    def answer(name: str, columns: int) -> tuple[Asked, Path]:
        folder = tmp_path_factory.mktemp(name)
        return Asked("bike", OF_BIKE, BIKES[name], folder, environment, columns), folder

    return answer


WIDE = "quay-twin"
"""The one that is answered in a wide terminal every time, too: each takes seconds."""
SOON = [(WIDE, WIDTHS[0]), (WIDE, WIDTHS[1]), (min(BIKES), WIDTHS[0])]
SCREENS = [*SOON, *((name, columns) for columns in WIDTHS for name in BIKES if (name, columns) not in SOON)]
each_bike = first_of(("name", "columns"), SCREENS, len(SOON))


@unix.terminal
@each_bike
def test_what_is_on_the_screen(asked: AskedBike, rewrite: bool, name: str, columns: int) -> None:  # noqa: FBT001
    """All of it is as it was kept; everything that was to be typed was asked for."""
    answers, _ = asked(name, columns)
    file = KEPT / f"{name}-{columns}.txt"
    if rewrite:
        file.parent.mkdir(exist_ok=True)
        file.write_text(answers.seen, "utf-8")
    assert answers.seen == file.read_text("utf-8")
    assert (answers.code, answers.unsaid) == (0, {})


@unix.terminal
@each_bike
def test_each_question_fits_the_screen(asked: AskedBike, name: str, columns: int) -> None:
    """No line is as wide as the screen, and a question with its default, a slip and the prompt is not higher."""
    answers, _ = asked(name, columns)
    asked_for = [screen for screen in answers.screens if "question " in screen]
    assert len(asked_for) > 25
    assert all("Enter: " in screen or "Write " in screen for screen in asked_for)
    assert [line for line in answers.seen.splitlines() if len(line) >= columns] == []
    tallest = max((screen.partition("question ")[2] for screen in asked_for), key=lambda shown: shown.count("\n"))
    assert tallest.count("\n") + 2 <= ROWS, tallest


@unix.terminal
@each_bike
def test_slips_are_told_at_once(asked: AskedBike, name: str, columns: int) -> None:
    """Each slip brings a line of what would be right, no traceback, and the same question once more."""
    answers, _ = asked(name, columns)
    slips = [line for line in answers.seen.splitlines() if line.startswith("! ")]
    assert len(slips) >= LENGTH_OF_SLIPS
    for kind in ("is not one of these", "out of range", "has no unit", "nothing is usual here"):
        assert any(kind in slip for slip in slips), kind
    assert answers.seen.count("interrupted\nyour answers are kept in ") == 1
    assert "> back\n" in answers.seen
    assert "Traceback" not in answers.seen


@unix.terminal
@first_of("name", sorted(BIKES), 1)
def test_one_run_to_the_first_plan(asked: AskedBike, portloom: Portloom, name: str) -> None:
    """The call that is told at the end plans at once, and all sheets are there with one more; nobody edits a file."""
    answers, folder = asked(name, WIDTHS[0])
    call = shlex.split(answers.seen.splitlines()[-1])
    planned = portloom(*call[1:], folder=folder)
    assert (call[1], planned.returncode) == ("plan", 0), planned.stdout + planned.stderr
    assert "FITS, proven best" in planned.stdout
    sheets = portloom("sheets", *call[2:], "--out", "bench", folder=folder)
    assert (sheets.returncode, len(list((folder / "bench").iterdir())) > 10) == (0, True), sheets.stderr


@unix.terminal
@first_of("name", sorted(BIKES, key=lambda name: name != WIDE), 1)
def test_widths_change_no_answer(asked: AskedBike, name: str) -> None:
    """The same answers make the same file, however wide the screen is."""
    one, other = (next(asked(name, columns)[1].glob("*.yaml")).read_bytes() for columns in WIDTHS)
    assert one == other
