"""What a step of the bench test expects at its load, by hand: that load, with what is on always, on the wires as cut.

Sources: IEC 60228 class 5 plain (mohm/m at 20 C), at 85 C x (234.5 + 85) / 254.5; a fuse up to 10 A loses 0.13 V at its
rating, from memory, the main fuse 0.1 V; output 10 mohm, its plug 5, the load's plug 5, a return's splice 1, an earth
point 2: common practice, no source. The bike is made up.
"""

from fractions import Fraction
from functools import cache

import pytest

from laid_bikes import EACH_FITTING, laid_example, laid_text
from portloom.documents.handover.bench_test import bench_test
from portloom.documents.handover.readings import judge
from portloom.documents.handover.steps import Step
from portloom.inputs.bench_readings import readings_from_text
from portloom.job.fixed import conductor_of
from portloom.job.laid import Laid

RESISTANCE = {
    "0.5 mm2": 39.0,
    "0.75 mm2": 26.0,
    "1 mm2": 19.5,
    "1.5 mm2": 13.3,
    "2.5 mm2": 7.98,
    "4 mm2": 4.95,
    "6 mm2": 3.30,
}
HOT = 319.5 / 254.5
CORROSION = 0.036
BIKE = """
bike: Harbour Trail
supply: {running: 14.0 V, battery: {capacity: 10 Ah, at: battery}}
frame:
  legs:
    - {between: [battery, tray], length: 500 mm}
    - {between: [tray, bar], length: 800 mm}
  earth: tray
places: [{name: under the seat, front: tray}]
loads:
  - {part: horn, at: bar, current: 4 A}
  - {name: recorder, at: bar, current: 1 A}
  - {name: camera, at: bar, current: 2 A, when: [day, night]}
inputs: [{part: horn button, at: bar}]
later: []
"""
UNIT = """
unit: trial
feed: {limit: 40 A}
outputs:
  - {names: [out 1, out 2, out 3], limit: 5 A, peak: 60 A, trip: [5 A], switch_modes: [steady, hold], inductive: true}
inputs: [{name: in 1, accepts: [earth]}]
"""


@cache
def plan() -> Laid:
    """Return the made-up bike's plan."""
    return laid_text(BIKE, UNIT)


def titled(laid: Laid, title: str) -> Step:
    """Return a step by its title."""
    return next(step for step in bench_test(laid).steps if step.title == title)


def wires(load: str, warm: float) -> tuple[float, float, float]:
    """Return the ohms of feed, run and return by their sizes as cut: 0.5 m, 0.8 m and 0.8 m."""
    site = plan().site
    (back,) = site.fixed_of("return")
    (own,) = (wired for wired in plan().outputs if wired.circuit.members[0].name == load)
    sizes = conductor_of(site, site.feed), own.drawn, conductor_of(site, back)
    feed, run, home = (RESISTANCE[wire.size.label] * warm / 1000 for wire in sizes)
    return feed * 0.5, run * 0.8, home * 0.8


def horn_by_hand(warm: float = HOT) -> float:
    """Return what the horn loses alone: 4 A x 12.6 / 14 = 3.6 A, on the 7.5 A fuse that is next above its 5 A trip."""
    feed, run, home = wires("horn", warm)
    return 3.6 * (feed + run + home + 0.010 + 0.005 + 0.005 + 0.001 + 0.002) + 0.13 * 3.6 / 7.5


def camera_by_hand() -> float:
    """Return what the camera's 2 A lose at 14 V, with the recorder's 1 A in feed, return and earth point."""
    feed, run, home = wires("camera", HOT)
    main = (plan().site.main_fuse or 0) / 1000
    alone = 2 * (run + 0.010 + 0.005 + 0.005)
    return alone + 3 * (feed + home + 0.001 + 0.002) + 0.1 * 3 / main


def test_a_circuit_by_itself_loses_what_it_loses_by_itself_on_the_fuse_of_its_step() -> None:
    """The horn's step has neither recorder nor camera in it, and a small fuse where the main fuse will be."""
    step = titled(plan(), "horn")
    assert step.do.startswith("7.5 A fuse; plug in this alone.")
    assert float(step.loses or 0) / 1e6 == pytest.approx(horn_by_hand(), abs=1e-6)
    assert step.expect == f"2.52 to 3.96 A, at the load {floor_hundredths(12.6 - horn_by_hand()):.2f} V or more"


def test_with_the_engine_running_what_is_on_always_is_on_and_nothing_else() -> None:
    """The recorder flows beside the camera; the horn, of whose 4 A the worst case is made, does not."""
    step = titled(plan(), "camera")
    assert step.part == "engine running"
    assert float(step.loses or 0) / 1e6 == pytest.approx(camera_by_hand(), abs=1e-6)


def floor_hundredths(volts: float) -> float:
    """Round down, as a least voltage is told."""
    return int(volts * 100 + 1e-9) / 100


def verdict(laid: Laid, step: Step, supply: float, current: float, voltage: float) -> bool:
    """Tell whether a reading is taken for right."""
    text = f"step,supply_v,current_a,voltage_v\n{step.number},{supply:.3f},{current:.3f},{voltage:.3f}\n"
    (finding,) = judge(bench_test(laid), readings_from_text(text, "readings.csv"))
    return finding.right


def test_36_milliohms_of_corrosion_are_seen_on_a_cold_loom() -> None:
    """At 20 C copper loses a fifth less than the plan has it at 85 C: sound wires pass, corroded ones do not.

    Nor where the horn draws less than planned, and so loses less: from 70 % of its current it is taken for right.
    """
    step = titled(plan(), "horn")
    for current in (3.6, 3.0, 2.53):
        sound = 12.6 - horn_by_hand(warm=1.0) * current / 3.6
        assert verdict(plan(), step, 12.6, current, sound)
        assert not verdict(plan(), step, 12.6, current, sound - CORROSION * current)


@EACH_FITTING
def test_36_milliohms_of_corrosion_are_outside_what_any_step_accepts(bike: str, unit: str) -> None:
    """Added to what the plan itself loses, at the greatest current that is right; the plan itself passes."""
    laid = laid_example(bike, unit)
    tried = 0
    for step in bench_test(laid).steps:
        if step.read == "current and voltage" and step.expected is not None:
            supply, (_, most) = step.supply / 1000, step.expected.current(step.supply)
            reached = supply - float(step.loses or Fraction(0)) / 1e6
            assert verdict(laid, step, supply, most / 1000, reached + 0.0005), step.title
            assert not verdict(laid, step, supply, most / 1000, reached - CORROSION * most / 1000), step.title
            tried += 1
    assert tried >= 6
