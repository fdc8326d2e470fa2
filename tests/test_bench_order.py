"""The order in which one works at the bench, and what is never done: as an electrician would ask for it.

Common practice, no source, but for the fuses' steps: ISO 8820-3. The bikes are made up.
"""

import re

import pytest

from laid_bikes import EACH_FITTING, laid_example, laid_text
from outcomes import EXAMPLES, PROFILES
from portloom.documents.handover.bench_test import bench_test
from portloom.documents.handover.steps import BenchTest, Step
from portloom.documents.wiring.settings import settings_of

FUSES = (1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80)
"""Source: ISO 8820-3."""


def sheet(bike: str, unit: str) -> BenchTest:
    """Return the bench test of an example."""
    return bench_test(laid_example(bike, unit))


def titled(test: BenchTest, title: str) -> Step:
    """Return a step by its title."""
    return next(step for step in test.steps if step.title == title)


def part(test: BenchTest, name: str) -> list[Step]:
    """Return the steps of a part."""
    return [step for step in test.steps if step.part == name]


every = EACH_FITTING


@every
def test_each_step_says_what_to_do_what_must_be_and_what_if_not(bike: str, unit: str) -> None:
    """And none with power takes more than 50 words to say what to do, a name counted as one."""
    names = sorted((load.name for load in laid_example(bike, unit).site.job.loads.wired), key=len, reverse=True)
    for step in sheet(bike, unit).steps:
        assert step.do, step.title
        assert step.expect, step.title
        assert step.if_not, step.title
        assert step.read == "ohms" or len(re.sub("|".join(names), "name", step.do).split()) <= 50, step.do


@every
def test_how_to_read_and_what_starts_by_itself_is_said_once_before_all_steps(bike: str, unit: str) -> None:
    """A clamp, or in line through the meter's own fuse, the highest range first."""
    test = sheet(bike, unit)
    (amperes,) = (line for line in test.how_to_read if line.startswith("Amperes"))
    for word in ("clamp", "in line", "a fuse of its own", "the highest range first"):
        assert word in amperes
    assert not any("range" in step.do for step in test.steps)


def test_fans_pumps_and_what_is_live_are_named_before_there_is_power() -> None:
    """A fan by its own thermostat or the unit's, a pump at key-on, a run-on, an alarm."""
    assert sheet("harbour-trail", "eleven-way").by_itself == (
        "fuel pump runs for a moment at each key-on: never dry for more than 3 s.",
        "fan starts by itself whenever its fuse is in, key on or off: keep hands, sleeves and tools away.",
        "horn works with the key off too: live up to the switch while the fuse is in.",
    )
    said = " ".join(sheet("sidecar-hauler", "twenty-way").by_itself)
    for words in ("fan starts by itself whenever it is hot", "fan runs on after key off", "alarm is live with the key"):
        assert words in said
    assert sheet("bare-single", "six-way").by_itself == (
        "horn works with the key off too: live up to the switch while the fuse is in.",
    )
    assert sheet("dressed-tourer", "eleven-way").by_itself == (
        "twin horn and charging socket work with the key off too: live up to the switch while the fuse is in.",
    )


@every
def test_a_coil_on_points_sparks_as_it_is_switched_off(bike: str, unit: str) -> None:
    """What makes the spark is that its current ends; only on points, for a controller ends it otherwise."""
    said = " ".join(sheet(bike, unit).said["one circuit at a time"])
    points = any(load.switched_by == "points" for load in laid_example(bike, unit).site.job.bike.loads)
    assert points == ("sparks once as its key goes off" in said)


@every
def test_the_plug_is_measured_before_the_unit_is_in_it(bike: str, unit: str) -> None:
    """Through 5 A: the supply way plus against the earth way, then every output way at 0 V; only then the unit."""
    supply, ways, *_ = part(test := sheet(bike, unit), "first power")
    assert "5 A fuse in the main fuse's holder" in supply.do
    assert "Red on the supply way of the unit's plug, black on its earth way." in supply.do
    assert "without a minus sign" in supply.expect
    assert supply.within is not None
    assert supply.within.least >= 12_000
    assert "every output way" in ways.do
    assert ways.within is not None
    assert ways.within.most == 100
    plugged = next(step for step in test.steps if "Plug the unit in" in step.do)
    assert plugged.number > max(step.number for step in part(test, "first power"))


