"""Tiny bikes in which cranking, the key, coils or missing switches decide, worked out by hand (A, mV)."""

from collections.abc import Callable

import pytest

from . import brute, highs
from .judge import Result

Way = Callable[[str, str], Result]
BOTH = pytest.mark.parametrize("optimum", [brute.optimum, highs.optimum], ids=["brute", "highs"])

BIKE = """
supply: {running: 14.0 V, battery: {at: battery}}
frame: {legs: [{between: [battery, head], length: 509 mm}], earth: [battery]}
places: [{name: seat, front: battery}]
loads: [{name: it, at: head, SAYS}]
later: []
reels: [1 mm2]
inputs: [{name: switch, at: head, signal: supply, operates: it, tells: [TOLD]}]
"""
FEED = "limit: 20 A, fuse_max: 5 A"
UNIT = f"{{feed: {{{FEED}}}, inputs: [{{name: in 1, accepts: [supply]}}], outputs: [{{name: a, limit: 4 A, OUT}}]}}"
ALL = "neutral, clutch, side stand, engine stop, front brake, rear brake"
PLAIN = "switch_modes: [steady, start, flash, hold]"


def _fits(optimum: Way, load: str, output: str = PLAIN, told: str = ALL, more: str = "") -> bool:
    bike = BIKE.replace("SAYS", load).replace("TOLD", told)
    return optimum(bike + more, UNIT.replace("OUT", output)).feasible


@BOTH
@pytest.mark.parametrize(("lowest", "fits"), [("8680.171 mV", True), ("8680.172 mV", False)])
def test_a_load_gets_its_lowest_voltage_while_cranking(optimum: Way, lowest: str, *, fits: bool) -> None:
    """A heater of 2.8 A at 14 V draws 1.8 A at 9 V; fuse of 5 A 20 mohm, unit plug 5, output 10, run 12.4605, plug 5.

    Splice of the return 1, earth 2. 9000 - 150 - 70 - 1.8 x 55.4605 = 8680.1711 mV.
    """
    load = f"current: 2.8 A, kind: heater, when: [cranking], lowest: {lowest}"
    assert _fits(optimum, load) is fits


@BOTH
@pytest.mark.parametrize(("lowest", "fits"), [("6827.2 mV", True), ("6827.201 mV", False)])
def test_the_unit_gets_its_lowest_voltage_while_cranking(optimum: Way, lowest: str, *, fits: bool) -> None:
    """A lamp of 14 W draws 1 A at 14 V, 0.5^0.55 A = 0.683 A at 7 V, rounded up 684 mA.

    The unit takes a fuse of 3 A at most: 33.333 mohm. 7000 - 150 - 22.8 = 6827.2 mV.
    """
    bike = BIKE.replace("SAYS", "power: 14 W, kind: filament, when: [cranking, day]").replace("TOLD", ALL)
    bike = bike.replace("running", "cranking: 7 V, running")
    unit = UNIT.replace("fuse_max: 5 A", f"fuse_max: 3 A, lowest: {lowest}").replace("OUT", "trip: [2 A], peak: 20 A")
    assert optimum(bike, unit).feasible is fits


@BOTH
def test_a_tell_tale_comes_back_once_while_cranking(optimum: Way) -> None:
    """Two heaters of 1.4 A and a tell-tale of 1.4 A (heater) fed from both: 0.9 A each at 9 V.

    The feed carries 4 x 0.9 A = 3.6 A, over a fuse of 7.5 A, the largest, 13.333 mohm: 48.
    The return's splice and the earth carry 3 x 0.9 = 2.7 A, not 3.6 A: 2.7 x 3 = 8.1, beside 70. Each circuit
    carries 1.8 A: plug 9, output 18, run 22.4289, and at its end a splice of two tails 1.8. The load's plug 4.5.
    9000 - 150 - 48 - 78.1 - 51.2289 - 4.5 = 8668.1711 mV.
    """
    loads = "\n".join(
        f"  - {{name: {name}, at: head, current: 1.4 A, kind: heater, {says}}}"
        for name, says in (
            ("one", "when: [cranking], lowest: LOWEST"),
            ("two", "when: [cranking]"),
            ("tell-tale", "from: [one, two]"),
        )
    )
    bike = BIKE.replace("loads: [{name: it, at: head, SAYS}]", f"loads:\n{loads}").split("inputs:")[0]
    unit = "{feed: {limit: 20 A, fuse_max: 7.5 A}, outputs: [{names: [a, b], limit: 4 A, peak: 9 A}]}"
    found = [optimum(bike.replace("LOWEST", f"{mv} mV"), unit).feasible for mv in ("8668.171", "8668.172")]
    assert found == [True, False]


HORN = "current: 2 A, kind: horn, when: [day]"


@BOTH
@pytest.mark.parametrize(
    ("load", "output", "more", "fits"),
    [
        (HORN, "inductive: true", "", True),
        (HORN, "inductive: false", "", False),
        (HORN, "peak: 4 A", "", True),  # not said: a warning only
        (f"{HORN}, suppressed: true", "inductive: false", "", True),
        (HORN, "inductive: false", "set_aside: {inductive: agreed}\n", True),
        ("current: 2 A, kind: heater", "inductive: false", "", True),
    ],
)
def test_coils_go_where_they_are_taken(optimum: Way, load: str, output: str, more: str, *, fits: bool) -> None:
    """A horn needs an output that takes coils, or a suppressor."""
    assert _fits(optimum, load, output, more=more) is fits


