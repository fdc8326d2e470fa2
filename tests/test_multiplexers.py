"""Multiplexers: when one is worth its wire, where it stands, who goes through it, what it saves; sums by hand.

The bikes are made up. All lengths are whole millimetres, so every sum can be done on paper.
"""

import json
from collections import Counter
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from calls import Portloom
from oracle.random_bikes import random_case
from outcomes import fits, planned, refusing
from portloom.documents.document import MultiplexerLine
from portloom.documents.savings import Savings
from portloom.inputs.files import unit_from_text
from portloom.inputs.problems import BadFile
from portloom.planning.plan import Planned, plan
from slices import on_seeds
from unasked import bike_from_text

BIKE = """
bike: trial single
ignition: own
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame:
  legs:
    - {name: backbone, between: [tray, neck], length: 800 mm%(opening)s}
    - {between: [neck, bars], length: 200 mm}
  earth: [tray]
places: [{name: on the tray, front: tray}]
later: []
loads:
  - {name: lamp, at: neck, power: 14 W, kind: led}
inputs:
%(inputs)s
%(more)s
"""
UNIT = """
unit: trial way
feed: {limit: 40 A}
outputs: [{name: out 1, limit: 5 A, peak: 40 A}]
inputs: [{names: [in 1, in 2, in 3, in 4], accepts: earth}, {name: in 5, accepts: [earth, coded]}]
"""
SWITCH = "  - {name: %s, at: bars, signal: earth, operates: lamp}"
BOX = "multiplexers: [{name: gatherer, at: [bars], ways: 5, takes: earth}]"


def bike(*names: str, box: str = BOX, opening: str = "") -> str:
    """Write a bike with such switches on its bars."""
    return BIKE % {"inputs": "\n".join(SWITCH % name for name in names), "more": box, "opening": opening}


def box_of(text: str, unit: str = UNIT) -> MultiplexerLine | None:
    """Return the one multiplexer of the best plan, None where it uses none."""
    return next(iter(planned(text, unit).multiplexers), None)


def test_it_is_used_where_it_saves_wire() -> None:
    """Three switches 1 m away take 3 m, through a box beside them 2 m; its return is the switches' own."""
    found = planned(bike("a", "b", "c"), UNIT)
    (box,) = found.multiplexers
    assert (box.name, box.at, box.port, box.wire.run) == ("gatherer", "bars", "in 5", 1_000_000)
    assert [line.switch for line in box.switches] == ["a", "b", "c"]
    assert found.inputs == ()
    without = planned(bike("a", "b", "c", box=""), UNIT)
    assert isinstance(box.saves, Savings)
    assert box.saves.wire_run == without.wire_run - found.wire_run == 1_000_000
    assert (box.saves.inputs, box.saves.proven, box.saves.place) == (2, True, "")


def test_it_is_left_out_where_it_saves_none() -> None:
    """Two switches take 2 m either way; the plan without a box comes first."""
    assert box_of(bike("a", "b")) is None


def test_it_stands_where_the_wire_is_least() -> None:
    """At the neck each switch takes 200 mm and the box 2 x 800 mm: with three that is 2.2 m against 2 m at the bars."""
    both = BOX.replace("[bars]", "[neck, bars]")
    box = box_of(bike("a", "b", "c", box=both))
    assert box is not None
    assert box.at == "bars"


def test_a_return_of_its_own_counts_once() -> None:
    """On the neck side of nothing: a spur of 300 mm has no load, so a box there brings its way to earth with it."""
    spur = "    - {between: [neck, spur], length: 300 mm}\n  earth"
    text = bike("a", "b", "c", "d", "e", "f", "g", box=BOX.replace("[bars]", "[spur]").replace("ways: 5", "ways: 7"))
    text = text.replace("  earth", spur)
    found = planned(text, UNIT)
    (box,) = found.multiplexers
    back = next(line for line in found.returns if line.start == "spur")
    assert (back.wire.run, back.current) == (1_100_000, 0)
    # The shortest feed; seven switches by 500 mm, data and supply by 1.1 m each, the return; the lamp; the returns of
    # neck and bars.
    assert found.wire_run == 300_000 + 7 * 500_000 + 2 * 1_100_000 + 1_100_000 + 800_000 + 800_000 + 1_000_000
    assert box.saves == "no plan"


