"""Posts: tables and records as the published examples have them; names that have one clear reading."""

from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from portloom.review.lines import plain_post
from portloom.review.names import KnownNames
from portloom.review.reading import read_post
from portloom.review.tables import NotSeparated, markdown_tables, separated_table

SPEC = {
    198: (["| foo | bar |", "| --- | --- |", "| baz | bim |"], [["foo", "bar"], ["baz", "bim"]]),
    199: (["| abc | defghi |", ":-: | -----------:", "bar | baz"], [["abc", "defghi"], ["bar", "baz"]]),
    200: (
        ["| f\\|oo  |", "| ------ |", "| b `\\|` az |", "| b **\\|** im |"],
        [["f|oo"], ["b `|` az"], ["b **|** im"]],
    ),
    201: (["| abc | def |", "| --- | --- |", "| bar | baz |", "> bar"], [["abc", "def"], ["bar", "baz"]]),
    202: (
        ["| abc | def |", "| --- | --- |", "| bar | baz |", "bar", "", "bar"],
        [["abc", "def"], ["bar", "baz"], ["bar", ""]],
    ),
    203: (["| abc | def |", "| --- |", "| bar |"], None),
    204: (
        ["| abc | def |", "| --- | --- |", "| bar |", "| bar | baz | boo |"],
        [["abc", "def"], ["bar", ""], ["bar", "baz"]],
    ),
    205: (["| abc | def |", "| --- | --- |"], [["abc", "def"]]),
}
"""GitHub Flavored Markdown spec 0.29-gfm (2019), examples of 'Tables (extension)' by their numbers; from memory."""


@pytest.mark.parametrize("number", SPEC)
def test_tables_of_the_spec(number: int) -> None:
    """Edge pipes, escaped pipes, alignment rows, what ends a table, rows too short and too long, no rows, no table."""
    lines, wanted = SPEC[number]
    found = [[[cell.text for cell in row] for row in (one.header, *one.rows)] for one in markdown_tables(lines)]
    assert found == ([] if wanted is None else [wanted])


def test_a_cell_knows_where_it_stands() -> None:
    """Line and column of its first letter, counted from 1."""
    (one,) = markdown_tables(["hello", "", "| port | load |", "|---|---|", "|  out 1 | horn |"])
    assert [(cell.text, cell.line, cell.column) for cell in one.rows[0]] == [("out 1", 5, 4), ("horn", 5, 12)]


RECORDS = {
    "2.1": ("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]),
    "2.2": ("aaa,bbb,ccc\r\nzzz,yyy,xxx", [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]),
    "2.5": ('"aaa","bbb","ccc"\r\nzzz,yyy,xxx', [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]),
    "2.6": ('"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx', [["aaa", "b\r\nbb", "ccc"], ["zzz", "yyy", "xxx"]]),
    "2.7": ('"aaa","b""bb","ccc"', [["aaa", 'b"bb', "ccc"]]),
}
"""RFC 4180, section 2, the examples of its rules."""


def texts(rows: Sequence[Sequence[object]]) -> list[list[str]]:
    return [[getattr(cell, "text", "") for cell in row] for row in rows]


@pytest.mark.parametrize("rule", RECORDS)
def test_records_of_rfc_4180(rule: str) -> None:
    """Line breaks at the end and not, quotes, line breaks in quotes, quotes in quotes."""
    text, wanted = RECORDS[rule]
    found = separated_table(text, ",")
    assert found is not None
    assert texts([found.header, *found.rows]) == wanted


def test_a_quote_that_is_not_closed_is_told_with_its_line() -> None:
    with pytest.raises(NotSeparated) as told:
        separated_table('port,load\nout 1,horn\nout 2,"dip', ",")
    assert told.value.line == 3


def test_quotes_within_a_line_are_no_record() -> None:
    """A plain line that begins with a quoted word is a plain line."""
    post = read_post('"out 1": horn, dash\nout 2: fan', "post", KnownNames(["out 1", "out 2"]))
    assert [said.port.text for said in post.said] == ['"out 1"', "out 2"]


LOADS = KnownNames(["dipped beam", "main beam", "horn", "front left indicator", "rear left indicator", "fan relay"])
SEEN = KnownNames(["brake lamp", "tail lamp", "rear brake switch"])
PORTS = KnownNames([f"out {number}" for number in range(1, 12)])


@pytest.mark.parametrize(
    ("names", "said", "meant"),
    [
        (LOADS, "dipped", ["dipped beam"]),
        (LOADS, "Dipped-Beam", ["dipped beam"]),
        (LOADS, "beam", ["dipped beam", "main beam"]),
        (LOADS, "left indicator", ["front left indicator", "rear left indicator"]),
        (LOADS, "diped beam", ["dipped beam"]),
        (LOADS, "toaster", []),
        (SEEN, "tial lamp", ["tail lamp"]),
        (SEEN, "braklamp", ["brake lamp"]),
        (SEEN, "zebra lamp", []),
        (SEEN, "front brake switch", []),
        (LOADS, "", []),
        (PORTS, "OUT1", ["out 1"]),
        (PORTS, "out_01", ["out 1"]),
        (PORTS, "11", ["out 11"]),
        (PORTS, "out 12", []),
        (PORTS, "out", []),
    ],
)
def test_what_a_name_means(names: KnownNames, said: str, meant: list[str]) -> None:
    """One clear reading, several, or none; a number is never taken for another and never made up."""
    assert list(names.meant(said).names) == meant
    assert names.meant(said).clear == (meant[0] if len(meant) == 1 else None)


@given(st.lists(st.text(max_size=12), max_size=8))
def test_any_lines_can_be_looked_through(lines: list[str]) -> None:
    """No text is too odd: each table that is found is as wide as its header throughout."""
    for one in markdown_tables(lines):
        assert {len(row) for row in one.rows} <= {len(one.header)}


# --- plain lines


def said(lines: Sequence[str]) -> list[tuple[str, list[str]]]:
    return [(one.port.text, [thing.text for thing in one.things]) for one in plain_post(lines, PORTS).said]


@pytest.mark.parametrize(
    ("line", "port", "things"),
    [
        ("out 1: dipped beam, horn", "out 1", ["dipped beam", "horn"]),
        ("- out 1 = dipped beam and horn", "out 1", ["dipped beam", "horn"]),
        ("* Out2 -> dipped", "Out2", ["dipped"]),
        ("horn -> out 3", "out 3", ["horn"]),
        ("out 3 - horn + dash  # as wired", "out 3", ["horn", "dash"]),
        ("out 4: free", "out 4", []),
        ("out 4:", "out 4", []),
        ("12: horn", "12", ["horn"]),
    ],
)
def test_a_line(line: str, port: str, things: list[str]) -> None:
    """Bullets, other signs, the other way round, comments, ports that are free; ports that are unknown, too."""
    assert said([line]) == [(port, things)]


def test_a_line_that_says_nothing_is_told() -> None:
    """With its line and what would be right; the others are read."""
    post = plain_post(["It is all wired up now.", "", "place: under seat", "out 1: horn"], PORTS)
    assert [(flaw.line, flaw.column) for flaw in post.flaws] == [(1, 1)]
    assert post.place is not None
    assert (post.place.text, post.place.line, post.place.column) == ("under seat", 3, 8)
    assert len(post.said) == 1
