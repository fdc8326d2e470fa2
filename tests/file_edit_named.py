"""Bikes made by hand, each of which a certain kind of fix mends; all that they are is made up.

Each has its unit, and the least effort with the changes that reach it, worked out by hand.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from file_edit_sets import Bench, bigger_than
from file_edit_told import KNOWN
from outcomes import EXAMPLES, PROFILES

KEY = "{name: key, part: key switch, at: tray}"
HEAD = """\
bike: Harbour Trail trial
supply: {running: 14 V, battery: {capacity: 10 Ah, at: tray}}
frame:
  legs:
    - {between: [tray, neck], length: 600 mm%s}
    - {between: [tray, tail], length: 400 mm}
    - {name: the long way, between: [neck, tray], length: 900 mm}
  earth: [tray]
places: [{name: on the tray, front: tray}]
ignition: own
stand: none
later: []
loads:
"""
UNIT = """\
unit: trial way
feed: {limit: %s, wire_max: 6 mm2, face: front}
outputs:
%s
inputs: [{names: [%s], accepts: [earth]}]
"""
OUTPUT = "  - {name: %s, limit: %s, peak: %s, peak_for: 600 ms, trip: [2 A, 4 A, %s], switch_modes: [steady, hold], %s}"


@dataclass(frozen=True)
class Named:
    """A bike and its unit, and the least effort that makes it fit."""

    bike: str
    unit: str
    least: int
    sentences: tuple[str, ...] = ()
    """How a fix of that effort may begin; none: that is not said here."""

    @property
    def bench(self) -> Bench:
        return Bench(self.bike, self.unit, bigger_than(self.unit, KNOWN), most_plans=2500)


def bike(*loads: str, inputs: tuple[str, ...] = (KEY,), leg: str = "") -> str:
    lines = [f"  - {load}" for load in loads] + ["inputs:"] + [f"  - {switch}" for switch in inputs]
    return HEAD % leg + "\n".join(lines) + "\n"


def unit(*outputs: str, total: str = "30 A", inputs: str = "in 1") -> str:
    return UNIT % (total, "\n".join(outputs), inputs)


def output(name: str, limit: str = "10 A", peak: str = "120 A", more: str = "inductive: true") -> str:
    return OUTPUT % (name, limit, peak, limit, more)


# Two spots of 5 A are too much for one output of 10 A (1.25 x 10 A); one as LED draws 2 A: 1.25 x 7 A = 8.75 A.
LED_AND_SHARING = Named(
    bike(
        "{name: upper spot, at: neck, power: 70 W, kind: filament}",
        "{name: lower spot, at: neck, power: 70 W, kind: filament}",
    ),
    unit(output("out 1")),
    3,
)
# The fan may not be on the one output as it is; with a suppressor it may, beside the blower.
SUPPRESSOR_AND_SHARING = Named(
    bike(
        "{name: blower, at: tail, current: 2 A, kind: motor, suppressed: true}",
        "{name: fan, at: tail, current: 2 A, kind: motor}",
    ),
    unit(output("out 1", more="inductive: false")),
    3,
)
# Camera 6 A and guest 42 W (3 A) are 9 A: 1.25 x 9 A is above 10 A. As LED the guest draws 1.2 A: 9 A.
LED_OF_A_GUEST = Named(
    bike(
        "{name: camera, at: neck, current: 6 A}",
        "{name: guest lamp, at: neck, power: 42 W, kind: filament, from: [camera]}",
        "{name: second camera, at: neck, current: 0.6 A}",
    ),
    unit(output("out 1"), output("out 2")),
    2,
    ("Fit an LED lamp unit of 16.8 W as guest lamp.",),
)
# The relay's coil needs an output, and so does the camera; through a fuse the siren needs none.
RELAY_TO_FUSE = Named(
    bike(
        "{name: siren, part: alarm, at: tray, current: 3 A, fed: relay}",
        "{name: camera, at: neck, current: 0.6 A}",
    ),
    unit(output("out 1", more="inductive: true, key_off: always")),
    3,
    ("Feed siren from the battery through a fuse of its own.",),
)
# The fused socket's wire and return fill the opening; the long way has none.
AVOID_OF_A_FED_LOAD = Named(
    bike(
        "{name: socket, at: neck, current: 8 A, fed: fuse, own_switch: neck}",
        "{name: camera, at: tail, current: 0.6 A}",
        leg=", opening: 5 mm",
    ),
    unit(output("out 1")),
    1,
)
# One input too few. The switch that both heaters share goes only with both; no other unit winks the camera.
TWO_OFF_WITH_THEIR_SWITCH = Named(
    bike(
        "{name: grips, part: heated grips, at: neck, power: 36 W}",
        "{name: seat, part: heated seat, at: tray, power: 30 W}",
        "{name: camera, at: tail, current: 0.6 A, mode: winking}",
        inputs=(KEY, "{name: heat switch, at: neck, signal: earth, action: latch, operates: [grips, seat]}"),
    ),
    unit(output("out 1"), output("out 2"), output("out 3")).replace("[steady, hold]", "[steady, hold, winking]")
    + "own_modes: [winking]\n",
    16,
)
# Both push buttons work the horn; the second works the camera too. Without the camera they are alike and share one.
ALIKE_AFTER_ONE_IS_OFF = Named(
    bike(
        "{name: horn, part: horn, at: neck, current: 3 A}",
        "{name: camera, at: neck, current: 0.6 A, mode: hold, when: [horn]}",
        inputs=(
            "{name: left button, at: neck, signal: earth, action: push, operates: [horn], share: buttons}",
            "{name: right button, at: neck, signal: earth, action: push, operates: [horn, camera], share: buttons}",
        ),
    ),
    unit(output("out 1"), output("out 2")),
    8,
    ("Leave camera off the unit.",),
)
# Lamps a and b are in one group and alike, and together too much for one output of 5 A; either and lamp c are not. So
# one of them shares with lamp c: that one is to be named, not its twin.
NAMES_THOSE_THAT_SHARE = Named(
    bike(
        "{name: lamp a, at: neck, power: 30.8 W, kind: led, share: lamps}",
        "{name: lamp b, at: neck, power: 30.8 W, kind: led, share: lamps}",
        "{name: lamp c, at: neck, power: 21 W, kind: led}",
    ),
    unit(output("out 1", limit="5 A"), output("out 2", limit="5 A")),
    1,
)


# Both spots are left out 1 alone, which carries one of them (as above); either may go to the other output.
BOTH_LEFT_ONE = Named(
    bike(
        "{name: upper spot, at: neck, power: 70 W, kind: filament, on: out 1}",
        "{name: lower spot, at: neck, power: 70 W, kind: filament, not_on: out 2}",
    ),
    unit(output("out 1"), output("out 2")),
    2,
    ("Let upper spot be on other ports than out 1.", "Let lower spot be on out 2, too."),
)
# Each output carries a spot (1.25 x 5 A), neither both, and they have other limits.
NOT_ALIKE = Named(
    bike(
        "{name: upper spot, at: neck, power: 70 W, kind: filament}",
        "{name: lower spot, at: neck, power: 70 W, kind: filament}",
    )
    + "alike: [[upper spot, lower spot]]\n",
    unit(output("out 1"), output("out 2", limit="7 A")),
    2,
    ("Let upper spot and lower spot be on outputs that are not alike.",),
)


def bare_single() -> Named:
    """The example with two lamps more, of which one as LED may share an output with the other."""
    text = (EXAMPLES / "bare-single.yaml").read_text("utf-8")
    lamps = [f"{{name: {name} spot, part: spot lamp, at: headlamp shell, lamp: H3, share: none}}" for name in "ab"]
    worked = "{name: spot switch, at: right handlebar, operates: [a spot, b spot]}"
    text = text.replace("\nlater:\n", "".join(f"\n  - {lamp}" for lamp in lamps) + "\nlater:\n", 1)
    text = text.replace("\nalongside:\n", f"\n  - {worked}\nalongside:\n", 1)
    return Named(text, (PROFILES / "six-way.yaml").read_text("utf-8"), 3)


NAMED: Mapping[str, Named] = {
    "LED and sharing": LED_AND_SHARING,
    "suppressor and sharing": SUPPRESSOR_AND_SHARING,
    "LED of a guest": LED_OF_A_GUEST,
    "relay to fuse": RELAY_TO_FUSE,
    "avoid of a fed load": AVOID_OF_A_FED_LOAD,
    "two off with their switch": TWO_OFF_WITH_THEIR_SWITCH,
    "alike after one is off": ALIKE_AFTER_ONE_IS_OFF,
    "names those that share": NAMES_THOSE_THAT_SHARE,
    "both left one output": BOTH_LEFT_ONE,
    "outputs that are not alike": NOT_ALIKE,
    "bare single and two lamps": bare_single(),
}
