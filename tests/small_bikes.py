"""Bikes of a few lines: a frame with every usual point and what a test puts on it, and one that is soon planned."""

from collections.abc import Iterable

POINTS = (
    "seat tray", "headstock", "headlamp shell", "left handlebar", "right handlebar", "tank", "engine", "radiator",
    "pedal", "side stand", "tail",
)  # fmt: skip
OWN_SPARK = "ignition: own"
"""The engine sparks without the unit, so nothing is asked of how it stops."""


def small_bike(loads: Iterable[str], inputs: Iterable[str] = (), *keys: str, later: Iterable[str] = ()) -> str:
    """Return the text of a bike with these entries, each a flow mapping, and these keys of the whole bike."""
    legs = [f"    - {{between: [seat tray, {point}], length: 500 mm}}" for point in POINTS[1:]]
    lists = {"loads": tuple(loads), "inputs": tuple(inputs), "later": tuple(later)}
    return "\n".join([
        "bike: Small",
        "supply: {running: 14.0 V, battery: {capacity: 10 Ah, at: seat tray}}",
        "frame:", "  legs:", *legs, "  earth: [seat tray, engine]",
        "places: [{name: under seat, front: seat tray}]",
        *keys,
        *(line for key, found in lists.items() if found for line in (f"{key}:", *(f"  - {entry}" for entry in found))),
        "",
    ])  # fmt: skip


THREE_LAMPS = """\
# A small bike, whose engine sparks by itself.
bike: My bike
supply:
  running: 14.0 V                      # at the battery, charging
  battery: {capacity: 10 Ah, at: seat tray}
frame:
  legs:                                # every stretch that wires can follow
    - {between: [headstock, headlamp shell], length: 250 mm, opening: 22 mm, moves: true}
    - {between: [headstock, seat tray], length: 620 mm}
    - {between: [seat tray, tail], length: 360 mm}
  earth: [seat tray]                   # where returns may end
places:                                # the frame point at each face of the unit
  - {name: under seat, front: seat tray, rear: tail, way_round: either}
loads:                                 # without 'when': key on, by day and by night
  - name: dipped beam
    part: dipped beam                  # what it is; names are yours to choose
    at: headlamp shell
    lamp: H4 dipped                    # or 'power: 55 W' with 'kind: filament', or 'current: 4.2 A'
    when: [day, night]
  - {name: tail lamp, part: tail lamp, at: tail, lamp: P21/5W tail}
  - {name: brake lamp, part: brake lamp, at: tail, lamp: P21/5W brake, when: [braking]}
inputs:                                # what each switch operates or tells
  - name: front brake switch
    at: headlamp shell
    signal: earth                      # it connects the input to earth
    tells: front brake
    operates: [brake lamp]
  - {name: rear brake switch, at: tail, signal: earth, tells: rear brake, operates: [brake lamp]}
  - {name: key, at: headlamp shell, signal: earth, action: latch, tells: key}
ignition: own
"""
FOUR_WAY = """\
# A small unit.
unit: four-way
feed: {limit: 30 A, wire_max: 6 mm2, face: rear}
outputs:                               # one entry for outputs that are alike
  - names: [out 1, out 2, out 3, out 4]
    limit: 10 A                        # continuous
    peak: 70 A                         # for a short time
    peak_for: 100 ms
    trip: [3 A, 5 A, 10 A]             # what its electronic fuse can be set to
    switch_modes: [steady, hold, flash] # how it can be driven
    face: front
    wire_max: 2.5 mm2                  # largest wire for its terminal
    inductive: true                    # may switch motors, horns and coils
inputs:
  - {names: [in 1, in 2, in 3, in 4], accepts: [earth], face: front}
"""
