"""What a plan says that sharing would free: only where planning it again frees that.

Source: which loads may share, common practice, no source; that a lamp of the road never shares with a load of
comfort, as well.
"""

import json
import re
from itertools import combinations
from pathlib import Path

import pytest

import portloom
from calls import Portloom
from portloom.base.clock import NO_LIMIT, Clock
from portloom.base.parts.loads import LOAD_PARTS, never_together
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.fixes.sharing import joins
from portloom.explaining.solved import Solved, solve
from portloom.inputs.files import unit_from_text
from portloom.job.job import Job
from portloom.planning import sharing
from portloom.planning.plan import Planned
from portloom.planning.sharing import could_share
from portloom.rules.book import rules_of
from portloom.rules.sites import sites_of
from unasked import bike_from_text

HEAD = """
bike: Harbour Trail
supply: {running: 14.0 V, battery: {capacity: 10 Ah, at: tray}}
frame: {legs: [{between: [tray, tail], length: 700 mm}], earth: tray}
places: [{name: under the seat, front: tray}]
"""
GRIPS = "later: [{name: heated grips, power: 36 W, kind: heater}]\n"
LAMPS = ("tail lamp", "position lamp", "plate lamp")


def bike(*loads: str, later: str = GRIPS) -> str:
    """Return a bike's file with these loads."""
    return "\n".join((HEAD + "loads:", *(f"  - {{at: tail, {load}}}" for load in loads), later))


def lamps(share: str = "") -> tuple[str, ...]:
    """Return three lamps of the road, with what the file says of sharing."""
    return tuple(f"part: {part}, lamp: W5W{share}" for part in LAMPS)


def unit(outputs: int = 3, limit: str = "6 A") -> str:
    """Return a unit of so many outputs."""
    names = ", ".join(f"out {number}" for number in range(1, outputs + 1))
    return (
        "unit: trial\nfeed: {limit: 40 A}\ninputs: []\noutputs:\n"
        f"  - {{names: [{names}], limit: {limit}, peak: 60 A, switch_modes: [steady, hold], inductive: true}}\n"
    )


def planned(text: str, of: str) -> Planned:
    """Return the plan of a bike on a unit."""
    found = portloom.plan(bike_from_text(text, "bike"), unit_from_text(of, "unit"))
    assert isinstance(found, Planned)
    return found


def told(text: str, of: str) -> tuple[str, ...]:
    """Return what the plan says that sharing would free."""
    return planned(text, of).plan.could_share


SHARED = "tail lamp, position lamp and plate lamp on one output: two outputs more free, room for heated grips"


@pytest.mark.parametrize("share", [", share: none", ", share: each", ", kind: filament, share: none"])
def test_lamps_that_the_file_parts_are_told(share: str) -> None:
    """Three lamps on three outputs: on one, two are free, and the grips have room."""
    parted = tuple(load.replace("share: each", f"share: group {n}") for n, load in enumerate(lamps(share)))
    assert told(bike(*parted), unit()) == (f"{SHARED} (write 'share: position lamps' at each)",)


def test_what_is_told_is_what_planning_gives() -> None:
    """The same file with that line at each lamp has a plan on one output, with room for the grips."""
    shared = planned(bike(*lamps(", share: position lamps")), unit()).plan
    assert len(shared.outputs) == 1
    assert [room.load for room in shared.room_for] == ["heated grips"]
    parted = planned(bike(*lamps(", share: none")), unit()).plan
    assert len(parted.outputs) == 3
    assert parted.no_room_for == ("heated grips",)


def test_nothing_is_told_where_all_share_already() -> None:
    """The catalogue's group is the default, and so is one that the file names."""
    assert told(bike(*lamps()), unit()) == ()
    assert told(bike(*lamps(", share: rear")), unit()) == ()


def test_nothing_is_told_where_no_output_carries_them() -> None:
    """Two of 4 A each, outputs of 6 A: 8 A fit on none; on outputs of 10 A with 1.25 x 8 A they do."""
    heavy = tuple(f"part: {part}, kind: led, current: 4 A, share: none" for part in LAMPS[:2])
    assert told(bike(*heavy), unit()) == ()
    (line,) = told(bike(*heavy), unit(limit="10 A"))
    assert line.startswith("tail lamp and position lamp on one output: one output more free")


