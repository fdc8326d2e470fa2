"""What comes back of a load with a fuse of its own that is on only while the starter turns, by hand.

The bike and the unit are made up; 1.25 x what flows is common practice, steps of fuses are those of ISO 8820-3.
"""

from portloom.inputs.files import unit_from_text
from portloom.planning.plan import Planned, plan
from unasked import bike_from_text

BIKE = """
bike: hot solenoid
ignition: own
stand: none
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame: {legs: [{between: [tray, engine], length: 100 mm}], earth: [tray]}
places: [{name: tray, front: tray}]
later: []
loads:
  - {name: solenoid, at: engine, current: 9 A, kind: relay coil, fed: fuse, own_switch: tray, when: [cranking]}
  - {name: lamp, at: tray, current: 1 A, kind: led}
inputs: []
"""
UNIT = """
unit: one-way
feed: {limit: 30 A, fuse_max: 30 A}
outputs: [{name: out 1, limit: 5 A, peak: 60 A, trip: [2 A]}]
inputs: [{name: in 1, accepts: earth}]
"""


def test_its_return_carries_its_fuse() -> None:
    """9 A x 1.25 is 11.25 A, its fuse of 15 A: more than the 14 A of 0.75 mm2, so 1 mm2 with its 20 A."""
    answer = plan(bike_from_text(BIKE, "bike"), unit_from_text(UNIT, "unit"))
    assert isinstance(answer, Planned)
    (wire,) = [line for line in answer.plan.returns if line.start == "engine"]
    assert wire.size.label == "1 mm2"
    (line,) = [line for line in answer.plan.protection if line.wire == "return from engine"]
    assert (line.must, line.carries) == (15_000, 20_000)
