"""Where things are written, what the exit code says, and a call that is wrong in itself."""

import json
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from enum import IntEnum
from pathlib import Path
from shutil import get_terminal_size
from stat import S_ISCHR, S_ISFIFO
from threading import Event, Thread
from typing import TYPE_CHECKING, Any, TextIO

from portloom.base.letters import in_json, shown
from portloom.cli.look import look
from portloom.inputs.problems import BadFile, Problem

if TYPE_CHECKING:  # neither is needed to tell of --help, or of a call that is wrong
    from portloom.report.text.layout import TextPage
    from portloom.report.text.plain import PlainPage

PATIENCE = 1.0
"""Seconds after which long work shows that it goes on."""


class CannotWrite(OSError):
    """What was to be printed could not be written: a full disk, as a rule."""


def page(most: int | None = None) -> "TextPage | PlainPage":
    """Return the page on stdout.

    A screen is used as far as it is wide, up to 140 columns or what is said; anywhere else a page has 100 columns, or
    what is said where that is less. Where no tables are wanted it has lines that are as long as what they say.
    """
    from portloom.report.text.plain import PlainPage  # noqa: PLC0415 - as below

    if look.plain:
        return PlainPage(sys.stdout)
    from rich.console import Console  # noqa: PLC0415 - takes time to load

    from portloom.report.text.layout import WIDEST, WIDTH, TextPage  # noqa: PLC0415 - as above

    screen = sys.stdout.isatty()
    width = get_terminal_size((WIDTH, 24)).columns if screen else WIDTH
    return TextPage(
        Console(width=min(width, most or WIDEST), highlight=False, color_system=None if look.bare else "auto")
    )


def write_json(document: Any) -> None:
    """Write one JSON document, with no letter that stdout can't take or nobody sees."""
    unicode = (sys.stdout.encoding or "").lower().startswith("utf")
    sys.stdout.write(in_json(json.dumps(document, indent=2, ensure_ascii=not unicode)) + "\n")


def note(text: str) -> None:
    """Say what was done beside the answer, on stderr; where that can't be written, nothing is said."""
    try:
        sys.stderr.write(f"{shown(text)}\n")
        sys.stderr.flush()
    except OSError:
        let_go(sys.stderr)


def let_go(stream: TextIO) -> None:
    """Let a stream that can't be written to take what is still to be flushed, so that the exit code stays."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


@contextmanager
def on_stdout() -> Iterator[None]:
    """Write to the end; a reader that has had enough, such as a closed pager, is no error.

    Raise CannotWrite where there is no room.
    """
    try:
        yield
        sys.stdout.flush()
    except OSError as error:
        let_go(sys.stdout)
        if not isinstance(error, BrokenPipeError):
            raise CannotWrite(f"can't write to stdout: {error.strerror}") from error


@contextmanager
def patient(*files: Path | str) -> Iterator[None]:
    """Say on stderr what is waited for, once a second has gone: a pipe to which nobody writes, or the keyboard.

    '-' is stdin. Nothing is said of a plain file, however long it takes.
    """
    pipes = [str(file) for file in files if _keeps_waiting(str(file))]
    read = Event()

    def say() -> None:
        if not read.wait(PATIENCE):
            note(
                f"waiting for {' and '.join('stdin' if pipe == '-' else pipe for pipe in pipes)}: nothing has come yet"
            )

    if pipes:
        Thread(target=say, daemon=True).start()
    try:
        yield
    finally:
        read.set()


def _keeps_waiting(file: str) -> bool:
    try:
        mode = os.fstat(0).st_mode if file == "-" else Path(file).stat().st_mode
    except (OSError, ValueError):
        return False
    return S_ISFIFO(mode) or (file == "-" and S_ISCHR(mode))


class Exit(IntEnum):
    """The exit codes that other programs rely on; ``stopping.py`` has those of a command that is ended from outside."""

    DONE = 0
    NO_PLAN = 1
    DIFFERENT = 1
    BAD_INPUT = 2
    LIMIT = 3
    FAILED_CHECK = 4


def usage_error(command: str, what: str, right: str) -> BadFile:
    """Return what is told of it; ``command`` is the one that was called, such as 'why'."""
    return BadFile([Problem(f"portloom {command}", 0, 0, what, right)])
