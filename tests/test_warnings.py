"""What is possible but odd is told as a warning, and a bike without anything odd has none.

Sources: UN R37 (nominal and greatest watts); fuses and charging: 1.25 x, common practice, no source; what a
motorcycle is like: common practice, no source.
"""

import pytest

from outcomes import planned
from portloom.base.lamps import LAMPS

BIKE = """
bike: Harbour Trail trial
supply:
  running: 14 V
  battery: {{capacity: 10 Ah, at: tray}}
  charging: {{idle: 300 W, cruise: 448 W, joins: battery, fuse: 40 A}}
frame:
  legs:
    - {{between: [tray, neck], length: {length}}}
  earth: [tray, neck]
places: [{{name: under seat, front: tray}}]
later: []
loads:
  - {{name: dipped beam, part: dipped beam, at: neck, lamp: H7, when: [day, night]}}
  - {{name: ignition, part: ignition, at: neck, current: 1 A, kind: electronics, when: [key on, cranking, day, night]}}
  - {{part: socket, at: neck, current: 4 A}}
  - {{name: grips, part: heated grips, at: neck, current: 4 A, kind: heater, when: [day, night]}}
{loads}
inputs:
  - {{name: key, at: tray, signal: supply, tells: key}}
  - {{name: run, at: tray, signal: supply, normally: closed, tells: [engine stop, neutral, clutch, side stand]}}
"""
UNIT = """
unit: trial way
feed: {{limit: 50 A, standby: 0.5 mA, awake: 50 mA}}
outputs:
  - {{names: [{names}], limit: 20 A, peak: 90 A, trip: [1.5 A, 3 A, 6 A, 20 A], switch_modes: {modes}, {more}}}
inputs: [{{names: [in 1, in 2], accepts: supply}}]
"""


def written(*loads: str, length: str = "700 mm") -> str:
    """Write a bike with more loads than beam, ignition, socket and grips."""
    return BIKE.format(length=length, loads="\n".join(f"  - {{{load}}}" for load in loads))


def unit(more: str = "inductive: true") -> str:
    """Write a unit of five outputs."""
    return UNIT.format(names="out 1, out 2, out 3, out 4, out 5", modes="[steady, hold, start]", more=more)


def told(bike: str, more: str = "inductive: true") -> tuple[str, ...]:
    """Return the warnings of a bike's plan on that unit."""
    return planned(bike, unit(more)).warnings


PLAIN = written()


def changed(old: str, new: str, bike: str = PLAIN) -> str:
    """Return a bike with a word changed, which must be there."""
    assert old in bike
    return bike.replace(old, new)


def test_a_clean_bike_has_no_warning() -> None:
    """A few loads, an alternator that keeps up, key and stop that pass a broken wire and a crushed one: nothing."""
    assert told(PLAIN) == ()


ODD = [
    ("name: beacon, at: neck, power: 55 W, kind: filament", "beacon: 55 W is a nominal power of UN R37; it draws more"),
    ("name: horn, at: neck, current: 3 A", "horn looks like a horn: write 'part: horn'"),
    (
        "name: starter motor, at: neck, current: 3 A",
        "starter motor looks like a starter motor, which no output",
    ),
    (
        "name: Regulator/Rectifier, at: neck, current: 3 A",
        "Regulator/Rectifier looks like a regulator, which no",
    ),
    ("name: ABS unit, at: neck, current: 3 A", "ABS unit looks like an ABS, which no output may feed: it keeps its"),
    (
        "part: compressor horn, at: neck, current: 3 A, mode: hold",
        "compressor horn: its compressor draws much: 'fed: relay' is usual",
    ),
    ("name: Tail Light, at: neck, current: 3 A", "Tail Light looks like a tail lamp: write 'part: tail lamp'"),
]


@pytest.mark.parametrize(("load", "sentence"), ODD)
def test_an_odd_load_is_told(load: str, sentence: str) -> None:
    """A nominal power, a name that looks like a part: one warning each, and no other."""
    said = told(written(load))
    assert [line.startswith(sentence) for line in said] == [True]


def test_a_part_is_not_asked_for_twice() -> None:
    """A load that says what part it is may be called anything."""
    assert told(written("name: horn, part: horn, at: neck, current: 3 A")) == ()


