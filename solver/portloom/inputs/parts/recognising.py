"""The entries of a bike's tree with the parts that they are; what falls away is left out, and said."""

from collections.abc import Collection, Iterator
from typing import TypeVar

from portloom.base.parts.loads import IGNITION_BOX, IGNITION_COIL, LOAD_PART
from portloom.base.parts.switches import FALL_SENSOR, SWITCH_PART
from portloom.base.parts.words import PartWords
from portloom.inputs.parts.entries import BikeEntries, LoadEntry, SwitchEntry
from portloom.inputs.parts.resolving import Resolved, unread
from portloom.inputs.parts.switches import implied, two_of
from portloom.inputs.tree import Keyed, Listed, Word, keyed, word

TO_CONTROLLER = "it is wired to the engine controller, not to the unit"


def recognised(root: Keyed, resolved: Resolved, own_modes: Collection[str]) -> BikeEntries:
    """Return all loads and inputs of a bike with their parts; what is wrong with their words goes to ``resolved``."""
    own = keyed(root, "events")
    times, modes = resolved.times(own.keys if own else ()), resolved.modes(own_modes)
    bike = BikeEntries(root)
    for key, found in (("loads", bike.loads), ("later", bike.later)):
        for number, node in _numbered(root, key):
            words = resolved.entry(node, kind=resolved.kind, mode=modes, when=times, **{"except": times})
            meant = resolved.part(words, "load")
            if meant is not None and meant.sort == "falls away":
                bike.falls_away.append(_said(words, meant.name, meant.why))
            else:
                found.append(_load(words, number, meant, resolved))
    for number, node in _numbered(root, "inputs"):
        entry = _switch(node, number, bike, resolved)
        if entry.part is FALL_SENSOR and entry.says("goes_to") == ("controller",):
            bike.falls_away.append(_said(node, FALL_SENSOR.name, TO_CONTROLLER))
        else:
            bike.inputs.extend(two_of(entry))
    return bike


def _numbered(root: Keyed, key: str) -> Iterator[tuple[int, Keyed]]:
    several = root.values.get(key)
    items = several.items if isinstance(several, Listed) else ()
    return ((number, item) for number, item in enumerate(items) if isinstance(item, Keyed))


def _said(node: Keyed, part: str, why: str) -> str:
    name = word(node, "name")
    return f"{name.text if name else part}: {why}"


def _load(node: Keyed, number: int, meant: PartWords | None, resolved: Resolved) -> LoadEntry:
    entry = LoadEntry(node, number, LOAD_PART[meant.name] if meant else None)
    if entry.part is IGNITION_BOX and entry.says("kind") == (IGNITION_COIL.kind,):
        entry.becomes(IGNITION_COIL)
    return _with_part(entry, resolved)


def _switch(node: Keyed, number: int, bike: BikeEntries, resolved: Resolved) -> SwitchEntry:
    meant = resolved.part(node, "switch")
    if "part" not in node.values:
        return _with_part(SwitchEntry(node, number, implied(node, bike.loads)), resolved)
    return _with_part(SwitchEntry(node, number, SWITCH_PART[meant.name] if meant else None), resolved)


Kept = TypeVar("Kept", LoadEntry, SwitchEntry)


def _with_part(entry: Kept, resolved: Resolved) -> Kept:
    """Put the catalogue's name in the place of the word that the file has for a part."""
    said = entry.node.values.get("part")
    if isinstance(said, Word):
        entry.rewrite("part", resolved.take(said, entry.part.name) if entry.part else unread(said))
        if entry.part is None and not entry.has("name"):
            entry.bring("name", said.text)  # what it is called is not the question
    elif said is None and entry.part is not None:
        entry.bring("part", entry.part.name)
    return entry
