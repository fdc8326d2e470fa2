"""Openings with wires of two thicknesses, by hand, to a micrometre.

Sources: trade column: 0.75 mm2 is 1.9 mm thick, 4 mm2 3.7 mm, 10 mm2 6 mm; the sleeve is 1 mm; a loom is 1.25 x the
root of the sum of squares across, or as wide as its two thickest wires side by side, whichever is more (common
practice, no source). The bikes are made up.
"""

import pytest

from outcomes import fits

BIKE = """
bike: trial single
ignition: own
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame:
  legs: [{between: [tray, neck], length: 1 m}, {between: [neck, bars], length: 1 m, opening: OPENING}]
  earth: [neck, bars]
places: [{name: on the tray, front: tray}]
later: []
reels: [REELS]
loads: [LOADS]
inputs: []
MORE
"""
UNIT = """
unit: trial way
feed: {limit: 60 A}
outputs: [{names: [out 1], limit: 8 A, trip: [4 A, 8 A], peak: 40 A}]
inputs: []
"""
PUMP = "{name: pump, at: %s, current: 2 A, kind: motor}"
HORN = "{name: horn %s, at: neck, current: 2 A, kind: motor, fed: fuse, own_switch: bars}"


def bike(opening: str, *loads: str, reels: str = "0.75 mm2", more: str = "") -> str:
    """Return a bike with these loads, and an opening between neck and bars."""
    text = BIKE.replace("OPENING", opening).replace("REELS", reels)
    return text.replace("LOADS", ", ".join(loads)).replace("MORE", more)


@pytest.mark.parametrize(("opening", "fit"), [("6.6 mm", True), ("6.599 mm", False)])
def test_a_thick_wire_beside_a_slim_one(opening: str, *, fit: bool) -> None:
    """3.7 + 1.9 mm side by side and the sleeve are 6.6 mm; 1.25 x sqrt(3.7^2 + 1.9^2) = 5.2 mm would be less.

    Nothing comes back by that leg: the pump is at an earth point.
    """
    beside = "alongside: [{name: charger, from: neck, to: bars, size: 4 mm2, current: 2 A}]"
    assert fits(bike(opening, PUMP % "bars", more=beside), UNIT) is fit


@pytest.mark.parametrize(("opening", "fit"), [("7.718 mm", True), ("7.717 mm", False)])
def test_many_slim_wires_where_a_thick_one_could_lie(opening: str, *, fit: bool) -> None:
    """Four horns are fed by way of their buttons at the bars: eight wires of 1.9 mm, however few circuits there are.

    1.25 x sqrt(8 x 1.9^2) = 6.718 mm (6.7175), and the sleeve. A reel of 10 mm2, 6 mm thick, would not go beside them.
    """
    horns = [HORN % number for number in range(4)]
    assert fits(bike(opening, PUMP % "neck", *horns, reels="0.75 mm2, 10 mm2"), UNIT) is fit
