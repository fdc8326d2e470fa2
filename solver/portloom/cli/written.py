"""The files that commands write beside their answer: checked before any work is done, and written whole."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from portloom.cli.screen import CannotWrite, note, usage_error
from portloom.disk.whole_file import remove_parts, write_new


def check_new(command: str, option: str, file: Path) -> None:
    """Raise BadFile where something is there already under the name of a new file, or its folder is not."""
    clear_beside(file)
    if os.path.lexists(file):
        raise usage_error(command, f"{option} names what is there already, {file}", "give the name of a new file")
    if not file.parent.is_dir():
        what = f"there is no folder {file.parent} to write to"
        raise usage_error(command, what, "give a file in a folder that is there")


def write_new_file(file: Path, text: str) -> None:
    """Write a text into a new file."""
    with writing(file):
        write_new(file, text.encode())


def clear_beside(file: Path) -> None:
    """Take away what killed commands left where a file is to be written, and say so."""
    for name in remove_parts(file.parent):
        note(f"{file.parent / name} is taken away: an earlier run was stopped while it wrote there")


@contextmanager
def writing(file: Path) -> Iterator[None]:
    """Raise CannotWrite where the file can't be written."""
    try:
        yield
    except OSError as error:
        raise CannotWrite(f"can't write {file}: {error.strerror}") from error
