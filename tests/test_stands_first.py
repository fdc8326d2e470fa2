"""What stands first on every sheet: faults of one wire that leave the engine running, and what the file leaves so.

Source: common practice, no source. A contact that is made pulls its wire to earth, or to the supply; a wire that is
open reads as not made; one on the frame as made where it earths, and as not made where it carries supply.
"""

import json
from html import unescape
from itertools import product
from pathlib import Path

import pytest

from calls import Portloom
from laid_bikes import solved
from portloom.base.bike import Bike
from portloom.base.figures import capital
from portloom.documents.draw_up import draw_up
from portloom.documents.fail_safe import stands_first, stops_when_open
from portloom.documents.wiring.lists import lists_of
from portloom.report.html.pages import bundle
from unasked import bike_from_text

HEAD = """
bike: Harbour Trail
supply: {running: 14.0 V, battery: {capacity: 10 Ah, at: tray}}
frame: {legs: [{between: [tray, bar], length: 700 mm}], earth: tray}
places: [{name: under the seat, front: tray}]
"""
BOX = "loads: [{name: box, part: ignition box, at: tray, current: 2 A}]\n"
HORN = "loads: [{name: horn, part: horn, at: tray, current: 2 A}]\n"


def bike(inputs: str = "", loads: str = BOX, more: str = "") -> Bike:
    """Return a bike with an ignition box on the unit and one input."""
    listed = f"inputs: [{{{inputs}}}]\n" if inputs else ""
    return bike_from_text(f"{HEAD}{loads}{listed}{more}later: []\n", "bike")


def runs_on(signal: str, made_to_run: bool, fault: str) -> bool:  # noqa: FBT001
    """Work out from the wire alone whether the unit lets the engine run with the switch at stop and a fault."""
    made = not made_to_run  # the contact at stop
    level = {"open": "free", "frame": "earth"}.get(fault, signal if made else "free")
    reads_made = level == signal
    return reads_made == made_to_run


SWITCHES = (
    ("engine stop switch", "made: run", "made: stop", "made: run", "it can't stop the engine"),
    ("key switch", "normally: open", "normally: closed", "normally: open", "it can't stop the engine"),
    ("side stand switch", "made: up", "made: down", "made: up", "the engine runs in gear with the stand down"),
)
SAID = {"open": "open (broken)", "frame": "on the frame (crushed)"}


@pytest.mark.parametrize(
    ("switch", "signal", "made_to_run"), list(product(SWITCHES, ("earth", "supply"), (True, False)))
)
def test_each_fault_that_leaves_the_engine_running_is_told(
    switch: tuple[str, ...],
    signal: str,
    made_to_run: bool,  # noqa: FBT001
) -> None:
    """Either signal, either way of making contact: what is told is what the wire's level says, worked out apart."""
    name, run, stop, passes, leaves = switch
    lines = stands_first(bike(f"part: {name}, at: bar, signal: {signal}, {run if made_to_run else stop}"))
    wrong = [said for fault, said in SAID.items() if runs_on(signal, made_to_run, fault)]
    assert not runs_on(signal, made_to_run, "none")
    if not wrong:
        assert (signal, made_to_run) == ("supply", True)
        assert lines == ()
        return
    end = f"{leaves}; 'signal: supply, {passes}' passes both (common practice, no source)"
    assert lines == (f"{name}: with its wire {' or '.join(wrong)} {end}",)


def test_a_switch_whose_open_wire_stops_the_engine_is_known() -> None:
    """Either signal, either way of making contact: a plug that is pulled stops the engine where no contact does."""
    for (name, run, stop, *_), signal, made_to_run in product(SWITCHES, ("earth", "supply"), (True, False)):
        (switch,) = bike(f"part: {name}, at: bar, signal: {signal}, {run if made_to_run else stop}").inputs
        assert stops_when_open(switch) != runs_on(signal, made_to_run, "open"), (name, signal, made_to_run)
    (horn,) = bike("part: horn button, at: bar", HORN).inputs
    assert not stops_when_open(horn)


def test_what_is_told_to_pass_passes() -> None:
    """A file that is written as the warning says has no such warning any more."""
    for name, *_, passes, _ in SWITCHES:
        assert stands_first(bike(f"part: {name}, at: bar, signal: supply, {passes}")) == ()


def test_a_switch_without_a_part_is_told_what_its_file_can_say() -> None:
    """Without a part there is no 'made': its contact at rest is said by 'normally'."""
    told = bike("part: engine stop switch, at: bar, made: stop")
    (line,) = stands_first(
        told.model_copy(update={"inputs": tuple(one.model_copy(update={"part": None}) for one in told.inputs)})
    )
    assert "'signal: supply, normally: closed' passes both" in line


