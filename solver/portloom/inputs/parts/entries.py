"""The loads and inputs of a bike's tree with the parts that they are, and what is put into each."""

from collections.abc import Iterator
from dataclasses import field
from typing import Generic, TypeVar

from portloom.base.bike import Bike, Load, Switch
from portloom.base.parts.shapes import LoadPart, SwitchPart
from portloom.base.values import dataclass
from portloom.inputs.schema import misspelt
from portloom.inputs.tree import Keyed, Listed, Node, Word, several, word, words

MISSPELT = "?"
"""Stands for what a misspelt key says: the slip is told, and nothing that hangs on it is asked."""
OfPart = TypeVar("OfPart", LoadPart, SwitchPart)


@dataclass
class PartEntry(Generic[OfPart]):
    """One entry of a list, what it is, and what its part brings to it."""

    node: Keyed
    number: int
    """Its position in the file's list, from 0."""
    part: OfPart | None
    brought: dict[str, Node] = field(default_factory=dict)

    def has(self, *keys: str) -> bool:
        """Tell whether the file says any of these keys, or has a slip for one."""
        slip = all(misspelt(self.node, kind, keys) for kind in (Load, Switch))
        return slip or any(key in self.node.values for key in keys)

    def writes(self, key: str) -> bool:
        """Tell whether the file says this very key: there is a place to point to."""
        return key in self.node.keys

    def says(self, key: str) -> tuple[str, ...]:
        """Return the words under a key, the file's or what was brought."""
        return tuple(found.text for found in words(self.full, key))

    def lists(self, key: str) -> bool:
        """Tell whether something stands under a key, written or brought."""
        return bool(several(self.full, key))

    @property
    def name(self) -> str:
        """Its name, or nothing where it has none that can be read."""
        found = word(self.full, "name")
        return found.text if found else ""

    @property
    def full(self) -> Keyed:
        """The entry with what was brought."""
        if not self.brought:
            return self.node
        new = {key: Word(key, self.node.line, self.node.column) for key in self.brought}
        return Keyed({**new, **self.node.keys}, {**self.node.values, **self.brought}, self.node.line, self.node.column)

    def becomes(self, part: OfPart) -> None:
        """Take it for another part than its word says."""
        self.part = part

    def rewrite(self, key: str, value: Node | None) -> None:
        """Put something in the place of what the file has under a key, or take the key away."""
        values = {**self.node.values, **({} if value is None else {key: value})}
        keys = dict(self.node.keys)
        if value is None:
            values.pop(key, None)
            keys.pop(key, None)
        self.node = Keyed(keys, values, self.node.line, self.node.column)

    def bring(self, key: str, *texts: str, listed: bool = False) -> None:
        """Put words under a key, where the entry stands; what was brought before stays."""
        if key in self.brought:
            return
        made = tuple(Word(text, self.node.line, self.node.column) for text in texts)
        self.brought[key] = Listed(made, self.node.line, self.node.column) if listed or len(made) != 1 else made[0]


LoadEntry = PartEntry[LoadPart]
SwitchEntry = PartEntry[SwitchPart]


@dataclass
class BikeEntries:
    """All loads, later loads and inputs of a bike, as far as they can be read."""

    root: Keyed
    loads: list[LoadEntry] = field(default_factory=list)
    later: list[LoadEntry] = field(default_factory=list)
    inputs: list[SwitchEntry] = field(default_factory=list)
    falls_away: list[str] = field(default_factory=list)
    """What the unit replaces, or is not wired to it, each as a sentence."""

    def says(self, key: str) -> str | None:
        """Return the word that the bike itself says under a key; where that is misspelt, what no question is about."""
        found = word(self.root, key)
        return found.text if found else MISSPELT if misspelt(self.root, Bike, (key,)) else None

    def of(self, *parts: str) -> Iterator[LoadEntry]:
        """Return the loads on the bike that are any of these parts."""
        return (load for load in self.loads if load.part is not None and load.part.name in parts)

    def telling(self, *what: str) -> Iterator[SwitchEntry]:
        """Return the inputs that tell any of these things."""
        return (entry for entry in self.inputs if {*entry.says("tells")} & set(what))

    def working(self, load: LoadEntry) -> Iterator[SwitchEntry]:
        """Return the inputs that operate a load."""
        return (entry for entry in self.inputs if load.name in entry.says("operates"))