@BOTH
@pytest.mark.parametrize(
    ("when", "key_off", "fits"),
    [
        ("when: [day]", "never", True),
        ("when: [asleep]", "timed", False),
        ("when: [asleep]", "always", True),
        ("when: [parked]", "never", False),
        ("when: [parked]", "timed", True),
        ("when: [fan running]", "never", False),  # comes in run-on too
        ("when: [fan running], except: [run-on]", "never", True),
        ("when: [hazard]", "never", True),
        ("run_on: 3 min", "never", False),
        ("run_on: 3 min", "timed", True),
    ],
)
def test_what_is_on_with_the_key_off_needs_a_live_output(optimum: Way, when: str, key_off: str, *, fits: bool) -> None:
    """Asleep asks for `always`, parked and run-on for `timed` at least."""
    assert _fits(optimum, f"current: 1 A, {when}", f"key_off: {key_off}") is fits


START = "current: 1 A, part: starter solenoid"
OWN_WORD = "current: 1 A, mode: start"
COIL = "current: 4 A, part: starter solenoid, fed: relay"
SPARK = "current: 1 A, part: ignition, kind: ignition coil"
BOX = "current: 1 A, part: ignition"
PUMP = "current: 1 A, part: fuel pump, mode: steady"
BRAKE = "current: 1 A, part: brake lamp"


@BOTH
@pytest.mark.parametrize(
    ("load", "told", "more", "fits"),
    [
        (START, "neutral, clutch, side stand", "", True),
        (START, "neutral", "", True),
        (START, "clutch", "", True),
        (START, "side stand, key", "", False),
        (START, "side stand, key", "stand: none", False),
        (START, "clutch", "clutch: automatic", False),
        (START, "neutral", "clutch: automatic", True),
        (START, "rear brake", "clutch: automatic", True),
        (START, "front brake", "", False),
        (START, "key", "set_aside: {start: agreed}", True),
        (OWN_WORD, "key", "", True),  # no part: not judged
        (COIL, "neutral", "", True),
        (COIL, "key", "", False),
        (SPARK, "neutral, side stand, engine stop", "", True),
        (SPARK, "neutral, side stand", "", False),
        (SPARK, "key", "engine_stop: key", True),
        (SPARK, "neutral, side stand", "set_aside: {run: agreed}", False),  # the engine stop can't be set aside
        (SPARK, "engine stop", "", True),
        (BOX, "key", "", False),
        (PUMP, "key", "", False),
        (PUMP, "engine stop", "stand: no switch", True),
        (BRAKE, "front brake, rear brake", "", True),
        (BRAKE, "rear brake", "", False),
        (BRAKE, "rear brake", "brakes: one", True),
        (BRAKE, "front brake", "brakes: 'two, one switch'", True),
        (BRAKE, "neutral", "brakes: one", False),
        (f"{BRAKE}, fed: relay", "rear brake", "", False),
    ],
)
def test_circuits_ask_for_what_must_be_told(optimum: Way, load: str, told: str, more: str, *, fits: bool) -> None:
    """Starting, running and braking lamps need their switches on the unit, those that the bike has."""
    assert _fits(optimum, load, told=told, more=f"{more}\n") is fits


@BOTH
@pytest.mark.parametrize(
    ("second", "operated", "more", "fits"),
    [
        ("part: left indicator, mode: flash", "front, rear", "", True),
        ("part: left indicator", "front, rear", "", True),
        ("part: left indicator, mode: steady", "front, rear", "", False),
        ("part: left indicator, fed: relay", "front, rear", "", True),
        ("part: right indicator, mode: flash", "front, rear", "", False),
        ("part: left indicator, mode: flash", "front", "", False),
        ("part: left indicator, mode: flash, fed: fuse, own_switch: head", "front", "", False),
        ("part: left indicator, mode: steady", "front", "set_aside: {indicator-pair: agreed}\n", True),
    ],
)
def test_indicators_of_a_side_go_together(optimum: Way, second: str, operated: str, more: str, *, fits: bool) -> None:
    """Front and rear of a side both flash on the unit, by the same switch."""
    loads = f"""loads:
  - {{name: front, at: head, current: 1 A, part: left indicator, mode: flash}}
  - {{name: rear, at: head, current: 1 A, {second}}}"""
    bike = BIKE.replace("loads: [{name: it, at: head, SAYS}]", loads).replace("operates: it", f"operates: [{operated}]")
    unit = UNIT.replace("{name: a,", "{names: [a, b],").replace("OUT", PLAIN)
    assert optimum(bike.replace("TOLD", ALL) + more, unit).feasible is fits


@BOTH
@pytest.mark.parametrize(
    ("current", "signal", "more", "fits"),
    [
        ("3.918 A", "earth", "", True),
        ("3.919 A", "earth", "", False),
        ("3.919 A", "supply", "", True),
        ("3.919 A", "earth", "set_aside: {signal: agreed}\n", True),
    ],
)
def test_a_switch_to_earth_wants_half_a_volt_at_most(
    optimum: Way, current: str, signal: str, more: str, *, fits: bool
) -> None:
    """5.09 m of 1 mm2, splice and earth point: 127.605 mohm, at 3.918 A 499.96 mV, at 3.919 A 500.08 mV."""
    bike = BIKE.replace("509 mm", "5090 mm").replace("SAYS", f"current: {current}").replace("TOLD", ALL)
    bike = bike.replace("signal: supply", f"signal: {signal}") + more
    unit = UNIT.replace("[supply]", "[earth, supply]").replace("limit: 4 A, OUT", "limit: 8 A, peak: 20 A")
    unit = unit.replace(FEED, "limit: 20 A")
    assert optimum(bike, unit).feasible is fits