def test_two_at_one_point_share_one_return() -> None:
    """The second box at the spur brings no second return."""
    spur = "    - {between: [neck, spur], length: 300 mm}\n  earth"
    two = "multiplexers: [{name: one, at: spur, ways: 4, takes: earth}, {name: two, at: spur, ways: 4, takes: earth}]"
    unit = UNIT.replace("{names: [in 1, in 2, in 3, in 4], accepts: earth}", "{name: in 4, accepts: [coded]}")
    found = planned(bike("a", "b", "c", "d", "e", "f", "g", box=two).replace("  earth", spur), unit)
    assert len(found.multiplexers) == 2
    assert [line.start for line in found.returns] == ["neck", "bars", "spur"]
    assert found.wire_run == 300_000 + 7 * 500_000 + 4 * 1_100_000 + 1_100_000 + 800_000 + 800_000 + 1_000_000


def test_it_needs_an_input_that_reads_it() -> None:
    """Six switches on five inputs fit through a box, but not where no input reads a coded signal."""
    names = ("a", "b", "c", "d", "e", "f")
    assert fits(bike(*names), UNIT)
    assert refusing(bike(*names), UNIT.replace("[earth, coded]", "earth")) >= {"inputs", "multiplexer"}


@pytest.mark.parametrize(
    "tells", ["front brake", "rear brake", "engine stop", "side stand", "clutch", "neutral", "key", "fallen"], ids=str
)
def test_what_keeps_the_rider_alive_goes_straight(tells: str) -> None:
    """However much wire it would save, such a switch has a wire of its own (common practice, no source)."""
    text = bike("a", "b", "c").replace(
        "name: c, at: bars, signal: earth,", f"name: c, at: bars, signal: earth, tells: {tells},"
    )
    box = box_of(text.replace("800 mm", "8000 mm"))
    assert box is None or "c" not in [line.switch for line in box.switches]


def test_an_opening_passes_fewer_wires() -> None:
    """Five wires of 0.5 mm2 and two more do not pass 6 mm; through the box two, and the wires that must be there, do.

    Trade column: 0.5 mm2 is 1.6 mm outside; the loom is 1.25 x the root of the sum of squares and 1 mm of sleeve.
    """
    narrow = ", opening: 6.6 mm"
    names = ("a", "b", "c", "d", "e")
    assert not fits(bike(*names, box="", opening=narrow), UNIT)
    found = planned(bike(*names, opening=narrow), UNIT)
    assert [box.saves for box in found.multiplexers] == ["no plan"]


def test_a_signal_that_it_does_not_take_goes_round_it() -> None:
    """A box for switches to earth carries no sender."""
    c = SWITCH % "c"
    text = bike("a", "b", "c", "d").replace(c, c.replace("signal: earth", "signal: sender"))
    box = box_of(text, UNIT.replace("accepts: earth", "accepts: [earth, sender]"))
    assert box is not None
    assert [line.switch for line in box.switches] == ["a", "b", "d"]


def test_json_tells_what_it_saves(portloom: Portloom, tmp_path: Path) -> None:
    """In the document a multiplexer has its run once, and each switch its own."""
    (tmp_path / "bike.yaml").write_text(bike("a", "b", "c"), "utf-8")
    (tmp_path / "unit.yaml").write_text(UNIT, "utf-8")
    ran = portloom("plan", "bike.yaml", "--unit", "unit.yaml", "--json", folder=tmp_path)
    (box,) = json.loads(ran.stdout)["multiplexers"]
    assert (box["name"], box["at"], box["port"], box["ways"], box["run_mm"]) == ("gatherer", "bars", "in 5", 5, 1000)
    assert [(one["input"], one["run_mm"]) for one in box["inputs"]] == [("a", 0), ("b", 0), ("c", 0)]
    saves = box["saves"]
    assert (saves["without"], saves["wire_run_mm"], saves["inputs"]) == ("planned", 1000, 2)
    assert saves["legs"][0] == {
        "leg": "backbone",
        "wires": 5,
        "wires_without": 6,
        "diameter_mm": saves["legs"][0]["diameter_mm"],
        "diameter_without_mm": saves["legs"][0]["diameter_without_mm"],
    }
    assert saves["legs"][0]["diameter_mm"] < saves["legs"][0]["diameter_without_mm"]


def test_a_new_one_is_a_fix_and_can_be_written(portloom: Portloom, tmp_path: Path) -> None:
    """Six switches on five inputs: a multiplexer is the least effort; written into a copy, the bike fits."""
    (tmp_path / "bike.yaml").write_text(bike("a", "b", "c", "d", "e", "f", box="# nothing more"), "utf-8")
    (tmp_path / "unit.yaml").write_text(UNIT, "utf-8")
    call = ("bike.yaml", "--unit", "unit.yaml")
    ran = portloom("why", *call, "--apply", "1", "--out", "after.yaml", folder=tmp_path)
    assert "1. Fit a multiplexer of five ways for switches to earth. (effort 5)" in ran.stdout
    added = set((tmp_path / "after.yaml").read_text().splitlines()) - set(
        (tmp_path / "bike.yaml").read_text().splitlines()
    )
    assert added == {"multiplexers:", "  - {name: new multiplexer, at: [tray, neck, bars], ways: 5, takes: [earth]}"}
    assert portloom("plan", "after.yaml", "--unit", "unit.yaml", folder=tmp_path).returncode == 0