@every
def test_a_large_fuses_holder_is_not_expected_to_take_a_small_fuse(bike: str, unit: str) -> None:
    """ISO 8820-3: type C up to 40 A and type E above have other blades (from memory)."""
    fuse = laid_example(bike, unit).site.main_fuse
    said = " ".join(sheet(bike, unit).said["first power"])
    assert fuse is not None
    assert ("takes no small fuse" in said) == (fuse > 40_000)


@every
def test_each_output_is_tried_on_the_least_fuse_above_its_trip(bike: str, unit: str) -> None:
    """ISO 8820-3 step by step; the main fuse of the plan comes only when every output in use has been tried."""
    plan = laid_example(bike, unit)
    test = bench_test(plan)
    main = titled(test, "Main fuse")
    trips = {line.port: line.trip for line in settings_of(plan).outputs if line.status == "in use"}
    tried: set[str] = set()
    for step in test.steps:
        named = re.match(r"([0-9.]+) A fuse; plug in", step.do)
        if named and step.port:
            trip = trips[step.port]
            assert trip is not None
            least = next(fuse for fuse in FUSES if 1000 * fuse > trip)
            assert float(named[1]) == least
            assert step.number < main.number
            tried.add(step.port)
    cranked = {step.port for step in test.steps if step.title.startswith("Must click")}
    live = next(step.do for step in test.steps if step.title.endswith(": live"))
    read = {w.output.name for w in plan.outputs if any(f"plug of {x.name}" in live for x in w.circuit.loads)}
    assert tried | cranked | read == set(trips)
    assert f"the main fuse of {(plan.site.main_fuse or 0) / 1000:g} A last" in main.do


@every
def test_a_coil_that_a_controller_drives_is_never_expected_to_draw_with_the_engine_still(bike: str, unit: str) -> None:
    """Its plug is read instead; a coil on points draws, and is read quickly."""
    plan = laid_example(bike, unit)
    coils = {load.name: load for wired in plan.outputs for load in wired.circuit.loads if load.switched_by}
    for step in bench_test(plan).steps:
        for draw in step.expected.draws if step.expected else ():
            if draw.name in coils:
                assert coils[draw.name].switched_by == "points"
                assert "Key off as soon as it is read" in step.do


@every
def test_no_thermostat_and_no_pressure_switch_is_worked(bike: str, unit: str) -> None:
    """It is bridged: nobody heats a radiator on the bench."""
    plan = laid_example(bike, unit)
    sensing = [switch.name for switch in plan.site.job.inputs if switch.part == "temperature switch"]
    for step in bench_test(plan).steps:
        assert not any(f"perate {name}" in step.do or f"et {name} switch" in step.do for name in sensing)
        assert "et it come on" not in step.do
    if sensing:
        assert "Bridge thermostat at its plug" in titled(sheet(bike, unit), "fan").do
    if bike == "harbour-trail":
        assert "Bridge its own switch" in titled(sheet(bike, unit), "fan").do


# --- what stops the spark, and what keeps the starter still


@every
def test_dead_is_read_in_volts_at_the_plug_after_it_was_seen_live(bike: str, unit: str) -> None:
    """A meter that never showed anything proves nothing; never a plug cap, injectors and pump stay unplugged."""
    test = sheet(bike, unit)
    live = next((step for step in test.steps if step.title.endswith(": live")), None)
    assert live is not None
    assert "low-voltage plug of ignition coil" in live.do
    dead = [step for step in test.steps if " stops " in step.title and step.part == "one circuit at a time"]
    assert {step.read for step in dead} == {"voltage"}
    assert min(step.number for step in dead) > live.number
    told = {what for switch in laid_example(bike, unit).site.job.inputs for what in switch.tells}
    who = " ".join(step.title for step in dead)
    for what, switch in (("engine stop", "engine stop switch"), ("side stand", "side stand switch"), ("key", "key")):
        assert (what in told) == (switch in who)
    said = " ".join(test.said["one circuit at a time"])
    assert "Never pull a plug cap" in said
    parts = {load.part for load in laid_example(bike, unit).site.job.bike.loads}
    assert ("the injectors" in said) == ("engine controller" in parts)


