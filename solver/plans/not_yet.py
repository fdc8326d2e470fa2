"""Keys of the files that are read and kept, and not judged yet; a plan says so for each that is written."""

from collections.abc import Iterator

from pydantic import BaseModel

from solver.words.bike import Bike, LaterLoad
from solver.words.unit import Unit

Table = dict[type[BaseModel], dict[str, str]]

NOT_YET: Table = {
    LaterLoad: {"colour": "wire colours"},
}


def not_yet_judged(bike: Bike, unit: Unit) -> tuple[str, ...]:
    """Return a line for each key that the files write and no rule judges yet."""
    lines: dict[str, str] = {}
    for file, root in (("bike", bike), ("unit", unit)):
        for key, meaning in _written(root):
            lines.setdefault(f"{file} {key}", f"{key} ({file} file): {meaning}")
    return tuple(lines.values())


def _written(entry: BaseModel) -> Iterator[tuple[str, str]]:
    """Return the keys written in an entry and below it that wait for their rule, in the order of the schema."""
    table = NOT_YET.get(type(entry), {})
    for key in type(entry).model_fields:
        if key in entry.model_fields_set and key in table:
            yield key, table[key]
        yield from _below(getattr(entry, key))


def _below(value: object) -> Iterator[tuple[str, str]]:
    if isinstance(value, BaseModel):
        yield from _written(value)
    elif isinstance(value, tuple):
        for item in value:
            yield from _below(item)
