"""Plain lines: 'out 1: dipped beam, horn', or the other way round, 'horn -> out 3'."""

import re
from collections.abc import Sequence

from solver.posts.cells import Cell, cell_of, told_back
from solver.posts.figures import parted
from solver.posts.lists import listed_things
from solver.posts.names import Names
from solver.posts.post import Post, Said
from solver.reading.problems import Flaw

BULLET = re.compile(r"\s*(?:[-*+•]\s+|\d+[.)]\s+)?")
BETWEEN = re.compile(r"\s*(?:->|=>|→|:|=|\t|\s[-–]\s)\s*")
COMMENT = re.compile(r"(?:^|\s)#.*")
SETTLES = {"place": "place", "unit at": "place", "turned": "turned", "main fuse": "main fuse"}
"""Lines that say something else of the plan, by their first words."""
RIGHT = "write a line a port, such as 'out 1: dipped beam, horn'"


def plain_post(lines: Sequence[str], ports: Names) -> Post:
    """Read a line a port; the side that names a port is the port."""
    said: list[Said] = []
    flaws: list[Flaw] = []
    settled: dict[str, Cell] = {}
    for number, line in enumerate(lines, 1):
        sides = _sides(line, number)
        if sides is None:
            continue
        if len(sides) < 2:
            what = f"'{told_back(sides[0].text)}' does not say what is on which port"
            flaws.append(Flaw(number, sides[0].column, what, RIGHT))
            continue
        left, right = sides
        word = left.text.casefold()
        if word in SETTLES:
            settled[SETTLES[word]] = right
        elif _names_port(left, ports) or not _names_port(right, ports):
            said.append(Said(left, listed_things(right)))
        else:
            said.append(Said(right, listed_things(left)))
    return Post(tuple(said), settled.get("place"), settled.get("turned"), settled.get("main fuse"), tuple(flaws))


def _names_port(side: Cell, ports: Names) -> bool:
    """Tell whether a side of a line is a port, by itself or with its trip and wire beside it."""
    return bool(ports.meant(side.text).names or ports.meant(parted(side).name.text).names)


def _sides(line: str, number: int) -> tuple[Cell, ...] | None:
    """Return what stands before and after the first sign that parts them; None for an empty line."""
    text = COMMENT.sub("", line)
    bullet = BULLET.match(text)
    begin = bullet.end() if bullet else 0
    if not text[begin:].strip():
        return None
    found = BETWEEN.search(text, begin)
    if found is None or found.start() == begin:
        return (cell_of(text[begin:], number, begin + 1),)
    left, right = text[begin : found.start()], text[found.end() :]
    return cell_of(left, number, begin + 1), cell_of(right, number, found.end() + 1)
