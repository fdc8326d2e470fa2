"""The bench test: its order, its figures at another voltage, and what readings are taken to mean.

Filament current ~ V^0.55 (lamp engineering, from memory). The faults that readings mean are common practice, no
source. The bike is made up.
"""

import re
from typing import get_args

import pytest

from laid_bikes import EACH_FITTING, laid_example, laid_text
from outcomes import EXAMPLES, PROFILES
from portloom.documents.handover.bench_test import bench_test
from portloom.documents.handover.readings import judge, unknown_steps
from portloom.documents.handover.steps import BenchTest, Step, TestPart
from portloom.documents.wiring.pieces import wiring_of
from portloom.inputs.bench_readings import readings_from_text
from portloom.inputs.problems import BadFile

NUMBER = "such as 4.21, or nothing"
HEADER = "step,supply_v,current_a,voltage_v\n"


def harbour_trail() -> BenchTest:
    """Return the bench test of the Harbour Trail."""
    return bench_test(laid_example("harbour-trail", "eleven-way"))


def step(title: str) -> Step:
    """Return a step of it by its title."""
    return next(one for one in harbour_trail().steps if one.title == title)


def said(title: str, supply: str, current: str = "", voltage: str = "") -> str:
    """Judge one reading of a step; give what is said of it."""
    test = harbour_trail()
    lines = readings_from_text(f"{HEADER}{step(title).number},{supply},{current},{voltage}\n", "readings.csv")
    (finding,) = judge(test, lines)
    assert finding.right == finding.said.startswith("as expected")
    return finding.said


# --- the sheet


def test_nothing_is_powered_before_it_was_measured() -> None:
    """All with the ohmmeter first, then first power, one at a time, the engine; numbered in that order."""
    steps = harbour_trail().steps
    parts = [one.part for one in steps]
    assert tuple(dict.fromkeys(parts)) == get_args(TestPart)
    assert parts == sorted(parts, key=get_args(TestPart).index)
    assert [one.number for one in steps] == list(range(1, len(steps) + 1))
    assert {one.read for one in steps if one.part == "before the battery goes on"} == {"ohms"}


@EACH_FITTING
def test_every_wire_is_measured_before_it_is_live(bike: str, unit: str) -> None:
    """Each end of each wire that is cut stands in a step with the ohmmeter: terminals, fuses, relays, earths."""
    found = laid_example(bike, unit)
    before = [one for one in bench_test(found).steps if one.read == "ohms"]
    said = " ".join(f"{one.title}. {one.do}" for one in before)
    assert ": ." not in said
    ends = {end for wire in wiring_of(found).ours for end in wire.ends if end.kind not in ("splice", "battery")}
    assert [end.told for end in ends if end.name not in said] == []
    assert {end.port for end in before if end.port} >= {
        wire.port for wire in wiring_of(found).ours if wire.kind == "output"
    }


@EACH_FITTING
def test_shorts_are_looked_for_in_every_direction(bike: str, unit: str) -> None:
    """To earth, to the supply, between outputs, between inputs; no reading is expected at any."""
    shorts = [one for one in bench_test(laid_example(bike, unit)).steps if one.title.startswith("Short")]
    ways = ["to earth", "to the supply", "between outputs", "between inputs", "of the feed"]
    assert [one.title.split(" ", 1)[1] for one in shorts] == ways
    assert {one.expect for one in shorts} == {"no reading (open)"}


@EACH_FITTING
def test_what_needs_the_engine_comes_after_what_starts_it(bike: str, unit: str) -> None:
    """A load that is on only by day and by night, or in what comes only then, comes once the engine runs.

    Before that it is tried by a jumper, past the unit.
    """
    found = laid_example(bike, unit)
    file, ride = found.site.job.bike, {"day", "night"}
    riding = {name for name, event in file.events.items() if event.in_ and ride.issuperset(event.in_)}
    late = {
        name
        for load in file.loads
        if load.when and set(load.when) <= {*ride, "cranking", *riding} and "start" not in load.mode
        for name in (load.name, f"{load.name} relay")
    }
    for one in bench_test(found).steps:
        if one.expected is not None and one.expected.draws and "by a jumper" not in one.title:
            drawn = {draw.name for draw in one.expected.draws}
            assert (one.part == "engine running") == bool(drawn & late), one.title


