"""What becomes of a file's tree when its builder does what was said of it: a word put right, an entry moved.

A change knows its place by line and column, which nodes keep whatever is put beside them.
"""

from collections.abc import Iterable
from typing import Literal

from portloom.base.values import dataclass
from portloom.inputs.tree import Keyed, Listed, Node, Word

Place = tuple[int, int]
Deed = Literal["word", "key", "add", "out", "move", "append"]


@dataclass(frozen=True)
class Mend:
    """One change at one place of the tree."""

    line: int
    column: int
    does: Deed
    """A word's text; a key's name, which goes where ``text`` is empty; a key more; an entry's end, or its list; or an
    entry more in the list ``key``, as ``{key: value, ...}``."""
    text: str = ""
    key: str = ""
    """Of a key more, how it is called."""


@dataclass(frozen=True)
class Way:
    """One way to do what a flaw says."""

    mends: tuple[Mend, ...]
    then: str = ""
    """What is true of the entry after that, such as 'is a fan'; empty where that need not be told."""
    late: bool = False
    """Whether it is only to be done if the flaw is still there when all words are put right."""


def to_word(node: Word, text: str, *, late: bool = False) -> tuple[Way, ...]:
    """Return the one way of another word in the place of ``node``."""
    return (Way((Mend(node.line, node.column, "word", text),), late=late),)


def to_key(node: Word, text: str) -> tuple[Way, ...]:
    """Return the one way of another key in the place of ``node``; without ``text`` it goes, with what it holds."""
    return (Way((Mend(node.line, node.column, "key", text),)),)


def mended(root: Keyed, mends: Iterable[Mend]) -> Keyed:
    """Return a tree with all these changes made."""
    return _Mending(mends).of(root)


class _Mending:
    """The changes, each by what it changes and where."""

    def __init__(self, mends: Iterable[Mend]) -> None:
        self._all = tuple(mends)
        self._by_place = {(mend.does, mend.line, mend.column): mend for mend in self._all}
        self._moved: list[tuple[str, Node]] = []

    def of(self, root: Keyed) -> Keyed:
        """Return the root with its changes; what was moved stands last in its new list."""
        new = self._keyed(root)
        self._moved += [(mend.key, _entry(mend)) for mend in self._all if mend.does == "append"]
        for name, entry in self._moved:
            old = new.values.get(name)
            items = old.items if isinstance(old, Listed) else ()
            listed = Listed((*items, entry), entry.line, entry.column)
            keys = {name: Word(name, entry.line, entry.column), **new.keys}
            new = Keyed(keys, {**new.values, name: listed}, new.line, new.column)
        return new

    def _node(self, node: Node) -> Node:
        match node:
            case Word():
                mend = self._at("word", node)
                return Word(mend.text, node.line, node.column, node.plain) if mend else node
            case Listed():
                return Listed(tuple(self._node(item) for item in node.items if not self._leaves(item)), *_place(node))
            case Keyed():
                return self._keyed(node)
            case _:
                return node

    def _leaves(self, item: Node) -> bool:
        """Tell whether an entry leaves its list; one that moves is kept for the other."""
        move = self._at("move", item) if isinstance(item, Keyed) else None
        if move is not None:
            self._moved.append((move.text, self._node(item)))
        return move is not None or (isinstance(item, Keyed) and self._at("out", item) is not None)

    def _keyed(self, node: Keyed) -> Keyed:
        keys, values = dict[str, Word](), dict[str, Node]()
        for name, value in node.values.items():
            key = node.keys.get(name, Word(name, node.line, node.column))
            mend = self._at("key", key)
            new = name if mend is None else mend.text
            if new and new not in values:
                keys[new] = Word(new, key.line, key.column) if mend else key
                values[new] = self._node(value)
        for mend in self._all:
            if mend.does == "add" and (mend.line, mend.column) == _place(node):
                keys[mend.key] = Word(mend.key, node.line, node.column)
                values[mend.key] = Word(mend.text, node.line, node.column)
        return Keyed(keys, values, node.line, node.column)

    def _at(self, does: Deed, node: Node) -> Mend | None:
        return self._by_place.get((does, node.line, node.column))


def _entry(mend: Mend) -> Keyed:
    """Return an entry as it was offered, at the place of what it was offered for."""
    pairs = (pair.partition(": ") for pair in mend.text.strip("{}").split(", "))
    values = {key: Word(value, mend.line, mend.column) for key, _, value in pairs}
    keys = {key: Word(key, mend.line, mend.column) for key in values}
    return Keyed(keys, values, mend.line, mend.column)


def _place(node: Node) -> Place:
    return node.line, node.column
