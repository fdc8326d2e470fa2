"""What every question has: the bike, the rules that it sets aside, and lines that its builder could write."""

from collections.abc import Collection

from portloom.base.nearest import or_list
from portloom.base.parts.shapes import SwitchPart
from portloom.inputs.parts.entries import BikeEntries, LoadEntry
from portloom.inputs.tree import entries, keyed, words

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
        self._points = [point.text for leg in legs for point in words(leg, "between")]

    def judged(self, *rules: str) -> bool:
        """Tell whether any of these rules holds for the bike."""
        return any(rule not in self._set_aside for rule in rules)

    def line(self, part: str, sits: str, more: str = "") -> str:
        """Return an entry that could be added: a part, at a frame point that the bike has if one is likely."""
        return f"{{part: {part}, at: {self.point(sits)}{f', {more}' if more else ''}}}"

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