@pytest.mark.parametrize(("watts", "is_told"), [(100, False), (101, True), (150, True)])
def test_an_led_is_odd_above_100_watts(watts: int, *, is_told: bool) -> None:
    """100 W of LED are within what a motorcycle's lamps draw, 101 W are not."""
    big = unit().replace("30 A", "60 A").replace("20 A, peak", "40 A, peak").replace("20 A]", "36 A]")
    said = planned(written(f"name: lamp bar, at: neck, power: {watts} W, kind: led"), big).warnings
    odd = f"lamp bar: an LED of {watts} W is more than a motorcycle's lamps draw"
    assert (odd in said) is is_told


def test_every_nominal_power_is_told() -> None:
    """A filament of a nominal power of UN R37 draws more than that; a power in between is taken as measured."""
    for power in sorted({lamp.nominal // 1000 for lamp in LAMPS.values()}):
        said = told(written(f"name: beacon, at: neck, power: {power} W, kind: filament, inrush: 50 A"))
        assert any(f"beacon: {power} W is a nominal power" in line for line in said)
    assert told(written("name: beacon, at: neck, power: 12 W, kind: filament")) == ()
    assert told(written("name: beacon, at: neck, power: 10 W, kind: led")) == ()


@pytest.mark.parametrize(
    ("part", "watts", "lamp"),
    [
        ("rear fog lamp, own_switch: neck", 21, "P21W"),
        ("tail lamp", 5, "R5W"),
        ("dipped beam", 55, "H4 dipped"),
        ("main beam, own_switch: neck", 60, "H4 main"),
    ],
)
def test_the_lamp_that_is_proposed_is_one_of_its_part(part: str, watts: int, lamp: str) -> None:
    """No rear fog lamp is told to have an indicator's filament. Source: UN R37, from memory."""
    said = told(written(f"name: it, part: {part}, at: neck, power: {watts} W, kind: filament"))
    assert any(f"write 'lamp: {lamp}' or the like" in line for line in said)


LOSING = "limits: {drop: {headlamp: 9 V, engine: 9 V, other: 9 V}}\n"
"""So that wire of any length will do."""


def test_a_motorcycle_of_30_m() -> None:
    """A leg above 3 m is told, and legs above 15 m together; 3 m are not."""
    assert told(written(length="3 m") + LOSING) == ()
    assert told(written(length="3001 mm") + LOSING) == ("tray - neck is 3.001 m long: is that right for a motorcycle?",)
    long = told(written(length="30 m") + LOSING)
    assert "tray - neck is 30 m long: is that right for a motorcycle?" in long
    assert "the legs are 30 m long together: is that one motorcycle?" in long


NOT_SEEN = "by day neither a dipped beam nor a daytime lamp is on: check what local codes require"


@pytest.mark.parametrize(
    ("part", "when", "is_told"),
    [
        ("dipped beam", "[day, night]", False),
        ("daytime lamp", "day", False),
        ("dipped beam", "night", True),
        ("main beam", "[day, night]", True),
    ],
)
def test_a_day_without_a_lamp(part: str, when: str, *, is_told: bool) -> None:
    """Neither dipped beam nor daytime lamp by day is told."""
    bike = changed("lamp: H7, when: [day, night]", f"lamp: H7, when: {when}")
    assert told(changed("part: dipped beam", f"part: {part}", bike)) == (NOT_SEEN,) * is_told


def test_a_solenoid_alone_while_cranking() -> None:
    """Where nothing but the solenoid is on while cranking, the engine can't start."""
    what = "part: starter solenoid, kind: relay coil, mode: start, when: cranking"
    solenoid = f"name: coil, at: tray, current: 2 A, {what}"
    assert told(written(solenoid)) == ()
    alone = changed("[key on, cranking, day, night]", "[key on, day, night]", written(solenoid))
    assert told(alone) == ("while cranking nothing but coil is on: ignition and pump must be on to start",)


@pytest.mark.parametrize(("trip", "is_told"), [("10 A", False), ("10.001 A", True)])
def test_a_trip_above_half_the_main_fuse(trip: str, *, is_told: bool) -> None:
    """4.394 + 1 + 4 + 4 A x 1.25 ask for a main fuse of 20 A (ISO 8820-3); half of it is 10 A."""
    found = planned(PLAIN, unit().replace("6 A, 20 A", trip))
    assert found.only.feed.main_fuse == 20_000
    assert sum("more than half the main fuse of 20 A" in line for line in found.warnings) == 3 * is_told


def test_no_key_input() -> None:
    """A unit that no input tells of the key can't tell when to wake and sleep."""
    assert told(changed("  - {name: key, at: tray, signal: supply, tells: key}\n", "")) == (
        "no input tells the unit 'key': the key can't wake it, and it can't sleep with the key off",
    )


@pytest.mark.parametrize(
    ("kind", "suppressed", "inductive", "is_told"),
    [
        ("motor", "false", "", True),
        ("ignition coil", "false", "", True),
        ("motor", "true", "", False),
        ("motor", "false", "inductive: true", False),
        ("heater", "false", "", False),
    ],
)
def test_a_profile_that_does_not_say(kind: str, suppressed: str, inductive: str, *, is_told: bool) -> None:
    """A bare coil or motor on an output whose profile is silent about such loads is told."""
    bike = written(f"name: pump, at: neck, current: 1 A, kind: {kind}, suppressed: {suppressed}, inrush: 5 A")
    said = told(bike, inductive or "key_off: never")
    assert [("does not say whether it can switch pump" in line) for line in said] == [True] * is_told


def test_a_regulator_that_joins_the_unit() -> None:
    """The charging current has no business in the unit."""
    said = told(changed("joins: battery, fuse: 40 A", "joins: unit"))
    assert said == ("the regulator's lead goes to the unit: connect it to the battery side, through a fuse of its own",)


@pytest.mark.parametrize(("power", "is_told"), [("448 W", False), ("448.001 W", True)])
def test_a_regulators_fuse_that_is_too_small(power: str, *, is_told: bool) -> None:
    """40 A are 1.25 x 32 A, which are 448 W at 14 V; common practice, no source."""
    said = told(changed("cruise: 448 W", f"cruise: {power}"))
    assert said == (("the regulator's fuse of 40 A is less than 1.25 x the 32.001 A that it charges at",) * is_told)


@pytest.mark.parametrize(("idle", "is_told"), [("189 W", False), ("188 W", True)])
def test_an_alternator_that_does_not_keep_up(idle: str, *, is_told: bool) -> None:
    """4.394 A (58 W at 13.2 V), 1, 4 and 4 A, the unit awake 50 mA: 13.444 A x 14 V = 188.2 W by day and by night."""
    said = told(changed("idle: 300 W", f"idle: {idle}"))
    drawn = "day, at idle: 188.2 W drawn, the alternator supplies 188 W"
    line = f"{drawn}: in ten minutes the battery gives 0.1 Ah of its 10 Ah"
    assert said == (line,) * is_told


@pytest.mark.parametrize(("idle", "gives"), [("14 W", "2.1 Ah"), ("62.3 W", "1.5 Ah")])
def test_ten_minutes_at_idle(idle: str, gives: str) -> None:
    """174.2 W that the alternator lacks are 12.44 A at 14 V, 2.07 Ah in ten minutes; 125.9 W are 8.99 A, 1.5 Ah."""
    (said,) = told(changed("idle: 300 W", f"idle: {idle}"))
    assert said.endswith(f"in ten minutes the battery gives {gives} of its 10 Ah")


@pytest.mark.parametrize(
    ("cruise", "ends"),
    [
        ("209.2 W", None),
        ("209.1 W", "more than 90 % of the 209.1 W that the alternator supplies: little is left to charge the battery"),
        ("188 W", "the alternator supplies 188 W: the battery runs down on the road"),
    ],
)
def test_an_alternator_with_little_to_spare(cruise: str, ends: str | None) -> None:
    """188.216 W are 90 % of 209.13 W: above that a battery is charged slowly, if at all; common practice."""
    said = [line for line in told(changed("cruise: 448 W", f"cruise: {cruise}")) if "cruising" in line]
    assert [line.startswith("day, cruising: 188.2 W drawn") and str(ends) in line for line in said] == [True] * bool(
        ends
    )


def alongside(more: str, leg: str = "length: 700 mm") -> str:
    """Write a bike with a wire of 2.5 mm2 from tray to neck that never touches the unit."""
    return (
        changed("length: 700 mm", leg) + f"alongside: [{{name: stator, from: tray, to: neck, size: 2.5 mm2, {more}}}]\n"
    )


@pytest.mark.parametrize(
    ("more", "is_told"),
    [("current: 17.5 A", False), ("current: 17.501 A", True), ("current: 17.501 A, when: cranking", False)],
)
def test_a_wire_alongside_that_carries_too_much(more: str, *, is_told: bool) -> None:
    """2.5 mm2 has 14 AWG's 35 A (33 CFR 183.425 Table 5, 105 C), 50 % of it among seven and more wires (Note 2).

    Beam, ignition, socket and grips with their return, the feed is none: with three of it eight lie there.
    """
    said = [line for line in told(alongside(f"count: 3, {more}")) if line.startswith("stator")]
    line = (
        "stator: 17.501 A in each wire on 2.5 mm2, which may carry 17.5 A in tray - neck, where 7 wires carry 1 A or "
        "more: use thicker wire, or lead it another way"
    )
    assert said == [line] * is_told


def test_a_dash_that_goes_dark_with_the_engine() -> None:
    """The engine stop takes the current from the controller's output, and from a dash that shares it."""
    running = changed("{name: ignition, part: ignition", "{name: controller, share: both, part: engine controller")
    assert not any("goes dark" in one for one in told(running))
    dash = "part: dash, at: neck, current: 0.5 A, share: both"
    said = told(running.replace("inputs:", f"  - {{{dash}}}\n  - {{name: marker, at: neck, current: 1 A}}\ninputs:"))
    line = "dash goes dark with the engine stop, sharing an output with controller: 'share: none' parts them"
    assert sum(line in one for one in said) == 1


@pytest.mark.parametrize(("asleep", "is_told"), [("6 mA", False), ("7 mA", True)])
def test_a_battery_that_is_soon_half_empty(asleep: str, *, is_told: bool) -> None:
    """Half of 10 Ah in 30 days is 166.7 mAh a day: 20 mAh lost by itself leave 6.11 mA for 24 h."""
    said = planned(PLAIN, unit().replace("standby: 0.5 mA", f"standby: {asleep}")).warnings
    assert said == (("asleep: the battery is half empty after 26.6 days",) * is_told)


@pytest.mark.parametrize(
    ("current", "leads", "is_told"), [("999 mA", "", True), ("1 A", "", False), ("999 mA", ", leads: 1 mm2", False)]
)
def test_a_big_trip_on_a_small_load(current: str, leads: str, *, is_told: bool) -> None:
    """A trip above 10 A protects the thin tails of a load under 1 A hardly at all, unless their size is given."""
    bike = written(f"name: clock, at: neck, current: {current}{leads}")
    one_trip = unit().replace("1.5 A, 3 A, 6 A, 20 A", "10.001 A")
    said = [line for line in planned(bike, one_trip).warnings if "check that its own tails can take that" in line]
    assert [("trip 10.001 A on clock, under 1 A" in line) for line in said] == [True] * is_told


@pytest.mark.parametrize(
    ("more", "is_told"),
    [
        ("peak_for: 50 ms", False),
        ("peak_for: 49 ms", True),
        ("peak_for: 49 ms, trip_curve: [[2 x, 1 s], [16 x, 60 ms]]", False),
    ],
)
def test_a_peak_that_is_not_known_to_hold(more: str, *, is_told: bool) -> None:
    """A filament's inrush of 44 A lasts 50 ms (common practice); a peak for less, and no curve, may not hold."""
    said = told(PLAIN, f"inductive: true, {more}")
    assert [("dipped beam needs its inrush for 50 ms" in line) for line in said] == [True] * is_told


def test_an_inrush_below_the_limit_needs_no_peak() -> None:
    """Where the inrush is no more than the output's limit, how long its peak holds does not matter."""
    led = changed("lamp: H7, when", "power: 20 W, kind: led, inrush: 20 A, inrush_for: 2 s, when")
    assert told(led, "inductive: true, peak_for: 49 ms") == ()


@pytest.mark.parametrize(("dims", "is_told"), [("false", True), ("true", False)])
def test_a_guest_of_a_dimmed_circuit(dims: str, *, is_told: bool) -> None:
    """A tell-tale that does not take dimming, fed from a circuit that is dimmed, is told; common practice."""
    guest = f"name: tell-tale, at: neck, power: 1 W, kind: led, dims: {dims}, from: grips"
    bike = changed("kind: heater, when", "kind: heater, mode: dim, when", written(guest))
    said = told(bike, "inductive: true, pwm: true")
    assert [("tell-tale is fed from a dimmed circuit" in line) for line in said] == [True] * is_told


def test_a_leg_that_moves() -> None:
    """Slack and fine strands are asked for where a leg bends: common practice, no source."""
    bending = changed("earth: [tray, neck]", "earth: [tray]", written(length="700 mm, moves: true"))
    assert [line.startswith("tray - neck moves: leave slack there") for line in told(bending)] == [True]