def test_a_coded_signal_is_not_judged_and_said_so() -> None:
    """What a broken wire of a coded switch does only its maker knows."""
    (line,) = stands_first(bike("name: red switch, at: bar, signal: coded, tells: engine stop"))
    assert line.startswith("red switch: what a broken or crushed wire does is not judged for a signal of kind 'coded'")


def test_nothing_is_said_where_the_unit_runs_no_engine() -> None:
    """A unit that drives a horn alone can neither stop the engine nor fail to."""
    assert stands_first(bike("part: engine stop switch, at: bar, made: stop", HORN)) == ()


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ("ignition: own\n", "key and stand do not stop this engine through the unit: it sparks by itself"),
        ("engine_stop: key\n", "the key alone stops this engine: there is no engine stop switch"),
        ("stand: no switch\n", "the engine can run with the side stand down: no switch tells of it"),
    ],
)
def test_what_the_file_leaves_dangerous_is_told(more: str, said: str) -> None:
    """Each answer that leaves something dangerous stands first, with the words of the file that say so."""
    (line,) = stands_first(bike(more=more))
    assert line == f"{said} ('{more.strip()}')"


@pytest.mark.parametrize(("which", "other"), [("front", "rear"), ("rear", "front")])
def test_the_brake_without_a_switch_is_named(which: str, other: str) -> None:
    """Of two brakes with one switch the other one shows nothing."""
    one = bike(f"part: {which} brake switch, at: bar", more="brakes: 'two, one switch'\n")
    said = f"braking with the {other} brake alone shows nothing: it has no switch ('brakes: two, one switch')"
    assert stands_first(one) == (said,)


UNIT = """
unit: trial
feed: {limit: 40 A}
outputs: [{names: [out 1, out 2], limit: 15 A, peak: 90 A, trip: [5 A], switch_modes: [steady], inductive: true}]
inputs: [{names: [in 1, in 2], accepts: [earth]}]
"""
TOLD = "the engine can run with the side stand down: no switch tells of it ('stand: no switch')"
ON_THE_BIKE = f"""{HEAD}{BOX}inputs: [{{part: engine stop switch, at: bar, made: run}}, {{part: key switch, at: bar}}]
stand: no switch
set_aside: {{opening: the headstock is open}}
later: []
"""


def test_it_stands_first_on_every_sheet() -> None:
    """On each text before all else, on each page before the cautions and what is set aside; on labels as well."""
    found = solved(ON_THE_BIKE, UNIT)
    assert found is not None
    files = bundle(draw_up(found.laid, found.assignment), found.laid, lists_of(found.laid))
    texts = {name: unescape(data.decode()) for name, data in files.items() if name.endswith((".txt", ".html"))}
    assert len(texts) > 6
    for name, text in texts.items():
        flat = " ".join(text.split())
        assert flat.index(capital(TOLD) if name == "next-owner.html" else TOLD) < flat.index("the headstock is open")
        if name.endswith(".txt"):
            assert text.startswith("WARNING, before anything else:\n  ! the engine can run with the side stand down")
        elif name != "next-owner.html":
            assert flat.index(TOLD) < flat.index("Battery off first")


def test_it_stands_first_in_every_answer(portloom: Portloom, tmp_path: Path) -> None:
    """Of plan, why, check and compare, as people read them and as JSON; also where nothing fits."""
    bike, unit, post, small = (tmp_path / name for name in ("bike.yaml", "unit.yaml", "post.txt", "small.yaml"))
    bike.write_text(ON_THE_BIKE, "utf-8")
    unit.write_text(UNIT, "utf-8")
    small.write_text(UNIT.replace("15 A", "1 A").replace("[5 A]", "[1 A]"), "utf-8")
    post.write_text("out 1: box\nin 1: engine stop switch\nin 2: key switch\n", "utf-8")
    for call in (
        ("plan", bike, "--unit", unit),
        ("plan", bike, "--unit", small),
        ("why", bike, "--unit", unit),
        ("why", bike, "--unit", small),
        ("check", post, bike, "--unit", unit),
    ):
        words = tuple(map(str, call))
        assert portloom(*words).stdout.startswith("WARNING, before anything else:\n  ! the engine can run"), words
        assert json.loads(portloom(*words, "--json").stdout)["warnings"][0] == TOLD, words
    compared = portloom("compare", str(bike), "--unit", str(unit))
    buy, _, rest = compared.stdout.partition("\n\n")
    assert buy.count("\n") == 0  # the answer to what was asked, a line, then at once what can hurt
    assert rest.startswith("WARNING, before anything else:\n  ! Harbour Trail: the engine can run")
    as_json = json.loads(portloom("compare", str(bike), "--unit", str(unit), "--json").stdout)
    assert as_json["bikes"][0]["warnings"][0] == TOLD
    reply = portloom("check", str(post), str(bike), "--unit", str(unit), "--reply").stdout
    assert "**First of all:** the engine can run with the side stand down: no switch tells of it" in reply
