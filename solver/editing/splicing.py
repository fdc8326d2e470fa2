"""A text by its lines, and pieces that are cut out of it and put into it."""

import re
from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterable
from typing import NamedTuple

BREAK = re.compile("\r\n|[\n\r\x85\u2028\u2029]")  # YAML 1.1, chapter 4.2, which PyYAML follows
SPACE = " \t\r\n\x85\u2028\u2029"
GAP = re.compile(f"(?:[{SPACE}]|#[^\n\r\x85\u2028\u2029]*)*")
"""What may stand between two signs: spaces, line breaks, comments."""


class Splice(NamedTuple):
    """What stands from ``start`` to ``end`` gives way to ``text``."""

    start: int
    end: int
    text: str


class Page:
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

    def lines(self, start: int, end: int) -> Splice:
        """Take out the lines from the one that holds ``start`` to the one that holds ``end``."""
        first = self._firsts.index(self.first(start))
        last = self._lasts.index(self.last(end))
        if first:  # with the break before them: the last line of a text may have none after it
            return cut(self._lasts[first - 1], self._lasts[last])
        return cut(0, [*self._firsts, len(self.text)][last + 1])


def cut(start: int, end: int) -> Splice:
    """Take out what stands from ``start`` to ``end``."""
    return Splice(start, end, "")


def paste(at: int, text: str) -> Splice:
    """Put ``text`` in at ``at``."""
    return Splice(at, at, text)


def spliced(text: str, splices: Iterable[Splice]) -> str:
    """Return ``text`` with all ``splices`` made; cuts may overlap, and what is put in at one place keeps its order."""
    stays = [True] * len(text)
    put_in: defaultdict[int, str] = defaultdict(str)
    for start, end, new in splices:
        put_in[start] += new
        stays[start:end] = [False] * (end - start)
    kept = (put_in[at] + (sign if stays[at] else "") for at, sign in enumerate(text))
    return "".join(kept) + put_in[len(text)]
