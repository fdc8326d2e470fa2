"""From a file's bytes to a tree of words, or why it can't be read."""

import codecs
import re
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import NamedTuple

import yaml
from yaml.error import Mark, MarkedYAMLError, YAMLError

from portloom.base.letters import first_hidden, told
from portloom.inputs.building import Builder, Deep, place
from portloom.inputs.problems import BadFile, Flaw, about, not_there, refuse
from portloom.inputs.tree import Broken, Keyed, Node, Word

MOST_BYTES = 4_000_000
"""No bike and no unit needs more; a disc image named by mistake is not read to its end."""
ENDS = re.compile("\r\n?|\x85")
TAKE_OUT = "take it out"
PLAIN_TEXT = "save it as plain text in UTF-8"
UTF_16 = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
"""The marks before UTF-16."""


def file_text(path: Path | Traversable) -> str:
    """Return the text of the file at ``path``; raise BadFile if it can't be opened or is no text."""
    try:
        with path.open("rb") as file:
            data: bytes = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        right = "give the path of a file that can be read"
        raise not_there(str(path), _cannot_open(error, path), right) from error
    if len(data) > MOST_BYTES:
        right = "give a bike, a unit or a plan as plain text"
        raise refuse(str(path), [Flaw(1, 1, "the file is larger than 4 MB", right)])
    return decode(data, str(path))


def decode(data: bytes, name: str) -> str:
    """Return ``data`` as text: UTF-8, or UTF-16 that begins with its mark; raise BadFile if it is neither."""
    if data.startswith(UTF_16) and not data.startswith(codecs.BOM_UTF32_LE):
        return _from_utf_16(data, name)
    if data.startswith((codecs.BOM_UTF32_LE, codecs.BOM_UTF32_BE)):
        raise refuse(name, [Flaw(1, 1, "this is UTF-32", PLAIN_TEXT)])
    if _looks_like_utf_16(data):
        raise refuse(name, [Flaw(1, 1, "this looks like UTF-16 without its mark", PLAIN_TEXT)])
    if b"\x00" in data:
        raise refuse(name, [Flaw(*_position(data, data.index(b"\x00")), "this is a binary file", PLAIN_TEXT)])
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        flaw = Flaw(*_position(data, error.start), "this is not UTF-8", PLAIN_TEXT)
        raise refuse(name, [flaw]) from error


def _from_utf_16(data: bytes, name: str) -> str:
    """Return text as some editors save it, two bytes a letter; the mark before it says which comes first."""
    try:
        text = data.decode("utf-16")
    except UnicodeDecodeError as error:
        line = data[: error.start].decode("utf-16", "replace").count("\n") + 1
        raise refuse(name, [Flaw(line, 1, "this UTF-16 is broken", PLAIN_TEXT)]) from error
    if "\x00" in text:
        raise refuse(name, [Flaw(1, 1, "this is a binary file", PLAIN_TEXT)])
    return text


def _looks_like_utf_16(data: bytes) -> bool:
    """Tell whether each of the first letters has a byte of nothing before it, or each after it."""
    start = data[:64]
    halves = (start[::2], start[1::2])
    return len(start) >= 4 and any(not any(empty) and all(full) for empty, full in (halves, reversed(halves)))


def unprintable(text: str) -> Flaw | None:
    """Tell the first letter in ``text`` that nobody sees, if there is one; no end of a line is one."""
    text = ENDS.sub("\n", text)
    at = first_hidden(text)
    if at is None:
        return None
    return Flaw(text.count("\n", 0, at) + 1, at - text.rfind("\n", 0, at), f"{told(text[at])} can't be seen", TAKE_OUT)


def _position(data: bytes, at: int) -> tuple[int, int]:
    before = data[:at]
    in_line = before[before.rfind(b"\n") + 1 :]
    return before.count(b"\n") + 1, len(in_line.decode("utf-8", "replace")) + 1


def _cannot_open(error: OSError | ValueError, path: Path | Traversable) -> str:
    match error:
        case FileNotFoundError():
            return f"there is no such file{looked_in(Path(str(path)))}"
        case IsADirectoryError():
            return "this is a folder"
        case PermissionError():
            return "this file can't be opened for reading"
        case _:
            return "this file can't be read"


def looked_in(path: Path) -> str:
    """Say where a file was looked for, if its path does not say it itself; nothing where that can't be told."""
    try:
        return "" if path.is_absolute() else f" in {(Path.cwd() / path).parent}"
    except (OSError, ValueError):
        return ""


TAB_INDENT = re.compile(r"^ *\t[ \t]*(?=[^ \t\r\n#])", re.MULTILINE)
OPENERS = (("flow mapping", "{", "}"), ("flow sequence", "[", "]"))
NO_YAML = "this can't be read"
LAYOUT = "look at the indentation, colons, commas and quotes here and in the line above"


