"""A bike's tree with all that its parts bring: the story of what the file leaves out."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

from portloom.base.bike import AsRead, Taken
from portloom.base.parts.loads import IGNITION_BOX, IGNITION_COIL, LOAD_PART
from portloom.base.parts.shapes import LoadPart, SwitchPart
from portloom.base.parts.switches import FALL_SENSOR, SWITCH_PART
from portloom.inputs.parts.entries import BikeEntries, LoadEntry, PartEntry, SwitchEntry
from portloom.inputs.parts.loads import fill_loads, name_loads
from portloom.inputs.parts.resolving import Resolved, unread
from portloom.inputs.parts.shows import fill_shows
from portloom.inputs.parts.switches import fill_switches, implied, name_switches, two_of
from portloom.inputs.problems import Flaw
from portloom.inputs.tree import Keyed, Listed, Node, Word, keyed, word

TAKEN_KEYS = (
    "kind",
    "mode",
    "when",
    "except",
    "share",
    "from",
    "tells",
    "operates",
    "action",
    "return",
    "made",
    "level",
)
"""What is told where it was not written."""
Numbers = dict[str, tuple[int, ...]]
"""For each list of the bike, the position in the file of each of its entries as they were read."""


@dataclass(frozen=True)
class Filled:
    """A bike's tree as it is built from, what is wrong with its words, and how it was read."""

    bike: BikeEntries
    root: Keyed
    flaws: tuple[Flaw, ...]
    as_read: AsRead
    numbers: Numbers


def filled(root: Keyed, own_modes: Collection[str]) -> Filled:
    """Return a bike's tree with all that its parts bring; ``own_modes`` are those of the units it is planned for."""
    resolved = Resolved()
    bike, falls_away = _entries(root, resolved, own_modes)
    name_loads((*bike.loads, *bike.later))
    name_switches(bike.inputs)
    fill_switches(bike)
    fill_loads(bike)
    fill_shows(bike, resolved)
    lists: dict[str, Sequence[PartEntry[LoadPart]] | Sequence[PartEntry[SwitchPart]]] = {
        "loads": bike.loads,
        "later": bike.later,
        "inputs": bike.inputs,
    }
    values = {
        key: _listed(root.values[key], lists[key]) if key in lists else value for key, value in root.values.items()
    }
    as_read = AsRead(tuple(_taken(bike)), tuple(resolved.taken), tuple(falls_away))
    return Filled(
        bike,
        Keyed(root.keys, values, root.line, root.column),
        tuple(resolved.flaws),
        as_read,
        {key: tuple(entry.number for entry in lists[key]) for key in lists},
    )


def _entries(root: Keyed, resolved: Resolved, own_modes: Collection[str]) -> tuple[BikeEntries, list[str]]:
    own = keyed(root, "events")
    times, modes = resolved.times(own.keys if own else ()), resolved.modes(own_modes)
    falls_away: list[str] = []
    bike = BikeEntries(root)
    for key, found in (("loads", bike.loads), ("later", bike.later)):
        for number, node in _numbered(root, key):
            words = resolved.entry(node, kind=resolved.kind, mode=modes, when=times, **{"except": times})
            meant = resolved.part(words, "load")
            if meant is not None and meant.sort == "falls away":
                name = word(words, "name")
                falls_away.append(f"{name.text if name else meant.name}: {meant.why}")
                continue
            entry = LoadEntry(words, number, LOAD_PART[meant.name] if meant else None)
            if entry.part is IGNITION_BOX and entry.says("kind") == (IGNITION_COIL.kind,):
                entry.becomes(IGNITION_COIL)
            found.append(_with_part(entry, resolved))
    for number, node in _numbered(root, "inputs"):
        meant = resolved.part(node, "switch")
        part = SWITCH_PART[meant.name] if meant else implied(node, bike.loads) if "part" not in node.values else None
        if part is FALL_SENSOR and (to := word(node, "goes_to")) is not None and to.text == "controller":
            name = word(node, "name")
            falls_away.append(
                f"{name.text if name else part.name}: it is wired to the engine controller, not to the unit"
            )
            continue
        whole = _with_part(SwitchEntry(node, number, part), resolved)
        bike.inputs.extend(two_of(whole))
    return bike, falls_away


def _numbered(root: Keyed, key: str) -> Iterator[tuple[int, Keyed]]:
    several = root.values.get(key)
    items = several.items if isinstance(several, Listed) else ()
    return ((number, item) for number, item in enumerate(items) if isinstance(item, Keyed))


Kept = TypeVar("Kept", LoadEntry, SwitchEntry)


def _with_part(entry: Kept, resolved: Resolved) -> Kept:
    """Put the catalogue's name in the place of the word that the file has for a part."""
    said = entry.node.values.get("part")
    if isinstance(said, Word):
        entry.rewrite("part", resolved.take(said, entry.part.name) if entry.part else unread(said))
    elif said is None and entry.part is not None:
        entry.bring("part", entry.part.name)
    return entry


def _listed(old: Node, found: Sequence[LoadEntry] | Sequence[SwitchEntry]) -> Node:
    """Return a list with its entries as they were filled; what is no entry stays for the field to refuse."""
    if not isinstance(old, Listed):
        return old
    rest = [item for item in old.items if not isinstance(item, Keyed)]
    return Listed((*(entry.full for entry in found), *rest), old.line, old.column)


def _taken(bike: BikeEntries) -> Iterator[Taken]:
    everything: list[LoadEntry | SwitchEntry] = [*bike.loads, *bike.inputs]
    for entry in everything:
        if entry.part is not None:
            for key in TAKEN_KEYS:
                if key in entry.brought:
                    yield Taken(entry.name, entry.part.name, key, ", ".join(entry.says(key)))
