"""From the text of a post to what it says, whichever way it is written."""

import re

from solver.posts.cells import Table
from solver.posts.figures import parted
from solver.posts.markdown import markdown_tables
from solver.posts.names import Names
from solver.posts.plain import plain_post
from solver.posts.post import Post
from solver.posts.separated import SEPARATORS, NotSeparated, separated_table
from solver.posts.structured import structured_post
from solver.posts.tabular import columns, tabular_post
from solver.reading.opening import unprintable
from solver.reading.problems import Flaw, refuse

KEYS = re.compile(r"(?m)^\s*[\"']?(outputs|inputs)[\"']?\s*:\s*($|[\[{#])")
EMPTY = Flaw(1, 1, "the post is empty", "write a line a port, such as 'out 1: dipped beam, horn'")
MOST = 64_000
"""Letters of a post; a plan of a hundred ports has some five thousand."""
TOO_LONG = Flaw(1, 1, "the post is longer than 64,000 letters", "give the plan alone")
NOTHING = Flaw(1, 1, "the post says of no port what is on it", "write a line a port, such as 'out 1: horn'")
MOST_NAMES = 400
"""Ports, or things on them, in a post; the largest units have some sixty ports."""
TOO_MANY = Flaw(1, 1, "the post names more than 400 ports, or more than 400 things on them", "give the plan alone")
MIXED = "leave it out, or write it into the table"


def read_post(text: str, name: str, ports: Names) -> Post:
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


def _read(text: str, name: str, ports: Names) -> Post:
    if KEYS.search(text) or text.lstrip().startswith("{"):
        return structured_post(text, name)
    lines = text.splitlines()
    tables = tuple(markdown_tables(lines))
    if tables:
        return _with_tables(lines, tables, ports)
    record = _separated(text, name)
    return plain_post(lines, ports) if record is None else tabular_post(record)


def _with_tables(lines: list[str], tables: tuple[Table, ...], ports: Names) -> Post:
    """Read every table; a plain line beside it that names a port is told, since it is not known which counts."""
    posts = [tabular_post(table) for table in tables if columns(table.header) or len(tables) == 1]
    rest = list(lines)
    for table in tables:
        first = table.header[0].line
        rest[first - 1 : table.end - 1] = [""] * (table.end - first)
    beside = plain_post(rest, ports)
    mixed = tuple(
        Flaw(one.port.line, one.port.column, f"'{one.port.text}' stands beside the table, in a line of its own", MIXED)
        for one in beside.said
        if ports.meant(parted(one.port).name.text).names
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