def tabs(text: str) -> list[Flaw]:
    """Tell each line of ``text`` that is indented with a tab."""
    return [
        Flaw(
            text.count("\n", 0, found.start()) + 1,
            found[0].index("\t") + 1,
            "this line is indented with a tab",
            "use spaces",
        )
        for found in TAB_INDENT.finditer(text)
    ]


def explain(error: YAMLError, text: str) -> Flaw:
    """Say what is wrong where the parser stopped."""
    if not isinstance(error, MarkedYAMLError) or error.problem_mark is None:
        return Flaw(1, 1, NO_YAML, LAYOUT)
    problem, context = str(error.problem), str(error.context)
    return _in_brackets(error, context) or _in_a_word(error, problem, context, text) or _layout(error, problem)


def _flaw(mark: Mark | None, what: str, right: str) -> Flaw:
    return Flaw(mark.line + 1, mark.column + 1, what, right) if mark else Flaw(1, 1, what, right)


def _in_brackets(error: MarkedYAMLError, context: str) -> Flaw | None:
    for name, opener, closer in OPENERS:
        if name in context:
            what = f"the '{opener}' opened here is never closed"
            return _flaw(error.context_mark, what, f"close it with '{closer}', and put a comma between its entries")
    return None


def _in_a_word(error: MarkedYAMLError, problem: str, context: str, text: str) -> Flaw | None:
    if "unknown escape" in problem:
        return _flaw(error.context_mark, "an unknown '\\' is in these quotes", "write \\\\, or use single quotes")
    if "quoted scalar" in context or "quoted scalar" in problem:
        return _flaw(error.context_mark, "a quote opened here is never closed", "close it")
    if "cannot start any token" in problem:
        sign = _character(text, error.problem_mark)
        if sign == "\t":
            return _flaw(error.problem_mark, "there is a tab here", "use spaces")
        return _flaw(error.problem_mark, f"a word can't start with '{sign}'", "put the word in quotes")
    if "alias" in context or "anchor" in context:
        return _flaw(error.context_mark, "a word can't start with '*' or '&'", "put the word in quotes")
    return None


def _layout(error: MarkedYAMLError, problem: str) -> Flaw:
    if problem.startswith("mapping values are not allowed"):
        return _flaw(error.problem_mark, "a ':' is not allowed here", f"put the words in quotes, or {LAYOUT}")
    if "expected ':'" in problem:
        return _flaw(error.context_mark, "a key here has no ':'", "write KEY: VALUE")
    if "expected '-' indicator" in problem:
        return _flaw(error.problem_mark, "a key comes where a list goes on", "start the entry with '-', or indent it")
    return _flaw(error.problem_mark, NO_YAML, LAYOUT)


def _character(text: str, mark: Mark | None) -> str:
    lines = re.split("\r\n|[\r\n\x85\u2028\u2029]", text)
    if mark is None or mark.line >= len(lines):
        return ""
    return lines[mark.line][mark.column : mark.column + 1]


LOADER = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
"""The quick parser where PyYAML was built with it; both give the same events."""
TOO_DEEP = "the nesting is too deep"


class Parsed(NamedTuple):
    """The mapping that a file holds, and the keys in it that stand twice."""

    root: Keyed
    flaws: tuple[Flaw, ...]


def parse(text: str, name: str, kind: str) -> Parsed:
    """Return the tree of ``text``, which should hold one ``kind``, 'bike' or 'unit'.

    Raise BadFile, with ``name`` as its file, if it is not one YAML document that holds a mapping.
    """
    text = text.removeprefix("\ufeff")
    early = unprintable(text)
    if early:
        raise refuse(name, about("files", [early]))
    builder = Builder()
    root = _document(builder, text, name)
    if builder.fatal:
        raise refuse(name, about("files", builder.fatal))
    if not isinstance(root, Keyed):
        raise _no_mapping(root, name, kind)
    return Parsed(root, tuple(builder.flaws))


def _document(builder: Builder, text: str, name: str) -> Node:
    try:
        return builder.document(yaml.parse(text, Loader=LOADER))
    except yaml.YAMLError as error:
        raise refuse(name, about("files", tabs(text) or [explain(error, text)])) from error
    except Deep as deep:
        raise refuse(name, [Flaw(*place(deep.event), TOO_DEEP, "no key needs so many levels")]) from deep


def _no_mapping(root: Node, name: str, kind: str) -> BadFile:
    start = f"start from what 'portloom new {kind}' writes"
    if isinstance(root, Broken):
        return refuse(name, about("files", [Flaw(1, 1, "the file is empty", start)]))
    what = "there is a word" if isinstance(root, Word) else "there is a list"
    return refuse(name, about("files", [Flaw.at(root, f"{what} where the keys of a {kind} should be", start)]))
