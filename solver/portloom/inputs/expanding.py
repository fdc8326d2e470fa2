"""Writes out every ``names`` of a unit's outputs and inputs: one entry each."""

from collections.abc import Mapping
from typing import NamedTuple

from portloom.inputs.problems import Flaw
from portloom.inputs.tree import Broken, Keyed, Listed, Node, Word, words

LISTS = ("outputs", "inputs")


class Expanded(NamedTuple):
    """A unit's tree with one entry for each output and input, and what was wrong with their names."""

    root: Keyed
    flaws: tuple[Flaw, ...]


def expand(root: Keyed) -> Expanded:
    """Return ``root`` with every ``names`` of its outputs and inputs written out; the order stays."""
    flaws: list[Flaw] = []
    values = dict(root.values)
    for key in LISTS:
        several = values.get(key)
        if isinstance(several, Listed):
            items = tuple(single for item in several.items for single in _singles(item, flaws))
            values[key] = Listed(items, several.line, several.column)
    return Expanded(Keyed(root.keys, values, root.line, root.column), tuple(flaws))


def _singles(item: Node, flaws: list[Flaw]) -> list[Node]:
    if not isinstance(item, Keyed) or "names" not in item.values:
        return [item]
    rest = {key: value for key, value in item.values.items() if key != "names"}
    if "name" in rest:
        flaws.append(Flaw.at(item.keys["names"], "both 'name' and 'names' are given", "keep one of the two"))
        return [_entry(item, rest, rest["name"])]
    names = _names(item, flaws)
    return [_entry(item, rest, name) for name in names]


def _names(item: Keyed, flaws: list[Flaw]) -> list[Node]:
    value = item.values["names"]
    listed = value.items if isinstance(value, Listed) else (value,)
    found = words(item, "names")
    if len(found) == len(listed) and found:
        return list(found)
    if not any(isinstance(part, Broken) for part in listed):
        flaws.append(Flaw.at(item.keys["names"], "'names' is not a list of names", "write it such as [out 1, out 2]"))
    return [*found, *(part for part in listed if isinstance(part, Broken))] or [Broken(item.line, item.column)]


def _entry(item: Keyed, rest: Mapping[str, Node], name: Node) -> Keyed:
    keys: dict[str, Word] = {key: word for key, word in item.keys.items() if key != "names"}
    keys.setdefault("name", item.keys.get("names", item.keys.get("name", Word("name", item.line, item.column))))
    return Keyed(keys, {"name": name, **rest}, item.line, item.column)
