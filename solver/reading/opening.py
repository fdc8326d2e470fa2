"""Opening a file: its bytes become text, or it is refused."""

import re
from importlib.resources.abc import Traversable
from pathlib import Path

from solver.reading.problems import BadFile, Flaw, refuse

MOST_BYTES = 4_000_000
"""No bike and no unit needs more; a disc image named by mistake is not read to its end."""
UNPRINTABLE = "[^\t\n\r\x20-\x7e%s]"
BEYOND_ASCII = "\x85\xa0-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff"
PLAIN_TEXT = "save it as plain text in UTF-8"


def file_text(path: Path | Traversable) -> str:
    """Return the text of the file at ``path``; raise BadFile if it can't be opened or is no text."""
    try:
        with path.open("rb") as file:
            data: bytes = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        raise _refuse(path, _cannot_open(error), "give the path of a file that can be read") from error
    if len(data) > MOST_BYTES:
        raise _refuse(path, "the file is larger than 4 MB", "give a bike, a unit or a plan as plain text")
    return decode(data, str(path))


def decode(data: bytes, name: str) -> str:
    """Return ``data`` as text; raise BadFile if it is no UTF-8."""
    if b"\x00" in data:
        raise refuse(name, [Flaw(*_position(data, data.index(b"\x00")), "this is a binary file", PLAIN_TEXT)])
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        flaw = Flaw(*_position(data, error.start), "this is not UTF-8", PLAIN_TEXT)
        raise refuse(name, [flaw]) from error


def unprintable(text: str) -> Flaw | None:
    """Tell the first control character in ``text``, if there is one."""
    # The whole of Unicode takes a hundredth of a second to compile, and few files need it.
    found = re.search(UNPRINTABLE % ("" if text.isascii() else BEYOND_ASCII), text)
    if found is None:
        return None
    code = f"the character U+{ord(found[0]):04X} can't be printed"
    before = text[: found.start()]
    return Flaw(before.count("\n") + 1, found.start() - before.rfind("\n"), code, "take it out")


def _position(data: bytes, at: int) -> tuple[int, int]:
    before = data[:at]
    in_line = before[before.rfind(b"\n") + 1 :]
    return before.count(b"\n") + 1, len(in_line.decode("utf-8", "replace")) + 1


def _cannot_open(error: OSError | ValueError) -> str:
    match error:
        case FileNotFoundError():
            return "there is no such file"
        case IsADirectoryError():
            return "this is a folder"
        case PermissionError():
            return "this file may not be read"
        case _:
            return "this file can't be read"


def _refuse(path: Path | Traversable, what: str, right: str) -> BadFile:
    return refuse(str(path), [Flaw(1, 1, what, right)])