BIKE = """
bike: Harbour Trail
supply: {{running: 14.0 V, battery: {{capacity: 10 Ah, at: tray}}}}
frame: {{legs: [{{between: [tray, bar], length: 700 mm}}], earth: tray}}
places: [{{name: under the seat, front: tray}}]
loads:
  - {{part: ignition box, at: tray, current: 2 A}}
  - {{part: starter solenoid, at: tray, current: 3 A}}
inputs:
  - {{part: engine stop switch, at: bar, made: run}}
  - {{part: starter button, at: bar}}
{inputs}
stand: {stand}
later: []
"""
UNIT = """
unit: trial
feed: {limit: 40 A}
outputs:
  - {names: [out 1, out 2], limit: 15 A, peak: 90 A, trip: [5 A], switch_modes: [steady, start], inductive: true}
inputs: [{names: [in 1, in 2, in 3, in 4, in 5], accepts: [earth]}]
"""
NEUTRAL = "  - {part: neutral switch, at: bar}"
CLUTCH = "  - {part: clutch switch, at: bar, made: pulled}"
STAND = "  - {part: side stand switch, at: bar, made: up}"


def may_start(state: str, told: set[str]) -> bool:
    """Work out from the words of a state alone whether the engine may be cranked.

    In neutral, or with the clutch pulled and the stand up, as far as the bike has those switches; without a clutch
    switch in neutral and with the stand up; never with the engine stop at stop.
    """
    if "to stop" in state:
        return False
    neutral, pulled, up = "in neutral" in state, "clutch pulled" in state, "stand down" not in state
    if "clutch" in told:
        return ("neutral" in told and neutral) or (pulled and up)
    return up and (neutral or "neutral" not in told)


every_lock_out = pytest.mark.parametrize(
    ("inputs", "told"),
    [
        ([NEUTRAL, CLUTCH, STAND], {"neutral", "clutch", "stand"}),
        ([NEUTRAL, CLUTCH], {"neutral", "clutch"}),
        ([CLUTCH, STAND], {"clutch", "stand"}),
        ([NEUTRAL, STAND], {"neutral", "stand"}),
        ([NEUTRAL], {"neutral"}),
        ([CLUTCH], {"clutch"}),
    ],
)


@every_lock_out
def test_the_starter_clicks_where_it_may_and_only_there(inputs: list[str], told: set[str]) -> None:
    """Allowed, each thing amiss by itself, and the allowed state again; the motor's cable is off and insulated."""
    text = BIKE.format(inputs="\n".join(inputs), stand="side" if "stand" in told else "none")
    steps = [step for step in bench_test(laid_text(text, UNIT)).steps if step.part == "one circuit at a time"]
    first = next(number for number, step in enumerate(steps) if step.title.startswith("Must click"))
    assert "thick cable off, insulate its end" in steps[first - 1].do
    clicks = [(step.title, step.do.lower()) for step in steps[first:] if "click" in step.title]
    for title, state in clicks:
        assert may_start(state, told) != title.startswith("Must not"), (title, state)
    titles = [title for title, _ in clicks]
    assert titles[-1] == titles[0].replace("click:", "click again:")
    assert ("Must click: in neutral" in titles) == ("neutral" in told)
    assert any("in gear, clutch pulled" in title for title in titles) == ("clutch" in told)
    amiss = [title for title in titles if title.startswith("Must not")]
    assert any("engine stop switch to stop" in title for title in amiss)
    assert any("side stand down" in title for title in amiss) == ("stand" in told)
    assert any("clutch let out" in title or "in gear" in title for title in amiss)


BRAKES = "  - {part: front brake switch, at: bar}\n  - {part: rear brake switch, at: bar}"


