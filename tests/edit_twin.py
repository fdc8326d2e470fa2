"""Edits of plain trees, made one after another, and readers other than the project's own: for tests of editing."""

import json
from collections.abc import Sequence
from copy import deepcopy
from typing import Any
from unittest import mock

import yaml
from ruamel.yaml import YAML
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from portloom.inputs import parsing
from portloom.inputs.editing.editing import Append, Edit, Put, Remove
from portloom.inputs.parsing import parse
from portloom.inputs.tree import plain

Steps = tuple[str | int, ...]


def read(text: str) -> Any:
    """Return what the project reads in ``text``."""
    return plain(parse(text, "text", "bike").root)


def read_by_ruamel(text: str) -> object:
    """Return what ruamel.yaml's round-trip reader finds in ``text``, every scalar as the word that it is."""
    return _said(YAML(typ="rt").compose(text.removeprefix("\ufeff")))


def _said(node: Node) -> object:
    match node:
        case ScalarNode():
            return node.value.strip()
        case SequenceNode():
            return [_said(item) for item in node.value]
        case MappingNode():
            return {_said(key): _said(value) for key, value in node.value}
        case _:
            raise TypeError(node)


def check_read(text: str, expected: object) -> None:
    """Check that ruamel.yaml and both of PyYAML's parsers find ``expected`` in ``text``, keys in the same order."""
    with mock.patch.object(parsing, "LOADER", yaml.BaseLoader):
        found = [read(text), read_by_ruamel(text)]
    assert [json.dumps(each) for each in [read(text), *found]] == [json.dumps(expected)] * 3


def applied(before: object, edits: Sequence[Edit]) -> object:
    """The tree ``before`` with ``edits`` made one by one; removals come last and from the end: nothing shifts."""
    whole: dict[str | int, Any] = {"file": deepcopy(before)}
    for edit in edits:
        if not isinstance(edit, Remove):
            _set(whole, ("file", *edit.path), edit)
    for path in sorted((edit.path for edit in edits if isinstance(edit, Remove)), reverse=True):
        holder, last, alone = _holder(whole, ("file", *path))
        if alone:
            holder[last] = []
        else:
            del holder[last]
    return whole["file"]


def _holder(whole: dict[str | int, Any], path: Steps) -> tuple[Any, str | int, bool]:
    """Return the list or mapping in which ``path`` ends, its last step, and whether a step to a list of one came after.

    Such steps are left out.
    """
    holder, last, alone = whole, path[0], False
    for step in path[1:]:
        below = holder[last]
        alone = step == 0 and not isinstance(below, list)
        if not alone:
            holder, last = below, step
    return holder, last, alone


def _set(whole: dict[str | int, Any], path: Steps, edit: Put | Append) -> None:
    holder, last, _ = _holder(whole, tuple(_stripped(list(path))))
    value = _stripped(edit.value)
    if isinstance(edit, Append):
        now = holder.get(last, []) if isinstance(holder, dict) else holder[last]
        now = now if isinstance(now, list) else [now] if isinstance(now, str) else []
        value = [*now, value]
    holder[last] = value


def _stripped(value: Any) -> Any:
    match value:
        case str():
            return value.strip()
        case int():
            return value
        case dict():
            return {key.strip(): _stripped(held) for key, held in value.items()}
        case _:
            return [_stripped(item) for item in value]
