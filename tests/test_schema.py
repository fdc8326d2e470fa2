"""The exported schemas take what the reader takes and refuse what it refuses, as ``jsonschema`` sees it."""

import re
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from portloom.base.parts.loads import LOAD_PARTS
from portloom.base.parts.shapes import LoadPart, SwitchPart
from portloom.base.parts.switches import SWITCH_PARTS
from portloom.inputs.schema import bike_schema, unit_schema

ROOT = Path(__file__).parent.parent
BIKES = sorted((ROOT / "examples").glob("*.yaml"))
UNITS = sorted((ROOT / "profiles").glob("*.yaml"))
BAD = ROOT / "tests" / "bad"
SEEN_BY_SCHEMA = (
    "unknown-key", "missing-key", "missing-unit", "wrong-unit", "bare-number", "decimal-comma", "negative-length",
    "unknown-kind", "empty-list", "draws-nothing", "draws-twice", "place-without-faces",
    "alongside-with-both", "no-value", "neither-true-nor-false", "leg-with-one-end",
)  # fmt: skip
"""Defects of which a schema can know. It can't know every word for a part, nor which input only a dash shows."""


def core(text: str) -> object:
    """Read YAML as an editor does: booleans, numbers and nulls by the core schema of YAML 1.2.2, chapter 10.3.2."""
    root = yaml.compose(text, Loader=yaml.BaseLoader)
    return None if root is None else _value(root)


def _value(node: yaml.Node) -> object:
    match node:
        case yaml.MappingNode():
            return {_value(key): _value(value) for key, value in node.value}
        case yaml.SequenceNode():
            return [_value(item) for item in node.value]
        case yaml.ScalarNode():
            return node.value if node.style else _scalar(node.value)
        case _:
            raise TypeError(node)


def _scalar(text: str) -> object:
    if re.fullmatch("true|True|TRUE|false|False|FALSE", text):
        return text.lower() == "true"
    if re.fullmatch("[-+]?[0-9]+", text):
        return int(text)
    if re.fullmatch(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", text):
        return float(text)
    return None if re.fullmatch("~|null|Null|NULL|", text) else text


@pytest.mark.parametrize("schema", [bike_schema(), unit_schema()], ids=["bike", "unit"])
def test_schemas_are_schemas(schema: dict[str, Any]) -> None:
    """Each schema is one, by the meta-schema of JSON Schema 2020-12, and takes no unknown keys anywhere."""
    Draft202012Validator.check_schema(schema)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    entries = [schema, *schema["$defs"].values()]
    assert all(entry["additionalProperties"] is False for entry in entries)


@pytest.mark.parametrize("schema", [bike_schema(), unit_schema()], ids=["bike", "unit"])
def test_every_key_is_described(schema: dict[str, Any]) -> None:
    """Every key says what it means."""
    for entry in (schema, *schema["$defs"].values()):
        assert [key for key, field in entry["properties"].items() if "description" not in field] == []


@pytest.mark.parametrize("path", BIKES, ids=lambda path: path.stem)
def test_examples_fit_the_schema(path: Path) -> None:
    """Every example bike fits the schema of a bike."""
    Draft202012Validator(bike_schema()).validate(core(path.read_text("utf-8")))


@pytest.mark.parametrize("path", UNITS, ids=lambda path: path.stem)
def test_profiles_fit_the_schema(path: Path) -> None:
    """Every bundled unit fits the schema of a unit."""
    Draft202012Validator(unit_schema()).validate(core(path.read_text("utf-8")))


@pytest.mark.parametrize("name", SEEN_BY_SCHEMA)
def test_defects_that_a_schema_sees(name: str) -> None:
    """What the reader refuses in one entry alone, the schema refuses too."""
    text = (BAD / f"{name}.yaml").read_text("utf-8")
    assert not Draft202012Validator(bike_schema()).is_valid(core(text))


@pytest.mark.parametrize("name", ["missing-name", "name-and-names", "names-empty", "trip-empty", "unknown-key"])
def test_defects_of_units_that_a_schema_sees(name: str) -> None:
    """A unit's schema knows that a port has one name or several."""
    text = (BAD / "units" / f"{name}.yaml").read_text("utf-8")
    assert not Draft202012Validator(unit_schema()).is_valid(core(text))


@pytest.mark.parametrize(("entry", "parts"), [("Load", LOAD_PARTS), ("Switch", SWITCH_PARTS)], ids=["load", "switch"])
def test_an_editor_offers_each_part(entry: str, parts: Sequence[LoadPart | SwitchPart]) -> None:
    """Under ``part`` stand the names of the catalogue, each with its other words; other words are taken as well."""
    field = bike_schema()["$defs"][entry]["properties"]["part"]
    offered = {choice["const"]: choice["description"] for choice in field["anyOf"] if "const" in choice}
    assert list(offered) == [part.name for part in parts]
    assert [part.name for part in parts for word in part.also if word not in offered[part.name]] == []
    assert Draft202012Validator(field).is_valid("Hooter")
    assert not Draft202012Validator(field).is_valid(4)