def test_nothing_is_told_that_a_rule_forbids() -> None:
    """Lamps that are on at other times, or driven in another mode, stay apart."""
    tail = "part: tail lamp, lamp: W5W, share: none"
    for other in ("when: night", "mode: hold"):
        assert told(bike(f"part: plate lamp, lamp: W5W, share: none, {other}", tail), unit()) == ()
    assert told(bike("part: plate lamp, lamp: W5W, share: none", tail), unit()) != ()


def test_loads_without_a_part_are_told_among_themselves() -> None:
    """Nothing says of two small loads that they may share: it is told; never with a lamp of the road."""
    small = ("name: camera, current: 0.5 A", "name: beacon, current: 0.5 A", "part: tail lamp, lamp: W5W")
    assert told(bike(*small), unit()) == (
        "camera and beacon on one output: one output more free, room for heated grips "
        "(write 'share: camera and others' at each)",
    )


def test_no_group_takes_the_name_of_another() -> None:
    """Where other loads are in a group of that name, the line to write has a name of its own."""
    other = "name: camera, current: 1 A, share: position lamps"
    (line,) = told(bike(*lamps(", share: none"), other), unit(4))
    assert line.endswith("(write 'share: position lamps, shared' at each)")


def test_it_is_printed_and_in_the_json(portloom: Portloom, tmp_path: Path) -> None:
    """Under the room that is left, and under 'could_share'."""
    asked = "ignition: own\nstand: none\n"
    (tmp_path / "bike.yaml").write_text(bike(*lamps(", share: none")) + asked, "utf-8")
    (tmp_path / "unit.yaml").write_text(unit(), "utf-8")
    call = ("plan", str(tmp_path / "bike.yaml"), "--unit", str(tmp_path / "unit.yaml"))
    flat = " ".join(portloom(*call, "--full").stdout.partition("Room left\n")[2].split())
    assert f"Could share: - {SHARED}" in flat
    assert json.loads(portloom(*call, "--json").stdout)["could_share"][0].startswith(SHARED)


# --- what is never proposed


ROAD = re.compile("beam|daytime|position|tail|plate|brake|indicator$|fog|horn|coil|box|controller|pump|solenoid")
COMFORT = ("heated grips", "heated seat", "heated vest", "socket", "satellite navigation", None)


def test_nothing_of_the_road_goes_with_comfort() -> None:
    """Every part that no bike goes without, beside each load of comfort and beside what has no part."""
    kept = [part.name for part in LOAD_PARTS if part.kept]
    assert len(kept) > 15
    assert all(ROAD.search(name) for name in kept)
    assert all(never_together(name, comfort) and never_together(comfort, name) for name in kept for comfort in COMFORT)
    assert not any(never_together(one, other) for one, other in combinations(kept, 2))
    assert not never_together("tail lamp", "instrument lamps")


def proposed(*loads: str) -> list[str]:
    """Return the fixes by which loads share an output."""
    job = Job(bike_from_text(bike(*loads), "bike"), unit_from_text(unit(), "unit"))
    return [change.sentence for change in joins(Instance(job, rules_of(job)))]


def test_no_fix_lets_a_lamp_of_the_road_share_with_comfort() -> None:
    """Of a tail lamp, a plate lamp and a socket that are on at the same times only the lamps are proposed."""
    loads = (
        "part: tail lamp, lamp: W5W, share: none",
        "part: plate lamp, lamp: W5W, share: none",
        "part: socket, current: 1 A",
        "name: camera, current: 1 A",
    )
    assert proposed(*loads) == [
        "let tail lamp and plate lamp share an output",
        "let socket and camera share an output",
    ]


def test_no_fix_brings_them_together_by_a_group() -> None:
    """Two comfort loads may share; not where that puts a lamp, which the file lets share with one, beside the other."""
    loads = (
        "part: tail lamp, lamp: W5W, share: rear",
        "name: camera, current: 1 A, share: rear",
        "part: socket, current: 1 A",
    )
    assert proposed(*loads) == []


def test_nothing_is_tried_once_the_limit_is_over(monkeypatch: pytest.MonkeyPatch) -> None:
    """A plan that was found in time is told as it is; without a limit the same is planned again for the lamps."""
    job = Job(bike_from_text(bike(*lamps(", share: none")), "bike"), unit_from_text(unit(), "unit"))
    rules = rules_of(job)
    solved = solve(job, rules, sites_of(job), NO_LIMIT)
    assert isinstance(solved, Solved)
    assert could_share(solved, rules, None, NO_LIMIT)
    for late in ("Job", "solve"):
        monkeypatch.setattr(sharing, late, lambda *_, **__: pytest.fail("the limit is over"))
    assert could_share(solved, rules, None, Clock(0)) == ()
