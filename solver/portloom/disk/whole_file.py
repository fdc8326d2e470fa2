"""Writes a file so that at every moment there is all of it under its name, or what was there before.

It is written beside its place first, under a hidden name, and comes under its own by one renaming or linking. A command
that is killed can leave the hidden one behind, which the next command that writes into that folder takes away.
"""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from errno import EEXIST
from pathlib import Path
from re import fullmatch
from secrets import token_hex

from portloom.disk.unbroken import writing_into

PART = ".portloom-part-"
"""How the hidden names begin; sixteen hexadecimal digits follow."""


def write_new(path: Path, content: bytes) -> None:
    """Write a new file; raise FileExistsError where something is there, and OSError where it can't be written."""
    with _part(path.parent, content) as part:
        try:
            os.link(part, path)
        except FileExistsError:
            raise
        except OSError:  # a file system without links
            if os.path.lexists(path):
                raise FileExistsError(EEXIST, os.strerror(EEXIST)) from None
            part.rename(path)


def replace(path: Path, content: bytes) -> None:
    """Write a file in the place of another, if there is one; raise OSError, and leave that, where it can't be written.

    Where a link is there, what it leads to is replaced.
    """
    place = path.resolve()
    with _part(place.parent, content) as part:
        with suppress(FileNotFoundError):
            shutil.copymode(place, part)
        part.replace(place)


def remove_parts(folder: Path) -> tuple[str, ...]:
    """Take away what killed commands left half-written in a folder; return its hidden names."""
    removed = []
    with suppress(OSError), writing_into(folder):
        for part in sorted(folder.glob(f"{PART}*")):
            if fullmatch("[0-9a-f]{16}", part.name.removeprefix(PART)):
                part.unlink()
                removed.append(part.name)
    return tuple(removed)


def write_down(path: Path, content: bytes) -> None:
    """Write a new file under its own name, and see it onto the disk."""
    with path.open("xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


@contextmanager
def _part(folder: Path, content: bytes) -> Iterator[Path]:
    """Write the hidden file; unless it is renamed, it goes again."""
    part = folder / f"{PART}{token_hex(8)}"
    with writing_into(folder):
        try:
            write_down(part, content)
            yield part
        finally:
            with suppress(OSError):
                part.unlink(missing_ok=True)