@pytest.mark.parametrize("stand", ["", STAND])
def test_an_automatic_clicks_with_a_brake_on_and_not_without(stand: str) -> None:
    """Nothing but a brake keeps it from running off: the sheet tries each, and none of them."""
    text = BIKE.format(inputs=f"{BRAKES}\n{stand}", stand="side" if stand else "none") + "clutch: automatic\n"
    text = text.replace("loads:\n", "loads:\n  - {part: brake lamp, at: tray, power: 5 W, kind: led}\n")
    test = bench_test(
        laid_text(text, UNIT.replace("[out 1, out 2]", "[out 1, out 2, out 3]").replace("start]", "start, hold]"))
    )
    titles = [step.title for step in test.steps if "click" in step.title]
    down = ["Must not click: side stand down"] if stand else []
    assert titles == [
        "Must click: front brake on",
        "Must click: rear brake on",
        "Must not click: no brake on",
        *down,
        "Must not click: engine stop switch to stop",
        "Must click again: front brake on",
    ]
    if stand:
        assert titled(test, down[0]).do.startswith("Front brake on, side stand down: ")
    assert "engine stop switch to run, front brake on" in titled(test, "Start").do


@every_lock_out
def test_cranked_and_started_it_may_start_by_what_the_step_sets(inputs: list[str], told: set[str]) -> None:
    """Steps before it left the engine stop at stop and the key off: a step that does not say so fails a sound bike."""
    text = BIKE.format(inputs="\n".join(inputs), stand="side" if "stand" in told else "none")
    test = bench_test(laid_text(text, UNIT))
    for title in ("Engine to battery minus, cranking", "Start"):
        state = titled(test, title).do.lower()
        assert may_start(state, told), state
        assert "key on, engine stop switch to run, in neutral" in state
    running = next(step for step in test.steps if step.title == "ignition box")
    assert "engine stop switch to run" in running.do
    assert ("in neutral" in running.do) == ("neutral" in told)
    assert ("side stand up" in running.do) == ("stand" in told)


@every
def test_the_pump_never_runs_dry_for_more_than_three_seconds(bike: str, unit: str) -> None:
    """Wherever it is plugged in before the engine has fuel and runs."""
    test = sheet(bike, unit)
    for step in test.steps:
        if step.expected and any(draw.name == "fuel pump" for draw in step.expected.draws):
            assert step.part == "engine running" or "3 s at most, it must not run dry" in step.do


# --- with everything plugged in, and with the engine


@every
def test_what_shows_the_rider_works_with_the_engine_stop_at_stop(bike: str, unit: str) -> None:
    """Brake lamp, horn, tail lamp and indicators, whatever feeds them."""
    plan = laid_example(bike, unit)
    step = titled(bench_test(plan), "Works with engine stop switch at stop")
    for load in plan.site.job.bike.loads:
        shows = load.part in ("brake lamp", "horn", "tail lamp", "left indicator", "right indicator")
        assert not shows or load.name in step.do


def test_a_dash_that_goes_dark_with_the_engine_stop_is_said() -> None:
    """The Harbour Trail's dash shares an output with its controller, the Market Parallel's does not."""
    title = "Works with engine stop switch at stop"
    shared = titled(sheet("harbour-trail", "eleven-way"), title)
    assert shared.expect == "all work; dash is dark, sharing out 11 with engine controller"
    assert titled(sheet("market-parallel", "fourteen-way"), title).expect == "all work"


@every
def test_what_can_start_the_engine_stays_off_until_the_engine_is_to_start(bike: str, unit: str) -> None:
    """Coil, injectors, pump, starter's cable: off at the main fuse, on before the start; no battery lead after it."""
    test = sheet(bike, unit)
    assert "but the ignition coil's low-voltage plug" in titled(test, "Main fuse").do
    start = titled(test, "Start")
    assert "plug in the ignition coil's low-voltage plug" in start.do
    running = [step for step in part(test, "engine running") if step.number > start.number]
    assert not any("attery off" in step.do for step in running)
    assert any("Never lift a battery lead" in line for line in test.said["engine running"])


