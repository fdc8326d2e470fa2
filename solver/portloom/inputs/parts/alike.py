"""Sets of loads that must be on outputs alike: each word as the loads that it names, a group's before one of that name.

What can't be meant is told at its word: a name that is none, one that stands twice, a set of fewer than two names, and
one of which no output feeds any load.
"""

from collections.abc import Iterator
from itertools import chain

from portloom.base.nearest import suggest
from portloom.inputs.parts.entries import BikeEntries, LoadEntry
from portloom.inputs.parts.resolving import Resolved, unread
from portloom.inputs.problems import Flaw, about
from portloom.inputs.tree import Listed, Node, Word

FEW = "a set of loads on outputs alike has two names at least"
AS_SETS = "write each set as a list of its own, such as [[left indicators, right indicators]]"


class SetsAlike:
    """Whom the words under ``alike`` name."""

    def __init__(self, bike: BikeEntries, resolved: Resolved) -> None:
        """Take the bike with all that its parts bring, and what collects what is wrong."""
        self._bike = bike
        self._resolved = resolved
        self._groups: dict[str, list[LoadEntry]] = {}
        for load in bike.loads:
            for group in load.says("share"):
                self._groups.setdefault(group, []).append(load)
        self._loads = {load.name: load for load in bike.loads if load.name}
        self._known: dict[tuple[str, ...], Word] = {}

    def of(self, node: Node) -> Node:
        """Return all sets, each by the names of its loads; what is no list stays for the field to refuse."""
        if not isinstance(node, Listed):
            return node
        if node.items and all(isinstance(item, Word) for item in node.items):
            self._resolved.flaws.extend(about("sharing", [Flaw.at(node.items[0], FEW, AS_SETS)]))
            return unread(node)
        return Listed(tuple(map(self._set, node.items)), node.line, node.column)

    def _set(self, node: Node) -> Node:
        items = node.items if isinstance(node, Listed) else (node,) if isinstance(node, Word) else None
        if items is None:
            return node
        said = [item for item in items if isinstance(item, Word)]
        found = [(word, self._meant(word)) for word in said]
        flaws = [*chain.from_iterable(self._not_known(word) for word, loads in found if not loads), *_twice(said)]
        if not flaws and len(said) == len(items):
            flaws += self._of_set(node, [load for _, loads in found for load in loads], said)
        self._resolved.flaws.extend(about("sharing", flaws))
        others = [item for item in items if not isinstance(item, Word)]
        names = dict.fromkeys(load.name for _, loads in found for load in loads)
        read = (Word(name, node.line, node.column) for name in names)
        return unread(node) if flaws else Listed((*read, *others), node.line, node.column)

    def _meant(self, word: Word) -> list[LoadEntry]:
        own = [self._loads[word.text]] if word.text in self._loads else []
        return self._groups.get(word.text) or own

    def _not_known(self, word: Word) -> Iterator[Flaw]:
        if any(load.name == word.text for load in self._bike.later):
            what = f"'{word.text}' is a later load, which is not on the bike yet"
            yield Flaw.at(word, what, "name a load under 'loads', or move it there")
        elif all(load.name for load in self._bike.loads):  # what can't be read may be what is meant
            known = [*self._groups, *self._loads]
            yield Flaw.at(word, f"there is no group and no load '{word.text}'", suggest(word.text, known))

    def _of_set(self, node: Node, loads: list[LoadEntry], said: list[Word]) -> Iterator[Flaw]:
        first = said[0] if said else node
        if len(said) < 2:
            yield Flaw.at(first, FEW, AS_SETS)
        elif not any(_has_output(load) for load in loads):
            what = "none of these is fed by an output of the unit, so no output can be alike for them"
            yield Flaw.at(first, what, "name loads that outputs feed, or leave the set out")
        elif (names := tuple(sorted({load.name for load in loads}))) in self._known:
            what = f"these loads are what the set in line {self._known[names].line} says already"
            yield Flaw.at(first, what, "leave one of the two out")
        else:
            self._known[names] = said[0]


def _twice(said: list[Word]) -> Iterator[Flaw]:
    for number, word in enumerate(said):
        if any(word.text == other.text for other in said[:number]):
            yield Flaw.at(word, f"'{word.text}' stands in this set already", "name each once")


def _has_output(load: LoadEntry) -> bool:
    """Tell whether an output feeds a load itself; of one behind a relay it feeds the coil."""
    return not load.lists("from") and load.says("fed") in ((), ("unit",))


def sets_alike(node: Node, bike: BikeEntries, resolved: Resolved) -> Node:
    """Return what a bike says under ``alike`` by the names of its loads, which have theirs by now."""
    return SetsAlike(bike, resolved).of(node)
