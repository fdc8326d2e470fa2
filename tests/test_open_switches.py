"""Posts that leave switches open: whether they can be wired at all, why not, and what is said where they can.

The bikes are made up. What must be told of them follows from counting: so many switches, so many inputs.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from calls import Portloom
from slices import first_of

BIKE = """
bike: a small one
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
ignition: own
frame:
  legs:
    - {between: [tray, bars], length: 600 mm}
  earth: [tray]
places: [{name: under the seat, front: bars, rear: tray}]
loads:
  - {name: lamp, at: bars, current: 1 A}
  - {name: heater, at: bars, current: 2 A, kind: heater}
inputs:
"""
SWITCH = "  - {{name: {}, at: bars, signal: {}, normally: open, operates: [{}]}}\n"
UNIT = """
unit: a small one
feed: {limit: 20 A}
outputs:
  - {names: [out 1, out 2], limit: 4 A, trip: [2 A, 4 A], inductive: true}
  - {name: out 3, limit: 4 A, trip: [2 A, 4 A], inductive: true, follow: in 1}
inputs:
"""
TWO = UNIT + "  - {names: [in 1, in 2], accepts: earth}\n"


def bike(*switches: tuple[str, str, str]) -> str:
    """Return the bike with switches: name, signal, load."""
    return BIKE + "".join(SWITCH.format(*switch) for switch in switches)


A, B, C = ("a", "earth", "lamp"), ("b", "earth", "heater"), ("c", "earth", "lamp")
PULSE = ("p", "sender", "heater")


def answered(
    portloom: Portloom, folder: Path, texts: tuple[str, str, str], *more: str
) -> tuple[int, dict[str, Any], str]:
    """Return exit code, JSON, and the text in one line, of a post for a bike on a unit."""
    folder /= str(len(list(folder.iterdir())))
    folder.mkdir()
    for name, text in zip(("bike.yaml", "unit.yaml", "post.txt"), texts, strict=True):
        (folder / name).write_text(text, "utf-8")
    call = ("check", "post.txt", "bike.yaml", "--unit", "unit.yaml", "--repair", "--best", *more)
    done, written = portloom(*call, "--json", folder=folder), portloom(*call, folder=folder)
    assert done.returncode == written.returncode
    return done.returncode, json.loads(done.stdout), " ".join(written.stdout.split())


OUT_1 = "out 1: lamp\nout 2: heater\n"


@pytest.mark.parametrize("inputs", ["", "in 2: a\n", "in 1: b\n"])
def test_some_way_exists(inputs: str, portloom: Portloom, tmp_path: Path) -> None:
    """It is said that nothing has to move, that switches were not posted, and what was asked of them."""
    code, found, text = answered(portloom, tmp_path, (bike(A, B), TWO, OUT_1 + inputs))
    assert (code, found["status"], found["wiring_of_switches"]) == (0, "nothing wrong", "exists")
    assert (found["repair"]["moves"], found["repair"]["moved"], found["repair"]["placed"]) == (0, [], [])
    assert "posted_at" in found["best"]
    assert "nothing has to move, proved" in text
    assert "some way exists, proved" in text
    assert ("the post names none" if not inputs else "on no input in the post") in text


def test_one_switch_too_many(portloom: Portloom, tmp_path: Path) -> None:
    """Three switches that share nothing need three inputs, and there are two; a broken rule, and no plan fits."""
    code, found, text = answered(portloom, tmp_path, (bike(A, B, C), TWO, OUT_1))
    assert (code, found["status"], found["wiring_of_switches"]) == (1, "broken", "none")
    assert [clash["rule"] for clash in found["clashes"]] == ["inputs"]
    assert "no way to wire the switches keeps this rule beside all others" in found["clashes"][0]["sentence"]
    assert "NOT SOUND" in text
    assert found["repair"]["answer"] == found["best"]["answer"] == "nothing fits"


def test_an_output_that_follows_an_input_of_another(portloom: Portloom, tmp_path: Path) -> None:
    """Out 3 does what in 1 says: with the lamp on it a switch of the lamp must sit there, and there b is posted."""
    code, found, text = answered(portloom, tmp_path, (bike(A, B), TWO, "out 3: lamp\nout 1: heater\nin 1: b\n"))
    assert (code, found["wiring_of_switches"]) == (1, "none")
    assert [clash["rule"] for clash in found["clashes"]] == ["inputs"]
    assert "2 switches need in 1, there is room for 1" in found["clashes"][0]["sentence"]
    assert found["repair"]["moves"] == 1
    assert "no way to wire a keeps" in found["clashes"][0]["sentence"]
    assert "One move" in text


def test_a_signal_that_no_input_reads(portloom: Portloom, tmp_path: Path) -> None:
    """A sender on earth inputs: the rule and the port are told, not only that it is on none."""
    code, found, _ = answered(portloom, tmp_path, (bike(A, PULSE), TWO, OUT_1))
    assert (code, [clash["rule"] for clash in found["clashes"]]) == (1, ["signal"])
    assert "p gives a signal of kind 'sender'" in found["clashes"][0]["sentence"]


def test_no_time_is_no_answer(portloom: Portloom, tmp_path: Path) -> None:
    """At a limit it is not known whether switches can be wired: neither sound nor broken, exit code 3."""
    code, found, text = answered(portloom, tmp_path, (bike(A, B), TWO, OUT_1), "--time-limit", "0")
    assert (code, found["status"], found["wiring_of_switches"]) == (3, "not known", "not known")
    assert found["repair"]["answer"] == "not known"
    assert "SOUND" not in text


def test_a_multiplexer_and_a_switch_on_one_input(portloom: Portloom, tmp_path: Path) -> None:
    """A multiplexer takes an input of its own, also where another is free."""
    box = "multiplexers: [{name: gatherer, at: [bars], ways: 5, takes: [earth]}]\n"
    unit = UNIT + "  - {names: [in 1, in 2, in 3], accepts: [earth, coded]}\n"
    post = OUT_1 + "in 2: gatherer, a\ngatherer: b, c\n"
    code, found, _ = answered(portloom, tmp_path, (bike(A, B, C) + box, unit, post))
    assert (code, [clash["rule"] for clash in found["clashes"]]) == (1, ["inputs"])
    assert found["repair"]["moves"] == 1


def test_a_line_that_is_not_clear(portloom: Portloom, tmp_path: Path) -> None:
    """What could be read can be left as it is, and it is said that this is as far as it goes."""
    code, found, text = answered(portloom, tmp_path, (bike(A, B), TWO, f"{OUT_1}in 1: toaster\n"))
    assert (code, found["status"], found["repair"]["moves"]) == (2, "not clear", 0)
    assert "as far as the post could be read: some of it is not clear" in text
    assert "posted_at" not in found["best"]


def test_two_units_in_one_post_are_not_judged(portloom: Portloom, tmp_path: Path) -> None:
    """Nothing is said of repair and distance either."""
    (tmp_path / "bike.yaml").write_text(bike(A, B), "utf-8")
    (tmp_path / "unit.yaml").write_text(TWO, "utf-8")
    (tmp_path / "post.txt").write_text("unit 1:\nout 1: lamp\nunit 2:\nout 1: heater\n", "utf-8")
    call = ("check", "post.txt", "bike.yaml", "--unit", "unit.yaml", "--repair", "--best", "--json")
    done = portloom(*call, folder=tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    assert "this post is of several units, so nothing in it is judged" in done.stderr


@first_of("line", ["main fuse: 2 A\n", "no fuse to the battery\n"], 1)
def test_a_main_fuse_is_told_anew(portloom: Portloom, tmp_path: Path, line: str) -> None:
    """Where nothing is wrong but the main fuse, or there is none, nothing moves, and the fuse is told."""
    code, found, text = answered(portloom, tmp_path, (bike(A, B), TWO, OUT_1 + line))
    assert (code, found["repair"]["moves"]) == (1, 0)
    fuse = found["repair"]["main_fuse_a"]
    assert f"main fuse: one of {fuse} A, at the battery" in text
    assert "nothing has to move, proved; what comes off or is set anew is below" in text
    again = answered(portloom, tmp_path, (bike(A, B), TWO, f"{OUT_1}main fuse: {fuse} A\n"))
    assert again[0] == 0
