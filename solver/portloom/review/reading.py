"""From the text of a post to what it says, whichever way it is written; plain lines among them."""

import re
from collections.abc import Sequence
from dataclasses import replace

from portloom.inputs.parsing import unprintable
from portloom.inputs.problems import BadFile, Flaw, refuse
from portloom.review.columns import columns_of, is_headless, side_by_side, tabular_post
from portloom.review.figures import split_figures
from portloom.review.lines import plain_post
from portloom.review.names import KnownNames
from portloom.review.ports import is_port
from portloom.review.post import Post, Table, TextRow
from portloom.review.structured import SEVERAL_UNITS, structured_post
from portloom.review.tables import SEPARATORS, NotSeparated, markdown_tables, separated_table

KEYS = re.compile(r"(?m)^\s*[\"']?(outputs|inputs)[\"']?\s*:\s*($|[\[{#])")
EMPTY = Flaw(1, 1, "the post is empty", "write a line a port, such as 'out 1: dipped beam, horn'")
MOST = 64_000
"""Letters of a post; a plan of a hundred ports has some five thousand."""
MOST_IN_JSON = 1_000_000
"""What a plan's document has, with all its wires."""
TOO_LONG = Flaw(1, 1, "the post is longer than 64,000 letters", "give the plan alone")
NOTHING = Flaw(1, 1, "the post does not say what is on any port", "write a line a port, such as 'out 1: horn'")
MOST_NAMES = 400
"""Ports, or things on them, in a post; the largest units have some sixty ports."""
TOO_MANY = Flaw(1, 1, "the post names more than 400 ports, or more than 400 things on them", "give the plan alone")
BETWEEN_LETTERS = dict.fromkeys(map(ord, "\xad\u200b\u200c\u200d\u200e\u200f\u2060\ufe0e\ufe0f\ufeff"))
"""What pages put between letters, and people paste along: where a line may break, how a picture looks."""
MIXED = "leave it out, or put it in the table"


def read_post(text: str, name: str, ports: KnownNames) -> Post:
    """Read a post: YAML or JSON, a Markdown table, comma-separated values, else plain lines.

    ``ports`` are the names of the unit's ports. Raise BadFile where there is nothing that can be read.
    """
    text = text.translate(BETWEEN_LETTERS)
    if not text.strip():
        raise refuse(name, [EMPTY])
    if len(text) > (MOST_IN_JSON if _is_json(text) else MOST):
        raise refuse(name, [TOO_LONG])
    odd = unprintable(text)
    if odd is not None:
        raise refuse(name, [odd])
    post = _read(text, name, ports)
    if max(len(post.said), len(post.flaws), sum(len(said.things) for said in post.said)) > MOST_NAMES:
        raise refuse(name, [TOO_MANY])
    if not post.said and not post.flaws and not post.kept_off:
        raise refuse(name, [NOTHING])
    return post


def _is_json(text: str) -> bool:
    return text.lstrip().startswith("{")


def _read(text: str, name: str, ports: KnownNames) -> Post:
    lines = text.splitlines()
    units = _units_of(lines)
    if units is not None:
        raise refuse(name, [units])
    if _is_json(text):
        return structured_post(text, name)
    if KEYS.search(text):
        return _structured_or_plain(text, name, ports)
    tables = tuple(markdown_tables(lines))
    if tables:
        return _with_tables(lines, tables, ports)
    record = _separated(text, name, ports)
    if record is None:
        return plain_post(lines, ports)
    posts = [tabular_post(part, ports) for part in side_by_side(record, ports)]
    return posts[0] if len(posts) == 1 else _together(posts, Post(()), ports)


def _structured_or_plain(text: str, name: str, ports: KnownNames) -> Post:
    """Read YAML; or, where that fails, a list whose sections are headed as YAML's are."""
    try:
        return structured_post(text, name)
    except BadFile:
        post = plain_post(text.splitlines(), ports)
        if post.said and not post.flaws:
            return post
        raise


