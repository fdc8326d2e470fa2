"""Fixes written into a file: only what the fix says is changed, and the new file is planned at the cost that was told.

The bikes and units are made up, each so that one kind of change is the least effort.
"""

from dataclasses import dataclass
from pathlib import Path

from calls import Portloom, Ran

BIKE = """\
# A trial single, written by hand: comments, order and odd   spaces are to stay.
bike: trial single     # her name
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame:
  # The way along the backbone is short and narrow.
  legs:
    - {between: [tray, tail], length: 500 mm%s}   # under the seat
    - {between: [tray, neck], length: 300 mm}
%s  earth: [tray, tail]
places:
  - {name: on the tray, front: tray}
%sloads:
%s
later: []    # nothing more, ever
"""
UNIT = """\
unit: trial way
feed: {limit: 40 A}
outputs:
%s
inputs: [{names: [in 1], accepts: earth}]
"""
OUTPUT = "  - {name: %s, limit: 10 A, peak: 60 A, trip: [2 A, 5 A, 10 A]%s}"


@dataclass(frozen=True)
class Trial:
    """A bike that does not fit a unit, the sentence of its first fix, and how its file's lines change by that."""

    kind: str
    sentence: str
    loads: tuple[str, ...]
    outputs: tuple[str, ...]
    lines: tuple[str, ...]
    opening: str = ""
    legs: str = ""
    more: str = ""

    @property
    def bike(self) -> str:
        return BIKE % (self.opening, self.legs, self.more, "\n".join(self.loads))

    @property
    def unit(self) -> str:
        return UNIT % "\n".join(self.outputs)

    def __str__(self) -> str:
        return self.kind


ONE, TWO, THREE = OUTPUT % ("out 1", ""), OUTPUT % ("out 2", ""), OUTPUT % ("out 3", "")
TAIL = "  - {name: tail lamp, part: tail lamp, at: tail, current: 0.5 A, kind: led, return: frame}"
PLATE = "  - {name: plate lamp, part: plate lamp, at: tail, current: 0.4 A, kind: led, return: frame}   # new"
HORN = "  - {name: horn, part: horn, at: neck, current: 3 A, kind: horn, when: [horn]}"
CAMERA = "  - {name: camera, at: neck, current: 1 A, when: [key on], mode: timed}"

TRIALS = (
    Trial(
        "sharing",
        "Let tail lamp and plate lamp share an output.",
        (TAIL, PLATE),
        (ONE,),
        (
            f"- {TAIL}",
            f"- {PLATE}",
            f"+ {TAIL.replace('}', ', share: tail lamp}')}",
            f"+ {PLATE.replace('}', ', share: tail lamp}')}",
        ),
    ),
    Trial(
        "another way round",
        "",
        (TAIL, HORN.replace("neck", "tail")),
        (ONE, TWO),
        (),
        opening=", opening: 4 mm",
        legs="    - {name: the long way, between: [tail, tray], length: 900 mm}\n",
    ),
    Trial(
        "LED lamp",
        "",
        ("  - {name: beam, part: main beam, at: neck, lamp: H4 main, when: [main beam]}   # bright",),
        (ONE.replace("60 A", "40 A"),),
        (),
    ),
    Trial("suppressor", "", (HORN,), (OUTPUT % ("out 1", ", inductive: false"),), ()),
    Trial(
        "place",
        "",
        (TAIL, HORN.replace("neck", "tail")),
        (ONE, TWO),
        (),
        opening=", opening: 4 mm",
    ),
    Trial(
        "opened up",
        "",
        (TAIL, HORN.replace("neck", "tail")),
        (ONE, TWO),
        (),
        opening=", opening: 3 mm, opens_to: 12.5 mm",
        more="  - {name: in the tail, front: tail}\n  - {name: behind the neck, front: neck}\n",
    ),
    Trial(
        "fused feed",
        "",
        (TAIL, "  - {name: socket, at: tail, current: 3 A, when: [asleep, day, night]}"),
        (OUTPUT % ("out 1", ", key_off: always"),),
        (),
    ),
    Trial("relay", "", (TAIL, "  - {name: winch, at: tail, current: 15 A, kind: motor}"), (ONE, TWO), ()),
    Trial(
        "left off",
        "",
        (
            TAIL,
            CAMERA,
            "  - {name: tell-tale, at: neck, current: 0.1 A, kind: led, from: [camera]}",
            "inputs:",
            "  - {name: camera button, at: neck, signal: earth, operates: [camera]}",
        ),
        (OUTPUT % ("out 1", ", switch_modes: [steady, timed]"),),
        (),
    ),
    Trial("bigger unit", "", (TAIL, HORN), (ONE,), ()),
)


def why(portloom: Portloom, folder: Path, *words: str) -> Ran:
    """Run ``portloom why`` on the files in a folder."""
    return portloom("why", "bike.yaml", "--unit", "unit.yaml", *words, folder=folder)


def written(trial: Trial, folder: Path) -> None:
    """Write a trial's two files."""
    (folder / "bike.yaml").write_text(trial.bike, "utf-8")
    (folder / "unit.yaml").write_text(trial.unit, "utf-8")
