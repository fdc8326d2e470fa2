"""Editing: a file's text changes where it should and nowhere else, and is read back as what it should say.

What a text says is checked by ruamel.yaml's round-trip reader, which parted from PyYAML long ago and reads YAML 1.2,
and by both of PyYAML's parsers. What edits make of a tree is worked out once more, one edit after another.
"""

from pathlib import Path
from typing import cast

import pytest

from edit_twin import Steps, applied, check_read, read
from hostile_words import BARE_IN_LINES, BARE_WORDS, IN_QUOTES, TAKEN
from portloom.inputs.editing.editing import Append, CannotEdit, Edit, Put, Remove, edited
from unasked import bike_and_source

BIKES = sorted((Path(__file__).parent.parent / "examples").glob("*.yaml"))

# Examples, as they are shipped: the lines that may change are found by the reader's own positions.


def line_of(text: str, path: Steps) -> int:
    return bike_and_source(text, "bike").source.at(path)[0] - 1


def with_last_key(line: str, words: str) -> str:
    """Return the line of a flow mapping with ``words`` at its end, before any comment."""
    head, brace, comment = line.rpartition("}")
    return f"{head}, {words}{brace}{comment}"


def in_line(line: str, words: str) -> str:
    """Return another entry of the list of which ``line`` is one, as far in."""
    return f"{line[: line.index('-')]}- {{{words}}}"


@pytest.mark.parametrize("path", BIKES, ids=lambda path: path.stem)
def test_edits_of_examples(path: Path) -> None:
    """In every example one line changes, comes or goes; no other does."""
    text = path.read_text(encoding="utf-8")
    lines = text.splitlines()
    name = line_of(text, ("bike",))
    fourth, third, sixth = (line_of(text, ("loads", at)) for at in (3, 2, 5))
    leg = line_of(text, ("frame", "legs", 2))
    last_place = line_of(text, ("places", len(read(text)["places"]) - 1))
    place = {"name": "behind the tank", "front": "tank", "rear": "tank"}
    expected: list[tuple[Edit, int, list[str]]] = [
        (Put(("loads", 3, "fed"), "relay"), fourth, [with_last_key(lines[fourth], "fed: relay")]),
        (Put(("frame", "legs", 2, "opening"), "28 mm"), leg, [with_last_key(lines[leg], "opening: 28 mm")]),
        (Put(("loads", 2, "avoid"), ["a - b"]), third, [with_last_key(lines[third], "avoid: [a - b]")]),
        (Put(("bike",), "Renamed"), name, ["bike: Renamed"]),
        (Append(("places",), place), last_place, [lines[last_place], in_line(lines[last_place], words(place))]),
        (Remove(("loads", 5)), sixth, []),
    ]
    for edit, at, instead in expected:
        assert edited(text, [edit]).split("\n") == [*lines[:at], *instead, *lines[at + 1 :], ""]
    one_by_one = [edit for edit, _, _ in expected]
    assert edited(text, one_by_one).split("\n") == all_at_once(lines, expected)


def words(mapping: dict[str, str]) -> str:
    return ", ".join(f"{key}: {value}" for key, value in mapping.items())


def all_at_once(lines: list[str], expected: list[tuple[Edit, int, list[str]]]) -> list[str]:
    instead = {at: new for _, at, new in expected}
    return [line for at, old in enumerate(lines) for line in instead.get(at, [old])] + [""]


# A small file with comments everywhere, before and after each kind of edit.

BIKE = """\
# head

bike: 'single'   # quoted
"stand" : none   # quoted key
supply:          # what feeds it
  # above
  running: 14 V  # when it runs

  battery: {capacity: 10 Ah, at: tray}   # in braces
frame:
  legs:
    # first
    - {between: [tray, neck], length: 1 m}  # to the neck
    - {between: [tray, tail],     # to the tail
       length: 2 m,  # long
       # and hot
       ambient: 60 C}
  earth: tray    # one word
  connectors:    # several
  - tray   # one
  - neck   # two
  # end of connectors
loads:
  - name: lamp   # a lamp
    # of what power
    power: 5 W
    when: [
      day,    # by day
      night,  # by night
    ]
  - name: horn
    note: |
      loud  # no comment
    when: [ horn ]
later: []        # nothing
"""

