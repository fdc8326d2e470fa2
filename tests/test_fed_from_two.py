"""What is told of a load that two circuits feed, on each of them: only of the cases in which that circuit is on.

The bike and the unit are made up.
"""

import pytest

from portloom.documents.document import PlannedUnit
from portloom.inputs.files import unit_from_text
from portloom.planning.plan import Planned, plan
from unasked import bike_from_text

BIKE = """
bike: two feeders
ignition: own
supply: {running: 14 V, cranking: 9 V, battery: {capacity: 10 Ah, at: tray}}
frame: {legs: [{between: [tray, neck], length: 300 mm}], earth: [tray]}
places: [{name: tray, front: tray}]
later: []
loads:
  - {name: warmer, at: tray, current: 10 A, kind: heater, when: [cranking, day]}
  - {name: marker, at: tray, current: 1 A, kind: heater, mode: flash, when: [night]}
  - {name: tell-tale, at: tray, current: 0.2 A, kind: heater, from: [warmer, marker], lowest: 8.5 V}
inputs: []
"""
UNIT = """
unit: two-way
feed: {limit: 30 A, fuse_max: 30 A}
outputs:
  - {name: out 1, limit: 15 A, peak: 60 A, trip: [14 A]}
  - {name: out 2, limit: 5 A, peak: 60 A, trip: [2 A], switch_modes: [flash], resistance: 900 mohm}
inputs: [{name: in 1, accepts: earth}]
"""


@pytest.fixture(scope="module")
def unit() -> PlannedUnit:
    """Return the plan's unit."""
    answer = plan(bike_from_text(BIKE, "bike"), unit_from_text(UNIT, "unit"))
    assert isinstance(answer, Planned)
    return answer.plan.only


def test_a_drop_is_told_of_a_case_in_which_its_circuit_is_on(unit: PlannedUnit) -> None:
    """At night 1.2 A flow through the feed, with the warmer 10.2 A, but not in the marker's circuit.

    Marker and tell-tale hang on the same output, feed and return: all that they lose otherwise is at their own plugs.
    """
    told = {(line.port, lost.load): lost for line in unit.outputs for lost in line.drops}
    assert told["out 1", "tell-tale"].case == "cranking"
    assert told["out 2", "tell-tale"].case == "night"
    assert told["out 2", "marker"].case == "night"
    apart = told["out 2", "marker"].drop - told["out 2", "tell-tale"].drop
    assert apart == (1000 - 200) * 5


def test_nothing_reaches_it_from_a_circuit_that_is_off_while_cranking(unit: PlannedUnit) -> None:
    """From the marker's it would be 0.7 V less, by 900 mohm x 0.77 A: too little to work at. Nothing is told of it."""
    assert [line.where for line in unit.cranking] == ["the unit", "warmer", "tell-tale"]
