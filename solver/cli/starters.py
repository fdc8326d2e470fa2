"""``portloom new``: small files to start from."""

from typing import Literal

BIKE = """\
# A small bike to start from: change it line by line. 'portloom schema bike' lists every key.
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
places:                                # the frame point that each face of the unit meets
  - {name: under seat, front: seat tray, rear: tail, way_round: either}
loads:                                 # without 'when': key on, by day and by night
  - name: dipped beam
    part: dipped beam                  # what it is; names are yours to choose
    at: headlamp shell
    lamp: H4 dipped                    # or 'power: 55 W' with 'kind: filament', or 'current: 4.2 A'
    when: [day, night]
  - {name: tail lamp, part: tail lamp, at: tail, lamp: P21/5W tail}
  - {name: brake lamp, part: brake lamp, at: tail, lamp: P21/5W brake, when: [braking]}
inputs:                                # what each switch works or tells
  - name: front brake switch
    at: headlamp shell
    signal: earth                      # it earths the input
    tells: front brake
    operates: [brake lamp]
  - {name: rear brake switch, at: tail, signal: earth, tells: rear brake, operates: [brake lamp]}
  - {name: key, at: headlamp shell, signal: earth, action: latch, tells: key}
"""
UNIT = """\
# A small unit to start from: change it line by line. 'portloom schema unit' lists every key.
unit: four-way
feed: {limit: 30 A, wire_max: 6 mm2, face: rear}
outputs:                               # one entry for outputs that are the same
  - names: [out 1, out 2, out 3, out 4]
    limit: 10 A                        # for good
    peak: 70 A                         # for a short time
    peak_for: 100 ms
    trip: [3 A, 5 A, 10 A]             # what its electronic fuse can be set to
    switch_modes: [steady, flash]      # how it can be driven
    face: front
    wire_max: 2.5 mm2                  # what its terminal takes
    inductive: true                    # takes motors, horns and coils
inputs:
  - {names: [in 1, in 2, in 3, in 4], accepts: [earth], face: front}
"""


def starter(what: Literal["bike", "unit"]) -> str:
    """Return the text of a file to start from."""
    return BIKE if what == "bike" else UNIT