CONNECTORS = "# several\n  - tray   # one\n  - neck   # two\n"
HOT = "# long\n       # and hot\n       "
GOLDEN: list[tuple[Edit, str, str]] = [
    (Put(("bike",), "twin"), "bike: 'single'   #", "bike: twin   #"),
    (Put(("stand",), "side"), '"stand" : none   #', '"stand" : side   #'),
    (Put(("supply", "running"), "12 V"), "running: 14 V  #", "running: 12 V  #"),
    (Put(("supply", "resting"), "12 V"), "# in braces\n", "# in braces\n  resting: 12 V\n"),
    (Put(("supply", "battery", "at"), "tail"), "at: tray}   #", "at: tail}   #"),
    (Put(("supply", "battery", "drop"), "1, 2"), "at: tray}   #", 'at: tray, drop: "1, 2"}   #'),
    (Put(("frame", "legs", 1, "opening"), "9 mm"), "ambient: 60 C}", "ambient: 60 C,\n       opening: 9 mm}"),
    (Put(("loads", 0, "fed"), "fuse"), "    ]\n", "    ]\n    fed: fuse\n"),
    (Put(("loads", 0, "when"), "day"), "[\n      day,    # by day\n      night,  # by night\n    ]\n", "day\n"),
    (Put(("loads", 1, "note"), "quiet: # x"), "|\n      loud  # no comment\n", '"quiet: # x"\n'),
    (Put(("loads", 1, "fed"), "fuse"), "[ horn ]\n", "[ horn ]\n    fed: fuse\n"),
    (Put(("frame", "connectors"), "tail"), f"connectors:    {CONNECTORS}", "connectors: tail    # several\n"),
    (Put(("frame", "connectors"), ["a", "b, c"]), "  - tray   # one\n  - neck   # two\n", "  - a\n  - b, c\n"),
    (Put(("clutch",), "lever"), "# nothing\n", "# nothing\nclutch: lever\n"),
    (Put(("reels",), ["1 mm2", "2 mm2"]), "# nothing\n", "# nothing\nreels: [1 mm2, 2 mm2]\n"),
    (Put(("boxes",), [{"n": "a"}, {"n": "b"}]), "# nothing\n", "# nothing\nboxes:\n  - {n: a}\n  - {n: b}\n"),
    (Append(("frame", "legs"), {"between": ["a", "b"]}), "60 C}\n", "60 C}\n    - {between: [a, b]}\n"),
    (Append(("frame", "legs", 0, "between"), "tail"), "neck], length: 1 m}", "neck, tail], length: 1 m}"),
    (Append(("frame", "earth"), "neck"), "earth: tray    #", "earth: [tray, neck]    #"),
    (Append(("frame", "connectors"), "tail"), "# two\n", "# two\n  - tail\n"),
    (Append(("loads",), {"name": "fan", "when": ["day"]}), "[ horn ]\n", "[ horn ]\n  - name: fan\n    when: [day]\n"),
    (Append(("loads", 0, "when"), "horn"), "# by night\n", "# by night\n      horn,\n"),
    (Append(("loads", 1, "when"), "day"), "[ horn ]", "[ horn, day ]"),
    (Append(("loads", 1, "avoid"), "a - b"), "[ horn ]\n", "[ horn ]\n    avoid: [a - b]\n"),
    (Append(("later",), {"name": "grips"}), "later: []  ", "later: [{name: grips}]  "),
    (Append(("boxes",), {"name": "a"}), "# nothing\n", "# nothing\nboxes:\n  - {name: a}\n"),
    (Remove(("stand",)), '"stand" : none   # quoted key\n', ""),
    (Remove(("supply",)), BIKE[BIKE.index("supply") : BIKE.index("frame")], ""),
    (Remove(("supply", "running")), "  running: 14 V  # when it runs\n", ""),
    (Remove(("supply", "battery", "capacity")), "{capacity: 10 Ah, at", "{at"),
    (Remove(("supply", "battery", "at")), ", at: tray}", "}"),
    (Remove(("frame", "legs", 0)), "    - {between: [tray, neck], length: 1 m}  # to the neck\n", ""),
    (Remove(("frame", "legs", 1, "between")), "{between: [tray, tail],     # to", "{     # to"),
    (Remove(("frame", "legs", 1, "length")), "       length: 2 m,  # long\n", ""),
    (Remove(("frame", "legs", 1, "ambient")), f"2 m,  {HOT}ambient: 60 C}}", f"2 m  {HOT}}}"),
    (Remove(("frame", "connectors", 0)), "  - tray   # one\n", ""),
    (Remove(("frame", "earth", 0)), "earth: tray  ", "earth: []  "),
    (Remove(("loads", 0, "name")), "  - name: lamp   # a lamp\n", "  -\n"),
    (Remove(("loads", 0, "when", 0)), "      day,    # by day\n", ""),
    (Remove(("loads", 0, "when", 1)), "      night,  # by night\n", ""),
    (Remove(("loads", 1, "name")), "- name: horn\n    note", "- note"),
    (Remove(("loads", 1, "note")), "    note: |\n      loud  # no comment\n", ""),
    (Remove(("loads", 1, "when", 0)), "[ horn ]", "[]"),
]


