"""What lifts a conflict is told with the least step that does; each is made in the file and planned, one less is too.

Bikes are made up. By hand: 1.25 x the current, the next step (ISO 8820-3), ampacities of 33 CFR 183.425 Table 5 at
105 C (0.5 mm2 11 A, 0.75 mm2 14 A, 1 mm2 20 A, 2.5 mm2 35 A, 4 mm2 45 A), by Note 2 x 0.7 for three loaded wires.
"""

import pytest

from conflict_facts import Case
from conflict_lifts import edited
from outcomes import fits, outcome
from portloom.planning.plan import NothingFits

BIKE = """
bike: Trial single
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame:
  legs:
    - {between: [tray, neck], length: 600 mm}
    - {between: [tray, tail], length: 400 mm}
  earth: [tray]
places: [{name: on the tray, front: tail}]
later: []
loads:
  - {name: front heater, at: neck, current: 10 A, kind: heater}
  - {name: rear heater, at: tail, current: 10 A, kind: heater}
inputs:
  - {name: front button, at: neck, signal: earth, action: latch, operates: front heater}
  - {name: rear button, at: tail, signal: earth, action: latch, operates: rear heater}
"""
UNIT = """
unit: trial way
feed: {limit: 60 A, wire_max: 10 mm2, fuse_max: 40 A}
outputs:
  - {names: [out 1, out 2, out 3], limit: 20 A, peak: 200 A, peak_for: 600 ms, trip: [5 A, 13 A, 20 A], wire_max: 4 mm2}
inputs: [{names: [in 1, in 2, in 3, in 4], accepts: earth}]
"""
RELAYS = ["front heater fed through a relay", "rear heater fed through a relay"]
PASSED = [
    pytest.param(
        [("fuse_max: 40 A", "fuse_max: 20 A")], ["a unit that takes a main fuse of 25 A ('fuse_max')", *RELAYS],
        id="20 A x 1.25 are 25 A",
    ),
    pytest.param(
        [("wire_max: 10 mm2", "wire_max: 1 mm2")],
        ["a unit whose supply terminal takes 4 mm2 ('wire_max')", "front heater fed through a relay"],
        id="25 A beside two loaded wires: 2.5 mm2 carries 35 A x 0.7",
    ),
    pytest.param(
        [("wire_max: 10 mm2", "wire_max: 0.35 mm2")], ["a unit whose supply terminal takes 4 mm2 ('wire_max')"],
        id="no feed can be connected",
    ),
    pytest.param(
        [("trip: [5 A, 13 A, 20 A], ", ""), ("fuse_max: 40 A", "fuse_max: 20 A"), ("current: 10 A", "current: 7 A")],
        ["a unit that takes a main fuse of 25 A ('fuse_max')",
         "an output for front heater that can be set to trip at 8.75 A"],
        id="every trip is below the main fuse",
    ),
    pytest.param(
        [("wire_max: 4 mm2", "wire_max: 0.5 mm2")], ["out 1 to out 3 with terminals that take 1 mm2 ('wire_max')"],
        id="13 A beside two loaded wires: 0.75 mm2 carries 14 A x 0.7",
    ),
    pytest.param(
        [("later: []", "later: []\nreels: [0.5 mm2]")], ["wire of 4 mm2, under 'reels:'"],
        id="only 0.5 mm2 on the reels",
    ),
]  # fmt: skip


def changed(changes: list[tuple[str, str]]) -> Case:
    bike, unit = BIKE, UNIT
    for old, new in changes:
        assert old in bike + unit
        bike, unit = bike.replace(old, new), unit.replace(old, new)
    return Case(bike, unit)


def lifted_by(case: Case) -> list[str]:
    found = outcome(case.bike_text, case.unit_text)
    assert isinstance(found, NothingFits)
    assert all(lift.fits for lift in found.conflicts[0].lifted_by)
    return [lift.said for lift in found.conflicts[0].lifted_by]


def test_the_bike_fits_as_it_is_drawn() -> None:
    assert fits(BIKE, UNIT)


@pytest.mark.parametrize(("changes", "lifts"), PASSED)
def test_what_lifts_a_conflict_is_told(changes: list[tuple[str, str]], lifts: list[str]) -> None:
    """Each of what is told, made in the file, makes the bike fit."""
    case = changed(changes)
    assert lifted_by(case) == lifts
    for words in lifts:
        after = edited(case, words)
        assert fits(after.bike_text, after.unit_text), words


def test_a_load_that_feeds_others_is_not_told_to_leave_the_unit() -> None:
    """What is fed from a load past the unit is refused as the file is read; so the guest's feeder stays."""
    guest = "  - {name: tell-tale, at: neck, current: 0.1 A, kind: led, from: [front heater]}\ninputs:"
    case = changed([("fuse_max: 40 A", "fuse_max: 20 A"), ("inputs:\n  - {name: front", f"{guest}\n  - {{name: front")])
    assert lifted_by(case)[1:] == ["rear heater fed through a relay"]