def test_electronics_are_unplugged_before_an_ohmmeter_is_used() -> None:
    """Unit, regulator, multiplexers, engine controller and whatever is electronic."""
    unplug = harbour_trail().unplug
    assert unplug[:3] == ("the control unit", "the regulator/rectifier", "neck gatherer")
    assert {"engine controller", "dash", "front left indicator"} <= set(unplug)
    assert "horn" not in unplug


def test_what_stops_the_bike_and_shows_that_it_stops_comes_first() -> None:
    """Engine stop, brake lamp by lever and by pedal, lamps, indicators, starter, horn; engine, charging, stops."""
    titles = [one.title for one in harbour_trail().steps if one.read != "ohms"]
    order = [
        "Supply in the unit's plug",
        "dipped beam, by a jumper",
        "Unit asleep",
        "engine stop switch stops ignition coil and engine controller",
        "side stand switch stops ignition coil and engine controller",
        "engine controller and dash",
        "brake lamp, by front brake switch",
        "brake lamp, by rear brake switch",
        "main beam",
        "position lamp, tail lamp and plate lamp",
        "front left indicator, rear left indicator and indicator tell-tale",
        "Must click: in neutral",
        "Must not click: side stand down",
        "horn",
        "Main fuse",
        "Works with engine stop switch at stop",
        "All indicators, by hazard switch",
        "Engine to battery minus, cranking",
        "Start",
        "fuel pump",
        "dipped beam",
        "Every lamp, from outside",
        "Charging at idle",
        "Charging at speed",
        "Lock to lock",
        "Key off stops the engine",
        "Engine stop switch stops the engine",
        "Side stand down in neutral",
        "Side stand switch stops the engine",
        "Key off",
    ]
    assert [title for title in titles if title in order] == order
    assert titles[-1] == "Key off"


def test_a_dip_switch_puts_out_the_dipped_beam_and_brings_the_main_beam() -> None:
    assert step("dipped beam").do.startswith("Engine running, main beam off.")
    assert "Operate dip switch or flash button." in step("main beam").do


def test_a_sender_is_not_worked_by_hand_and_is_measured_at_each_of_its_points() -> None:
    """Market Parallel's coolant sender tells unit and dash, from engine and headlamp."""
    steps = {one.title: one for one in bench_test(laid_example("market-parallel", "fourteen-way")).steps}
    assert "In place of coolant sender a resistor of what its maker gives for 'on'." in steps["fan"].do
    assert "coolant sender at headlamp and coolant sender at engine" in steps["in 14"].do
    assert steps["coolant sender"].expect == "what its maker says, neither 0 nor open"


def test_what_clicks_is_printed_for_the_resting_battery_and_what_runs_for_the_charging_one() -> None:
    """Market Parallel, 14.2 V running: a coil is a resistance: 2.8 A x 12.6 / 14.2 = 2.485 A, 90 to 110 % of it."""
    steps = {one.title: one for one in bench_test(laid_example("market-parallel", "fourteen-way")).steps}
    assert steps["Must click: in neutral"].expect.startswith("2.24 to 2.73 A")
    assert steps["Battery, cranking"].expect == "9.20 V to 12.60 V"
    assert steps["fuel pump"].expect.startswith("at 14.2 V: ")
    assert "at 14.2 V" not in steps["main beam"].expect


