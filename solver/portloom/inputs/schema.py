"""What the typed bike and unit say of their own keys, and the two files as JSON Schema for editors."""

from collections.abc import Iterable, Iterator, Sequence
from types import UnionType
from typing import Any, Literal, Union, get_args, get_origin

from pydantic import TypeAdapter
from pydantic.fields import FieldInfo
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from portloom.base.bike import Bike
from portloom.base.entries import Entry
from portloom.base.nearest import nearest
from portloom.base.quantities import Measure
from portloom.base.sizes import Size
from portloom.base.unit import Output, Port, Unit
from portloom.base.values import dataclass
from portloom.inputs.tree import Keyed

SIZE_EXAMPLE = "1.5 mm2"
ALSO = {Output: ("names",), Port: ("names",)}
"""Keys that are written out before the typed unit is built."""


@dataclass(frozen=True)
class KeySpot:
    """A place in a typed file: the entry, the field of it, and what the field holds, as far as known."""

    entry: type[Entry]
    field: FieldInfo | None


def spot(model: type[Entry], path: Sequence[str | int]) -> KeySpot:
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
    return KeySpot(entry, field)


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
    kinds = (part for part in parts_of(field.annotation) if isinstance(part, type) and issubclass(part, Entry))
    return next(kinds, None)


def section_of(field: FieldInfo) -> type[Entry] | None:
    """Return the kind of entry that ``field`` is, by itself and not in a list or by name; or None."""
    kind = _bare(field.annotation)
    return kind if isinstance(kind, type) and issubclass(kind, Entry) else None


def meaning(field: FieldInfo) -> str:
    """Say what ``field`` means, with an example of a quantity."""
    example = example_of(field)
    return f"{field.description}, such as {example}" if example else str(field.description)


def choices_of(field: FieldInfo) -> tuple[str, ...]:
    """Return the words of which ``field`` takes one, or several; nothing where it takes others too."""
    return tuple(word for part in parts_of(field.annotation) if get_origin(part) is Literal for word in get_args(part))


def example_of(field: FieldInfo) -> str | None:
    """Return a quantity as ``field`` takes it, or None where it takes none."""
    for part in (*field.metadata, *parts_of(field.annotation)):
        if isinstance(part, Measure):
            return part.example
        if part in get_args(Size)[1:]:
            return SIZE_EXAMPLE
    return None


def parts_of(annotation: object) -> Iterator[object]:
    """Return an annotation and all that stands in it, at any depth."""
    yield annotation
    for part in get_args(annotation):
        yield from parts_of(part)


def _bare(annotation: object) -> object:
    if get_origin(annotation) in (Union, UnionType):
        return next(part for part in get_args(annotation) if part is not type(None))
    return annotation


DIALECT = "https://json-schema.org/draft/2020-12/schema"
ONE_OF = {
    "Load": ("lamp", "power", "current"),
    "LaterLoad": ("lamp", "power", "current"),
    "Alongside": ("size", "diameter"),
    "Output": ("name", "names"),
    "Port": ("name", "names"),
}
"""Entries that must have exactly one of these keys."""
NAMED_BY_PART = ("name", "part")
"""Entries that are named by their part unless they have a name of their own."""
ANY_OF = {"Load": NAMED_BY_PART, "LaterLoad": NAMED_BY_PART, "Switch": NAMED_BY_PART, "Place": ("front", "rear")}
"""Entries that must have at least one of these keys."""
SEVERAL = "several at once that differ only in their names"


def bike_schema() -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of a bike file."""
    return _schema(Bike, "A bike to be wired")


def unit_schema() -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of a unit profile."""
    return _schema(Unit, "A profile of a control unit")


def _schema(model: type[Entry], title: str) -> dict[str, Any]:
    schema = model.model_json_schema(by_alias=True, schema_generator=_AsWritten)
    kinds: dict[str, dict[str, Any]] = schema.get("$defs", {})
    for name, kind in kinds.items():
        _name_or_names(kind, name)
        for field in kind["properties"].values():
            _at_least_one(field)
        _choose(kind, "oneOf", ONE_OF.get(name, ()))
        _choose(kind, "anyOf", ANY_OF.get(name, ()))
        if ANY_OF.get(name) == NAMED_BY_PART:
            kind["required"] = [key for key in kind["required"] if key != "name"]
    return {"$schema": DIALECT, **schema, "title": title}


def _name_or_names(kind: dict[str, Any], name: str) -> None:
    if "names" not in ONE_OF.get(name, ()):
        return
    single = kind["properties"]["name"]
    listed = {"type": "array", "items": _without_title(single), "minItems": 1}
    several = {"description": SEVERAL, "anyOf": [_without_title(single), listed]}
    kind["properties"] = {"name": single, "names": several, **kind["properties"]}
    kind["required"] = [key for key in kind["required"] if key != "name"]


def _at_least_one(field: dict[str, Any]) -> None:
    for choice in field.get("anyOf", ()):
        if choice.get("type") == "array" and field.pop("minLength", None):
            choice["minItems"] = 1


def _without_title(schema: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in schema.items() if key not in ("title", "description")}


def _choose(kind: dict[str, Any], how: str, keys: tuple[str, ...]) -> None:
    if keys:
        kind[how] = [{"required": [key]} for key in keys]


class _AsWritten(GenerateJsonSchema):
    """Describes the text of a file, not what becomes of it inside."""

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        """Leave null out: an empty value is refused, an absent key is not."""
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        """Keep a default only where it is written as it is kept; quantities are kept in small units."""
        inner = self.generate_inner(schema["schema"])
        default = schema.get("default")
        return {**inner, "default": default} if isinstance(default, str | bool) else inner

    def function_before_schema(self, schema: core_schema.BeforeValidatorFunctionSchema) -> JsonSchemaValue:
        """Let one word stand for a list of one, and a size for a reel."""
        full = self.generate_inner(schema["schema"])
        short = full["items"] if full.get("type") == "array" else TypeAdapter(Size).json_schema()
        return {"anyOf": [short, full]}
