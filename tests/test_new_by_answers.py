"""``portloom new`` with answers in a file: nobody is asked, nothing is overwritten, all that is missing is told."""

import shlex
from pathlib import Path

import pytest
import yaml

import unix
from asked_in_terminal import CTRL_C, Asked
from calls import Portloom
from conftest import BIN
from portloom.inputs.starting.unit.file import OF_UNIT
from slices import first_of
from terminal import Terminal

TWIN = """\
new: bike
name: Scripted Twin
frame: parallel twin
lengths: {headstock - seat tray: 66 cm}
spark: coil and box
starter: button
engine stop: run
stand: up
clutch: pulled
neutral: neutral
extras: [horn]
horn by: button
beam switches: [dip switch, flash button]
indicators by: two buttons
brakes: both
"""
SHEET = """\
feed limit: 40 A
outputs: {out 1 to out 4: 15 A, 'out 5, out 6': 8 A}
modes: {all: 'steady, hold, toggle, flash, start, engine-run'}
peaks: {all: 90 A for 100 ms}
inputs: {in 1 to in 13: earth, in 14: 'earth, supply'}
"""


def _call(folder: Path, what: str, answers: str, *more: str) -> tuple[str, ...]:
    (folder / "some.answers").write_text(answers, "utf-8")
    return ("new", what, "--answers", "some.answers", *more)


def test_answers_make_a_bike_that_plans(portloom: Portloom, tmp_path: Path) -> None:
    """The rest is as usual with --yes; the call that is told at the end plans it."""
    ran = portloom(*_call(tmp_path, "bike", TWIN, "--yes", "--out", "twin.yaml"), folder=tmp_path)
    assert (ran.returncode, ran.stdout) == (0, "")
    assert ran.stderr.startswith("twin.yaml is written\nMeasure first:\n  1. the lengths marked 'measure' (12 of 13)")
    planned = portloom(*shlex.split(ran.stderr.splitlines()[-1])[1:], folder=tmp_path)
    assert (planned.returncode, "Scripted Twin on the" in planned.stdout) == (0, True)
    text = (tmp_path / "twin.yaml").read_text("utf-8")
    assert "{between: [headstock, seat tray], length: 66 cm}\n" in text
    assert "{between: [tank, seat tray], length: 390 mm}                          # measure\n" in text
    assert sorted(path.name for path in tmp_path.iterdir()) == ["some.answers", "twin.yaml"]


def test_without_out_it_is_printed(portloom: Portloom, tmp_path: Path) -> None:
    """The same text, and nothing else."""
    call = _call(tmp_path, "bike", TWIN, "--yes")
    portloom(*call, "--out", "twin.yaml", folder=tmp_path)
    ran = portloom(*call, folder=tmp_path)
    assert (ran.stdout, ran.stderr) == ((tmp_path / "twin.yaml").read_text("utf-8"), "")


def test_yes_never_answers_what_must_be_said(portloom: Portloom, tmp_path: Path) -> None:
    """All that is missing is told at once, with what may be said; nothing is written."""
    left_out = "".join(line for line in TWIN.splitlines(keepends=True) if not line.startswith(("stand", "clutch")))
    ran = portloom(*_call(tmp_path, "bike", left_out, "--yes", "--out", "twin.yaml"), folder=tmp_path)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.splitlines() == [
        "some.answers: 'clutch' is not answered: When is the contact of the clutch switch made (closed)? write "
        "'clutch: WORD', the word one of pulled, released, no switch, automatic",
        "some.answers: 'stand' is not answered: When is the contact of the side stand switch made (closed)? write "
        "'stand: WORD', the word one of up, down, none, no switch",
        "More: portloom help files",
    ]
    assert not (tmp_path / "twin.yaml").exists()


