"""Fixes written into a file: only what the fix says is changed, and the new file is planned at the cost that was told.

The bikes and units are made up, each so that one kind of change is the least effort.
"""

import json
import os
from codecs import BOM_UTF8
from collections.abc import Callable
from dataclasses import dataclass
from difflib import ndiff
from pathlib import Path
from typing import Any

import pytest

import unix
from calls import Portloom, Ran
from slices import first_of

BIKE = """\
# A trial single, written by hand: comments, order and odd   spaces are to stay.
bike: trial single     # her name
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame:
  # The way along the backbone is short and narrow.
  legs:
    - {between: [tray, tail], length: 500 mm%s}   # under the seat
    - {between: [tray, neck], length: 300 mm}
%s  earth: [tray, tail]
places:
  - {name: on the tray, front: tray}
%sloads:
%s
later: []    # nothing more, ever
%s
"""
KEY = "inputs: [{part: key switch, at: neck}]"
UNIT = """\
unit: trial way
feed: {limit: 40 A}
outputs:
%s
inputs: [{names: [in 1], accepts: earth}]
"""
OUTPUT = "  - {name: %s, limit: 10 A, peak: 60 A, trip: [2 A, 5 A, 10 A], %sswitch_modes: [steady, hold, timed]}"


@dataclass(frozen=True)
class Trial:
    """A bike that does not fit a unit, the sentence of its first fix, and how its file's lines change by that."""

    kind: str
    sentence: str
    loads: tuple[str, ...]
    outputs: tuple[str, ...]
    lines: tuple[str, ...]
    opening: str = ""
    legs: str = ""
    places: str = ""
    button: str = "tray"
    """Where the horn's button is."""
    more: str = ""

    @property
    def bike(self) -> str:
        button = (f"inputs: [{{part: horn button, at: {self.button}}}]",) if {HORN, REAR_HORN} & set(self.loads) else ()
        loads, more = "\n".join(self.loads), "\n".join(("ignition: own", *button, *filter(None, (self.more,))))
        return BIKE % (self.opening, self.legs, self.places, loads, more)

    @property
    def unit(self) -> str:
        return UNIT % "\n".join(self.outputs)

    def __str__(self) -> str:
        return self.kind


ONE, TWO = OUTPUT % ("out 1", ""), OUTPUT % ("out 2", "")
TAIL = "  - {name: tail lamp, part: tail lamp, at: tail, current: 0.5 A, kind: led, return: frame}"
LEFT = "  - {name: left eye, part: daytime lamp, at: neck, current: 0.5 A}"
RIGHT = "  - {name: right eye, part: daytime lamp, at: neck, current: 0.4 A}   # new"
BEAM = "  - {name: beam, part: main beam, at: neck, lamp: H4 main, when: [main beam], own_switch: neck}   # bright"
HORN = "  - {name: horn, part: horn, at: neck, current: 3 A, kind: horn, when: [horn]}"
REAR_HORN = HORN.replace("neck", "tail")
CAMERA = "  - {name: camera, at: neck, current: 1 A, when: [key on], mode: timed}"
SOCKET = "  - {name: socket, at: tail, current: 3 A, when: [asleep, day, night]}"
WINCH = "  - {name: winch, at: tail, current: 15 A, kind: motor}"
WITH_CAMERA = (
    "  - {name: tell-tale, at: neck, current: 0.1 A, kind: led, from: [camera]}",
    "inputs:",
    "  - {name: camera button, at: neck, signal: earth, operates: [camera]}",
)
OPENS = (
    "    - {between: [tray, tail], length: 500 mm, opening: 3 mm, opens_to: 12.5 mm, opens: grommet}   # under the seat"
)


def added(line: str, words: str) -> tuple[str, str]:
    """Return how a line changes that gets more words at the end of its entry."""
    entry, _, comment = line.rpartition("}")
    return f"- {line}", f"+ {entry}, {words}}}{comment}"


