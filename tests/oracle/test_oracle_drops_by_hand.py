"""Tiny bikes whose drops are worked out by hand beside each test (mm, A, mV).

A metre of 1 mm2 at 85 C: 19.5 x 319.5 / 254.5 = 24.4804 mohm, so 509 mm are 12.4605 mohm. Judged are 150 mV on a
feed, 70 mV on a return. Main fuse 4 A: 25 mohm. Both plugs 5 mohm, splice 1, output 10, earth point 2.
"""

from collections.abc import Callable

import pytest

from . import brute, highs
from .judge import Result

Way = Callable[[str, str], Result]
BOTH = pytest.mark.parametrize("optimum", [brute.optimum, highs.optimum], ids=["brute", "highs"])

BIKE = """
supply: {running: 14.0 V, battery: {at: battery}}
frame: {legs: [{between: [battery, head], length: 509 mm}], earth: [head]}
places: [{name: seat, front: battery}]
loads: [{name: lamp, at: head, current: 2 A}]
later: []
reels: [1 mm2]
limits: {drop: {other: LIMIT}}
"""
UNIT = "{feed: {limit: 10 A, fuse_max: 4 A}, outputs: [{names: [a, b], limit: 6 A, peak: 60 A, trip: [3 A]}]}"


def bike(limit: str, **changes: str) -> str:
    """Return the bike with a limit and with some texts, by their first word, put in place of others."""
    made = BIKE.replace("LIMIT", limit)
    for line in BIKE.splitlines():
        for key, text in changes.items():
            if line.startswith(f"{key}:"):
                made = made.replace(line, f"{key}: {text}")
    return made


@BOTH
@pytest.mark.parametrize(("limit", "fits"), [("268.921 mV", True), ("268.92 mV", False)])
def test_a_drop_that_is_met_exactly_is_kept(optimum: Way, limit: str, *, fits: bool) -> None:
    """Feed 150, fuse 50, unit plug 10, output 20, run 24.921, load plug 10, earth 4; no leg back: 268.921."""
    assert optimum(bike(limit), UNIT).feasible is fits


@BOTH
@pytest.mark.parametrize(("limit", "fits"), [("265.921 mV", True), ("265.92 mV", False)])
def test_two_tails_at_the_end_of_a_run_are_a_splice(optimum: Way, limit: str, *, fits: bool) -> None:
    """Two of 1 A: 150 + 50 + 10 + 20 + 24.921, the splice 2 at all the current, a plug 5 at one's own, earth 4."""
    loads = "[{name: l, at: head, current: 1 A, share: x}, {name: r, at: head, current: 1 A, share: x}]"
    unit = UNIT.replace("names: [a, b]", "name: a")
    assert optimum(bike(limit, loads=loads), unit).feasible is fits


@BOTH
@pytest.mark.parametrize(("limit", "fits"), [("241 mV", True), ("240.999 mV", False)])
def test_two_tails_at_the_unit_are_a_splice(optimum: Way, limit: str, *, fits: bool) -> None:
    """The same with the unit beside them, whose own wire is the third: no run, so 241."""
    loads = "[{name: l, at: head, current: 1 A, share: x}, {name: r, at: head, current: 1 A, share: x}]"
    unit = UNIT.replace("names: [a, b]", "name: a")
    assert optimum(bike(limit, loads=loads, places="[{name: seat, front: head}]"), unit).feasible is fits


@BOTH
@pytest.mark.parametrize(("limit", "fits"), [("340.921 mV", True), ("340.92 mV", False)])
def test_a_return_with_a_leg_has_a_splice(optimum: Way, limit: str, *, fits: bool) -> None:
    """268.921 as above, and 70 for the return with 2 for its splice."""
    frame = "{legs: [{between: [battery, head], length: 509 mm}], earth: [battery]}"
    assert optimum(bike(limit, frame=frame), UNIT).feasible is fits


