"""From the text of a post to what it says, whichever way it is written; plain lines among them."""

import re
from collections.abc import Sequence

from portloom.inputs.parsing import unprintable
from portloom.inputs.problems import Flaw, refuse
from portloom.review.figures import split_figures
from portloom.review.matching import KnownNames
from portloom.review.post import Post, PostedLine, Table, TextCell, cell_of, listed_things, quoted
from portloom.review.structured import structured_post
from portloom.review.tables import SEPARATORS, NotSeparated, columns, markdown_tables, separated_table, tabular_post

BULLET = re.compile(r"\s*(?:[-*+•]\s+|\d+[.)]\s+)?")
BETWEEN = re.compile(r"\s*(?:->|=>|→|:|=|\t|\s[-–]\s)\s*")
COMMENT = re.compile(r"(?:^|\s)#.*")
SETTLES = {"place": "place", "unit at": "place", "turned": "turned", "main fuse": "main fuse"}
"""Lines that say something else of the plan, by their first words."""
RIGHT = "write a line a port, such as 'out 1: dipped beam, horn'"


def plain_post(lines: Sequence[str], ports: KnownNames) -> Post:
    """Read a line a port; the side that names a port is the port."""
    said: list[PostedLine] = []
    flaws: list[Flaw] = []
    settled: dict[str, TextCell] = {}
    for number, line in enumerate(lines, 1):
        sides = _sides(line, number)
        if sides is None:
            continue
        if len(sides) < 2:
            what = f"'{quoted(sides[0].text)}' does not say what is on which port"
            flaws.append(Flaw(number, sides[0].column, what, RIGHT))
            continue
        left, right = sides
        word = left.text.casefold()
        if word in SETTLES:
            settled[SETTLES[word]] = right
        elif _names_port(left, ports) or not _names_port(right, ports):
            said.append(PostedLine(left, listed_things(right)))
        else:
            said.append(PostedLine(right, listed_things(left)))
    return Post(tuple(said), settled.get("place"), settled.get("turned"), settled.get("main fuse"), tuple(flaws))


def _names_port(side: TextCell, ports: KnownNames) -> bool:
    """Tell whether a side of a line is a port, by itself or with its trip and wire beside it."""
    return bool(ports.meant(side.text).names or ports.meant(split_figures(side).name.text).names)


def _sides(line: str, number: int) -> tuple[TextCell, ...] | None:
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


KEYS = re.compile(r"(?m)^\s*[\"']?(outputs|inputs)[\"']?\s*:\s*($|[\[{#])")
EMPTY = Flaw(1, 1, "the post is empty", "write a line a port, such as 'out 1: dipped beam, horn'")
MOST = 64_000
"""Letters of a post; a plan of a hundred ports has some five thousand."""
TOO_LONG = Flaw(1, 1, "the post is longer than 64,000 letters", "give the plan alone")
NOTHING = Flaw(1, 1, "the post does not say what is on any port", "write a line a port, such as 'out 1: horn'")
MOST_NAMES = 400
"""Ports, or things on them, in a post; the largest units have some sixty ports."""
TOO_MANY = Flaw(1, 1, "the post names more than 400 ports, or more than 400 things on them", "give the plan alone")
MIXED = "leave it out, or put it in the table"


def read_post(text: str, name: str, ports: KnownNames) -> Post:
    """Read a post: YAML or JSON, a Markdown table, comma-separated values, else plain lines.

    ``ports`` are the names of the unit's ports. Raise BadFile where there is nothing that can be read.
    """
    if not text.strip():
        raise refuse(name, [EMPTY])
    if len(text) > MOST:
        raise refuse(name, [TOO_LONG])
    odd = unprintable(text)
    if odd is not None:
        raise refuse(name, [odd])
    post = _read(text, name, ports)
    if max(len(post.said), len(post.flaws), sum(len(said.things) for said in post.said)) > MOST_NAMES:
        raise refuse(name, [TOO_MANY])
    if not post.said and not post.flaws:
        raise refuse(name, [NOTHING])
    return post


def _read(text: str, name: str, ports: KnownNames) -> Post:
    if KEYS.search(text) or text.lstrip().startswith("{"):
        return structured_post(text, name)
    lines = text.splitlines()
    tables = tuple(markdown_tables(lines))
    if tables:
        return _with_tables(lines, tables, ports)
    record = _separated(text, name)
    return plain_post(lines, ports) if record is None else tabular_post(record)


def _with_tables(lines: list[str], tables: tuple[Table, ...], ports: KnownNames) -> Post:
    """Read every table; a plain line beside it that names a port is told, since it is not known which counts."""
    posts = [tabular_post(table) for table in tables if columns(table.header) or len(tables) == 1]
    rest = list(lines)
    for table in tables:
        first = table.header[0].line
        rest[first - 1 : table.end - 1] = [""] * (table.end - first)
    beside = plain_post(rest, ports)
    mixed = tuple(
        Flaw(one.port.line, one.port.column, f"'{one.port.text}' is outside the table, on a line of its own", MIXED)
        for one in beside.said
        if ports.meant(split_figures(one.port).name.text).names
    )
    said = tuple(one for post in posts for one in post.said)
    flaws = tuple(flaw for post in posts for flaw in post.flaws)
    return Post(said, beside.place, beside.turned, beside.main_fuse, (*flaws, *mixed))


def _separated(text: str, name: str) -> Table | None:
    """Return the records of a text whose first line heads two columns with commas, semicolons or tabs between."""
    first = next(line for line in text.splitlines() if line.strip())
    for separator in SEPARATORS:
        head = _head(first, separator)
        if head is not None and len(head.header) > 1 and columns(head.header):
            try:
                return separated_table(text, separator)
            except NotSeparated as bad:
                what = f"this record can't be read: {bad}"
                raise refuse(name, [Flaw(bad.line, 1, what, "close each quote at the end of its field")]) from bad
    return None


def _head(first: str, separator: str) -> Table | None:
    """Return a first line as records have it; None where its quotes are none of theirs."""
    try:
        return separated_table(first, separator)
    except NotSeparated:
        return None
