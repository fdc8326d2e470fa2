"""A file as a tree of words, lists and mappings, each of which knows where it stands."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field
from typing import Final, get_args

from portloom.base.quantities import (
    Charge,
    Current,
    Duration,
    Frequency,
    Length,
    Measure,
    Multiple,
    Power,
    Share,
    Temperature,
    Voltage,
)
from portloom.base.sizes import WireSize, parse_size
from portloom.base.values import dataclass


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


PathStep = str | int
KeyPath = Sequence[PathStep]


def find(node: Node, path: KeyPath) -> Node | None:
    """Return the node at ``path``, or None; a single word may stand for a list of one."""
    for step in path:
        below = _below(node, step)
        if below is None:
            return None
        node = below
    return node


def nearest_node(node: Node, path: KeyPath) -> Node:
    """Return the node at ``path``, or at the longest beginning of it that the file has."""
    for step in path:
        below = _below(node, step)
        if below is None:
            return node
        node = below
    return node


def _below(node: Node, step: PathStep) -> Node | None:
    if isinstance(step, str):
        if not isinstance(node, Keyed):
            return None
        return node.values.get(step, node.values.get(step.rstrip("_")))
    if isinstance(node, Listed):
        return node.items[step] if 0 <= step < len(node.items) else None
    return node if step == 0 else None


@dataclass(frozen=True)
class Source:
    """A file that was read: its name, and where in it each thing stands.

    A path is the keys and the list positions (from 0) that lead to a thing: ``("loads", 3, "current")``.
    In a unit, positions count outputs and inputs after ``names`` is written out, as the typed unit does. In a bike
    they count what was read; ``numbers`` has the position in the file of each of these, where some entries fell away
    or are two inputs.
    """

    file: str
    root: Keyed
    numbers: Mapping[str, Sequence[int]] = field(default_factory=dict)

    def in_file(self, path: KeyPath) -> tuple[PathStep, ...]:
        """Return the path in the file of the thing that was read at ``path``."""
        match tuple(path):
            case (str(first), int(number), *rest) if number < len(self.numbers.get(first, ())):
                return (first, self.numbers[first][number], *rest)
            case whole:
                return whole

    def at(self, path: KeyPath) -> tuple[int, int]:
        """Return the line and column, from 1, of the thing at ``path``, or of the nearest thing round it."""
        node = nearest_node(self.root, self.in_file(path))
        return node.line, node.column

    def says(self, path: KeyPath) -> bool:
        """Whether the file itself says what is at ``path``; if not, it is a default."""
        return find(self.root, self.in_file(path)) is not None

    def where(self, path: KeyPath) -> str:
        """Return ``FILE:LINE`` of the thing at ``path``, or 'default' if the file does not say it."""
        return f"{self.file}:{self.at(path)[0]}" if self.says(path) else "default"


def measure_of(quantity: object) -> Measure:
    """Return how a type of quantity is written."""
    return next(part for part in get_args(quantity) if isinstance(part, Measure))


CHARGE = measure_of(Charge)
CURRENT = measure_of(Current)
FREQUENCY = measure_of(Frequency)
LENGTH = measure_of(Length)
MULTIPLE = measure_of(Multiple)
POWER = measure_of(Power)
SHARE = measure_of(Share)
TEMPERATURE = measure_of(Temperature)
TIME = measure_of(Duration)
VOLTAGE = measure_of(Voltage)


def amount(node: Node | None, measure: Measure) -> int | None:
    """Return what ``node`` says in the small units of ``measure``, or None if it can't be read."""
    if not isinstance(node, Word):
        return None
    try:
        return measure.parse(node.text)
    except ValueError:
        return None


def amount_of(entry: Keyed, key: str, measure: Measure) -> int | None:
    """Return what ``key`` of ``entry`` says, or None if it is absent or can't be read."""
    return amount(entry.values.get(key), measure)


def several(entry: Keyed, key: str) -> list[Node]:
    """Return what stands in the list under ``key``, or the one thing that stands for a list."""
    value = entry.values.get(key)
    if isinstance(value, Listed):
        return list(value.items)
    return [] if value is None else [value]


def size_of(node: Node | None) -> WireSize | None:
    """Return the wire size that ``node`` says, or None if it can't be read."""
    if not isinstance(node, Word):
        return None
    try:
        return parse_size(node.text)
    except ValueError:
        return None