@BOTH
@pytest.mark.parametrize(("limit", "fits"), [("418.843 mV", True), ("418.841 mV", False)])
def test_every_part_of_the_path_adds_to_the_drop(optimum: Way, limit: str, *, fits: bool) -> None:
    """Lamp 2 A, camera 1 A. Feed 150, fuse 3 x 25, unit plug 10, output 20, run 49.842, its connector 10, load plug 10.

    Return 70 (2.5 mm2, as 1 mm2 would lose 3 x 24.921), its connector 15, its splice 3, earth 6: 418.842.
    """
    legs = ", ".join(
        f"{{between: [{one}, {other}], length: 509 mm}}"
        for one, other in (("battery", "tray"), ("tray", "neck"), ("neck", "head"))
    )
    made = bike(
        limit,
        frame=f"{{legs: [{legs}], earth: [tray], connectors: [neck, head]}}",
        places="[{name: seat, front: tray}]",
        loads="[{name: lamp, at: head, current: 2 A}, {name: camera, at: head, current: 1 A}]",
        reels="[2.5 mm2, 1 mm2]",
    )
    assert optimum(made, UNIT.replace("trip: [3 A]", "trip: [3 A], wire_max: 1 mm2")).feasible is fits


@BOTH
@pytest.mark.parametrize(("limit", "fits"), [("441.843 mV", True), ("441.842 mV", False)])
def test_a_return_that_loses_more_in_the_thickest_reel_is_judged_with_that(
    optimum: Way, limit: str, *, fits: bool
) -> None:
    """2 m of 1 mm2 lose 97.9214 there and back: 150 + 50 + 10 + 20 + 97.9214 + 10 + 97.9214 + 2 + 4 = 441.8428."""
    frame = "{legs: [{between: [battery, head], length: 2000 mm}], earth: [battery]}"
    assert optimum(bike(limit, frame=frame), UNIT).feasible is fits


@BOTH
@pytest.mark.parametrize(
    ("terminal", "limit", "fits"),
    [
        ("1 mm2", "289.843 mV", True),
        ("1 mm2", "289.842 mV", False),
        ("4 mm2", "244 mV", True),
        ("4 mm2", "243.999 mV", False),
    ],
)
def test_a_feed_is_judged_with_the_thickest_wire_that_its_terminal_takes(
    optimum: Way, terminal: str, limit: str, *, fits: bool
) -> None:
    """4 m of 1 mm2 lose 195.8428: with 50 + 10 + 20 + 10 + 4 they are 289.8428. 4 mm2 lose less than 150: 244."""
    frame = "{legs: [{between: [battery, head], length: 4000 mm}], earth: [head]}"
    made = bike(limit, frame=frame, places="[{name: seat, front: head}]", reels="[1 mm2, 4 mm2]")
    assert optimum(made, UNIT.replace("fuse_max", f"wire_max: {terminal}, fuse_max")).feasible is fits


@BOTH
@pytest.mark.parametrize(
    ("output", "more", "fits"),
    [("125.5 mohm", "", True), ("125.6 mohm", "", False), ("125.6 mohm", "headlamp: 0.6 V", True)],
)
def test_a_headlamp_may_lose_half_a_volt(optimum: Way, output: str, more: str, *, fits: bool) -> None:
    """5 % of 14 V are 0.7 V, more than 0.5 V. 248.921 and twice 125.5 are 499.921, twice 125.6 are 500.121."""
    loads = "[{name: dipped beam, part: dipped beam, at: head, current: 2 A, kind: led}]"
    made = bike("1 V", loads=loads).replace("other: 1 V", more)
    assert optimum(made, UNIT.replace("trip:", f"resistance: {output}, trip:")).feasible is fits