TRIALS = (
    Trial(
        "sharing",
        "Let left eye and right eye share an output.",
        (LEFT, RIGHT),
        (ONE,),
        (*added(LEFT, "share: left eye"), *added(RIGHT, "share: left eye")),
    ),
    Trial(
        "another way round",
        "Route the wire of tail lamp another way around tray - tail.",
        (TAIL, REAR_HORN),
        (ONE, TWO),
        added(TAIL, "avoid: [tray - tail]"),
        opening=", opening: 4 mm",
        legs="    - {name: the long way, between: [tail, tray], length: 900 mm}\n",
    ),
    Trial(
        "LED lamp",
        "Fit an LED lamp unit of 31.9 W as beam.",
        (BEAM,),
        (ONE.replace("60 A", "40 A"),),
        (f"- {BEAM}", f"+ {BEAM.replace('lamp: H4 main, ', '').replace('}', ', power: 31.9 W, kind: led}')}"),
    ),
    Trial(
        "suppressor",
        "Put a suppressor across horn.",
        (HORN,),
        (OUTPUT % ("out 1", "inductive: false, "),),
        added(HORN, "suppressed: true"),
    ),
    Trial(
        "place",
        "Mount the unit at tail.",
        (TAIL, REAR_HORN),
        (ONE, TWO),
        ("+   - {name: at tail, front: tail, rear: tail}",),
        # Three of 1.7 mm are 1.25 x sqrt(3 x 2.89) + 1 = 4.68 mm; at the tail the feed and the earth of the same size
        # are side by side 4.4 mm.
        opening=", opening: 4.4 mm",
        button="tail",
        more="assume: {unit earth: 0.5 mm2}",
    ),
    Trial(
        "opened up",
        "Open up the grommet in tray - tail from 3 mm to 12.5 mm.",
        (TAIL, REAR_HORN),
        (ONE, TWO),
        (f"- {OPENS}", f"+ {OPENS.replace('opening: 3 mm', 'opening: 12.5 mm')}"),
        opening=", opening: 3 mm, opens_to: 12.5 mm, opens: grommet",
        places="  - {name: in the tail, front: tail}\n  - {name: behind the neck, front: neck}\n",
    ),
    Trial(
        "fused feed",
        "Feed socket from the battery through a fuse of its own.",
        (TAIL, SOCKET),
        (OUTPUT % ("out 1", "key_off: always, "),),
        added(SOCKET, "fed: fuse"),
    ),
    Trial("relay", "Feed winch through a relay.", (TAIL, WINCH), (ONE, TWO), added(WINCH, "fed: relay")),
    Trial(
        "left off",
        "Leave camera off the unit, with tell-tale and camera button.",
        (TAIL, CAMERA, *WITH_CAMERA),
        (ONE,),
        (f"- {CAMERA}", f"- {WITH_CAMERA[0]}", "- inputs:", "+ inputs: []", f"- {WITH_CAMERA[2]}"),
    ),
    Trial("bigger unit", "Take the six-way instead of the trial way.", (TAIL, HORN), (ONE,), ()),
    Trial(
        "two at once",
        "Let left eye and right eye share an output and put a suppressor across horn.",
        (LEFT, RIGHT, HORN),
        (OUTPUT % ("out 1", "inductive: false, "), OUTPUT % ("out 2", "inductive: false, ")),
        (*added(LEFT, "share: left eye"), *added(RIGHT, "share: left eye"), *added(HORN, "suppressed: true")),
    ),
)


SHARING = TRIALS[0]


def why(portloom: Portloom, folder: Path, *words: str) -> Ran:
    """Run ``portloom why`` on the files in a folder."""
    return portloom("why", "bike.yaml", "--unit", "unit.yaml", *words, folder=folder)


def written(trial: Trial, folder: Path) -> None:
    """Write a trial's two files."""
    (folder / "bike.yaml").write_text(trial.bike, "utf-8")
    (folder / "unit.yaml").write_text(trial.unit, "utf-8")


def changes(before: str, after: str) -> list[str]:
    """Return the lines that went and those that came, in their order."""
    return [line for line in ndiff(before.splitlines(), after.splitlines()) if line[:2] in ("- ", "+ ")]


# --- each kind of change


@first_of("trial", TRIALS, 4)
def test_the_file_says_the_fix_and_fits_at_its_cost(trial: Trial, portloom: Portloom, tmp_path: Path) -> None:
    """Other lines, comments and order stay; planned anew, the bike fits at just the cost that was told."""
    written(trial, tmp_path)
    ran = why(portloom, tmp_path, "--json", "--apply", "1", "--out", "new.yaml")
    assert ran.returncode == 1, ran.stderr
    fix: dict[str, Any] = json.loads(ran.stdout)["fixes"][0]
    assert fix["sentence"] == trial.sentence
    assert changes(trial.bike, (tmp_path / "new.yaml").read_text("utf-8")) == list(trial.lines)
    unit = "unit.yaml" if fix["unit"] == "trial way" else fix["unit"]
    plan = json.loads(portloom("plan", "new.yaml", "--unit", unit, "--json", folder=tmp_path).stdout)
    assert {key: plan[key] for key in ("status", "place", "turned", "cost_mm", "proven")} == {
        "status": "planned",
        **{key: fix[key] for key in ("place", "turned", "cost_mm")},
        "proven": True,
    }


