"""Tiny bikes in which a wire's size in the loom decides, worked out by hand beside each test (mm, A, mV)."""

from collections.abc import Callable
from fractions import Fraction
from math import log

import pytest

from . import brute, highs
from .catalogue import Stock
from .judge import Result

Way = Callable[[str, str], Result]
BOTH = pytest.mark.parametrize("optimum", [brute.optimum, highs.optimum], ids=["brute", "highs"])

# The feed has no leg, the run and the return of the lamp lie in the one leg.
BIKE = """
supply: {running: 14.0 V, battery: {at: battery}}
frame: {legs: [{between: [battery, head], length: 1000 mm}], earth: [battery]}
places: [{name: seat, front: battery}]
loads: [{name: lamp, at: head, current: 1 A, kind: led}]
later: []
reels: [0.5 mm2]
"""
UNIT = "{feed: {limit: 40 A}, outputs: [{name: out 1, limit: 8 A, trip: [TRIP]}]}"
# Feed and returns may be thicker, the run not.
THICKER = "[0.5 mm2, 4 mm2]"
TAKING_THIN = UNIT.replace("trip:", "wire_max: 0.5 mm2, trip:")
BESIDE = "alongside: [{name: heater, from: head, to: battery, size: 2.5 mm2, SAYS}]\n"


@BOTH
@pytest.mark.parametrize(("trip", "fits"), [("6.35 A", True), ("6.351 A", False)])
def test_a_hot_leg_takes_ampacity_away(optimum: Way, trip: str, *, fits: bool) -> None:
    """0.5 mm2 carries 11 A; at 80 C 11 x sqrt(25 / 75) = 6.3509 A."""
    bike = BIKE.replace("1000 mm", "1000 mm, ambient: 80 C").replace("[0.5 mm2]", THICKER)
    assert optimum(bike, TAKING_THIN.replace("TRIP", trip)).feasible is fits


@BOTH
@pytest.mark.parametrize(
    ("beside", "fits"),
    [
        ("current: 1 A", True),  # with run and return three: 70 % of 11 A are 7.7 A
        ("current: 1 A, count: 2", False),  # four: 60 % are 6.6 A
        ("current: 999 mA, count: 2", True),  # not loaded, so two: 11 A
        ("current: 1 A, count: 2, when: [horn]", False),  # horn and lamp come together by day
        ("current: 1 A, count: 2, when: [cranking]", True),  # cranking takes seconds
        ("current: 1 A, count: 2, when: [parked]", True),  # the lamp is off then
    ],
)
def test_loaded_wires_beside_it_take_ampacity_away(optimum: Way, beside: str, *, fits: bool) -> None:
    """The trip of 7 A is above 60 % of what 0.5 mm2 carries, below 70 %."""
    bike = BIKE.replace("[0.5 mm2]", THICKER) + BESIDE.replace("SAYS", beside)
    assert optimum(bike, TAKING_THIN.replace("TRIP", "7 A")).feasible is fits


@BOTH
@pytest.mark.parametrize(("current", "fits"), [("999 mA", True), ("1 A", False)])
def test_run_and_return_count_from_one_ampere_up(optimum: Way, current: str, *, fits: bool) -> None:
    """Run, return and two wires alongside are four if the lamp draws 1 A, else two."""
    bike = BIKE.replace("current: 1 A", f"current: {current}").replace("[0.5 mm2]", THICKER)
    bike += BESIDE.replace("SAYS", "current: 1 A, count: 2")
    assert optimum(bike, TAKING_THIN.replace("TRIP", "7 A")).feasible is fits


@BOTH
@pytest.mark.parametrize(("opening", "fits"), [("5.2 mm", True), ("5.199 mm", False)])
def test_openings_hold_returns_that_a_trip_has_thickened(optimum: Way, opening: str, *, fits: bool) -> None:
    """Trip 8 A, so the run takes 1 mm2 (20 A), not 0.35 mm2 (7 A).

    The return, which 0.9 A would leave at 0.35 mm2 (0.9 x 54.4 x 1.2554 = 61.5 mV), carries
    0.9 - 0.9 + 8 A, so 1 mm2 too. Two of 2.1 mm side by side and the sleeve: 5.2 mm.
    """
    bike = BIKE.replace("current: 1 A", "current: 900 mA").replace("[0.5 mm2]", "[0.35 mm2, 1 mm2]")
    bike = bike.replace("1000 mm", f"1000 mm, opening: {opening}")
    assert optimum(bike, UNIT.replace("TRIP", "8 A")).feasible is fits


