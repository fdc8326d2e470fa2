"""What every electrician knows, each fact tried from two short files to a plan.

All of it is common practice, no source.
"""

import pytest
import yaml

from outcomes import circuits, fits, planned, refusing

BIKE = """
bike: trial single
supply: {{running: 14 V, battery: {{capacity: 10 Ah, at: seat tray}}}}
frame:
  legs:
    - {{between: [seat tray, headstock], length: 600 mm, opening: {opening}}}
    - {{between: [headstock, left bar], length: 400 mm}}
    - {{between: [headstock, right bar], length: 400 mm}}
  earth: [seat tray]
places: [{{name: under seat, front: seat tray}}]
later: []
loads: [{loads}]
inputs: [{inputs}]
{more}
"""
UNIT = """
unit: trial way
feed: {{limit: 40 A}}
outputs: [{{names: [{names}], limit: 10 A, trip: [2 A, 2.5 A, 4 A, 10 A], peak: 60 A, switch_modes: [{modes}]}}]
inputs: [{{names: [in 1, in 2, in 3, in 4, in 5], accepts: [earth, pulse]}}]
"""
DASH = "{name: dash, at: headstock, current: 400 mA}"
PUMP = "{name: fuel pump, part: fuel pump, at: seat tray, current: 3 A, mode: engine-run, when: [cranking, day, night]}"
STOP = (
    "{name: engine stop, at: headstock, signal: earth, tells: engine stop}, "
    "{name: neutral, at: headstock, signal: earth, tells: [neutral, side stand]}"
)
BRAKES = "{name: brakes, at: headstock, signal: earth, tells: [front brake, rear brake]}"
CRANK_SENSOR = "{name: crank sensor, at: headstock, signal: pulse, tells: engine turning}"


def bike(*loads: str, inputs: str = "", opening: str = "40 mm", more: str = "") -> str:
    """Write a bike."""
    return BIKE.format(loads=", ".join(loads), inputs=inputs, opening=opening, more=more)


def unit(outputs: int, modes: str = "steady, hold, flash, engine-run") -> str:
    """Write a unit of so many outputs, all alike."""
    return UNIT.format(names=", ".join(f"out {number + 1}" for number in range(outputs)), modes=modes)


def lamp(name: str, part: str | None, when: str = "day", share: str = "lamps") -> str:
    """Write a lamp of 1 A at the headstock."""
    what = f"part: {part}, " if part else ""
    return f"{{name: {name}, {what}at: headstock, current: 1 A, when: [{when}], share: {share}}}"


@pytest.mark.parametrize(("opening", "enters"), [("12 mm", False), ("14 mm", False), ("40 mm", True)])
def test_a_14_mm_part_does_not_enter_a_12_mm_opening(opening: str, *, enters: bool) -> None:
    """A hose of 14 mm passes no opening of 12 mm, nor, with a sleeve and wires, one of 14 mm."""
    hose = "alongside: [{name: hose, from: seat tray, to: headstock, diameter: 14 mm}]"
    assert fits(bike(DASH, opening=opening, more=hose), unit(1)) is enters


def test_an_opening_that_nothing_passes_is_told() -> None:
    """Where a hose alone is wider than an opening, the answer names the opening."""
    hose = "alongside: [{name: hose, from: seat tray, to: headstock, diameter: 14 mm}]"
    assert refusing(bike(DASH, opening="12 mm", more=hose), unit(1)) == {"opening"}


def test_engine_run_asks_for_a_sign_that_the_engine_turns() -> None:
    """A pump that runs while the engine turns is refused where no input tells it, and planned where one does."""
    assert "engine-run" in refusing(bike(PUMP, inputs=STOP), unit(1))
    assert circuits(planned(bike(PUMP, inputs=f"{STOP}, {CRANK_SENSOR}"), unit(1))) == {"out 1": ("fuel pump",)}


@pytest.mark.parametrize("part", ["ignition", "brake lamp"])
def test_what_has_an_output_of_its_own(part: str) -> None:
    """An ignition, and a brake lamp, share an output with nothing; as a load without that part it would share."""
    with_part = bike(lamp("it", part), lamp("dash", None), inputs=f"{STOP}, {BRAKES}")
    assert not fits(with_part, unit(1))
    assert circuits(planned(with_part, unit(2))) == {"out 1": ("it",), "out 2": ("dash",)}
    assert circuits(planned(bike(lamp("it", None), lamp("dash", None)), unit(1))) == {"out 1": ("it", "dash")}