@pytest.mark.parametrize(("what", "named"), [("bike", "'frame'"), ("unit", "'feed limit'")])
def test_yes_alone_is_not_enough(portloom: Portloom, what: str, named: str) -> None:
    """What only the builder or the sheet can tell is asked for, with a usual answer for nothing of it."""
    ran = portloom("new", what, "--yes")
    assert (ran.returncode, ran.stdout, named in ran.stderr) == (2, "", True)
    assert "--yes takes what is usual" not in ran.stderr


def test_without_yes_nothing_is_taken_silently(portloom: Portloom, tmp_path: Path) -> None:
    """Where nobody can be asked, what is usual is named, and not taken."""
    ran = portloom(*_call(tmp_path, "bike", TWIN), folder=tmp_path)
    told = "'battery' is not answered: What does the battery hold? write 'battery: 10 Ah', with yours; --yes takes what"
    assert (ran.returncode, told in ran.stderr) == (2, True)


WRONG = (
    ("stand: upp", "some.answers:1:8: 'upp' is not one of these; write up, down, none or no switch"),
    ("stant: up", "some.answers:1:1: no question is called 'stant'; write 'stand'"),
    ("battery: 10", "some.answers:1:10: '10' has no unit; write a capacity in Ah or mAh, such as 10 Ah"),
    ("new: unit", "some.answers:1:6: these are answers for a new unit; call 'portloom new unit', or write 'bike'"),
    ("draws: {horn: 4}", "horn: '4' has no unit; write a current in A or mA, such as 4.2 A"),
    ("{frame: single, spark: own, fuel: none, starter: kick, stand: up}",
     "some.answers:1:56: 'stand' is not asked of such a bike or unit, by the answers before it; leave it out"),
    ("{openings: {headstock - tank: 20 mm}, frame: single}",
     "some.answers:1:2: 'openings' is not asked of such a bike or unit, by the answers before it; leave it out, or "
     "name it in the list 'more'"),
    ("{frame: single, more: [points], points: {box: 30 mm}}", "some.answers:1:41: box: '30 mm' does not say how far"),
    ("stand: up\nstand: down", "some.answers:2:1: "),
    ("- stand", "some.answers:1:1: there is a list where the keys of a bike should be"),
    ("stand: [", "some.answers:2:1: this can't be read; look at the indentation"),
)  # fmt: skip


@pytest.mark.parametrize(("text", "told"), WRONG)
def test_wrong_answers_are_told_with_their_place(portloom: Portloom, tmp_path: Path, text: str, told: str) -> None:
    """Each with file, line and column, and what would be right; nothing is written, and there is no traceback."""
    ran = portloom(*_call(tmp_path, "bike", f"{text}\n", "--yes", "--out", "bike.yaml"), folder=tmp_path)
    assert (ran.returncode, ran.stdout, (tmp_path / "bike.yaml").exists()) == (2, "", False)
    assert told in ran.stderr, ran.stderr
    assert "Traceback" not in ran.stderr


def test_all_wrong_answers_are_told_at_once(portloom: Portloom, tmp_path: Path) -> None:
    """A line each, in the order of the file."""
    ran = portloom(*_call(tmp_path, "bike", "stand: upp\nclutch: pushed\nname: ''\nfoo: 1\n"), folder=tmp_path)
    assert [line.split(" ")[0] for line in ran.stderr.splitlines()] == [
        "some.answers:1:8:", "some.answers:2:9:", "some.answers:3:7:", "some.answers:4:1:", "More:",
    ]  # fmt: skip


def test_a_wrong_answer_makes_no_other_one_wrong(portloom: Portloom, tmp_path: Path) -> None:
    """What is asked after it may hang on it: that is told only once it is right."""
    text = "frame: single\nlamps: [chair lamp]\nbulbs: {tail lamp: 4 W led}\nhorn by: button\nhazard: 'no'\n"
    ran = portloom(*_call(tmp_path, "bike", text, "--yes"), folder=tmp_path)
    assert (ran.returncode, "'chair lamp' is not one of these" in ran.stderr) == (2, True)
    assert "is not asked" not in ran.stderr


