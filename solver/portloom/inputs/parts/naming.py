"""Names that entries have for each other: a load that is named by what it is, in other words than its name."""

from collections.abc import Iterable

from portloom.base.parts.words import part_words
from portloom.inputs.parts.entries import BikeEntries, LoadEntry, SwitchEntry
from portloom.inputs.parts.resolving import Resolved
from portloom.inputs.tree import Listed, Word, word, words


def name_entries(entries: Iterable[LoadEntry | SwitchEntry]) -> None:
    """Name each load and each input that has no name by its part."""
    for entry in entries:
        if entry.part is not None and not entry.has("name"):
            entry.bring("name", entry.part.name)


def name_by_part(bike: BikeEntries, resolved: Resolved) -> None:
    """Put names in the place of words for parts: 'high beam' under ``operates`` is each load that is a main beam."""
    later = {load.name for load in bike.later}
    names = {load.name for load in bike.loads} | later
    everything: list[LoadEntry | SwitchEntry] = [*bike.loads, *bike.inputs]
    for entry in everything:
        for key in ("operates", "from"):
            said = words(entry.node, key)
            if key == "from" and word(entry.node, "from") is not None and entry in bike.inputs:
                continue  # where a speed signal is taken
            if any(name.text not in names for name in said):
                new = tuple(named for name in said for named in _named(name, names, bike, resolved))
                entry.rewrite(key, Listed(new, said[0].line, said[0].column))


def _named(said: Word, names: Iterable[str], bike: BikeEntries, resolved: Resolved) -> list[Word]:
    meant = part_words(said.text) if said.text not in names else None
    found = [load.name for load in bike.of(meant.name)] if meant is not None and meant.sort == "load" else []
    if not found:
        return [said]
    resolved.taken.append(f"'{said.text}' (line {said.line}) is read as {', '.join(found)}")
    return [Word(name, said.line, said.column) for name in found]