@pytest.mark.parametrize(("bike", "unit", "how"), [
    ("market-parallel", "fourteen-way", "Fit the fuse of the supply to switches, which feeds the key."),
])  # fmt: skip
def test_the_unit_hears_of_the_key_before_it_is_turned(bike: str, unit: str, how: str) -> None:
    steps = {one.title: one for one in bench_test(laid_example(bike, unit)).steps}
    assert steps["Unit awake"].do.startswith(f"{how} Turn the key on")
    assert "Fit every fuse, the main fuse of " in steps["Main fuse"].do


def test_a_unit_that_does_not_say_what_it_draws_is_not_judged_by_nothing() -> None:
    """Neither asleep nor awake: the sheet sends one to its maker, and no reading is right or wrong."""
    text = (PROFILES / "six-way.yaml").read_text("utf-8")
    silent = re.sub(r", standby: [^,}]*|, awake: [^,}]*", "", text)
    assert silent != text
    test = bench_test(laid_text((EXAMPLES / "bare-single.yaml").read_text("utf-8"), silent))
    steps = {one.title: one for one in test.steps}
    for title in ("Unit asleep", "Unit awake", "Key off"):
        assert steps[title].expect.startswith("what its maker says")
        assert judge(test, readings_from_text(f"{HEADER}{steps[title].number},12.6,0.05,\n", "readings.csv")) == ()


def test_a_load_behind_its_own_switch_is_measured_up_to_it_and_from_it() -> None:
    """The bare single's horn button stands in the horn's feed: its wire is cut in two there."""
    steps = {one.title: one for one in bench_test(laid_example("bare-single", "six-way")).steps}
    assert "to own switch of horn; from own switch of horn to the feed side of horn" in steps["feed of horn"].do
    wires = wiring_of(laid_example("bare-single", "six-way")).wires
    ends = [(one.start.told, one.end.told) for one in wires if one.circuit == "feed of horn"]
    assert ends[1:] == [("fuse of horn", "own switch of horn"), ("own switch of horn", "horn")]


def test_every_output_is_measured_dead_and_live() -> None:
    """Each output in use has a step for its wire, and one for its current."""
    plan = laid_example("dressed-tourer", "eleven-way")
    steps = bench_test(plan).steps
    used = {wired.output.name for wired in plan.outputs}
    assert {one.port for one in steps if one.read == "ohms" and one.port.startswith("out")} == used
    assert {one.port for one in steps if one.expected is not None and one.port} == used


def test_a_lamp_is_expected_at_80_to_100_per_cent_of_its_current_moved_to_the_voltage() -> None:
    """The 68 W main beam of an H4 at 13.2 V: 5.152 A; at 12.6 V x (12.6 / 13.2)^0.55 = 0.9747.

    Watts and test voltage: UN R37, category H4.
    """
    main = step("main beam")
    assert main.expected is not None
    lowest, highest = main.expected.current(main_supply := harbour_trail().supply)
    assert main_supply == 12_600
    assert highest == pytest.approx(75_000 / 13.2 * (12.6 / 13.2) ** 0.55, abs=2)
    assert lowest == pytest.approx(0.8 * highest, abs=2)


def test_what_lives_with_the_key_off_is_reckoned_with() -> None:
    """The sidecar's alarm: 8 mA at 14 V, so 8.9 mA at 12.6 V, and of electronics 50 to 110 % of it.

    It is on an output, which keeps the unit awake, with 110 mA, and a multiplexer draws 0.5 mA (common practice).
    """
    last = bench_test(laid_example("sidecar-hauler", "twenty-way")).steps[-1]
    assert last.title == "Key off"
    said, awake, figures = last.expect.split("; ")
    assert said == "about 110.5 mA for the unit and multiplexers, and what is live"
    assert (awake, figures) == ("the unit stays awake", "4 to 121 mA")


# --- readings