UNIT = re.compile(
    r"\bunit\s*(?:no\.?|nr\.?|number|#)?\s*(?P<after>[1-9]|[ab])\b|\b(?P<before>first|second|front|rear|left|right|big|small)\s+unit\b"
    r"|\b(?P<size>(?!(?:one|two|three|four|five)-)[a-z]{3,}(?:-[a-z]+)?-way)\b(?!\s+(?:connector|plug|switch|block))",
    re.IGNORECASE,
)
TWO = re.compile(r"\b(?:two|both|2)\s+units\b", re.IGNORECASE)


def _units_of(lines: list[str]) -> Flaw | None:
    """Return what is said where a post is of several units: nobody could tell whose ports are meant."""
    seen: dict[str, set[str]] = {}
    for number, line in enumerate(lines, 1):
        for found in UNIT.finditer(line):
            for kind, said in found.groupdict().items():
                seen.setdefault(kind, set()).update([] if said is None else [said.casefold()])
        if TWO.search(line) or any(len(said) > 1 for said in seen.values()):
            return SEVERAL_UNITS._replace(line=number)
    return None


def _with_tables(lines: list[str], tables: tuple[Table, ...], ports: KnownNames) -> Post:
    """Read every table; a plain line beside it that names a port is told, since it is not known which counts."""
    below = {row[0].line for table in tables for row in table.rows if _is_a_line(row, ports)}
    own = [replace(one, rows=tuple(row for row in one.rows if row[0].line not in below)) for one in tables]
    apart = [part for table in own for part in side_by_side(table, ports)]
    posts = [tabular_post(table, ports) for table in apart if columns_of(table, ports) or len(apart) == 1]
    rest = list(lines)
    for table in tables:
        first = table.header[0].line
        for number in range(first, table.end):
            rest[number - 1] = lines[number - 1] if number in below else ""
    return _together(posts, plain_post(rest, ports), ports)


def _is_a_line(row: TextRow, ports: KnownNames) -> bool:
    """Tell whether a row of a table is a line of text below it: all in its first cell, and no port."""
    first, *others = (cell.text for cell in row)
    return bool(first and others) and not any(others) and not is_port(first, ports)


def _together(posts: Sequence[Post], beside: Post, ports: KnownNames) -> Post:
    mixed = tuple(
        Flaw(one.port.line, one.port.column, f"'{one.port.text}' is outside the table, on a line of its own", MIXED)
        for one in beside.said
        if ports.meant(split_figures(one.port).name.text).names
    )
    said = tuple(one for post in posts for one in post.said)
    flaws = (*(flaw for post in posts for flaw in post.flaws), *beside.flaws)
    every = (*posts, beside)
    return replace(
        beside,
        said=said,
        flaws=(*flaws, *mixed),
        main_fuse=next((post.main_fuse for post in every if post.main_fuse), None),
        no_fuse=next((post.no_fuse for post in every if post.no_fuse), None),
        kept_off=tuple(what for post in every for what in post.kept_off),
        aside=tuple(sorted((cell for post in every for cell in post.aside), key=lambda cell: cell.line)),
    )


def _separated(text: str, name: str, ports: KnownNames) -> Table | None:
    """Return the records of a text with commas, semicolons or tabs between a column of ports and one of loads."""
    first = next(line for line in text.splitlines() if line.strip())
    for separator in SEPARATORS:
        head = _head(first, separator)
        if head is not None and len(head.header) > 1 and not any(SIGN.search(cell.text) for cell in head.header):
            try:
                table = separated_table(text, separator)
            except NotSeparated as bad:
                if not columns_of(head, ports):
                    continue
                what = f"this record can't be read: {bad}"
                raise refuse(name, [Flaw(bad.line, 1, what, "close each quote at the end of its field")]) from bad
            if table is not None and (columns_of(table, ports) or is_headless(table, ports)):
                return table
    return None


SIGN = re.compile(r"[:=>→]")
"""What parts a port from what is on it, in a line that is no head of a table."""


def _head(first: str, separator: str) -> Table | None:
    """Return a first line as records have it; None where its quotes are none of theirs."""
    try:
        return separated_table(first, separator)
    except NotSeparated:
        return None
