"""Plain lines of a post: each a port and what is on it, a sentence that says so, or what else a plan settles."""

import re
from collections.abc import Sequence
from dataclasses import field, replace

from portloom.base.letters import quoted
from portloom.base.values import dataclass
from portloom.inputs.problems import Flaw
from portloom.review.bearing import bears
from portloom.review.feed_lines import (
    OF_THE_UNIT,
    fuse_within,
    is_about_main_fuse,
    kept_off_within,
    lacks_fuse,
    says_no_fuse,
    sentences,
)
from portloom.review.figures import split_figures
from portloom.review.names import KnownNames, words_of
from portloom.review.ports import Side, is_port, names_several, ports_within
from portloom.review.post import Post, PostedLine, TextCell, cell_of, listed_things
from portloom.review.talk import is_talk

BULLET = re.compile(r"\s*(?:[-*+•]\s+)?")
NUMBERED = re.compile(r"(?P<number>\d{1,3})\s?[.)]\s+(?=\S)")
BETWEEN = re.compile(r"\s*(?:->|=>|→|:|=|\t|\s[-–—]\s)\s*")
COMMENT = re.compile(r"(?:^|\s)#(?!\s?\d).*")
CLAUSE = re.compile(r"(?<!\d)[,;.](?=\s)|[,;](?!\d)|\.$|\s+and\s+", re.IGNORECASE)
AFTER_NUMBER = re.compile(r"\b(?:on|to)\s+(?:[a-z]+\s+)?#?\d{1,2}(?P<end>\.)(?=\s)", re.IGNORECASE)
"""The end of a sentence behind a port: 'the starter is on 7. Horn on 3'."""
SECTION = re.compile(r"\W*(?:(?P<outputs>outputs?|loads?)|inputs?|switch(?:es)?)\W*", re.IGNORECASE)
SETTLES = {"place": "place", "unit at": "place", "turned": "turned", "main fuse": "main fuse"}
"""Lines that say something else of the plan, by their first words."""
LINKING = (
    r"(?:is|are|was|on|at|to|goes?|sits?|feeds?|drives?|runs?|powers?|has|have|for|put|it|with|wired|connected|will|be|and|"
    r"from|via|then|so|use[ds]?|using|switch(?:es|ed)?|controls?|supplies|moved|lives?|i|we|now|that|which|reads?|takes?)"
)
BEFORE = re.compile(rf"(?:\s*(?:(?<!\w){LINKING}\b|[-–—:=>→.,]+))*\s*$", re.IGNORECASE)
AFTER = re.compile(rf"^\s*(?:(?:{LINKING}\b|[-–—:=>→.,]+)\s*)*", re.IGNORECASE)
FIRST = re.compile(r"^\s*(?:(?:i|we)\s+(?:have\s+)?(?:put|wired|use|have|moved|connected)\s+)?", re.IGNORECASE)
RIGHT = "write a line a port, such as 'out 1: dipped beam, horn'"


def plain_post(lines: Sequence[str], ports: KnownNames) -> Post:
    """Read a line a port; the side that names a port is the port."""
    reader = _Reader(ports)
    for number, line in enumerate(lines, 1):
        reader.take(line, number)
    return reader.post