def test_nothing_is_overwritten(portloom: Portloom, tmp_path: Path) -> None:
    """A file that is there stays, and so does a folder's absence."""
    (tmp_path / "mine.yaml").write_text("bike: mine\n", "utf-8")
    for name in ("mine.yaml", "away/bike.yaml"):
        ran = portloom(*_call(tmp_path, "bike", TWIN, "--yes", "--out", name), folder=tmp_path)
        assert (ran.returncode, ran.stdout) == (2, "")
    assert (tmp_path / "mine.yaml").read_text("utf-8") == "bike: mine\n"


# --- a unit


def test_a_sheet_makes_a_unit(portloom: Portloom, tmp_path: Path) -> None:
    """By groups; what the sheet leaves open is named, in the file and at the end, and a bike is planned on it."""
    ran = portloom(*_call(tmp_path, "unit", SHEET, "--yes", "--out", "six.yaml"), folder=tmp_path)
    assert (ran.returncode, ran.stdout) == (0, "")
    assert "the trips of out 1 to out 6" in ran.stderr
    text = (tmp_path / "six.yaml").read_text("utf-8")
    assert "#   the trips of out 1 to out 6\n" in text
    written = yaml.safe_load(text)
    assert [(entry["names"], entry["limit"]) for entry in written["outputs"]] == [
        (["out 1", "out 2", "out 3", "out 4"], "15 A"),
        (["out 5", "out 6"], "8 A"),
    ]
    planned = portloom("plan", "examples/bare-single.yaml", "--unit", str(tmp_path / "six.yaml"))
    assert (planned.returncode, planned.stderr) == (0, "")


@first_of("name", ["six-way", "twenty-four-way", "eight-way", "eleven-way", "fourteen-way"], 1)
def test_like_another_is_planned_as_that(portloom: Portloom, tmp_path: Path, name: str) -> None:
    """What was taken over plans a bike as the other unit does; what was not, is said."""
    ran = portloom("new", "unit", "--like", name, "--yes", "--out", "mine.yaml", folder=tmp_path)
    assert ran.returncode == 0
    assert f"Not taken over from the {name}, as nothing asks for it: terminal" in ran.stderr
    mine, theirs = (
        portloom("plan", "examples/bare-single.yaml", "--unit", unit, "--json").stdout
        for unit in (str(tmp_path / "mine.yaml"), name)
    )
    told = [
        [(one["port"], one["loads"], one["trip_a"]) for one in yaml.safe_load(text)["outputs"]]
        for text in (mine, theirs)
    ]
    assert told[0] == told[1] != []


def test_like_is_for_units(portloom: Portloom) -> None:
    """A bike is like no unit, and a unit is like one that there is."""
    assert portloom("new", "bike", "--like", "six-way").returncode == 2
    ran = portloom("new", "unit", "--like", "sixx-way", "--yes")
    assert (ran.returncode, "no bundled unit is called 'sixx-way'" in ran.stderr) == (2, True)


UNIT_SAID = {
    "file": ["ten-way.yaml"],
    "name": ["ten-way"],
    "feed limit": ["", "36", "36 A"],
    "largest main fuse": ["33 A", "35 A"],
    "outputs": ["", "out 1 to out 4", "out 1 to out 4: 10 A", "out 5-10: 6A"],
    "modes": ["out 1 to out 4: steady, hold, start", "", "out 5 to out 10: steady, hold, blink",
              "out 5 to out 10: steady, hold, flash"],
    "peaks": ["all: 5 A", "out 1 to out 4: 90 A for 100 ms; out 5 to out 10: 45 A for 100 ms"],
    "trips": ["out 1 to out 4: 4 A, 8 A, 10 A; out 5 to out 10: 1 A, 2 A, 4 A, 6 A", CTRL_C],
    "coils and motors": ["all: yes"],
    "inputs": ["in 1 to in 11: earth; in 12: earth, supply"],
    "faces": ["feed: rear; out 5 to out 10: rear"],
    "thickest wires": ["feed: 10 mm2; out 1 to out 4: 2.5 mm2; out 5 to out 10: 1.5 mm2"],
}  # fmt: skip