@BOTH
@pytest.mark.parametrize(("opening", "fits"), [("3.8 mm", True), ("3.799 mm", False)])
def test_openings_hold_returns_that_no_trip_has_thickened(optimum: Way, opening: str, *, fits: bool) -> None:
    """Trip 7 A, which 0.35 mm2 carries: run and return stay, 1.4 + 1.4 and the sleeve are 3.8 mm."""
    bike = BIKE.replace("current: 1 A", "current: 900 mA").replace("[0.5 mm2]", "[0.35 mm2, 1 mm2]")
    bike = bike.replace("1000 mm", f"1000 mm, opening: {opening}")
    assert optimum(bike, UNIT.replace("TRIP", "7 A")).feasible is fits


@BOTH
@pytest.mark.parametrize(
    ("peak", "time", "fits"),
    [
        ("500 A", "52 ms", True),
        ("500 A", "53 ms", False),
        ("60 A", "366 ms", True),
        ("60 A", "367 ms", False),
    ],
)
def test_copper_stays_below_160_c_until_the_output_trips(optimum: Way, peak: str, time: str, *, fits: bool) -> None:
    """The output takes 0.35 mm2 at most, of which a run of 1 m is 68.294 mohm.

    Battery 10, output 10. 14 V / 88.294 mohm = 158.56 A, more than ten times the trip of 5 A, so the curve's last
    time. (226 x 0.35)^2 x ln(394.5 / 319.5) = 1319.3 A2 s: 0.0525 s at 158.56 A, 0.3665 s at 60 A.
    """
    hot = 54.4 * 319.5 / 254.5
    fault = 14000 / (10 + 10 + hot)
    bound = (226 * 0.35) ** 2 * log(394.5 / 319.5) / min(fault, float(peak.removesuffix(" A"))) ** 2
    assert (float(time.removesuffix(" ms")) / 1000 <= bound) is fits
    unit = (
        f"{{feed: {{limit: 40 A}}, outputs: [{{name: out 1, limit: 8 A, peak: {peak}, trip: [5 A], "
        f"wire_max: 0.35 mm2, trip_curve: [[2 x, 1 s], [10 x, {time}]]}}]}}"
    )
    assert optimum(BIKE.replace("[0.5 mm2]", "[0.35 mm2, 4 mm2]"), unit).feasible is fits


@BOTH
@pytest.mark.parametrize(
    ("insulation", "trip", "fits"), [(75, "5.5 A", True), (75, "5.501 A", False), (90, "8 A", True)]
)
def test_another_insulation_takes_another_column(optimum: Way, insulation: int, trip: str, *, fits: bool) -> None:
    """18 AWG carries 20 A at 105 C and at 90 C, 10 A at 75 C; so 0.5 mm2 11 A, 11 A and 5.5 A."""
    bike = BIKE.replace("[0.5 mm2]", "[0.5 mm2, 4 mm2]") + f"assume: {{insulation: {insulation} C}}\n"
    assert optimum(bike, UNIT.replace("[TRIP]", f"[{trip}], wire_max: 0.5 mm2")).feasible is fits


def test_tinned_wire_resists_more() -> None:
    """2.5 mm2: 8.21 in place of 7.98 mohm/m; 2 mm2 has no tinned row: 9.42 x 1.03 = 9.7026, rounded up."""
    tinned, plain = Stock(125, tinned=True), Stock(105, tinned=False)
    assert [plain.wire("2.5 mm2").mohm_per_m, tinned.wire("2.5 mm2").mohm_per_m] == [Fraction("7.98"), Fraction("8.21")]
    assert tinned.wire("2 mm2").mohm_per_m == Fraction("9.703")
    assert (tinned.wire("2 mm2").carries_ma, tinned.wire("0.35 mm2").carries_ma) == (30000, 8750)


@BOTH
@pytest.mark.parametrize(("joins", "limit", "fits"), [("battery", 10, True), ("unit", 24, False), ("unit", 25, True)])
def test_a_charging_current_through_the_main_fuse_counts(optimum: Way, joins: str, limit: int, *, fits: bool) -> None:
    """280 W are 20 A, so a fuse of 25 A; a unit of 24 A takes 20 A at most."""
    charging = f"charging: {{idle: 110 W, cruise: 280 W, joins: {joins}}}, running"
    bike = BIKE.replace("running", charging).replace("[0.5 mm2]", "[0.5 mm2, 4 mm2]")
    assert optimum(bike, UNIT.replace("TRIP", "7 A").replace("40 A", f"{limit} A")).feasible is fits
