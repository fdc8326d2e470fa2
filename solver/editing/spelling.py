"""Words, lists and mappings as they are written into a file: in quotes only what would be misread without."""

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache

import yaml

from solver.reading import parsing
from solver.reading.building import Builder, Deep
from solver.reading.opening import BEYOND_ASCII, UNPRINTABLE
from solver.reading.tree import plain

Plain = str | Sequence["Plain"] | Mapping[str, "Plain"]

NEVER_BARE = re.compile(f"[\t\n\r\x85\u2028\u2029]|{UNPRINTABLE % BEYOND_ASCII}")
"""What stands in a file only as an escape in double quotes; tabs because readers differ on them."""
ESCAPED = re.compile(rf'["\\]|{NEVER_BARE.pattern}')
LOADERS = (yaml.BaseLoader, parsing.LOADER)
"""Both of PyYAML's parsers: the file may go to a machine that has only the plain one."""
SHORT = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r"}
VALUE, KEY = ("k: W", "k:\n- W"), ("W: k", "- W: k")
VALUE_IN_FLOW, KEY_IN_FLOW = ("{k: W, l: [W, W]}",), ("{k: k, W: k}",)
"""Where a word may stand, for trying whether it is read as it should be."""


def inline(value: Plain, *, flow: bool) -> str:
    """Return ``value`` in one line, to stand in braces or brackets (``flow``) or after a dash or a key.

    The reader takes words without the spaces at their ends, so there are none in ``value``.
    """
    match value:
        case str():
            return _spelled(value, VALUE_IN_FLOW if flow else VALUE)
        case Mapping():
            return "{" + ", ".join(pair(name, held, flow=True) for name, held in value.items()) + "}"
        case _:
            return "[" + ", ".join(inline(item, flow=True) for item in value) + "]"


def pair(name: str, value: Plain, *, flow: bool) -> str:
    """Return the key ``name`` with what it holds."""
    return f"{key(name, flow=flow)}: {inline(value, flow=flow)}"


def key(name: str, *, flow: bool) -> str:
    """Return ``name`` as a key, without its colon."""
    return _spelled(name, KEY_IN_FLOW if flow else KEY)


@lru_cache(maxsize=1024)
def _spelled(word: str, places: tuple[str, ...]) -> str:
    """The few words that changes write come again and again, and each is read twice in every place."""
    in_quotes = '"' + ESCAPED.sub(_escape, word) + '"'
    if NEVER_BARE.search(word):
        return in_quotes
    if all(_read(place, word, loader) == _read(place, in_quotes, loader) for place in places for loader in LOADERS):
        return word
    return in_quotes if len(in_quotes) == len(word) + 2 else "'" + word.replace("'", "''") + "'"


def _escape(found: re.Match[str]) -> str:
    code = ord(found[0])
    return SHORT.get(found[0]) or (f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}")


def _read(place: str, spelt: str, loader: type[yaml.BaseLoader]) -> object:
    builder = Builder()
    try:
        root = builder.document(yaml.parse(place.replace("W", spelt), Loader=loader))
    except (yaml.YAMLError, Deep):
        return None
    return None if builder.fatal else plain(root)
