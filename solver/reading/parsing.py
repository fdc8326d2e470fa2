"""From text to a tree: every scalar stays the word that it is, and knows its line and column."""

from typing import NamedTuple

import yaml

from solver.reading.building import Builder, Deep, place
from solver.reading.grammar import explain, tabs
from solver.reading.opening import unprintable
from solver.reading.problems import BadFile, Flaw, refuse
from solver.reading.tree import Broken, Keyed, Node, Word

LOADER = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
"""The quick parser where PyYAML was built with it; both give the same events."""
TOO_DEEP = "the nesting is too deep"


class Parsed(NamedTuple):
    """The mapping that a file holds, and the keys in it that stand twice."""

    root: Keyed
    flaws: tuple[Flaw, ...]


def parse(text: str, name: str, kind: str) -> Parsed:
    """Return the tree of ``text``, which should hold one ``kind``, 'bike' or 'unit'.

    Raise BadFile, with ``name`` as its file, if it is not one YAML document that holds a mapping.
    """
    text = text.removeprefix("\ufeff")
    early = unprintable(text)
    if early:
        raise refuse(name, [early])
    builder = Builder()
    root = _document(builder, text, name)
    if builder.fatal:
        raise refuse(name, builder.fatal)
    if not isinstance(root, Keyed):
        raise _no_mapping(root, name, kind)
    return Parsed(root, tuple(builder.flaws))


def _document(builder: Builder, text: str, name: str) -> Node:
    try:
        return builder.document(yaml.parse(text, Loader=LOADER))
    except yaml.YAMLError as error:
        raise refuse(name, tabs(text) or [explain(error, text)]) from error
    except Deep as deep:
        raise refuse(name, [Flaw(*place(deep.event), TOO_DEEP, "no key needs so many levels")]) from deep


def _no_mapping(root: Node, name: str, kind: str) -> BadFile:
    start = f"start from what 'portloom new {kind}' writes"
    if isinstance(root, Broken):
        return refuse(name, [Flaw(1, 1, "the file is empty", start)])
    what = "a word stands" if isinstance(root, Word) else "a list stands"
    return refuse(name, [Flaw.at(root, f"{what} where the keys of a {kind} should be", start)])
