"""Fixes written into files in which the parts say what the file does not."""

from portloom.explaining.fixes.edits import edits_of
from portloom.inputs.editing.editing import edited
from unasked import bike_and_source, bike_from_text

BIKE = """
bike: Harbour Trail trial
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame: {legs: [{between: [tray, neck], length: 800 mm}], earth: [tray]}
places: [{name: on the tray, front: tray}]
loads:
  - {part: dipped beam, at: neck, lamp: H4 dipped}
  - {part: main beam, at: neck, lamp: H4 main}
inputs: [{part: dip switch, at: neck}]
"""


def test_an_led_in_place_of_one_filament_of_two_is_off_when_that_was() -> None:
    """One bulb's dipped filament is off with the main beam (common practice, no source); the file must say so then."""
    before, source = bike_and_source(BIKE, "bike")
    figures = {"lamp": None, "power": 30_000, "kind": "led"}
    led = before.loads[0].model_copy(update=figures)
    after = before.model_copy(update={"loads": (led, *before.loads[1:])})
    text = edited(BIKE, tuple(edits_of(before, after, source)))
    assert bike_from_text(text, "bike").loads[0].except_ == ("main beam", "flashing the main beam")
    assert bike_from_text(text, "bike").loads == after.loads