@pytest.mark.parametrize(("edit", "before", "after"), GOLDEN, ids=lambda value: str(value)[:60])
@pytest.mark.parametrize("newline", ["\n", "\r\n"], ids=["LF", "CRLF"])
def test_small_file(edit: Edit, before: str, after: str, newline: str) -> None:
    """Each kind of edit changes one piece of the text; its line ends and its byte order mark stay."""
    assert BIKE.count(before) == 1
    expected = BIKE.replace(before, after)
    for start in ("", "\ufeff"):
        text = edited(start + BIKE.replace("\n", newline), [edit])
        assert text == start + expected.replace("\n", newline)
    check_read(expected, applied(read(BIKE), [edit]))


TOGETHER: list[tuple[str, list[Edit], str]] = [
    ("a: [b, c]\n", [Remove(("a", 0)), Remove(("a", 1)), Append(("a",), "d")], "a: [d]\n"),
    ("a: [b, c]\n", [Remove(("a", 1)), Append(("a",), "d"), Append(("a",), "e")], "a: [b, d, e]\n"),
    ("a: [b, c, d, e]\n", [Remove(("a", 0)), Remove(("a", 2)), Remove(("a", 3))], "a: [c]\n"),
    ("a:\n  - b # b\n  - c", [Remove(("a", 0)), Remove(("a", 1)), Append(("a",), "d")], "a:\n  - d"),
    ("a:\n  - b # b\n  # c\n  - c", [Remove(("a", 0)), Remove(("a", 1))], "a: []\n  # c"),
    ("a:\n- b\n- c\nd: e", [Remove(("a", 1)), Append(("a",), "f")], "a:\n- b\n- f\nd: e"),
    ("a:\n  - b", [Append(("a",), "c"), Put(("d",), "e")], "a:\n  - b\n  - c\nd: e"),
    ("a: b", [Remove(("a",))], "{}"),
    ("a: b # c\nd: e", [Remove(("a",)), Put(("f",), "g")], "d: e\nf: g"),
    ("{a: b}", [Put(("c",), ["d"]), Put(("e",), "f")], "{a: b, c: [d], e: f}"),
    ("a: {}", [Put(("a", "b"), "c")], "a: {b: c}"),
    ("a: [  ] # d", [Append(("a",), "c")], "a: [c] # d"),
    ("a: [ # d\n ]", [Append(("a",), "c")], "a: [c # d\n ]"),
    ("a: [b, ]", [Append(("a",), "c")], "a: [b, c, ]"),
    ("a: [\n  b, # b\n  c  # c\n]", [Append(("a",), "d")], "a: [\n  b, # b\n  c,  # c\n  d\n]"),
    ("a: [\n  b,\n  c]", [Append(("a",), "d"), Remove(("a", 0))], "a: [\n  c,\n  d]"),
    ("a:\nb:  # c", [Put(("a",), "d"), Append(("b",), "e")], "a: d\nb: [e]  # c"),
    ("a: ~ # b", [Append(("a",), "c")], "a: [c] # b"),
    ("a: {b, c: }", [Put(("a", "b"), "d"), Put(("a", "c"), "e")], "a: {b: d, c: e }"),
    ("a: b, c", [Append(("a",), "d")], 'a: ["b, c", d]'),
    ("a: 'b'", [Append(("a",), "d")], "a: ['b', d]"),
    ("a: |\n  b\n  c\nd: e", [Append(("a",), "f")], "a: [b c, f]\nd: e"),
    ("a: b", [Put(("a", 0), "c")], "a: c"),
    ("a: {b: c}", [Put(("a", 0, "b"), "d")], "a: {b: d}"),
    ("a: &x b\nc: d", [Put(("a",), "e")], "a: &x e\nc: d"),
    ("a: &x\n  - b\nc: d", [Append(("a",), "e")], "a: &x\n  - b\n  - e\nc: d"),
    ("a: &x b\nc: *x", [Put(("c",), "e")], "a: &x b\nc: e"),
    ("a: b", [Put(("a",), " spaces left out ")], "a: spaces left out"),
    ("? a\n: b", [Put(("c",), "d")], "? a\n: b\nc: d"),
    (
        "a:\n  - b: c\n    # d\n    e: f\n    g: h",
        [Remove(("a", 0, "b")), Remove(("a", 0, "e"))],
        "a:\n  -\n    # d\n    g: h",
    ),
    ('{"a":b}', [Put(("a",), "c")], '{"a": c}'),
    ("a:\n  -   b\n", [Append(("a",), "c")], "a:\n  -   b\n  -   c\n"),
    ("a:\n    - {b: c}\n", [Append(("d",), {"e": "f"})], "a:\n    - {b: c}\nd:\n    - {e: f}\n"),
]


