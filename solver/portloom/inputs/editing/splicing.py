"""A text by its lines, cut and put together again; and words as they are spelled in a file."""

import re
from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

import yaml

from portloom.base.letters import on_one_line
from portloom.inputs import parsing
from portloom.inputs.building import Builder, Deep
from portloom.inputs.tree import plain

BREAK = re.compile("\r\n|[\n\r\x85\u2028\u2029]")  # YAML 1.1, chapter 4.2, which PyYAML follows
SPACE = " \t\r\n\x85\u2028\u2029"
GAP = re.compile(f"(?:[{SPACE}]|#[^\n\r\x85\u2028\u2029]*)*")
"""What may stand between two signs: spaces, line breaks, comments."""


class TextSplice(NamedTuple):
    """What stands from ``start`` to ``end`` gives way to ``text``."""

    start: int
    end: int
    text: str


class TextLines:
    """A text by its lines; every place in it is the index of a character."""

    def __init__(self, text: str) -> None:
        self.text = text
        found = list(BREAK.finditer(text))
        self.newline = found[0][0] if found else "\n"
        self._firsts = [0, *(each.end() for each in found)]
        self._lasts = [*(each.start() for each in found), len(text)]

    def first(self, at: int) -> int:
        """Return where the line that holds ``at`` begins."""
        return self._firsts[bisect_right(self._firsts, at) - 1]

    def last(self, at: int) -> int:
        """Return where the line that holds ``at`` ends, before its break."""
        return self._lasts[bisect_left(self._lasts, at)]

    def before(self, at: int) -> str:
        """Return what stands before ``at`` in its line."""
        return self.text[self.first(at) : at]

    def after(self, at: int) -> str:
        """Return what stands from ``at`` to the end of its line."""
        return self.text[at : self.last(at)]

    def begins_line(self, at: int) -> bool:
        """Whether only spaces stand before ``at`` in its line."""
        return not self.before(at).strip(SPACE)

    def ends_line(self, at: int) -> bool:
        """Whether only spaces and a comment stand from ``at`` to the end of its line."""
        return self.gap(at) >= self.last(at)

    def gap(self, at: int) -> int:
        """Return where the first sign from ``at`` on stands that is no space and in no comment."""
        found = GAP.match(self.text, at)
        return found.end() if found else at

    def lines(self, start: int, end: int) -> TextSplice:
        """Take out the lines from the one that holds ``start`` to the one that holds ``end``."""
        first = self._firsts.index(self.first(start))
        last = self._lasts.index(self.last(end))
        if first:  # with the break before them: the last line of a text may have none after it
            return cut(self._lasts[first - 1], self._lasts[last])
        return cut(0, [*self._firsts, len(self.text)][last + 1])


def cut(start: int, end: int) -> TextSplice:
    """Take out what stands from ``start`` to ``end``."""
    return TextSplice(start, end, "")


def paste(at: int, text: str) -> TextSplice:
    """Put ``text`` in at ``at``."""
    return TextSplice(at, at, text)


def spliced(text: str, splices: Iterable[TextSplice]) -> str:
    """Return ``text`` with all ``splices`` made; cuts may overlap, and what is put in at one place keeps its order."""
    stays = [True] * len(text)
    put_in: defaultdict[int, str] = defaultdict(str)
    for start, end, new in splices:
        put_in[start] += new
        stays[start:end] = [False] * (end - start)
    kept = (put_in[at] + (sign if stays[at] else "") for at, sign in enumerate(text))
    return "".join(kept) + put_in[len(text)]


Plain = str | Sequence["Plain"] | Mapping[str, "Plain"]

ESCAPED = re.compile(r'["\\]')
LOADERS = (yaml.BaseLoader, parsing.LOADER)
"""Both of PyYAML's parsers: the file may go to a machine that has only the plain one."""
VALUE, KEY = ("k: W", "k:\n- W"), ("W: k", "- W: k")
VALUE_IN_FLOW, KEY_IN_FLOW = ("{k: W, l: [W, W]}",), ("{k: k, W: k}",)
"""Where a word may stand, for trying whether it is read as it should be."""


def inline(value: Plain, *, flow: bool) -> str:
    """Return ``value`` in one line, to stand in braces or brackets (``flow``) or after a dash or a key.

    The reader takes words on one line, without the spaces at their ends and without letters that can't be seen, so
    there are none in ``value``.
    """
    match value:
        case str():
            return _spelled(on_one_line(value), VALUE_IN_FLOW if flow else VALUE)
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
    in_quotes = '"' + ESCAPED.sub(r"\\\g<0>", word) + '"'
    if all(_read(place, word, loader) == _read(place, in_quotes, loader) for place in places for loader in LOADERS):
        return word
    return in_quotes if len(in_quotes) == len(word) + 2 else "'" + word.replace("'", "''") + "'"


def _read(place: str, spelt: str, loader: type[yaml.BaseLoader]) -> object:
    builder = Builder()
    try:
        root = builder.document(yaml.parse(place.replace("W", spelt), Loader=loader))
    except (yaml.YAMLError, UnicodeEncodeError, Deep):
        return None
    return None if builder.fatal else plain(root)
