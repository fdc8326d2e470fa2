"""Four frames to start from: their points, how far these usually lie apart, and where things usually sit.

All lengths are made up, as motorcycles of such a sort mostly have them: they are there to be measured.
"""

from collections.abc import Iterable, Mapping
from dataclasses import field, replace
from types import MappingProxyType
from typing import Self

from portloom.base.parts import loads, switches
from portloom.base.values import dataclass

BATTERY = "battery"
"""The point where it usually stands."""


@dataclass(frozen=True)
class Stretch:
    """A leg of the frame."""

    ends: tuple[str, str]
    usual: str
    moves: bool = False
    ambient: str = ""
    said: bool = False
    """Whether the builder said it, so that its length is no usual one."""

    @property
    def label(self) -> str:
        """Its two points, as files name a leg."""
        return " - ".join(self.ends)


@dataclass(frozen=True)
class Spot:
    """Where a unit may be fixed."""

    name: str
    front: str
    rear: str
    turns: bool = False


@dataclass(frozen=True)
class FrameToStartFrom:
    """A frame that stands for many."""

    name: str
    says: str
    battery: str
    """The usual capacity."""
    legs: tuple[Stretch, ...]
    spots: tuple[Spot, ...]
    earth: tuple[str, ...] = ("headstock", "seat tray", "engine")
    connectors: tuple[str, ...] = ("headstock",)
    instead: Mapping[str, str] = field(default_factory=dict)
    """For points of the catalogue that it does not have, where what sits there is here."""
    right_indicators: tuple[str, str] | None = None
    """Where front and rear right indicator sit, if not where the left ones do."""
    extras: tuple[str, ...] = (loads.HORN.name,)
    """What it usually has beside its lamps and its engine's loads."""

    @property
    def points(self) -> tuple[str, ...]:
        """All its points."""
        return tuple(dict.fromkeys(point for leg in self.legs for point in leg.ends))

    @property
    def fixed(self) -> tuple[str, ...]:
        """The points that no moving leg parts from the battery: only there metal is earth."""
        found = [BATTERY]
        still = [leg.ends for leg in self.legs if not leg.moves]
        for _ in still:
            found += [other for one in still for other in one if set(one) & set(found) and other not in found]
        return tuple(point for point in self.points if point in found)

    def with_legs(self, legs: Iterable[Stretch]) -> Self:
        """Return the same frame with more legs."""
        return replace(self, legs=(*self.legs, *legs))

    def point(self, part: str, said: str) -> str:
        """Return where a part usually sits, which the catalogue puts at ``said``."""
        at = SITS.get(part, said)
        return self.instead.get(at, at)


SITS = {
    loads.STARTER_SOLENOID.name: BATTERY,
    switches.KEY_SWITCH.name: "headstock",
    switches.SIDE_STAND_SWITCH.name: "side stand",
    switches.REAR_BRAKE_SWITCH.name: "brake pedal",
    switches.TEMPERATURE_SWITCH.name: "radiator",
}
"""Where a part sits on these frames, if not where the catalogue puts it."""

