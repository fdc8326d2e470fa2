"""What every question has: the bike, the rules that it sets aside, and lines that its builder could write."""

from collections.abc import Collection

from portloom.base.nearest import or_list
from portloom.base.parts.shapes import SwitchPart
from portloom.base.parts.switches import SWITCH_PART
from portloom.inputs.checks.frame import reached
from portloom.inputs.parts.entries import BikeEntries, LoadEntry
from portloom.inputs.tree import entries, keyed, word, words

SITS = {
    "engine": ("engine",),
    "bars": ("right handlebar", "handlebar", "right bar", "bar", "headstock"),
    "left bar": ("left handlebar", "handlebar", "left bar", "bar", "headstock"),
    "lock": ("headstock", "headlamp", "handlebar", "bar"),
    "pedal": ("pedal", "engine"),
    "stand": ("stand", "engine"),
    "tail": ("tail", "rear"),
    "tray": ("tray", "engine"),
}
"""Where things of the catalogue sit, by words in the names of frame points."""


class Asking:
    """One bike, of which something may be asked."""

    def __init__(self, bike: BikeEntries, set_aside: Collection[str]) -> None:
        """Take the entries of a bike's file, filled in, and the rules that it sets aside: these ask nothing."""
        self.bike = bike
        self._set_aside = set_aside
        legs = entries(keyed(bike.root, "frame"), "legs")
        battery = keyed(bike.root, "supply", "battery")
        start = word(battery, "at") if battery else None
        self._earthed = reached(bike.root, start.text) if start else ()
        self._points = [point.text for leg in legs for point in words(leg, "between")]

    def judged(self, *rules: str) -> bool:
        """Tell whether any of these rules holds for the bike."""
        return any(rule not in self._set_aside for rule in rules)

    def line(self, part: str, sits: str, more: str = "") -> str:
        """Return an entry that could be added: a part, at a frame point that the bike has if one is likely."""
        at = self.point(sits)
        far = part in SWITCH_PART and SWITCH_PART[part].by_frame and at in self._points and at not in self._earthed
        names = [*(entry.name for entry in self.bike.inputs), *(entry.name for entry in self.bike.loads)]
        named = [f"name: another {part}"] if part in names else []
        said = [f"part: {part}", *named, f"at: {at}", *filter(None, [more, "return: wire" if far else ""])]
        return f"{{{', '.join(said)}}}"

    def point(self, sits: str) -> str:
        """Return a frame point where something may sit."""
        likely = (point for word in SITS[sits] for point in self._points if word in point)
        return next(likely, "POINT")

    def driven(self, *parts: str) -> bool:
        """Tell whether the unit drives any load of these parts."""
        return any(on_unit(load) for load in self.bike.of(*parts))


def on_unit(entry: LoadEntry) -> bool:
    """Tell whether the unit decides when a load is on: by an output, or by the coil of its relay."""
    fed = entry.says("fed")
    by_relay = fed == ("relay",) and not has_own_switch(entry)
    return not entry.lists("from") and (fed in ((), ("unit",)) or by_relay)


def has_own_switch(entry: LoadEntry) -> bool:
    """Tell whether a load has a switch that is not wired to the unit."""
    return entry.has("own_switch")


def made_lines(part: SwitchPart) -> str:
    """Return the lines that say when a contact is made."""
    return or_list(f"'made: {position}'" for position in part.made.rest) if part.made else ""