@pytest.mark.parametrize(
    ("title", "supply", "current", "voltage", "part"),
    [
        ("main beam", "12.6", "5.2", "12.4", "as expected: 4.43 to 5.54 A"),
        ("main beam", "12.6", "0", "0", "full voltage there means an open return"),
        ("main beam", "12.6", "0", "12.5", "the load itself is open"),
        ("main beam", "12.6", "0", "5", "a joint that is nearly open"),
        ("main beam", "12.6", "0", "", "read the voltage at the load"),
        ("main beam", "12.6", "4.6", "11.4", "1.20 V voltage drop, the plan allows"),
        ("main beam", "12.6", "4.1", "11.0", "a corroded joint"),
        ("main beam", "12.6", "20", "", "a second load on the wire"),
        ("main beam", "12.6", "1.6", "", "brake lamp draws that on out 9"),
        ("fuel pump", "12.6", "0.3", "", "so a wire may be on the wrong port"),
        ("position lamp, tail lamp and plate lamp", "12.6", "0.7", "12.5", "right without"),
        ("engine stop switch stops ignition coil and engine controller", "", "", "12.5", "it still has power"),
        ("engine stop switch stops ignition coil and engine controller", "", "", "0.02", "as expected"),
        ("Ignition coil and engine controller: live", "12.6", "", "12.55", "as expected: 12.40 V or more"),
        ("Ignition coil and engine controller: live", "12.6", "", "0", "12.60 V voltage drop"),
        ("Supply in the unit's plug", "", "", "12.6", "as expected"),
        ("Supply in the unit's plug", "", "", "-12.6", "with a minus sign the leads or ways are swapped"),
        ("Every output way", "", "", "12.6", "that way is on the supply; battery off"),
        ("Engine to battery minus, cranking", "", "", "0.12", "as expected: 0.30 V at most"),
        ("Engine to battery minus, cranking", "", "", "0.8", "the engine's earth strap is loose"),
        ("Frame to battery minus, cranking", "", "", "0.25", "clean it to bare metal"),
        ("Unit awake", "12.6", "1", "", "something is on that should be off"),
        ("Unit asleep", "12.6", "0.001", "", "as expected: at most 3 mA"),
        ("Unit asleep", "12.6", "0.004", "", "0.004 A, at most 3 mA expected: something is on"),
        ("Charging at speed", "", "", "14.2", "as expected: 13.30 V to 14.80 V"),
        ("Charging at speed", "", "", "12.4", "the battery is not charging"),
        ("Charging at speed", "", "", "15.3", "the regulator is not limiting it"),
        ("Key off", "12.6", "0.015", "", "something is on that should be off, or there is a leak to earth"),
    ],
)
def test_a_reading_names_the_likely_fault(title: str, supply: str, current: str, voltage: str, part: str) -> None:
    """Each usual fault by what a meter shows of it (common practice, no source)."""
    assert part in said(title, supply, current, voltage)


def test_where_the_circuit_is_sound_the_switch_is_to_blame() -> None:
    """The brake lamp lights by the lever and not by the pedal: lamp, wire and return can't be at fault."""
    test = harbour_trail()
    lever, pedal = (step(f"brake lamp, by {which} brake switch").number for which in ("front", "rear"))
    readings = readings_from_text(f"{HEADER}{lever},12.6,1.7,\n{pedal},12.6,0,0\n", "readings.csv")
    right, wrong = judge(test, readings)
    assert (right.right, wrong.right) == (True, False)
    assert "so wire and load are good; check the switch, its wire, its earth" in wrong.said


def test_readings_are_judged_at_the_voltage_that_was_read() -> None:
    """A main beam at 5.7 A is too much at 12.6 V and right at 14 V."""
    assert not said("main beam", "12.6", "5.7").startswith("as expected")
    assert said("main beam", "14", "5.7").startswith("as expected")


def test_a_voltage_by_itself_is_judged_by_what_may_be_lost() -> None:
    """Not by what the circuit drew in another step; and not at all where nothing is said of a voltage."""
    test = harbour_trail()
    lever, pedal = (step(f"brake lamp, by {which} brake switch").number for which in ("front", "rear"))
    drawn = step("Unit awake").number
    text = f"{HEADER}{lever},12.6,1.7,\n{pedal},12.6,,9\n{drawn},12.6,,0\n"
    _, wrong = judge(test, readings_from_text(text, "readings.csv"))
    assert wrong.step.number == pedal
    assert wrong.said.startswith("3.60 V voltage drop")