def test_dipped_and_main_beam_never_share() -> None:
    """One fault never takes both beams, even where the file lets them share; two dipped beams may go out together."""
    beams = bike(lamp("dipped", "dipped beam"), lamp("main", "main beam"))
    assert not fits(beams, unit(1))
    assert circuits(planned(beams, unit(2))) == {"out 1": ("dipped",), "out 2": ("main",)}
    two_dipped = bike(lamp("left dipped", "dipped beam"), lamp("right dipped", "dipped beam"))
    assert circuits(planned(two_dipped, unit(1))) == {"out 1": ("left dipped", "right dipped")}


def test_one_tell_tale_may_be_fed_from_two_circuits() -> None:
    """It counts in each circuit and each wire, under hazard twice in total and main fuse, and has one return."""
    flash = "mode: flash, current: 1 A, when: [indicating {side}, hazard]"
    left, right = (f"{{name: {side}, at: {side} bar, {flash.format(side=side)}}}" for side in ("left", "right"))
    tell_tale = "{name: tell-tale, at: headstock, current: 1 A, from: [left, right]}"
    found = planned(bike(left, right, tell_tale), unit(2))
    assert circuits(found) == {"out 1": ("left", "tell-tale"), "out 2": ("right", "tell-tale")}
    assert [line.current for line in found.outputs] == [2000, 2000]
    assert [line.wire.run for line in found.outputs] == [1_000_000, 1_000_000]
    assert found.only.feed.worst == 4000
    assert found.only.feed.main_fuse == 5000  # 1.25 x 4 A; for 3 A it would be 4 A
    assert [(line.name, line.current) for line in found.returns if line.name == "headstock"] == [("headstock", 1000)]
    assert len(found.returns) == 3


def test_a_tell_tale_lengthens_both_circuits() -> None:
    """Off the way of its feeders it needs a branch from each: the far bar is joined twice."""
    loads = [
        "{name: left, at: headstock, current: 1 A, when: [indicating left]}",
        "{name: right, at: headstock, current: 1 A, when: [indicating right]}",
        "{name: tell-tale, at: right bar, current: 10 mA, from: [left, right]}",
    ]
    assert [line.wire.run for line in planned(bike(*loads), unit(2)).outputs] == [1_000_000, 1_000_000]


BUTTONS = {
    "left": ["left lamp"],
    "right": ["right lamp"],
    "horn": ["horn"],
    "beam": ["dipped", "main"],
    "start": ["start coil"],
}


def button_bike(buttons: dict[str, list[str]]) -> str:
    """Write a bike whose push buttons work its loads."""
    loads = [
        "{name: left lamp, at: left bar, current: 500 mA, mode: flash, when: [indicating left]}",
        "{name: right lamp, at: right bar, current: 500 mA, mode: flash, when: [indicating right]}",
        "{name: horn, at: headstock, current: 3 A, mode: hold, when: [horn]}",
        "{name: dipped, at: headstock, current: 4 A, when: [day, night]}",
        "{name: main, at: headstock, current: 4 A, when: [main beam]}",
        "{name: start coil, at: seat tray, current: 2 A, mode: hold, when: [cranking]}",
    ]
    inputs = [
        {"name": f"{name} button", "at": "left bar", "signal": "earth", "action": "push", "operates": operated}
        for name, operated in buttons.items()
    ]
    return bike(*loads, inputs=yaml.safe_dump(inputs, default_flow_style=True).strip("[]\n"))


def test_five_buttons_are_enough() -> None:
    """Push buttons for left, right, horn, beam and start fit on five inputs; a sixth button finds none free."""
    found = planned(button_bike(BUTTONS), unit(6))
    assert sorted(line.switches for line in found.inputs) == sorted((f"{name} button",) for name in BUTTONS)
    assert found.only.free_inputs == ()
    assert refusing(button_bike({**BUTTONS, "mode": ["dipped"]}), unit(6)) >= {"inputs"}
