"""What a switch's part brings: its name, signal, action and rest, what it tells, and the loads that it works."""

from collections.abc import Iterable, Iterator

from portloom.base.parts.loads import SIDES, STARTER_SOLENOID
from portloom.base.parts.shapes import SwitchPart
from portloom.base.parts.switches import (
    INDICATOR_SWITCH,
    LEFT_INDICATOR_BUTTON,
    PULSE_RATE,
    RIGHT_INDICATOR_BUTTON,
    STARTER_BUTTON,
    SWITCH_PARTS,
)
from portloom.inputs.parts.entries import BikeEntries, LoadEntry, SwitchEntry
from portloom.inputs.tree import Keyed, words

OF_SIDE = dict(zip(SIDES, (LEFT_INDICATOR_BUTTON, RIGHT_INDICATOR_BUTTON), strict=True))


def implied(node: Keyed, loads: Iterable[LoadEntry]) -> SwitchPart | None:
    """Return the part that an input without one is, by what it tells or that it works the starter."""
    told = {found.text for found in words(node, "tells")}
    for part in SWITCH_PARTS:
        if told & set(part.tells):
            return part
    operated = {found.text for found in words(node, "operates")}
    starters = {load.name for load in loads if load.part is STARTER_SOLENOID}
    return STARTER_BUTTON if operated & starters else None


def two_of(entry: SwitchEntry) -> Iterator[SwitchEntry]:
    """Return an entry as it is; an indicator switch is two inputs, left and right, a wire and a port each."""
    if entry.part is not INDICATOR_SWITCH:
        yield entry
        return
    for side, button in OF_SIDE.items():
        half = SwitchEntry(entry.node, entry.number, button)
        half.bring("part", button.name)
        half.bring("name", f"{entry.name or INDICATOR_SWITCH.name} {side.split()[0]}")
        if not entry.has("action") and INDICATOR_SWITCH.action:
            half.bring("action", INDICATOR_SWITCH.action)
        yield half


def fill_switches(bike: BikeEntries) -> None:
    """Put into each input what its part brings; loads have their names by now."""
    for entry in bike.inputs:
        part = entry.part
        if part is None:
            continue
        _signal(entry, part)
        _rest(entry, part)
        if part.action and not entry.has("action"):
            entry.bring("action", part.action)
        if part.by_frame and not entry.has("return") and len(entry.says("tells")) <= 1:  # one terminal, one contact
            entry.bring("return", "frame")
        if part.tells and not entry.has("tells"):
            entry.bring("tells", *part.tells)
        works = [load.name for load in bike.of(*part.works) if load.name]
        if works and not entry.has("operates"):
            entry.bring("operates", *works, listed=True)


def _signal(entry: SwitchEntry, part: SwitchPart) -> None:
    if not entry.has("signal"):
        entry.bring("signal", part.signal)
    source = entry.says("from")
    if entry.says("signal") == ("pulse",) and part.sources:
        level = part.sources.get(source[0]) if source else None
        if level and not entry.has("level"):
            entry.bring("level", level)
        if not entry.has("rate"):
            entry.bring("rate", PULSE_RATE)


def _rest(entry: SwitchEntry, part: SwitchPart) -> None:
    """The position in which the contact is made says how it is at rest; what is usual is taken where that is known."""
    if part.made is None or entry.says("signal") not in (("earth",), ("supply",)):
        return
    if not entry.has("made"):
        by_rest = [position for position, rest in part.made.rest.items() if entry.says("normally") == (rest,)]
        if by_rest and not part.made.rest_says_nothing:
            entry.bring("made", by_rest[0])
        elif part.made.usual and not entry.has("normally"):
            entry.bring("made", part.made.usual)
    made = entry.says("made")
    if made and made[0] in part.made.rest and not entry.has("normally"):
        entry.bring("normally", part.made.rest[made[0]])