def test_what_the_plan_expects_no_figure_of_is_not_judged() -> None:
    """A current written at a step where one only looks is neither right nor wrong."""
    test = harbour_trail()
    looked = next(one for one in test.steps if one.read == "see")
    assert judge(test, readings_from_text(f"{HEADER}{looked.number},12.6,3,\n", "readings.csv")) == ()


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("", "1:1: the first line is ''; 'step,supply_v,current_a,voltage_v'"),
        ("step,volts\n", "1:1: the first line is 'step,volts'; 'step,supply_v,current_a,voltage_v'"),
        (f"{HEADER}x,12.6,1,\n", "2:1: the step is 'x'; its number on the sheet"),
        (f"{HEADER}1,12.6\n", "2:1: 2 fields; 4: step,supply_v,current_a,voltage_v, empty where not read"),
        (
            f"{HEADER}1,12.6 V,,\n",
            f"2:3: supply_v is '12.6 V'; a number of volts from 0 to 60, {NUMBER}",
        ),
        (
            f"{HEADER}1,12.6,-1,\n",
            f"2:8: current_a is '-1'; a number of amperes from 0 to 1000, {NUMBER}",
        ),
        (
            f"{HEADER}1,12.6,nan,\n",
            f"2:8: current_a is 'nan'; a number of amperes from 0 to 1000, {NUMBER}",
        ),
        (f"{HEADER}1,,,\n1,,,\n", "3:1: step 1 is there twice; one line a step"),
        (f'{HEADER}1,"12.6,,\n', "2:1: this is not CSV: unexpected end of data; a comma between fields, quotes closed"),
    ],
)
def test_bad_readings_are_told(text: str, problem: str) -> None:
    """What is wrong, where, and what would be right."""
    with pytest.raises(BadFile) as told:
        readings_from_text(text, "readings.csv")
    assert str(told.value) == f"readings.csv:{problem}"


def test_steps_that_the_sheet_does_not_have_are_told() -> None:
    """A step beyond the last, and a reading without the supply voltage that it is judged by."""
    test = harbour_trail()
    readings = readings_from_text(f"{HEADER}999,12.6,1,\n5,,1,\n", "readings.csv")
    assert [(flaw.line, flaw.what) for flaw in unknown_steps(test, readings)] == [
        (2, "the sheet has no step 999"),
        (3, "step 5 has no supply_v"),
    ]


def test_the_example_of_readings_is_of_the_steps_that_it_is_meant_for() -> None:
    """Its lines stand at the numbers of the sheet, and its three faults are told: switch, joint, a dead lamp."""
    test = harbour_trail()
    text = (EXAMPLES / "harbour-trail-readings.csv").read_text("utf-8")
    findings = judge(test, readings_from_text(text, "readings.csv"))
    assert [one.step.title for one in findings] == [
        "Unit awake",
        "engine stop switch stops ignition coil and engine controller",
        "brake lamp, by front brake switch",
        "brake lamp, by rear brake switch",
        "main beam",
        "position lamp, tail lamp and plate lamp",
        "front left indicator, rear left indicator and indicator tell-tale",
    ]
    assert [one.right for one in findings] == [True, True, True, False, False, False, True]
    wrong = " ".join(one.said for one in findings if not one.right)
    for words in ("check the switch, its wire, its earth", "a corroded joint", "so that one is dead"):
        assert words in wrong


def test_the_contact_of_a_loads_own_switch_is_measured() -> None:
    """The Harbour Trail's horn by its button; its fan's thermostat is bridged."""
    steps = {one.title: one for one in harbour_trail().steps}
    assert steps["own switch of horn"].expect == "at rest no reading (open); operated under 0.5 ohm"
    assert "bridged at the plug" in steps["own switch of fan"].do
