"""What the typed bike and unit say of their own keys: which there are, what each means, an example."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from types import UnionType
from typing import Union, get_args, get_origin

from pydantic.fields import FieldInfo

from solver.reading.tree import Keyed
from solver.words.entries import Entry
from solver.words.nearest import nearest
from solver.words.quantities import Measure
from solver.words.sizes import Size
from solver.words.unit import Output, Port

SIZE_EXAMPLE = "1.5 mm2"
ALSO = {Output: ("names",), Port: ("names",)}
"""Keys that are written out before the typed unit is built."""


@dataclass(frozen=True)
class Spot:
    """A place in a typed file: the entry, the field of it, and what the field holds, as far as known."""

    entry: type[Entry]
    field: FieldInfo | None


def spot(model: type[Entry], path: Sequence[str | int]) -> Spot:
    """Return the innermost entry and field that ``path`` leads through."""
    entry, field = model, None
    open_keys = False
    for step in path:
        if isinstance(step, int) or open_keys:
            open_keys = False
            continue
        if field is not None:
            entry = entry_of(field) or entry
        field = fields(entry).get(step)
        open_keys = field is not None and get_origin(_bare(field.annotation)) is dict
    return Spot(entry, field)


def fields(entry: type[Entry]) -> dict[str, FieldInfo]:
    """Return the fields of ``entry`` by the keys that files use."""
    return {field.alias or name: field for name, field in entry.model_fields.items()}


def keys(entry: type[Entry]) -> tuple[str, ...]:
    """Return every key that an ``entry`` may have, in the order in which they are described."""
    return (*fields(entry), *ALSO.get(entry, ()))


def misspelt(node: Keyed, entry: type[Entry], wanted: Iterable[str]) -> bool:
    """Whether ``node`` has an unknown key that may be a slip for one of ``wanted``: then none of them is missing."""
    return any(nearest(key, wanted) for key in node.keys if key not in keys(entry))


def entry_of(field: FieldInfo) -> type[Entry] | None:
    """Return the kind of entry that ``field`` holds, singly, in a list or by name; or None."""
    kinds = (part for part in _parts(field.annotation) if isinstance(part, type) and issubclass(part, Entry))
    return next(kinds, None)


def meaning(field: FieldInfo) -> str:
    """Say what ``field`` means, with an example of a quantity."""
    example = _example(field)
    return f"{field.description}, such as {example}" if example else str(field.description)


def _example(field: FieldInfo) -> str | None:
    for part in (*field.metadata, *_parts(field.annotation)):
        if isinstance(part, Measure):
            return part.example
        if part in get_args(Size)[1:]:
            return SIZE_EXAMPLE
    return None


def _parts(annotation: object) -> Iterator[object]:
    yield annotation
    for part in get_args(annotation):
        yield from _parts(part)


def _bare(annotation: object) -> object:
    if get_origin(annotation) in (Union, UnionType):
        return next(part for part in get_args(annotation) if part is not type(None))
    return annotation