UNDER_SEAT = Spot("under seat", "seat tray", "tail", turns=True)
BEHIND_HEADSTOCK = Spot("behind the headstock", "headstock", "seat tray")
SINGLE = FrameToStartFrom(
    "single", "one cylinder, a plain frame, hardly any extras", "5 Ah",
    (
        Stretch(("headstock", "headlamp shell"), "200 mm", moves=True),
        Stretch(("headstock", "left handlebar"), "450 mm", moves=True),
        Stretch(("headstock", "right handlebar"), "450 mm", moves=True),
        Stretch(("headstock", "tank"), "250 mm"),
        Stretch(("headstock", "seat tray"), "560 mm"),
        Stretch(("seat tray", "battery"), "150 mm"),
        Stretch(("seat tray", "engine"), "360 mm", ambient="80 C"),
        Stretch(("seat tray", "tail"), "440 mm"),
        Stretch(("engine", "side stand"), "220 mm"),
        Stretch(("engine", "brake pedal"), "280 mm"),
    ),
    (UNDER_SEAT, BEHIND_HEADSTOCK), instead=MappingProxyType({"radiator": "engine"}),
)  # fmt: skip
PARALLEL_TWIN = FrameToStartFrom(
    "parallel twin", "two cylinders side by side, a radiator, a dash", "10 Ah",
    (
        Stretch(("headstock", "headlamp shell"), "250 mm", moves=True),
        Stretch(("headstock", "left handlebar"), "450 mm", moves=True),
        Stretch(("headstock", "right handlebar"), "450 mm", moves=True),
        Stretch(("headstock", "radiator"), "310 mm"),
        Stretch(("headstock", "tank"), "260 mm"),
        Stretch(("headstock", "seat tray"), "620 mm"),
        Stretch(("tank", "seat tray"), "390 mm"),
        Stretch(("seat tray", "battery"), "200 mm"),
        Stretch(("seat tray", "engine"), "400 mm", ambient="85 C"),
        Stretch(("engine", "radiator"), "420 mm", ambient="85 C"),
        Stretch(("seat tray", "tail"), "380 mm"),
        Stretch(("engine", "side stand"), "230 mm"),
        Stretch(("engine", "brake pedal"), "280 mm"),
    ),
    (UNDER_SEAT, BEHIND_HEADSTOCK), extras=(loads.HORN.name, loads.FAN.name, loads.DASH.name),
)  # fmt: skip
BIG_TOURER = FrameToStartFrom(
    "big tourer", "a fairing, panniers and a top box, every extra", "19 Ah",
    (
        Stretch(("headstock", "fairing"), "260 mm"),
        Stretch(("headstock", "left handlebar"), "520 mm", moves=True),
        Stretch(("headstock", "right handlebar"), "520 mm", moves=True),
        Stretch(("headstock", "radiator"), "330 mm"),
        Stretch(("headstock", "tank"), "280 mm"),
        Stretch(("headstock", "seat tray"), "680 mm"),
        Stretch(("seat tray", "battery"), "160 mm"),
        Stretch(("seat tray", "engine"), "430 mm", ambient="80 C"),
        Stretch(("seat tray", "seat"), "210 mm", moves=True),
        Stretch(("seat tray", "tail"), "420 mm"),
        Stretch(("tail", "left pannier"), "330 mm"),
        Stretch(("tail", "right pannier"), "330 mm"),
        Stretch(("tail", "top box"), "290 mm"),
        Stretch(("engine", "side stand"), "260 mm"),
        Stretch(("engine", "brake pedal"), "310 mm"),
    ),
    (UNDER_SEAT, Spot("beside the battery", "seat tray", "battery", turns=True)),
    earth=("headstock", "seat tray", "engine", "tail"), connectors=("headstock", "tail"),
    instead=MappingProxyType({"headlamp shell": "fairing"}),
    extras=(loads.HORN.name, loads.DASH.name, loads.HEATED_GRIPS.name, loads.SOCKET.name),
)  # fmt: skip
SIDECAR = FrameToStartFrom(
    "sidecar", "a motorcycle with a chair on its right", "30 Ah",
    (
        Stretch(("headstock", "headlamp shell"), "260 mm", moves=True),
        Stretch(("headstock", "left handlebar"), "540 mm", moves=True),
        Stretch(("headstock", "right handlebar"), "540 mm", moves=True),
        Stretch(("headstock", "tank"), "280 mm"),
        Stretch(("headstock", "seat tray"), "700 mm"),
        Stretch(("seat tray", "battery"), "250 mm"),
        Stretch(("seat tray", "engine"), "450 mm", ambient="80 C"),
        Stretch(("seat tray", "tail"), "440 mm"),
        Stretch(("engine", "side stand"), "240 mm"),
        Stretch(("engine", "brake pedal"), "310 mm"),
        Stretch(("seat tray", "chair mount"), "520 mm"),
        Stretch(("chair mount", "chair nose"), "1100 mm"),
        Stretch(("chair mount", "chair seat"), "480 mm"),
        Stretch(("chair mount", "chair tail"), "900 mm"),
    ),
    (UNDER_SEAT, Spot("chair floor", "chair seat", "chair mount")),
    earth=("headstock", "seat tray", "engine", "chair mount"), connectors=("headstock", "chair mount"),
    instead=MappingProxyType({"radiator": "engine"}), right_indicators=("chair nose", "chair tail"),
)  # fmt: skip
FRAMES = {frame.name: frame for frame in (SINGLE, PARALLEL_TWIN, BIG_TOURER, SIDECAR)}
