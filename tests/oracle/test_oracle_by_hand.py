"""Tiny bikes whose optimum is worked out by hand beside each test (mm, A, mV)."""

from collections.abc import Callable

import pytest

from . import brute, highs
from .judge import Result

Way = Callable[[str, str], Result]
BOTH = pytest.mark.parametrize("optimum", [brute.optimum, highs.optimum], ids=["brute", "highs"])

BIKE = """
supply: {running: 14.0 V, battery: {at: battery}}
frame:
  legs:
    - {between: [battery, tray], length: 300 mm}
    - {between: [tray, head], length: 200 mm}
  earth: [tray]
places: [{name: seat, front: tray, rear: head, way_round: either}]
loads: [{name: lamp, at: head, current: 1 A, kind: led}]
later: []
inputs: [{name: button, at: head, signal: earth, operates: lamp}]
"""
UNIT = """
feed: {limit: 10 A, face: front}
outputs:
  - {name: out 1, limit: 4 A, trip: [2 A, 4 A], switch_modes: [steady, flash], face: front}
inputs: [{name: in 1, accepts: [earth], face: front}]
"""


@BOTH
def test_each_length_and_loss_is_counted_once(optimum: Way) -> None:
    """As fixed: feed 300, run 200, switch 200, joint return of head 200, loss 150 + 100.

    4 A less 1 A at 50 mm; flash is not used. Turned: feed 500, no run, no switch run.
    """
    result = optimum(BIKE, UNIT)
    fixed, turned = 300 + 200 + 200 + 200 + 3 * 50 + 100, 500 + 0 + 0 + 200 + 3 * 50 + 100
    assert result.per_place == {("seat", False): fixed * 1000, ("seat", True): turned * 1000}
    assert result.cost_um == turned * 1000


@BOTH
@pytest.mark.parametrize(("limit", "fits"), [("3 A", True), ("2.999 A", False)])
def test_a_tell_tale_counts_in_both_circuits_under_hazard(optimum: Way, limit: str, *, fits: bool) -> None:
    """Hazard: 1 A + 1 A and the tell-tale's 0.5 A twice make 3 A; no other case is above 1.5 A."""
    bike = """
supply: {running: 14.0 V, battery: {at: battery}}
frame: {legs: [{between: [battery, head], length: 100 mm}], earth: [battery]}
places: [{name: seat, front: battery}]
loads:
  - {name: left, at: head, current: 1 A, when: [indicating left, hazard]}
  - {name: right, at: head, current: 1 A, when: [indicating right, hazard]}
  - {name: tell-tale, at: head, current: 500 mA, from: [left, right]}
later: []
"""
    unit = f"{{feed: {{limit: {limit}, fuse_max: 4 A}}, outputs: [{{names: [a, b], limit: 5 A, trip: [2 A]}}]}}"
    assert optimum(bike, unit).feasible is fits


@BOTH
@pytest.mark.parametrize(("opening", "fits"), [("6 mm", True), ("5.999 mm", False)])
def test_an_opening_that_is_just_filled_is_kept(optimum: Way, opening: str, *, fits: bool) -> None:
    """Four pipes of 2 mm: 1.25 x sqrt(4 x 4) = 5 mm, and the sleeve's 1 mm."""
    bike = BIKE.replace(
        "  earth:",
        f"    - {{between: [head, lamp], length: 90 mm, opening: {opening}}}\n  earth:",
    )
    bike += "alongside: [{name: pipes, from: head, to: lamp, diameter: 2 mm, count: 4}]\n"
    assert optimum(bike, UNIT).feasible is fits


@BOTH
def test_a_relay_puts_its_coil_on_the_unit(optimum: Way) -> None:
    """Feed 300, coil's run from tray 300, its return 300, lamp's wire 500 and return 200, switch 200.

    The coil's loss: (4 - 0.15) x 50 = 192.5 and 100 for flash.
    """
    bike = BIKE.replace("kind: led", "kind: led, fed: relay").replace(", way_round: either", "")
    assert optimum(bike, UNIT).cost_um == (300 + 300 + 300 + 500 + 200 + 200) * 1000 + 192500 + 100000


@BOTH
def test_later_loads_take_the_free_outputs_that_they_can(optimum: Way) -> None:
    """One output is left: the heater (worth 3 m) takes it and the pump (worth 1 m) is lost.

    Lamp on out 1: run 200 and loss 250; on out 2: no run and loss 7 x 50 = 350, which is less.
    """
    bike = BIKE.replace(", way_round: either", "").replace(
        "later: []",
        "later:\n"
        "  - {name: grips, power: 14 W, kind: heater, worth: 3 m}\n"
        "  - {name: pump, current: 1 A, kind: motor, worth: 1 m}",
    )
    unit = UNIT.replace("inputs:", "  - {name: out 2, limit: 8 A, trip: [2 A, 8 A], face: rear}\ninputs:")
    assert optimum(bike, unit).cost_um == (300 + 0 + 200 + 200 + 350 + 1000) * 1000


@BOTH
def test_a_following_output_draws_the_switch_to_its_input(optimum: Way) -> None:
    """The only output follows in 2 at the far face, so the switch goes there: 200 in place of 0."""
    bike = BIKE.replace(", way_round: either", "").replace("at: head, signal", "at: tray, signal")
    unit = UNIT.replace("face: front}\ninputs: [", "face: front, follow: in 2}\ninputs: [").replace(
        "face: front}]", "face: front}, {name: in 2, accepts: [earth], face: rear}]"
    )
    # Feed 300, run 200, switch at the tray to in 2 at the head 200, return of the lamp 200, loss 250.
    assert optimum(bike, unit).cost_um == (300 + 200 + 200 + 200 + 250) * 1000


@BOTH
@pytest.mark.parametrize(("part", "fits"), [("tail lamp", True), ("brake lamp", False)])
def test_a_brake_lamp_never_shares_an_output(optimum: Way, part: str, *, fits: bool) -> None:
    """Two lamps and one output: together they fit only if neither is a brake lamp."""
    lamps = "\n".join(
        f"  - {{name: {name}, part: {part}, at: head, current: 1 A, kind: led, share: rear}}" for name in ("one", "two")
    )
    bike = BIKE.replace("loads: [{name: lamp, at: head, current: 1 A, kind: led}]", f"loads:\n{lamps}")
    bike = bike.replace("operates: lamp", "operates: [one, two]")
    # Together 2 A x 1.25 trips at 2.5 A; each alone trips at 2 A.
    unit = UNIT.replace("trip: [2 A, 4 A]", "trip: [2 A, 2.5 A], peak: 6 A")
    assert optimum(bike, unit).feasible is fits
