"""The names in the files that are on a line of the command: loads, places, outputs. What can't be read has none."""

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from portloom.base.parts.words import part_words
from portloom.inputs.expanding import expand
from portloom.inputs.parsing import file_text, parse
from portloom.inputs.problems import BadFile
from portloom.inputs.profiles import find_unit
from portloom.inputs.tree import Keyed, entries, words

Given = Mapping[str, Sequence[str]]
"""What is on the line, by option or by what the help calls an argument."""


def loads(given: Given) -> Iterator[str]:
    """Return the names of the loads of each bike on the line; a load without a name is called as its part."""
    for bike in given.get("BIKE", ()):
        for entry in entries(_root(bike, "bike"), "loads", "later"):
            yield from _texts(entry, "name") or [_part(text) for text in _texts(entry, "part")]


def places(given: Given) -> Iterator[str]:
    """Return the names of the places of each bike on the line."""
    for bike in given.get("BIKE", ()):
        for entry in entries(_root(bike, "bike"), "places"):
            yield from _texts(entry, "name")


def outputs(given: Given) -> Iterator[str]:
    """Return the names of the outputs of each unit on the line."""
    for unit in given.get("--unit", ()):
        for entry in entries(_root(unit, "unit"), "outputs"):
            yield from _texts(entry, "name")


def _root(name: str, kind: str) -> Keyed | None:
    try:
        file = find_unit(name) if kind == "unit" else Path(name).expanduser()
        root = parse(file_text(file), name, kind).root
    except (BadFile, RuntimeError):
        return None
    return expand(root).root if kind == "unit" else root


def _texts(entry: Keyed, key: str) -> list[str]:
    return [word.text for word in words(entry, key)]


def _part(said: str) -> str:
    """Return what a load is called that has no name: its part, as the catalogue has it."""
    meant = part_words(said)
    return meant.name if meant else said