@dataclass
class _Reader:
    """What was read so far, and under which heading."""

    ports: KnownNames
    post: Post = field(default_factory=lambda: Post(()))
    side: Side | None = None

    def take(self, line: str, number: int) -> None:
        """Read one line."""
        text = COMMENT.sub("", line)
        remark = COMMENT.search(line)
        if remark and re.search(r"\b(?:main|battery|unit)\b", remark[0], re.IGNORECASE):
            self._of_feed(cell_of(remark[0].strip(" #"), number, remark.start() + 1))
        bullet = BULLET.match(text)
        begin = bullet.end() if bullet else 0
        cell = cell_of(text[begin:], number, begin + 1)
        section = SECTION.fullmatch(cell.text)
        if section:
            self.side = "outputs" if section["outputs"] else "inputs"
        elif cell.text:
            self._line(cell)

    def _line(self, cell: TextCell) -> None:
        numbered = NUMBERED.match(cell.text)
        if numbered:
            rest = _from(cell, numbered.end())
            if self._is_whole(rest):
                self._line(rest)
            else:
                self._said(TextCell(numbered["number"], cell.line, cell.column), rest)
        elif names_several(cell.text):
            sides = _sides(cell)
            if sides is None or not sides[1].text or listed_things(sides[1]):  # that several are free changes nothing
                self._unclear(cell)
        elif not (self._settled(cell) or self._aside(cell) or self._several(cell) or self._feed(cell)):
            self._port(cell)

    def _aside(self, cell: TextCell) -> bool:
        """Leave a line aside that says nothing of the plan."""
        if not is_talk(cell.text) and self._bears(cell):
            return False
        self.post = replace(self.post, aside=(*self.post.aside, cell))
        return True

    def _bears(self, cell: TextCell) -> bool:
        """Tell whether a line may say anything of the plan."""
        words, ports = words_of(cell.text), {name.casefold() for name in self.ports}
        sides = _sides(cell) or ()
        return bears(cell.text) or any(_names_port(side, self.ports) for side in sides) or not ports.isdisjoint(words)

    def _is_whole(self, cell: TextCell) -> bool:
        """Tell whether a line says all that it needs without the number in front of it."""
        sides, ports = _sides(cell), bool(ports_within(cell.text, self.ports))
        if sides is not None and (is_port(sides[0].text, self.ports) or sides[0].text.casefold() in SETTLES):
            return True
        return ports or is_about_main_fuse(cell.text)

    def _settled(self, cell: TextCell) -> bool:
        """Note where the unit sits, and the main fuse."""
        sides = _sides(cell)
        what = SETTLES.get(sides[0].text.casefold()) if sides is not None else None
        if sides is None or what is None:
            return False
        said, post = sides[1], self.post
        if what == "main fuse":
            about = is_about_main_fuse(f"fuse {said.text}") and not lacks_fuse(said.text)
            fuse = fuse_within(said) if about else None
            none = says_no_fuse(said.text)
            self.post = replace(post, no_fuse=said) if none else replace(post, main_fuse=fuse or said)
        else:
            self.post = replace(post, place=said) if what == "place" else replace(post, turned=said)
        return True

    def _several(self, cell: TextCell) -> bool:
        """Read a line with several ports clause by clause, if each clause has one."""
        sides = _sides(cell)
        one_on_another = sides is not None and all(_names_port(side, self.ports) for side in sides)
        if one_on_another or len(ports_within(cell.text, self.ports)) < 2:  # a multiplexer, on its input
            return False
        clauses = [clause for clause in _clauses(cell) if clause.text]
        before = self.post
        of_ports = [clause for clause in clauses if not self._of_feed(clause)]
        spans = [ports_within(clause.text, self.ports) for clause in of_ports]
        if any(len(span) != 1 for span in spans) or not all(map(self._says_more, of_ports)):
            self.post = before
            return self._unclear(cell)
        for clause in of_ports:
            self._port(clause)
        return True

    def _says_more(self, clause: TextCell) -> bool:
        """Tell whether a clause has more than its port."""
        begin, end = ports_within(clause.text, self.ports)[0]
        return re.search(r"\w", clause.text[:begin] + clause.text[end:]) is not None

    def _unclear(self, cell: TextCell) -> bool:
        """Note a line that can't be read."""
        what = f"'{quoted(cell.text)}' does not say what is on which port"
        self.post = replace(self.post, flaws=(*self.post.flaws, Flaw(cell.line, cell.column, what, RIGHT)))
        return True

    def _feed(self, cell: TextCell) -> bool:
        """Note what a line says of the feed; of several sentences, each that does, and the others as lines."""
        if self._of_feed(cell):
            return True
        before, parts = self.post, sentences(cell)
        rest = [part for part in parts if not self._of_feed(part)] if len(parts) > 1 else parts
        if len(rest) == len(parts):
            self.post = before
            return False
        for part in rest:
            self._line(part)
        return True

    def _of_feed(self, cell: TextCell) -> bool:
        """Note what is said of the main fuse, and of what belongs on no unit."""
        sides = _sides(cell)
        if ports_within(cell.text, self.ports) or any(is_port(side.text, self.ports) for side in sides or ()):
            return False
        if OF_THE_UNIT.fullmatch(cell.text):
            return True
        if is_about_main_fuse(cell.text):
            fuse = fuse_within(cell)
            if lacks_fuse(cell.text) != (fuse is not None):  # 'no 30 A fuse': nobody can tell
                self.post = replace(self.post, no_fuse=cell) if fuse is None else replace(self.post, main_fuse=fuse)
                return True
        what = kept_off_within(cell.text)
        if what:
            self.post = replace(self.post, kept_off=(*self.post.kept_off, what))
        return what is not None

    def _port(self, cell: TextCell) -> None:
        """Note a port and what is on it, whatever stands between them."""
        sides = _sides(cell)
        if sides is not None and (_names_port(sides[0], self.ports) or not _names_port(sides[1], self.ports)):
            within = [] if _names_port(sides[0], self.ports) else ports_within(cell.text, self.ports)
            if len(within) != 1 and not (sides[1].text or _names_port(sides[0], self.ports)):
                self._unclear(cell)
                return
            if len(within) != 1:
                self._said(*sides)
                return
        elif sides is not None:
            self._said(sides[1], sides[0])
            return
        spans = ports_within(cell.text, self.ports)
        said = _round(cell, *spans[0]) if len(spans) == 1 else None
        if said is None:
            self._unclear(cell)
            return
        self._said(*said)

    def _said(self, port: TextCell, things: TextCell) -> None:
        line = PostedLine(port, listed_things(things), side=self.side)
        self.post = replace(self.post, said=(*self.post.said, line))