def test_for_another_unit_the_bike_stays_as_it_is(portloom: Portloom, tmp_path: Path) -> None:
    """The copy is the original to the byte, and the note says which unit to plan it on."""
    trial = next(trial for trial in TRIALS if trial.kind == "bigger unit")
    written(trial, tmp_path)
    ran = why(portloom, tmp_path, "--apply", "1", "--out", "new.yaml")
    assert ran.stderr == "fix 1 is written to new.yaml\nit is for another unit: --unit six-way\n"
    assert (tmp_path / "new.yaml").read_bytes() == (tmp_path / "bike.yaml").read_bytes()


def test_the_number_counts_the_fixes_as_they_are_told(portloom: Portloom, tmp_path: Path) -> None:
    """The second fix is the bigger unit here: its copy has no share group."""
    written(SHARING, tmp_path)
    ran = why(portloom, tmp_path, "--apply", "2", "--out", "new.yaml")
    assert "  2. Take the six-way instead of the trial way." in ran.stdout
    assert (tmp_path / "new.yaml").read_text("utf-8") == SHARING.bike


def test_line_ends_and_the_mark_before_the_text_stay(portloom: Portloom, tmp_path: Path) -> None:
    """A file as some editors on Windows write it keeps its line ends and its byte order mark."""
    written(SHARING, tmp_path)
    windows = BOM_UTF8 + SHARING.bike.replace("\n", "\r\n").encode()
    (tmp_path / "bike.yaml").write_bytes(windows)
    assert why(portloom, tmp_path, "--apply", "1", "--out", "new.yaml").returncode == 1
    new = (tmp_path / "new.yaml").read_bytes()
    assert new.replace(b", share: left eye", b"") == windows


def test_a_file_that_is_there_is_written_over_whole(portloom: Portloom, tmp_path: Path) -> None:
    """Whatever was in it; no other file is left behind, and the new one may be read by who may read the old."""
    written(SHARING, tmp_path)
    (tmp_path / "new.yaml").write_text("something else\n" * 900, "utf-8")
    assert why(portloom, tmp_path, "--apply", "1", "--out", "new.yaml").returncode == 1
    assert changes(SHARING.bike, (tmp_path / "new.yaml").read_text("utf-8")) == list(SHARING.lines)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["bike.yaml", "new.yaml", "unit.yaml"]
    assert (tmp_path / "new.yaml").stat().st_mode == (tmp_path / "bike.yaml").stat().st_mode


# --- refused


def _nothing(_: Path) -> None:
    """The folder stays as it is."""


def _linked(folder: Path) -> None:
    (folder / "link.yaml").symlink_to(folder / "bike.yaml")


def _hard_linked(folder: Path) -> None:
    os.link(folder / "bike.yaml", folder / "link.yaml")


def _sealed(folder: Path) -> None:
    (folder / "sealed").mkdir(mode=0o555)


SEALED = "sealed/new.yaml" if unix.WINDOWS or os.geteuid() else "/proc/new.yaml"
"""In a folder that may not be written to; there is hardly one for root."""
OWN = "names the bike's own file"
REFUSED: dict[str, tuple[Callable[[Path], None], tuple[str, ...], str]] = {
    "the bike's own file": (_nothing, ("1", "bike.yaml"), OWN),
    "the same by another path": (_nothing, ("1", "./sub/../bike.yaml"), OWN),
    "a link to it": (_linked, ("1", "link.yaml"), OWN),
    "a hard link to it": (_hard_linked, ("1", "link.yaml"), OWN),
    "the unit's file": (_nothing, ("1", "unit.yaml"), "names the unit's own file"),
    "a folder": (_nothing, ("1", "sub"), "names a folder"),
    "no such folder": (_nothing, ("1", "nowhere/new.yaml"), "there is no folder nowhere"),
    "number 0": (_nothing, ("0", "new.yaml"), "there is no fix 0; the first is 1"),
    "a negative number": (_nothing, ("-1", "new.yaml"), "there is no fix -1; the first is 1"),
    "a number too large": (_nothing, ("9", "new.yaml"), "there is no fix 9; the last is 3"),
    "a sealed folder": (_sealed, ("1", SEALED), "can't write"),
}