# --- in posts


def checked(portloom: Portloom, folder: Path, post: str, *switches: str) -> tuple[int, dict[str, Any]]:
    """Check a post of such a bike; give the exit code and the document."""
    (folder / "bike.yaml").write_text(bike(*switches), "utf-8")
    (folder / "unit.yaml").write_text(UNIT, "utf-8")
    (folder / "post.txt").write_text(post, "utf-8")
    ran = portloom("check", "post.txt", "bike.yaml", "--unit", "unit.yaml", "--json", folder=folder)
    return ran.returncode, json.loads(ran.stdout)


@pytest.mark.parametrize(
    "inputs", ["in 5: gatherer\ngatherer: a, b, c", "gatherer: a, b, c", "in 5: gatherer\ngatherer: a"]
)
def test_a_post_may_have_a_multiplexer(inputs: str, portloom: Portloom, tmp_path: Path) -> None:
    """The switches on it as on a port, itself on an input; what is not posted of that can be wired in some way."""
    assert checked(portloom, tmp_path, f"out 1: lamp\n{inputs}\n", "a", "b", "c")[0] == 0


@pytest.mark.parametrize(
    ("post", "rule", "said"),
    [
        (
            "out 1: lamp\nin 1: gatherer\ngatherer: a, b, c\n",
            "multiplexer",
            "gatherer needs an input that reads 'coded'",
        ),
        (
            "out 1: lamp\nin 5: gatherer, c\ngatherer: a, b\n",
            "inputs",
            "gatherer and c are on in 5: gatherer takes an input of its own",
        ),
        (
            "out 1: lamp\nin 5: c\ngatherer: a, b\n",
            "inputs",
            "no way to wire the switches keeps this rule beside all others",
        ),
    ],
)
def test_a_post_with_a_multiplexer_wrong(portloom: Portloom, tmp_path: Path, post: str, rule: str, said: str) -> None:
    """On an input that does not read it, beside a switch, on none where the only one that reads it is taken."""
    code, found = checked(portloom, tmp_path, post, "a", "b", "c")
    assert code == 1
    assert [(clash["rule"], said in clash["sentence"]) for clash in found["clashes"]] == [(rule, True)]


def test_what_keeps_the_rider_alive_is_not_posted_through_it(portloom: Portloom, tmp_path: Path) -> None:
    """A neutral switch on a multiplexer is wrong, in so many words."""
    post = "out 1: lamp\nin 5: gatherer\ngatherer: a, b\n"
    (tmp_path / "bike.yaml").write_text(bike("a", "b").replace("operates: lamp}", "tells: neutral}", 1), "utf-8")
    (tmp_path / "unit.yaml").write_text(UNIT, "utf-8")
    (tmp_path / "post.txt").write_text(post, "utf-8")
    ran = portloom("check", "post.txt", "bike.yaml", "--unit", "unit.yaml", folder=tmp_path)
    assert "its wire goes straight to the unit, never through gatherer" in " ".join(ran.stdout.split())


@on_seeds(range(12), range(12, 150))
def test_what_is_saved_is_told_against_a_bike_that_has_none(seeds: range) -> None:
    """The best plan without a multiplexer is that of the same bike without its lines: all it costs, where, or none."""
    seen = Counter[str]()
    for seed in seeds:
        with suppress(BadFile):
            text, unit_text = random_case(seed, "multiplexed")
            on, unit = bike_from_text(text, "bike"), unit_from_text(unit_text, "unit")
            answer = plan(on, unit)
            for line in answer.plan.multiplexers if isinstance(answer, Planned) else ():
                others = tuple(box for box in on.multiplexers if box.name != line.name)
                bare = plan(on.model_copy(update={"multiplexers": others}), unit)
                if isinstance(bare, Planned):
                    assert isinstance(answer, Planned)
                    assert isinstance(line.saves, Savings)
                    assert line.saves.cost == bare.plan.cost - answer.plan.cost
                    assert line.saves.place in ("", bare.laid.site.label)
                    seen["planned"] += 1
                else:
                    assert line.saves == "no plan"
                    seen["no plan"] += 1
    assert seen["planned"] > 0