def _round(cell: TextCell, begin: int, end: int) -> tuple[TextCell, TextCell] | None:
    """Return the port that stands within a line, and what stands before it or behind it; None where both do."""
    start = FIRST.match(cell.text)
    first = start.end() if start and start.end() < begin else 0
    before = BEFORE.sub("", cell.text[first:begin])
    skipped = AFTER.match(cell.text[end:])
    after = end + (skipped.end() if skipped else 0)
    port = cell_of(cell.text[begin:end], cell.line, cell.column + begin)
    rest = cell.text[after:].rstrip(" .")
    if not _is_named(before):
        return port, cell_of(rest, cell.line, cell.column + after)
    figures = "" if not rest else cell.text[end:]
    return None if _is_named(rest) else (port, cell_of(before + figures, cell.line, cell.column + first))


def _is_named(text: str) -> bool:
    """Tell whether a text is more than figures."""
    return bool(split_figures(cell_of(text, 1, 1)).name.text.strip(" .()"))


def _clauses(cell: TextCell) -> list[TextCell]:
    spans = [found.span() for found in CLAUSE.finditer(cell.text)]
    cuts = sorted({*spans, *(found.span("end") for found in AFTER_NUMBER.finditer(cell.text))})
    begins, ends = [0, *(end for _, end in cuts)], [*(begin for begin, _ in cuts), len(cell.text)]
    return [cell_of(cell.text[b:e], cell.line, cell.column + b) for b, e in zip(begins, ends, strict=True)]


def _from(cell: TextCell, at: int) -> TextCell:
    return cell_of(cell.text[at:], cell.line, cell.column + at)


def _names_port(side: TextCell, ports: KnownNames) -> bool:
    """Tell whether a side of a line is a port, by itself or with its trip and wire beside it."""
    return is_port(side.text, ports) or is_port(split_figures(side).name.text, ports)


def _sides(cell: TextCell) -> tuple[TextCell, TextCell] | None:
    """Return what stands before and after the first sign that parts them."""
    found = BETWEEN.search(cell.text)
    if found is None or found.start() == 0:
        return None
    left, right = cell.text[: found.start()], cell.text[found.end() :]
    return cell_of(left, cell.line, cell.column), cell_of(right, cell.line, cell.column + found.end())