@BOTH
@pytest.mark.parametrize(
    ("fed", "limit", "fits"),
    [
        ("fed: fuse", "197.588 mV", True),
        ("fed: fuse", "197.587 mV", False),
        ("fed: fuse, own_switch: battery", "237.588 mV", True),
        ("fed: fuse, own_switch: battery", "237.587 mV", False),
        ("fed: relay", "217.888 mV", True),
        ("fed: relay", "217.887 mV", False),
        ("fed: relay, own_switch: head", "218.038 mV", True),
        ("fed: relay, own_switch: head", "218.037 mV", False),
    ],
)
def test_what_is_fed_past_the_unit_loses_in_fuse_contact_or_switch(
    optimum: Way, fed: str, limit: str, *, fits: bool
) -> None:
    """2 A on 3 A lose 130 x 2 / 3 = 86.667; run 24.921, plug 10, return 70 + 2, earth 4: 197.588.

    A contact 20, a switch 40; a coil that the unit feeds lifts the earth by 0.3. One that a switch there earths loses
    0.15 on the return's splice as well: 197.588 + 20 + 0.45.
    """
    frame = "{legs: [{between: [battery, head], length: 509 mm}], earth: [battery]}"
    made = bike(limit, frame=frame, loads=f"[{{name: lamp, at: head, current: 2 A, {fed}}}]")
    assert optimum(made, UNIT).feasible is fits


@BOTH
@pytest.mark.parametrize(("limit", "fits"), [("553.526 mV", True), ("553.525 mV", False)])
def test_a_fuse_above_10_a_loses_less(optimum: Way, limit: str, *, fits: bool) -> None:
    """12 A on 15 A: 100 x 12 / 15 = 80, switch 240, run 12 x 12.4605 = 149.526, plug 60, earth 24: 553.5260."""
    loads = "[{name: lamp, at: head, current: 12 A, fed: fuse, own_switch: head}]"
    assert optimum(bike(limit, loads=loads), UNIT).feasible is fits


@BOTH
@pytest.mark.parametrize(
    ("unit_lowest", "lowest", "fits"),
    [("8.8 V", "8.731 V", True), ("8.801 V", "8.731 V", False), ("8.8 V", "8.732 V", False)],
)
def test_plugs_count_while_cranking(optimum: Way, unit_lowest: str, lowest: str, *, fits: bool) -> None:
    """A motor of 2 A: 9 V - 150 - 50 = 8.8 V at the unit; 10 + 20 + 24.921 + 10 + 4 less at it: 8.731079 V."""
    loads = f"[{{name: pump, at: head, current: 2 A, kind: motor, when: [cranking], lowest: {lowest}}}]"
    unit = UNIT.replace("fuse_max", f"lowest: {unit_lowest}, fuse_max")
    assert optimum(bike("1 V", loads=loads), unit).feasible is fits


@BOTH
@pytest.mark.parametrize(("limit", "fits"), [("308.921 mV", True), ("308.92 mV", False)])
def test_a_switch_of_its_own_loses_on_what_the_unit_feeds(optimum: Way, limit: str, *, fits: bool) -> None:
    """20 mohm at 2 A: 268.921 + 40."""
    loads = "[{name: lamp, at: head, current: 2 A, own_switch: head}]"
    assert optimum(bike(limit, loads=loads), UNIT).feasible is fits


SPUR = "{legs: [{between: [battery, head], length: 509 mm}, {between: [head, bar], length: 1018 mm}], earth: [head]}"


@BOTH
@pytest.mark.parametrize(("limit", "fits"), [("408.605 mV", True), ("408.604 mV", False)])
def test_a_switch_off_the_way_has_a_wire_there_and_one_back(optimum: Way, limit: str, *, fits: bool) -> None:
    """1018 mm there and 1018 mm back, each 24.921 x 2 at 2 A: 268.921 + 40 + 99.684 = 408.605."""
    loads = "[{name: lamp, at: head, current: 2 A, own_switch: bar}]"
    assert optimum(bike(limit, frame=SPUR, loads=loads), UNIT).feasible is fits