def snapshot(folder: Path) -> dict[str, bytes | None]:
    """Return all that is in a folder."""
    return {str(path.relative_to(folder)): path.read_bytes() if path.is_file() else None for path in folder.rglob("*")}


@unix.links
@pytest.mark.parametrize("what", REFUSED)
def test_what_can_not_be_written_is_refused(what: str, portloom: Portloom, tmp_path: Path) -> None:
    """Exit code 2 and one line that says why; nothing in the folder is changed or new."""
    prepare, (number, out), said = REFUSED[what]
    written(SHARING, tmp_path)
    (tmp_path / "sub").mkdir()
    prepare(tmp_path)
    before = snapshot(tmp_path)
    ran = why(portloom, tmp_path, "--apply", number, "--out", out)
    assert (ran.returncode, len(ran.stderr.splitlines())) == (2, 1)
    assert said in ran.stderr
    assert snapshot(tmp_path) == before


@pytest.mark.parametrize("words", [("--apply", "1"), ("--out", "new.yaml")])
def test_number_and_file_go_together(words: tuple[str, ...], portloom: Portloom, tmp_path: Path) -> None:
    """One without the other is a wrong call, told before any work."""
    written(SHARING, tmp_path)
    ran = why(portloom, tmp_path, *words)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr == "portloom why: --apply and --out go together; give both: --apply 1 --out FILE\n"
    assert not (tmp_path / "new.yaml").exists()


def test_a_bike_that_fits_needs_no_fix(portloom: Portloom, tmp_path: Path) -> None:
    """Its answer comes, then what is wrong with the call."""
    written(SHARING, tmp_path)
    (tmp_path / "unit.yaml").write_text(UNIT % f"{ONE}\n{TWO}", "utf-8")
    ran = why(portloom, tmp_path, "--apply", "1", "--out", "new.yaml")
    assert (ran.returncode, "IT FITS" in ran.stdout) == (2, True)
    assert ran.stderr == "portloom why: there is no fix 1; the bike fits: nothing has to be fixed\n"
    assert not (tmp_path / "new.yaml").exists()


def test_where_no_fix_is_known_none_is_written(portloom: Portloom, tmp_path: Path) -> None:
    """A spark on no output may not be left off or fed past the unit: no change helps, and that is no 'fits'."""
    written(SHARING, tmp_path)
    spark = "  - {name: spark, part: ignition, at: neck, current: 80 A}"
    (tmp_path / "bike.yaml").write_text(BIKE % ("", "", "", spark, "stand: none\nengine_stop: key\n" + KEY), "utf-8")
    ran = why(portloom, tmp_path, "--apply", "1", "--out", "new.yaml")
    assert ran.returncode == 2
    assert ran.stderr == "portloom why: there is no fix 1; none was found\n"


def test_at_the_limit_nothing_is_written(portloom: Portloom, tmp_path: Path) -> None:
    """Whether it fits is not known then, which is no mistake of the call: exit code 3."""
    written(SHARING, tmp_path)
    ran = why(portloom, tmp_path, "--apply", "1", "--out", "new.yaml", "--time-limit", "0")
    assert (ran.returncode, "UNKNOWN" in ran.stdout) == (3, True)
    assert not (tmp_path / "new.yaml").exists()


def test_what_is_repeated_elsewhere_by_an_alias_is_left_to_a_hand(portloom: Portloom, tmp_path: Path) -> None:
    """Where the openings of two legs are one entry of the text, a change of one would change the other."""
    trial = next(trial for trial in TRIALS if trial.kind == "opened up")
    written(trial, tmp_path)
    other = "[tray, neck], length: 300 mm"
    bike = trial.bike.replace("opening: 3 mm", "opening: &o 3 mm").replace(other, f"{other}, opening: *o")
    (tmp_path / "bike.yaml").write_text(bike, "utf-8")
    ran = why(portloom, tmp_path, "--apply", "1", "--out", "new.yaml")
    assert ran.returncode == 2
    assert "'opening' of entry 1 of 'legs' of 'frame' can't be changed, as '*o' repeats it elsewhere" in ran.stderr
    assert not (tmp_path / "new.yaml").exists()
