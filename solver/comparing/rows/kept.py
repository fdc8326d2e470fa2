"""The file of rows: each is added in one go when it is done; a line that was torn off is mended.

The file is only ever added to, but for a last tidying: rows that were done again take the place of the old, and all
come in the order of the call. The new file is complete before it takes the place of the old one.
"""

import os
from collections.abc import Iterable
from errno import ENOSPC
from pathlib import Path
from tempfile import NamedTemporaryFile

from solver.comparing.rows.entry import HEADER, Entry, Unreadable, read, written
from solver.reading.problems import BadFile, Problem

NOT_OURS = "this is no file of rows that portloom wrote"
ANOTHER = "give a file that is not there yet, or one that 'portloom compare --csv' began"


class KeptRows:
    """The rows in a file, and the way to add more."""

    def __init__(self, path: Path) -> None:
        """Open or begin the file; raise BadFile where it holds anything else, and OSError where it can't be used."""
        self.path = path
        held = _bytes(path)
        whole = held[: held.rfind(b"\n") + 1]
        if not whole and not HEADER.encode().startswith(held):
            raise _refused(path, 1, NOT_OURS, ANOTHER)
        self._known = {entry.made_from: entry for entry in _entries(path, whole) if entry.settled}
        with path.open("ab") as file:
            if whole != held:
                file.truncate(len(whole))
            if not whole:
                file.write(HEADER.encode())

    def known(self, made_from: str) -> Entry | None:
        """Return a row that was made from just this, if there is one that no longer time would change."""
        return self._known.get(made_from)

    def add(self, entry: Entry) -> None:
        """Add a row: the whole line at once, and onto the disk."""
        with self.path.open("ab", buffering=0) as file:
            line = written(entry).encode()
            if file.write(line) < len(line):
                raise OSError(ENOSPC, os.strerror(ENOSPC))
            os.fsync(file.fileno())

    def tidy(self, entries: Iterable[Entry]) -> None:
        """Put these rows last, in their order, in the place of those about the same files; others stay before them."""
        rows = list(entries)
        about = {entry.files for entry in rows}
        there = _bytes(self.path)
        others = [entry for entry in _entries(self.path, there) if entry.files not in about]
        new = (HEADER + "".join(written(entry) for entry in (*others, *rows))).encode()
        if new != there:
            self._replace(new)

    def _replace(self, text: bytes) -> None:
        old = self.path.resolve()
        with NamedTemporaryFile("wb", dir=old.parent, prefix=".portloom-", delete=False) as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        new = Path(file.name)
        try:
            new.chmod(old.stat().st_mode & 0o777)
            new.replace(old)
        except BaseException:
            new.unlink(missing_ok=True)
            raise


def _bytes(path: Path) -> bytes:
    if path.exists() and not path.is_file():
        raise _refused(path, 1, "this is no file", ANOTHER)
    try:
        return path.read_bytes()
    except FileNotFoundError:
        return b""


def _entries(path: Path, whole: bytes) -> list[Entry]:
    """Return the rows in whole lines."""
    header, *lines = whole.split(b"\n")[:-1] or [HEADER.rstrip("\n").encode()]
    if header + b"\n" != HEADER.encode():
        raise _refused(path, 1, NOT_OURS, ANOTHER)
    return [_entry(path, number, line) for number, line in enumerate(lines, 2)]


def _entry(path: Path, number: int, line: bytes) -> Entry:
    try:
        return read(line.decode())
    except (Unreadable, UnicodeDecodeError) as error:
        what = str(error) if isinstance(error, Unreadable) else "this is not UTF-8"
        raise _refused(path, number, what, "take the line out: its row is made again") from error


def _refused(path: Path, line: int, what: str, right: str) -> BadFile:
    return BadFile([Problem(str(path), line, 1, what, right)])
