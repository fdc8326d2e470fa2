"""The words of a file as the catalogue has them: parts, kinds, modes and events in anybody's spelling.

How a word was taken is told, and what may be several things is asked.
"""

from collections.abc import Callable, Collection, Iterable, Sequence
from typing import get_args

from portloom.base.events import EVENTS, STATES
from portloom.base.nearest import nearest, suggest
from portloom.base.parts.words import PartWords, phrase_of
from portloom.base.vocabulary import ALSO_KINDS, MODES, Kind
from portloom.inputs.mends import to_word
from portloom.inputs.parts.unclear import UnclearParts, Wanted, meant_by
from portloom.inputs.problems import Flaw
from portloom.inputs.tree import Broken, Keyed, Listed, Node, Word, keyed, word, words

OF_UNIT = ", or one that the unit's file lists under 'own_modes'"
KINDS: tuple[str, ...] = get_args(Kind)


class Resolved:
    """What was found wrong, and how words were taken, while a tree's words are resolved."""

    def __init__(self, bike: Keyed | None = None) -> None:
        """Begin with nothing said; of a bike, what it has tells which of several parts is likely."""
        self.flaws: list[Flaw] = []
        self.taken: list[str] = []
        self._unclear = UnclearParts(bike)

    def take(self, said: Word, meant: str) -> Word:
        """Return a word as it was taken; it is told where that is more than its capitals."""
        if phrase_of(said.text) != phrase_of(meant):
            self.taken.append(f"'{said.text}' (line {said.line}) is read as '{meant}'")
        return Word(meant, said.line, said.column, said.plain)

    def part(self, entry: Keyed, wanted: Wanted) -> PartWords | None:
        """Return what an entry's ``part`` means; None where it says none, or what can't be taken, which is told."""
        said = word(entry, "part")
        if said is None:
            return None
        meant = meant_by(said.text, wanted)
        if meant is not None and (meant.sort == wanted or (wanted == "load" and meant.sort == "falls away")):
            return meant
        self.flaws.append(self._unclear.told(said, meant, entry, wanted))
        return None

    def entry(self, node: Keyed, **change: Callable[[Node], Node]) -> Keyed:
        """Return an entry with the words under some keys as they were taken."""
        values = {key: change[key](value) if key in change else value for key, value in node.values.items()}
        return Keyed(node.keys, values, node.line, node.column)

    def kind(self, node: Node) -> Node:
        """Return a kind in the file's words; what is none is left for the field to refuse."""
        if not isinstance(node, Word):
            return node
        lowered = node.text.casefold()
        if lowered in KINDS:
            return Word(lowered, node.line, node.column)
        return self.take(node, ALSO_KINDS[lowered]) if lowered in ALSO_KINDS else node

    def modes(self, own: Collection[str], where: str = OF_UNIT) -> Callable[[Node], Node]:
        """Return what takes modes: the known ones and a unit's own, in any capitals; all else is told."""
        known = (*MODES, *own)

        def one(said: Word) -> Node:
            meant = _any_capitals(said.text, known)
            if meant is None:
                near = nearest(said.text, known)
                right = suggest(said.text, known) + ("" if near else where)
                self.flaws.append(
                    Flaw.at(said, f"there is no mode '{said.text}'", right, to_word(said, near or known[0]))
                )
            return said if meant is None else Word(meant, said.line, said.column)

        return lambda node: each(node, one)

    def times(self, own: Iterable[str]) -> Callable[[Node], Node]:
        """Return what takes states and events in any capitals; what is none is left to be told."""
        known = (*STATES, *EVENTS, *own)

        def one(said: Word) -> Node:
            meant = _any_capitals(said.text, known)
            return said if meant is None else Word(meant, said.line, said.column)

        return lambda node: each(node, one)


def with_known_modes(unit: Keyed) -> tuple[Keyed, tuple[Flaw, ...]]:
    """Return a unit's tree with the modes of its outputs in the usual words or its own, and those that are neither."""
    resolved, outputs = Resolved(), unit.values.get("outputs")
    if not isinstance(outputs, Listed):
        return unit, ()
    modes = resolved.modes([own.text for own in words(unit, "own_modes")], ", or list it under 'own_modes'")
    items = (resolved.entry(one, switch_modes=modes) if isinstance(one, Keyed) else one for one in outputs.items)
    values = {**unit.values, "outputs": Listed(tuple(items), outputs.line, outputs.column)}
    return Keyed(unit.keys, values, unit.line, unit.column), tuple(resolved.flaws)


def with_known_times(bike: Keyed) -> dict[str, Node]:
    """Return what a bike says of states and events beside its loads, as the words were taken."""
    resolved, found = Resolved(), dict[str, Node]()
    own, alongside = keyed(bike, "events"), bike.values.get("alongside")
    times = resolved.times(own.keys if own else ())
    if own:
        names = {name: _any_capitals(name, EVENTS) or name for name in own.keys}
        values = {
            names[name]: resolved.entry(event, **{"in": times, "excludes": times})
            if isinstance(event, Keyed)
            else event
            for name, event in own.values.items()
        }
        found["events"] = Keyed({names[name]: key for name, key in own.keys.items()}, values, own.line, own.column)
    if isinstance(alongside, Listed):
        items = (resolved.entry(one, when=times) if isinstance(one, Keyed) else one for one in alongside.items)
        found["alongside"] = Listed(tuple(items), alongside.line, alongside.column)
    return found


def each(node: Node, change: Callable[[Word], Node]) -> Node:
    """Return a word, or a list of words, each changed."""
    if isinstance(node, Word):
        return change(node)
    if isinstance(node, Listed):
        items = tuple(change(item) if isinstance(item, Word) else item for item in node.items)
        return Listed(items, node.line, node.column)
    return node


def _any_capitals(said: str, known: Sequence[str]) -> str | None:
    return next((word for word in known if word.casefold() == said.casefold()), None)


def unread(node: Node) -> Broken:
    """Return what stands for a part that can't be taken, which was told."""
    return Broken(node.line, node.column)
