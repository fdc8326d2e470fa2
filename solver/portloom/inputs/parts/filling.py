"""A bike's tree with all that its parts bring: the story of what the file leaves out."""

from collections.abc import Collection, Iterator, Sequence

from portloom.base.as_read import AsRead, Taken
from portloom.base.parts.shapes import LoadPart, SwitchPart
from portloom.base.values import dataclass
from portloom.inputs.parts.alike import sets_alike
from portloom.inputs.parts.entries import BikeEntries, LoadEntry, PartEntry, SwitchEntry
from portloom.inputs.parts.loads import fill_loads
from portloom.inputs.parts.naming import name_by_part, name_entries
from portloom.inputs.parts.recognising import recognised
from portloom.inputs.parts.resolving import Resolved, with_known_times
from portloom.inputs.parts.shows import fill_shows
from portloom.inputs.parts.switches import fill_switches
from portloom.inputs.problems import Flaw
from portloom.inputs.tree import Keyed, Listed, Node

TAKEN_KEYS = ("kind", "mode", "when", "except", "share", "from", "operates", "return", "made", "level")
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
    resolved = Resolved(root)
    bike = recognised(root, resolved, own_modes)
    name_entries((*bike.loads, *bike.later, *bike.inputs))
    name_by_part(bike, resolved)
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
    values |= with_known_times(root)
    if "alike" in values:
        values["alike"] = sets_alike(values["alike"], bike, resolved)
    as_read = AsRead(tuple(_taken(bike)), tuple(resolved.taken), tuple(bike.falls_away))
    return Filled(
        bike,
        Keyed(root.keys, values, root.line, root.column),
        tuple(resolved.flaws),
        as_read,
        {key: tuple(entry.number for entry in lists[key]) for key in lists},
    )


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
