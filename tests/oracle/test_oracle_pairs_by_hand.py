"""Tiny bikes with two units, worked out by hand beside each test (mm, A, mV)."""

from collections.abc import Callable

import pytest

from . import pairs, pairs_by_trying
from .pair_judge import PairResult

Way = Callable[[str, str, str], PairResult]
BOTH = pytest.mark.parametrize("optimum", [pairs_by_trying.optimum, pairs.optimum], ids=["tried", "highs"])

# Feeds 300 to the seat, 900 to the head.
FRAME = """
supply: {running: 14.0 V, battery: {at: battery}}
frame:
  legs:
    - {between: [battery, tray], length: 300 mm}
    - {between: [tray, neck], length: 600 mm}
    - {between: [neck, bar], length: 400 mm}
  earth: [tray]
places: [{name: seat, front: tray}, {name: head, front: neck}]
later: []
"""
FEEDS = 300 + 900
LAMPS = """
loads:
  - {name: near, at: tray, current: 1 A, kind: led}
  - {name: far, at: bar, current: 1 A, kind: led}
"""
UNIT = """
feed: {limit: 10 A}
outputs: [{name: out 1, limit: 4 A, trip: [2 A, 4 A]}]
inputs: [{name: in 1, accepts: [earth, supply]}]
"""
# Near 0 on the unit at the seat, far 400 on that at the head; the return of the bar 1000; 3 A to spare on each.
LIT = FEEDS + 400 + 1000 + 2 * 150


@BOTH
def test_both_feeds_and_losses_are_counted_and_each_return_once(optimum: Way) -> None:
    """Near and far the other way about would run 600 + 1000 in place of 400; which unit is where is all one."""
    found = optimum(FRAME + LAMPS, UNIT, UNIT)
    assert found.per_place == {
        (("seat", False), ("head", False)): LIT * 1000,
        (("head", False), ("seat", False)): LIT * 1000,
    }
    assert found.plan is not None
    assert found.plan.fuses_ma == (3000, 3000)  # above a trip of 2 A


@BOTH
def test_each_order_of_places_is_tried(optimum: Way) -> None:
    """The second unit has two modes that nobody asks for, and meets the loom turned: 900 to the tray, back 600."""
    turning = FRAME.replace("front: tray}", "front: tray, rear: neck, way_round: either}")
    able = UNIT.replace("trip:", "switch_modes: [steady, hold, flash], trip:")
    found = optimum(turning + LAMPS, UNIT, able)
    both_at_the_neck = 2 * 900 + 600 + 400 + 1000 + 2 * 150
    assert found.per_place == {
        (("seat", False), ("head", False)): (LIT + 200) * 1000,
        (("seat", True), ("head", False)): (both_at_the_neck + 200) * 1000,
        (("head", False), ("seat", False)): (LIT + 200) * 1000,
        (("head", False), ("seat", True)): (both_at_the_neck + 200) * 1000,
    }


@BOTH
@pytest.mark.parametrize(
    ("says", "wires"),
    [
        ("operates: [near, far]", 600 + 0),
        ("operates: near", 600),
        ("operates: far", 0),
        ("tells: key", 0),  # where its wire is shorter
        ("tells: engine turning", 0),  # nobody needs it
    ],
)
def test_a_switch_is_on_each_unit_that_wants_it(optimum: Way, says: str, wires: int) -> None:
    """The switch is at the neck, its return 600; 600 to the seat, nothing to the head."""
    switch = f"inputs: [{{name: button, at: neck, signal: supply, {says}}}]\n"
    assert optimum(FRAME + LAMPS + switch, UNIT, UNIT).cost_um == (LIT + wires) * 1000
    earthed = switch.replace("supply", "earth")
    assert optimum(FRAME + LAMPS + earthed, UNIT, UNIT).cost_um == (LIT + 600 + wires) * 1000


