"""What dashes show: each word under ``shows`` as the name of one load or one input of the bike.

A group stands for its first load, and a part for the first load of it; 'left indicators' may be either.
"""

from collections.abc import Iterator

from portloom.base.nearest import or_list
from portloom.base.parts.words import part_words
from portloom.inputs.parts.entries import BikeEntries
from portloom.inputs.parts.resolving import Resolved, each, unread
from portloom.inputs.parts.shown_hints import hint_of_shown
from portloom.inputs.problems import Flaw
from portloom.inputs.tree import Listed, Node, Word


class Shown:
    """Whom the words under ``shows`` name."""

    def __init__(self, bike: BikeEntries, resolved: Resolved) -> None:
        """Take the bike with all that its parts bring, and what tells how words were taken."""
        self._bike = bike
        self._resolved = resolved
        self._loads = [load.name for load in bike.loads]
        self._inputs = [switch.name for switch in bike.inputs]
        self._later = [load.name for load in bike.later]

    def of(self, node: Node) -> Node:
        """Return what a dash shows by its names; two on one lamp stay together."""
        if isinstance(node, Listed):
            items = tuple(each(item, self._named) for item in node.items)
            return Listed(items, node.line, node.column)
        return each(node, self._named)

    def _named(self, said: Word) -> Node:
        found = list(dict.fromkeys(self._meant(said.text)))
        if len(found) == 1:
            return self._resolved.take(said, found[0])
        self._resolved.flaws.extend(self._flaws(said, found))
        return unread(said)

    def _meant(self, text: str) -> Iterator[str]:
        """Return the names that a word may stand for: its own first, else a group's, else a part's."""
        own = [name for name in (*self._loads, *self._inputs) if name == text]
        if own:
            yield from own[:1] if len(own) == 1 else ()
            return
        group = [load.name for load in self._bike.loads if load.says("share") == (text,)]
        part = part_words(text)
        name = part.name if part is not None else ""
        loads = [load.name for load in self._bike.of(name)]
        switches = [entry.name for entry in self._bike.inputs if entry.part is not None and entry.part.name == name]
        yield from group[:1] or loads[:1] or switches

    def _flaws(self, said: Word, found: list[str]) -> Iterator[Flaw]:
        if said.text in self._loads and said.text in self._inputs:
            what = f"'{said.text}' is the name of a load and of an input"
            yield Flaw.at(said, what, "give one of them another name")
        elif len(found) > 1:
            yield Flaw.at(said, f"'{said.text}' may be several inputs", f"write {or_list(found)}")
        elif said.text in self._later:
            what = f"'{said.text}' is a later load, which is not on the bike yet"
            yield Flaw.at(said, what, "name a load under 'loads', or move it there")
        elif "" not in (*self._loads, *self._inputs):  # what can't be read may be what is meant
            what = f"there is no input and no load '{said.text}'"
            yield Flaw.at(said, what, hint_of_shown(said.text, self._bike))


def fill_shows(bike: BikeEntries, resolved: Resolved) -> None:
    """Put the names of inputs and loads in the place of the words under ``shows``; all have their names by now."""
    shown = Shown(bike, resolved)
    for entry in bike.loads:
        said = entry.node.values.get("shows")
        if said is not None:
            entry.rewrite("shows", shown.of(said))
