"""Rows kept in files, so that a comparison goes on where it was interrupted.

The table that people open is a file of CSV (``row_table``). What is needed to go on lies in a second file beside it: a
line of JSON a row, with the sum of what the row was made from. A row goes there first, then into the table; last both
are put in order, the table first. So the table never has a row that the file beside it lacks, unless somebody wrote it
there: then it is left alone. A new file is complete before it takes the place of the old one.
"""

import os
from collections.abc import Iterable, Sequence
from errno import ENOSPC
from hashlib import sha256
from io import FileIO
from pathlib import Path

from pydantic import TypeAdapter, ValidationError

from portloom.base.cells import MARK
from portloom.base.letters import in_json
from portloom.base.versions import version_of
from portloom.comparing.row import KeptRow
from portloom.comparing.row_table import HEADER, as_kept, line_of
from portloom.disk.unbroken import writing_into
from portloom.disk.whole_file import replace
from portloom.inputs.problems import BadFile, Problem

MADE_BY = ("portloom", "ortools")
"""Another version of either may give another plan."""


def made_from(bike: str, units: Sequence[str], *, headroom: bool) -> str:
    """Take the texts of all files, and whether headroom was asked for; give the sum as 64 hexadecimal digits.

    Source: SHA-256, FIPS 180-4.
    """
    asked = "with headroom" if headroom else "without headroom"
    parts = (bike, *units, asked, *(f"{name} {version_of(name)}" for name in MADE_BY))
    return sha256("".join(f"{len(part)}:{part}" for part in parts).encode()).hexdigest()


START = (MARK + HEADER).encode()
"""The first line of the table."""
RESUME = ".resume"
"""Ends the name of the file that lies beside the table."""
TITLE = '"rows of portloom compare, to go on from"\n'
"""The first line of that file."""
WHOLE = TypeAdapter(KeptRow)
NOT_OURS = "this is not a file of rows that portloom wrote"
LEFT_ALONE = "nothing is written over it: give another file, or take this one away"
ANOTHER = "give a file that does not exist yet, or one that 'portloom compare --csv' began"


def beside(table: Path) -> Path:
    """Return the file with what is needed to go on."""
    return table.with_name(f"{table.name}{RESUME}")


def written(entry: KeptRow) -> str:
    """Return a row as one line of JSON."""
    return in_json(WHOLE.dump_json(entry).decode()) + "\n"


class KeptRows:
    """The rows in a file and the one beside it, and the way to add more."""

    def __init__(self, path: Path) -> None:
        """Open or begin both; raise BadFile where either holds anything else, and OSError where it can't be used."""
        self.path, self.beside = path, beside(path)
        held, kept = _bytes(path), _bytes(self.beside)
        whole = kept[: kept.rfind(b"\n") + 1]
        entries = _entries(self.beside, whole)
        _check_table(path, held, entries)
        if not whole and not TITLE.encode().startswith(kept):
            raise _refused(self.beside, 1, NOT_OURS, ANOTHER)
        self._known = {entry.made_from: entry for entry in entries if entry.final}
        self.cut_short = whole != kept
        """Whether the last line of the file beside it was not complete, and is taken out."""
        if not whole or self.cut_short:
            replace(self.beside, whole or TITLE.encode())
        if held.count(b"\n") < 1 + len(entries) or not held.endswith(b"\n"):
            replace(path, _table(entries))
        for file in (path, self.beside):
            with file.open("ab"):  # can more be added?
                pass

    def known(self, made_from: str) -> KeptRow | None:
        """Return a row that was made from just this, if there is one that no longer time would change."""
        return self._known.get(made_from)

    def add(self, entry: KeptRow) -> None:
        """Add a row to both: the whole line at once, and onto the disk."""
        for path, line in ((self.beside, written(entry)), (self.path, line_of(entry))):
            with writing_into(path.resolve().parent), path.open("ab", buffering=0) as file:
                before = file.tell()
                try:
                    _add(file, line.encode())
                except OSError:
                    file.truncate(before)
                    raise

    def rewrite(self, entries: Iterable[KeptRow]) -> None:
        """Put these rows last, in their order, in the place of those about the same files; others stay before them."""
        rows = list(entries)
        about = {entry.files for entry in rows}
        others = [entry for entry in _entries(self.beside, _bytes(self.beside)) if entry.files not in about]
        every = (*others, *rows)
        for path, new in ((self.path, _table(every)), (self.beside, (TITLE + "".join(map(written, every))).encode())):
            if new != _bytes(path):
                replace(path, new)


def _table(entries: Iterable[KeptRow]) -> bytes:
    return START + "".join(map(line_of, entries)).encode()


def _check_table(path: Path, held: bytes, entries: Sequence[KeptRow]) -> None:
    """Raise BadFile where the table has anything that is not from the file beside it; its last line may be torn."""
    if START.startswith(held):
        return
    if not held.startswith(START):
        raise _refused(path, 1, NOT_OURS, ANOTHER)
    lines = [line_of(entry) for entry in entries]
    ours = set(map(as_kept, lines))
    *whole, torn = held.removeprefix(START).split(b"\n")
    for number, line in enumerate(whole, 2):
        if as_kept(line.decode(errors="replace")) not in ours:
            raise _refused(path, number, f"this row is not one of {beside(path).name} beside it", LEFT_ALONE)
    if not any(line.encode().startswith(torn) for line in lines):
        raise _refused(path, 2 + len(whole), "this is not the beginning of a row that portloom wrote", LEFT_ALONE)


def _add(file: FileIO, line: bytes) -> None:
    if file.write(line) < len(line):
        raise OSError(ENOSPC, os.strerror(ENOSPC))
    os.fsync(file.fileno())


def _bytes(path: Path) -> bytes:
    if path.exists() and not path.is_file():
        raise _refused(path, 1, "this is not a file", ANOTHER)
    try:
        return path.read_bytes()
    except FileNotFoundError:
        return b""


def _entries(path: Path, whole: bytes) -> list[KeptRow]:
    """Return the rows in whole lines."""
    title, *lines = whole.split(b"\n")[:-1] or [TITLE.rstrip("\n").encode()]
    if title + b"\n" != TITLE.encode():
        raise _refused(path, 1, NOT_OURS, ANOTHER)
    return [_entry(path, number, line) for number, line in enumerate(lines, 2)]


def _entry(path: Path, number: int, line: bytes) -> KeptRow:
    try:
        return WHOLE.validate_json(line)
    except ValidationError as error:
        what = "this line is not what was written there"
        raise _refused(path, number, what, "take the line out: its row is made again") from error


def _refused(path: Path, line: int, what: str, right: str) -> BadFile:
    return BadFile([Problem(str(path), line, 1, what, right)])
