"""Joints that a hand can make: few wires in a crimp, and an earth block where a return has more.

At most 5 wires and 6 mm2 in one splice, the thickest at most eight times the thinnest; one return pin for the
filaments of a bulb: common practice, no source.
"""

import pytest

from laid_bikes import EACH_FITTING, EACH_RANDOM, RandomBikes, all_laid, laid_example, laid_text
from portloom.documents.wiring.joints import block_parts, shrink_parts
from portloom.documents.wiring.pieces import wiring_of
from portloom.documents.wiring.wire import Splice, Wiring
from portloom.job.laid import Laid

UNIT = """
unit: trial
feed: {limit: 40 A}
outputs:
  - {names: [out 1, out 2, out 3, out 4], limit: 15 A, peak: 60 A, trip: [3 A, 10 A], switch_modes: [steady, hold]}
inputs: [{names: [in 1, in 2], accepts: [earth]}]
"""
BIKE = """
bike: Harbour Trail
supply: {{running: 14.0 V, battery: {{capacity: 10 Ah, at: tray}}}}
frame:
  legs:
    - {{between: [tray, tail], length: 400 mm}}
    - {{between: [tray, bar], length: 500 mm}}
  earth: tray
places: [{{name: under the seat, front: tray}}]
loads:
{loads}
later: []
ignition: own
{more}
"""


def joined(*loads: str, more: str = "") -> Wiring:
    """Return the wires of a bike with these loads at the tail."""
    lines = "\n".join(f"  - {{{load}}}" for load in loads)
    return wiring_of(laid_text(BIKE.format(loads=lines, more=more), UNIT))


def lamp(number: int, more: str = "") -> str:
    """Return a small lamp of one group, so that all are on one output."""
    return f"name: lamp {number}, at: tail, current: 0.2 A, kind: led, share: lamps{more}"


def of(wiring: Wiring, circuit: str) -> list[Splice]:
    """Return the joints of a circuit."""
    return [splice for splice in wiring.splices if splice.circuit == circuit]


def test_four_wires_and_the_return_are_crimped() -> None:
    """Five wires of 0.5 mm2 are 2.5 mm2."""
    (joint,) = of(joined(*map(lamp, range(4))), "return tail")
    assert (len(joint.wires), joint.block) == (5, False)


def test_a_sixth_wire_asks_for_an_earth_block() -> None:
    """It stands in the parts list with a way for each wire, and takes no heat-shrink."""
    plan = laid_text(BIKE.format(loads="\n".join(f"  - {{{lamp(n)}}}" for n in range(5)), more=""), UNIT)
    wiring = wiring_of(plan)
    (joint,) = of(wiring, "return tail")
    assert (len(joint.wires), joint.block) == (6, True)
    (part,) = block_parts(wiring)
    assert part.size == "six ways, for 0.5 mm2"
    assert joint.name not in " ".join(line.where for line in shrink_parts(plan.site.job, wiring))


@pytest.mark.parametrize(("more", "blocks"), [("", 1), ("assume: {splice wires: 6}", 0)])
def test_how_many_wires_may_be_changed(more: str, blocks: int) -> None:
    """A shop with larger crimps says so."""
    wiring = joined(*map(lamp, range(5)), more=more)
    assert sum(joint.block for joint in of(wiring, "return tail")) == blocks


def test_a_run_has_several_splices_where_one_is_too_much() -> None:
    """One wire in and six out, 0.5 mm2: five in the first crimp with the wire to the next, then four."""
    wiring = joined(*map(lamp, range(6)))
    joints = of(wiring, "out 1")
    assert [len(joint.wires) for joint in joints] == [5, 4]
    (link,) = set(joints[0].wires) & set(joints[1].wires)
    assert (wiring.by_key[link].run, wiring.by_key[link].current) == (0, 600)


def test_thick_wires_are_fewer_in_a_crimp() -> None:
    """Of 2 mm2 three are 6 mm2: one in and three out take two splices."""
    wiring = joined(*map(lamp, range(3)), more="reels: [2 mm2]")
    assert [len(joint.wires) for joint in of(wiring, "out 1")] == [3, 3]


def test_a_thin_wire_is_not_crimped_to_one_nine_times_as_thick() -> None:
    """A lamp on 0.35 mm2 beside a heater: 0.35 against 4 mm2 is more than eight times."""
    heater = "name: pad, at: tail, current: 7 A, kind: heater"
    (joint,) = of(joined(heater, lamp(1), more="reels: [0.35 mm2, 4 mm2]"), "return tail")
    assert (len(joint.wires), joint.area, joint.block) == (3, 83_500, True)


def test_filaments_of_one_bulb_have_one_wire_at_the_joint() -> None:
    """Tail and brake filament share the pin; the lamp beside them has a wire of its own."""
    tail, brake = (f"name: {what}, at: tail, lamp: P21/5W {what}" for what in ("tail", "brake"))
    wiring = joined(tail, brake, "name: plate lamp, at: tail, lamp: W5W")
    (joint,) = of(wiring, "return tail")
    wires = [wiring.by_key[key] for key in joint.wires]
    assert [wire.start.told for wire in wires[:2]] == ["tail and brake", "plate lamp"]
    assert wires[0].current == 489 + 1963  # 6.6 and 26.5 W at 13.5 V (UN R37)


def test_three_thick_wires_of_a_run_meet_on_a_junction_block() -> None:
    """The Dressed Tourer's paired beams: 3 x 2.5 mm2 are 7.5 mm2, and no chain of splices makes it less."""
    wiring = wiring_of(laid_example("dressed-tourer", "eleven-way"))
    thick = [joint for joint in wiring.splices if joint.area == 75_000]
    assert {(len(joint.sizes), joint.made_as) for joint in thick} == {(3, "junction block")}
    assert sum(part.what == "junction block" for part in block_parts(wiring)) == len(thick)


# --- whatever the plan


def checked(laid: Laid) -> None:
    """Hold every joint of a plan against the limits: beyond them it is a block, with a way for each wire."""
    for joint in wiring_of(laid).splices:
        areas = [size.area for size in joint.sizes]
        small = len(areas) <= 5 and sum(areas) <= 60_000 and max(areas) <= 8 * min(areas)
        assert joint.block is not small


@EACH_FITTING
def test_joints_of_the_examples(bike: str, unit: str) -> None:
    """A hand can make each of them."""
    checked(laid_example(bike, unit))


@EACH_RANDOM
def test_joints_of_random_bikes(random_bikes: RandomBikes) -> None:
    """As in the examples."""
    for laid in all_laid(random_bikes):
        checked(laid)