def test_while_cranking_engine_and_frame_are_read_against_the_battery() -> None:
    """At most 0.3 V from the engine, at most 0.2 V from the frame; nothing is cranked on a bike without a starter."""
    test = sheet("harbour-trail", "eleven-way")
    engine, frame = (titled(test, f"{what} to battery minus, cranking") for what in ("Engine", "Frame"))
    assert (engine.expect, frame.expect) == ("0.30 V at most", "0.20 V at most")
    assert "starter motor's cable on again" in engine.do
    assert not any("cranking" in step.title for step in sheet("bare-single", "six-way").steps)


@every
def test_each_thing_that_must_stop_the_engine_stops_it_after_a_start(bike: str, unit: str) -> None:
    """Key off, engine stop, stand in gear, in that order, wheel up; before them lock to lock, and every lamp seen."""
    test = sheet(bike, unit)
    titles = [step.title for step in part(test, "engine running")]
    stand = ["Side stand switch stops the engine"] if "Side stand down in neutral" in titles else []
    stops = [title for title in titles if title.endswith("stops the engine")]
    assert stops == ["Key off stops the engine", "Engine stop switch stops the engine", *stand]
    assert "Start it again" in titled(test, stops[1]).do
    assert titles.index("Lock to lock") < titles.index(stops[0])
    assert "no stall" in titled(test, "Lock to lock").expect
    assert any("Driven wheel off the ground" in line for line in test.said["engine running"])


@every
def test_every_lamp_of_the_road_is_seen_from_outside(bike: str, unit: str) -> None:
    """Beams, position, tail, plate, brake lamps and indicators by name."""
    plan = laid_example(bike, unit)
    step = titled(bench_test(plan), "Every lamp, from outside")
    seen = ("beam", "position lamp", "tail lamp", "plate lamp", "brake lamp", "left indicator", "right indicator")
    for load in plan.site.job.bike.loads:
        assert not (load.part or "").endswith(seen) or load.name in step.do


def test_charging_is_read_at_idle_and_at_speed() -> None:
    """The Harbour Trail draws more than its 110 W at idle, so its battery gives there; at speed it charges."""
    test = sheet("harbour-trail", "eleven-way")
    idle, speed = (titled(test, f"Charging at {at}") for at in ("idle", "speed"))
    assert "110 W supplied" in idle.expect
    assert "lamps on" in idle.do
    assert speed.expect.endswith("13.30 V to 14.80 V")


def test_where_the_alternator_keeps_up_at_idle_the_battery_does_not_give() -> None:
    """A bike that draws less than its alternator gives at idle stays above a battery at rest."""
    text = (EXAMPLES / "bare-single.yaml").read_text("utf-8").replace("idle: 45 W", "idle: 120 W")
    test = bench_test(laid_text(text, (PROFILES / "six-way.yaml").read_text("utf-8")))
    assert titled(test, "Charging at idle").expect == "12.80 V to 14.60 V"


def test_an_engine_that_sparks_by_itself_is_stopped_by_its_own_wire() -> None:
    """A magneto: no coil of the unit's to unplug, key and unit stop nothing; its own stop is tried, fuel off if not."""
    coil = "part: ignition coil, at: engine, current: 2.6 A, switched_by: points"
    text = (EXAMPLES / "bare-single.yaml").read_text("utf-8").replace(coil, "part: socket, at: engine, current: 2.6 A")
    unit = (PROFILES / "six-way.yaml").read_text("utf-8")
    test = bench_test(laid_text(f"{text}ignition: own\n", unit))
    assert not any("coil" in step.do for step in test.steps)
    assert not any(step.title.startswith("Key off stops") for step in test.steps)
    assert "fuel off" in titled(test, "Its own stop wire stops the engine").if_not
    assert "The engine's own stop switch stays at stop." in test.said["one circuit at a time"]


def test_what_shows_the_rider_is_tried_and_not_its_relay() -> None:
    """The sidecar's horn is tried with the engine stop at stop; its relay's coil makes no sound of its own."""
    step = next(one for one in sheet("sidecar-hauler", "twenty-way").steps if one.title.startswith("Works with"))
    assert "front right indicator and horn, the brakes one by one" in step.do