@pytest.mark.parametrize(("text", "edits", "after"), TOGETHER)
def test_together(text: str, edits: list[Edit], after: str) -> None:
    """Several edits are made together; every path means the text as it was before."""
    assert edited(text, edits) == after
    check_read(after, applied(read(text), edits))


REFUSED: list[tuple[str, list[Edit], str]] = [
    ("a: b", [Put(("c", "d"), "e")], "there is no 'c'"),
    ("a: [b]", [Remove(("a", 1))], "there is no entry 2 of 'a'"),
    ("a: [b]", [Remove(("a", -1))], "there is no entry 0 of 'a'"),
    ("a: b", [Remove(("c",))], "there is no 'c'"),
    ("a: b", [Put(("a", "c"), "d")], "there is no 'c' of 'a'"),
    ("a: {b: c}", [Append(("a",), "d")], "'a' is not a list that can be added to"),
    ("a: b", [Put((), "c")], "the whole file can't be changed at once"),
    ("a: b", [Append((), "c")], "the whole file can't be changed at once"),
    ("a: b", [Put(("a",), "c"), Put(("a",), "d")], "'a' is changed twice"),
    ("a: b", [Put(("c",), "d"), Append(("c",), "e")], "'c' is changed twice"),
    ("a: b", [Put(("a",), "d"), Append(("a",), "e")], "'a' is changed twice"),
    ("a: b", [Put(("a",), "d"), Remove(("a", 0))], "entry 1 of 'a' is changed twice"),
    ("a: {b: c}", [Put(("a", "b"), "d"), Remove(("a",))], "'b' of 'a' is changed twice: alone, and with what it is in"),
    ("a: [&x b, *x]", [Put(("a", 0), "c")], "entry 1 of 'a' can't be changed, as '\\*x' repeats it elsewhere"),
    ("a: &x {b: c}\nd: *x", [Put(("a", "e"), "f")], "'e' of 'a' can't be changed, as '\\*x' repeats it elsewhere"),
    ("a: [&x b]\nc: *x", [Remove(("a",))], "'a' can't be changed, as '\\*x' repeats it elsewhere"),
    ("a: &x {b: c}\nd: *x", [Put(("d", "b"), "f")], "'d' repeats what is marked elsewhere as '&x'"),
    ("a: &x [b]\nd: *x", [Append(("d",), "f")], "'d' is not a list that can be added to"),
    ("a: [b: c]", [Put(("a", 0, "d"), "e")], "'d' of entry 1 of 'a' is in a pair without braces"),
    ("a: b\na: c", [Remove(("a",))], "would not be read as it should be"),
    ("a: {length: 0,35 m}", [Put(("a", "length"), "1 m")], "would not be read as it should be"),
    ("a: b", [Put(("a",), "\ud800")], "would not be read as it should be"),
    ("a: b", [Put(("a" * 2000,), "c")], "would not be read as it should be"),
    ("a: [b", [Put(("a",), "c")], "can't be read as it is"),
    ("", [Put(("a",), "c")], "can't be read as it is"),
]


@pytest.mark.parametrize(("text", "edits", "why"), REFUSED)
def test_refused(text: str, edits: list[Edit], why: str) -> None:
    """What can't be changed is said in a sentence."""
    with pytest.raises(CannotEdit, match=why):
        edited(text, edits)


def test_no_number() -> None:
    """A value is text, never a number."""
    with pytest.raises(TypeError, match="5 is neither text"):
        edited("a: b", [Put(("a",), cast("str", 5))])


@pytest.mark.parametrize("word", TAKEN, ids=ascii)
def test_hostile_words(word: str) -> None:
    """A word of any signs is read back as it is, wherever it stands."""
    text = "one: b # c\ntwo: {e: f}\nall:\n- h\n- {e: f}\n"
    edits: list[Edit] = [Put(("one",), word), Put(("two", "e"), word), Put(("two", word), [word]), Put((word,), word)]
    edits += [
        Append(("all",), word),
        Append(("all",), {word: word}),
        Put(("all", 1, "h"), word),
        Put(("all", 0), [word]),
    ]
    check_read(edited(text, edits), applied(read(text), edits))


@pytest.mark.parametrize("word", [*BARE_IN_LINES, *IN_QUOTES], ids=ascii)
def test_quotes(word: str) -> None:
    """A word stands in quotes only if it would be misread without."""
    bare = (f"a: {word}", f"b: [{word}]")
    lines = edited("a: x\nb: [x]", [Put(("a",), word), Put(("b", 0), word)]).split("\n")
    assert [line == without for line, without in zip(lines, bare, strict=True)] == [
        word in BARE_IN_LINES,
        word in BARE_WORDS,
    ]