@unix.terminal
@first_of("columns", [80, 120], 1)
def test_a_sheet_is_typed_in_a_terminal(
    environment: dict[str, str], portloom: Portloom, tmp_path: Path, columns: int
) -> None:
    """Group by group, with slips, stopped and gone on with; each question fits, and a bike is planned on the unit."""
    asked = Asked("unit", OF_UNIT, UNIT_SAID, tmp_path, environment, columns)
    assert (asked.code, asked.unsaid, len(asked.calls)) == (0, {}, 2)
    assert [line for line in asked.seen.splitlines() if len(line) >= columns] == []
    assert max(screen.partition("question ")[2].count("\n") for screen in asked.screens) <= 22
    for slip in ("nothing is usual here", "'36' has no unit", "there is no blade fuse of 33 A", "nothing is said of"):
        assert f"! {slip}" in asked.seen
    planned = portloom("plan", "examples/half-wired-single.yaml", "--unit", str(tmp_path / "ten-way.yaml"))
    assert (planned.returncode, "on the ten-way: FITS" in planned.stdout) == (0, True)


# --- in a terminal, what is special there


def _terminal(folder: Path, environment: dict[str, str], *words: str) -> Terminal:
    return Terminal([str(BIN / "portloom"), "new", *words], folder, environment)


@unix.terminal
def test_the_end_of_what_is_typed_keeps_the_answers(environment: dict[str, str], tmp_path: Path) -> None:
    """Ctrl-D ends with 2, and says how to go on."""
    terminal = _terminal(tmp_path, environment, "bike", "--out", "my bike.yaml")
    terminal.screen()
    terminal.type("Late Single")
    end = terminal.press(b"\x04")
    assert (
        "stopped: your answers are kept in my bike.answers; go on with:\n  portloom new bike --out 'my bike.yaml'\n"
        in end
    )
    assert terminal.end() == 2
    assert "name: Late Single\n" in (tmp_path / "my bike.answers").read_text("utf-8")


@unix.terminal
def test_what_is_there_is_not_asked_for(environment: dict[str, str], tmp_path: Path) -> None:
    """A name that is taken is told before the first question; without one the next that is free is offered."""
    (tmp_path / "my-bike.yaml").write_text("bike: mine\n", "utf-8")
    taken = _terminal(tmp_path, environment, "bike", "--out", "my-bike.yaml")
    assert "names what is there already" in taken.screen()
    assert taken.end() == 2
    free = _terminal(tmp_path, environment, "bike")
    assert "Enter: my-bike-2.yaml." in free.screen()
    assert "! --out names what is there already" in free.type("my-bike.yaml")
    free.press(b"\x03")
    assert free.end() == 130
    assert sorted(path.name for path in tmp_path.iterdir()) == ["my-bike.yaml"]


@unix.terminal
def test_other_answers_are_not_lost(environment: dict[str, str], tmp_path: Path) -> None:
    """Answers that were kept stay, where others are given for the same file; and what is no answers is never taken."""
    (tmp_path / "b.answers").write_text("name: Kept\n", "utf-8")
    (tmp_path / "some.answers").write_text("name: Given\n", "utf-8")
    terminal = _terminal(tmp_path, environment, "bike", "--answers", "some.answers", "--out", "b.yaml")
    assert "there are answers in b.answers already, which would be lost" in " ".join(terminal.screen().split())
    assert terminal.end() == 2
    (tmp_path / "b.answers").write_text("my notes\n", "utf-8")
    terminal = _terminal(tmp_path, environment, "bike", "--out", "b.yaml")
    assert "b.answers:1:1: there is a word where the keys of a bike should be" in terminal.screen()
    assert terminal.end() == 2
    assert (tmp_path / "b.answers").read_text("utf-8") == "my notes\n"