@BOTH
@pytest.mark.parametrize(("operated", "fits"), [("[near, far]", False), ("near", True), ("far", True)])
def test_a_unit_without_an_input_gets_no_load_whose_switch_it_would_want(
    optimum: Way, operated: str, *, fits: bool
) -> None:
    """Each unit drives one of the lamps; only the first takes a switch to earth."""
    switch = f"inputs: [{{name: button, at: neck, signal: earth, operates: {operated}}}]\n"
    assert (optimum(FRAME + LAMPS + switch, UNIT, UNIT.replace("earth, ", "")).plan is not None) is fits


@BOTH
@pytest.mark.parametrize(("mode", "wires"), [("engine-run", 600), ("steady", 0)])
def test_what_a_mode_needs_is_told_to_the_unit_that_drives_it(optimum: Way, mode: str, wires: int) -> None:
    """Near wants engine-run, so the sender at the neck goes to the seat; else to the head, which is nearer."""
    switch = "inputs: [{name: sender, at: neck, signal: supply, tells: engine turning}]\n"
    lamps = LAMPS.replace("at: tray,", f"at: tray, mode: {mode},")
    unit = UNIT.replace("trip: [2 A", "switch_modes: [steady, engine-run], trip: [2 A")
    assert optimum(FRAME + lamps + switch, unit, unit).cost_um == (LIT + wires + 2 * 100) * 1000


BRAKES = """
inputs:
  - {name: lever, at: neck, signal: supply, tells: front brake}
  - {name: pedal, at: tray, signal: supply, tells: rear brake}
"""


@BOTH
@pytest.mark.parametrize(("brakes", "wires"), [("two", 600), ("one", 600)])
def test_both_brake_switches_go_to_the_unit_of_the_brake_lamp(optimum: Way, brakes: str, wires: int) -> None:
    """Near is the brake lamp: the lever's wire is 600, the pedal's nothing. With one brake either tells it."""
    lamps = LAMPS.replace("at: tray,", "at: tray, part: brake lamp, mode: steady, when: day,")
    bike = FRAME + lamps + BRAKES + f"brakes: {brakes}\n"
    unit = UNIT.replace("inputs: [", "inputs: [{name: in 2, accepts: [supply]}, ")
    assert optimum(bike, unit, unit).cost_um == (LIT + wires) * 1000


@BOTH
@pytest.mark.parametrize(
    ("parts", "fits"),
    [
        (("ignition", "fuel pump"), False),
        (("engine controller", "starter solenoid"), False),
        (("left indicator", "right indicator"), False),
        (("ignition", "horn"), True),
        (("ignition", "left indicator"), True),
    ],
)
def test_engine_parts_and_indicators_are_not_parted(optimum: Way, parts: tuple[str, str], *, fits: bool) -> None:
    """Each unit has one output; with two on the first, both loads can be there."""
    one, other = (f"part: {part}, mode: steady" for part in parts)
    lamps = LAMPS.replace("at: tray", f"at: tray, {one}").replace("at: bar", f"at: bar, {other}")
    stop = "inputs: [{name: stop, at: tray, signal: supply, tells: engine stop}]\nstand: none\n"
    bike = FRAME + lamps + stop + "set_aside: {indicator-pair: agreed, start: agreed}\n"
    assert (optimum(bike, UNIT, UNIT).plan is not None) is fits
    assert optimum(bike, UNIT.replace("{name: out 1", "{names: [out 1, out 2]"), UNIT).plan is not None


@BOTH
@pytest.mark.parametrize(
    ("feeds", "fits"),
    [
        (("3 A", "3 A"), True),  # 3 A is the step above the trip of 2 A
        (("2.9 A", "3 A"), False),  # 2 A is a step
        (("2.9 A", "10 A"), False),  # the first takes no load at all, the second has but one output
        (("2.9 A, fuse_max: 3 A", "3 A"), True),
        (("10 A, fuse_max: 2.9 A", "3 A"), False),
    ],
)
def test_each_main_fuse_is_above_its_trips_and_within_what_the_unit_takes(
    optimum: Way, feeds: tuple[str, str], *, fits: bool
) -> None:
    """Each lamp trips at 2 A."""
    units = [UNIT.replace("10 A", feed) for feed in feeds]
    assert (optimum(FRAME + LAMPS, *units).plan is not None) is fits


