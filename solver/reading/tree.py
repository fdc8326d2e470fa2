"""A file as a tree of words, lists and mappings, each of which knows where it stands."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, eq=False)
class Word:
    """A scalar, always text. ``plain`` is false where it stands in quotes or in a block."""

    text: str
    line: int
    column: int
    plain: bool = True


@dataclass(frozen=True, eq=False)
class Broken:
    """What can't be read as anything; ``what`` and ``right`` say why, or are empty if that is told already."""

    line: int
    column: int
    what: str = ""
    right: str = ""
    empty: bool = False


@dataclass(frozen=True, eq=False)
class Listed:
    """A list."""

    items: tuple["Node", ...]
    line: int
    column: int


@dataclass(frozen=True, eq=False)
class Keyed:
    """A mapping: each key as it stands in the file, and what it holds."""

    keys: Mapping[str, Word]
    values: Mapping[str, "Node"]
    line: int
    column: int

    def key(self, name: str) -> "Word | Keyed":
        """Return the key ``name`` where it stands, or the mapping itself."""
        return self.keys.get(name, self)


Node = Word | Broken | Listed | Keyed
UNREADABLE: Final = object()
"""Stands for a broken node in plain data: no field takes it."""


def plain(node: Node) -> object:
    """Return ``node`` as plain dicts, lists and text."""
    match node:
        case Word():
            return node.text
        case Listed():
            return [plain(item) for item in node.items]
        case Keyed():
            return {key: plain(value) for key, value in node.values.items()}
        case Broken():
            return UNREADABLE


def word(node: Keyed, key: str) -> Word | None:
    """Return the word that ``key`` holds, or None if it holds none."""
    value = node.values.get(key)
    return value if isinstance(value, Word) and value.text else None


def words(node: Keyed, *keys: str) -> list[Word]:
    """Return the word or the words that each of ``keys`` holds; what is no word is left out."""
    found: list[Word] = []
    for key in keys:
        value = node.values.get(key)
        items = value.items if isinstance(value, Listed) else (value,)
        found += [item for item in items if isinstance(item, Word) and item.text]
    return found


def keyed(node: Keyed, *path: str) -> Keyed | None:
    """Return the mapping that stands under ``path``, or None."""
    for key in path:
        value = node.values.get(key)
        if not isinstance(value, Keyed):
            return None
        node = value
    return node


def entries(node: Keyed | None, *keys: str) -> list[Keyed]:
    """Return the mappings in the lists that ``keys`` hold; what is no mapping is left out."""
    found: list[Keyed] = []
    for key in keys:
        value = node.values.get(key) if node else None
        if isinstance(value, Listed):
            found += [item for item in value.items if isinstance(item, Keyed)]
    return found


def broken(node: Node) -> Iterator[Broken]:
    """Return every broken node in ``node``."""
    match node:
        case Broken():
            yield node
        case Listed():
            for item in node.items:
                yield from broken(item)
        case Keyed():
            for value in node.values.values():
                yield from broken(value)
        case Word():
            return
