"""What is shown of a tiny bike, worked out by hand: drops on the wires that are cut, the draw at rest (mm, A, mV)."""

from fractions import Fraction

import pytest

from .circuits import circuit
from .cut import Cut
from .job import Job
from .judge import Plan
from .profiles import read_unit
from .reading import read_bike
from .resting import battery_days, resting_ma
from .site import Site

BIKE = """
supply: {running: 14.0 V, battery: {at: battery}}
frame: {legs: [{between: [battery, head], length: 509 mm}], earth: [battery]}
places: [{name: seat, front: battery}]
loads:
  - {name: lamp, at: head, current: 2 A, when: [day]}
  - {name: heater, at: head, current: 1 A, when: [night, day], fed: fuse, own_switch: head}
later: []
reels: [REELS]
"""
UNIT = "{feed: {limit: 10 A, fuse_max: 4 A}, outputs: [{name: a, limit: 6 A, peak: 60 A, trip: [3 A]}]}"


def cut(reels: str) -> Cut:
    """Return the one plan that there is."""
    job = Job(read_bike(BIKE.replace("REELS", reels)), read_unit(UNIT))
    site = Site(job, job.bike.places[0], turned=False, fuse_ma=4000)
    lamp = next(load for load in job.bike.loads if load.name == "lamp")
    return Cut(site, Plan(((circuit(job.bike, [lamp]), job.unit.outputs[0]),), (), ()))


def test_drops_are_those_of_the_wires_that_are_cut() -> None:
    """1 mm2: 509 mm are 12.4605 mohm, 300 mm of the feed 7.3441. By day lamp and heater draw 3 A.

    Feed 2 x (7.3441 + 25) = 64.688. Return 3 x 12.4605 + 3 = 40.3815, earth 6. Lamp: plugs 20, output 20, run 24.921.
    Heater: fuse of 2 A 65, switch 20, plug 5, run 12.4605.
    """
    found = cut("1 mm2")
    assert float(found.feed_uv()) / 1000 == pytest.approx(64.688, abs=0.001)
    assert float(found.output_uv("a")["lamp"]) / 1000 == pytest.approx(64.688 + 40.3815 + 6 + 64.921, abs=0.001)
    assert float(found.fed_uv("heater")) / 1000 == pytest.approx(102.4605 + 40.3815 + 6, abs=0.001)


def test_a_return_that_must_be_thicker_loses_less() -> None:
    """Three loaded wires and the feed beside: 70 % of 7 A are 4.9 A for a trip of 3 A and the heater's 1 A: 0.35 mm2.

    But 3 A lose 3 x 34.7616 = 104.3 mV in that, so the return is of 1 mm2; run and feed (60 % of 7 A are 4.2) stay.
    """
    found = cut("0.35 mm2, 1 mm2")
    assert [wire.area for wire in found.returns.values()] == [1]
    assert found.outputs["a"].area == Fraction("0.35")
    run = 2 * 34.7616
    feed = 2 * (54.4 * 0.3 * 319.5 / 254.5 + 25)
    by_hand = feed + 20 + 20 + run + 40.3815 + 6
    assert float(found.output_uv("a")["lamp"]) / 1000 == pytest.approx(by_hand, abs=0.001)


@pytest.mark.parametrize(
    ("alarm", "boxes", "drawn"),
    [("fed: fuse", [], "3.4"), ("fed: fuse", ["box"], "3.9"), ("fed: unit", [], "63"), ("fed: unit", ["box"], "63.5")],
)
def test_what_is_drawn_with_the_key_off(alarm: str, boxes: list[str], drawn: str) -> None:
    """Unit 0.4 mA, or 60 mA while an output is live, an alarm of 3 mA, a multiplexer 0.5 mA where it is used."""
    bike = BIKE.replace("REELS", "1 mm2").replace("when: [day]}", f"when: [day]}}\n  - {{name: alarm, SAYS, {alarm}}}")
    bike = bike.replace("SAYS", "at: head, current: 3 mA, when: [asleep, day]")
    bike += "multiplexers: [{name: box, at: [head], ways: 3, takes: [earth]}]\n"
    unit = UNIT.replace("limit: 10 A", "limit: 10 A, standby: 0.4 mA, awake: 60 mA")
    assert resting_ma(bike, unit, boxes) == Fraction(drawn)


def test_days_of_a_battery() -> None:
    """0.4 mA and 20 mAh a day empty half of 10 Ah: 5000 / (9.6 + 20) = 168.9 days."""
    assert float(battery_days(Fraction(10_000), Fraction("0.4"))) == pytest.approx(168.92, abs=0.01)