@BOTH
@pytest.mark.parametrize(("charged", "fits"), [("56 W", True), ("57 W", False)])
def test_each_main_fuse_carries_what_is_charged_through_it(optimum: Way, charged: str, *, fits: bool) -> None:
    """56 W are 4 A, so 5 A; 57 W are 4.072 A, so 7.5 A. A unit of 7 A takes 5 A at most."""
    bike = FRAME.replace("running", f"charging: {{cruise: {charged}, joins: unit}}, running") + LAMPS
    assert (optimum(bike, UNIT.replace("10 A", "7 A"), UNIT).plan is not None) is fits


# Each place is 509 mm from the battery: 12.4605 mohm of 1 mm2 at 85 C. The lamp is at one, the beam at the other.
APART = """
supply: {running: 14.0 V, battery: {at: battery}}
frame:
  legs:
    - {between: [battery, left], length: 509 mm}
    - {between: [battery, right], length: 509 mm}
  earth: [battery]
places: [{name: one, front: left}, {name: other, front: right}]
later: []
reels: [1 mm2]
loads:
  - {name: lamp, at: left, current: 1 A, kind: led, return: frame}
  - {name: beam, part: dipped beam, at: right, current: 5 A, kind: led, return: frame}
"""
SMALL = "{feed: {limit: 2.4 A, fuse_max: 3 A}, outputs: [{name: out 1, limit: 2 A, trip: [2 A], peak: 9 A}]}"
LARGE = "{feed: {limit: 8 A}, outputs: [{name: out 1, limit: 9 A, trip: [6.5 A], peak: 90 A}]}"


@BOTH
@pytest.mark.parametrize(
    ("limit", "fuse", "fits"),
    [
        ("252 mV", "3 A", True),
        ("251.999 mV", "3 A", False),
        ("202 mV", "20 A", True),
        ("201.999 mV", "20 A", False),
    ],
)
def test_a_feed_is_counted_with_what_its_fuse_carries_or_all_draw(
    optimum: Way, limit: str, fuse: str, *, fits: bool
) -> None:
    """The lamp draws 1 A: plugs 10 mV, output 10 mV, earth 2 mV; the feed's wire 150. All draw 6 A.

    A fuse of 3 A (33.333 mohm) is counted 2.4 A: 80. One of 20 A (5 mohm) is counted 6 A: 30; what lies between
    loses more.
    """
    bike = f"{APART}limits: {{drop: {{other: {limit}}}}}\n"
    assert (optimum(bike, SMALL.replace("3 A", fuse), LARGE).plan is not None) is fits


@BOTH
@pytest.mark.parametrize(("lowest", "fits"), [("8.538 V", True), ("8.539 V", False)])
def test_while_cranking_a_feed_is_counted_with_what_all_draw(optimum: Way, lowest: str, *, fits: bool) -> None:
    """At 9 V lamp and beam draw 1.556 A and 7.778 A: 150 + 9.334 x 33.333 = 461.13 mV of 9 V."""
    bike = APART.replace("kind: led,", "kind: led, when: [cranking, day],")
    assert (optimum(bike, SMALL.replace("3 A", f"3 A, lowest: {lowest}"), LARGE).plan is not None) is fits


