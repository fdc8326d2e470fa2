"""The two files as JSON Schema, for editors that help while one writes."""

from typing import Any

from pydantic import TypeAdapter
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from solver.words.bike import Bike
from solver.words.entries import Entry
from solver.words.sizes import Size
from solver.words.unit import Unit

DIALECT = "https://json-schema.org/draft/2020-12/schema"
ONE_OF = {
    "Load": ("lamp", "power", "current"),
    "LaterLoad": ("lamp", "power", "current"),
    "Alongside": ("size", "diameter"),
    "Output": ("name", "names"),
    "Port": ("name", "names"),
}
"""Entries that must have exactly one of these keys."""
ANY_OF = {"Switch": ("operates", "tells"), "Place": ("front", "rear")}
"""Entries that must have at least one of these keys."""
SEVERAL = "several at once that differ in nothing but their names"


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
    return {"$schema": DIALECT, **schema, "title": title}


def _name_or_names(kind: dict[str, Any], name: str) -> None:
    if "names" not in ONE_OF.get(name, ()):
        return
    single = kind["properties"]["name"]
    listed = {"type": "array", "items": _bare(single), "minItems": 1}
    several = {"description": SEVERAL, "anyOf": [_bare(single), listed]}
    kind["properties"] = {"name": single, "names": several, **kind["properties"]}
    kind["required"] = [key for key in kind["required"] if key != "name"]


def _at_least_one(field: dict[str, Any]) -> None:
    for choice in field.get("anyOf", ()):
        if choice.get("type") == "array" and field.pop("minLength", None):
            choice["minItems"] = 1


def _bare(schema: dict[str, Any]) -> dict[str, Any]:
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