@BOTH
@pytest.mark.parametrize(("opening", "fits"), [("5.25 mm", True), ("5.249 mm", False)])
def test_both_feeds_and_both_earths_pass_an_opening(optimum: Way, opening: str, *, fits: bool) -> None:
    """Four wires of 1.7 mm through the first leg: 1.25 x 2 x 1.7 = 4.25 mm and the sleeve."""
    bike = FRAME.replace("300 mm", f"300 mm, opening: {opening}").replace("earth: [tray]", "earth: [battery]")
    bike += LAMPS.replace("at: bar", "at: neck").replace("kind: led", "kind: led, return: frame")
    assert (optimum(bike + "reels: [0.5 mm2]\n", UNIT, UNIT).plan is not None) is fits


@BOTH
@pytest.mark.parametrize(("count", "fits"), [(1, True), (2, False)])
def test_loaded_wires_of_both_count_together(optimum: Way, count: int, *, fits: bool) -> None:
    """5 A each, so 7.5 A each: with one wire beside both feeds 70 % of 11 A are 7.7 A, with two 60 % are 6.6 A."""
    bike = FRAME + LAMPS.replace("at: bar", "at: neck").replace("1 A, kind: led", "5 A, kind: led, return: frame")
    beside = f"{{name: stator, from: battery, to: tray, size: 1 mm2, current: 2 A, count: {count}}}"
    bike += f"reels: [0.5 mm2]\nalongside: [{beside}]\n"
    unit = UNIT.replace("limit: 4 A, trip: [2 A, 4 A]", "limit: 7 A, trip: [6.25 A], peak: 90 A")
    unit = unit.replace("10 A", "10 A, fuse_max: 7.5 A")
    assert (optimum(bike, unit, unit).plan is not None) is fits


@BOTH
def test_a_tell_tale_hangs_on_both_units(optimum: Way) -> None:
    """Tree of near 1000, of far 400, returns 600 + 1000; 2.5 A to spare on each output."""
    guest = "  - {name: tell-tale, at: bar, current: 500 mA, from: [near, far]}\n"
    lamps, unit = LAMPS.replace("at: bar", "at: neck") + guest, UNIT.replace("trip:", "peak: 9 A, trip:")
    assert optimum(FRAME + lamps, unit, unit).cost_um == (FEEDS + 1000 + 400 + 1600 + 2 * 125) * 1000


@BOTH
@pytest.mark.parametrize(
    ("feed", "lost"),
    [
        ("5 A, fuse_max: 7.5 A", 0),  # 1 A and 4 A together
        ("4.999 A, fuse_max: 7.5 A", 2000),
        ("7 A", 2000),  # takes a fuse of 5 A
    ],
)
def test_a_later_load_takes_room_on_either_unit(optimum: Way, feed: str, lost: int) -> None:
    """The second unit has a spare output for 4 A, which trips at 5 A and so asks for a fuse of 7.5 A."""
    bike = FRAME.replace("later: []", "later: [{name: pump, current: 4 A, kind: electronics, worth: 2 m}]") + LAMPS
    spare = "{name: spare, limit: 5 A, trip: [5 A], peak: 30 A, face: rear}"
    wide = UNIT.replace("trip: [2 A, 4 A]}]", f"trip: [2 A, 4 A]}}, {spare}]").replace("10 A", feed)
    assert optimum(bike, UNIT, wide).cost_um == (LIT + lost) * 1000


@BOTH
@pytest.mark.parametrize(("port", "fits"), [("in 1", True), ("in 2", False)])
def test_an_output_follows_an_input_of_its_own_unit(optimum: Way, port: str, *, fits: bool) -> None:
    """Far can only be on the first unit, which has no in 2; that of the second is not meant."""
    lamps = LAMPS.replace("name: near, ", "name: near, mode: hold, ")
    switch = "inputs: [{name: button, at: neck, signal: earth, operates: far}]\n"
    following = UNIT.replace("trip:", f"follow: {port}, trip:")
    other = UNIT.replace("inputs: [", "inputs: [{name: in 2, accepts: [earth]}, ")
    other = other.replace("trip:", "switch_modes: [hold], trip:")
    assert (optimum(FRAME + lamps + switch, following, other).plan is not None) is fits
