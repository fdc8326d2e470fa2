"""Where things are written, what the exit code says, and a call that is wrong in itself."""

import json
import os
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from enum import IntEnum
from pathlib import Path
from shutil import get_terminal_size
from stat import S_ISCHR, S_ISFIFO
from threading import Event, Thread
from typing import TYPE_CHECKING, Any, TextIO, TypeVar

from portloom.base.letters import in_json, shown
from portloom.inputs.problems import BadFile, Problem

if TYPE_CHECKING:  # neither is needed to tell of --help, or of a call that is wrong
    from portloom.report.text.layout import TextPage

Done = TypeVar("Done")
PATIENCE = 1.0
"""Seconds after which long work shows that it goes on."""


class CannotWrite(OSError):
    """What was to be printed could not be written: a full disk, as a rule."""


def page(most: int | None = None) -> "TextPage":
    """Return the page on stdout: 100 columns at most or what is said, and just that where it is no screen."""
    from rich.console import Console  # noqa: PLC0415 - takes time to load

    from portloom.report.text.layout import WIDTH, TextPage  # noqa: PLC0415 - as above

    most = most or WIDTH
    width = min(most, get_terminal_size((most, 24)).columns) if sys.stdout.isatty() else most
    return TextPage(Console(width=width, highlight=False))


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
def waiting(doing: str) -> Iterator[Callable[[str], None]]:
    """Show that work goes on after a second, on stderr, if that is a screen; yield what says what is done now."""
    if not sys.stderr.isatty():
        yield lambda _: None
        return
    from rich.console import Console  # noqa: PLC0415 - takes time to load

    status = Console(stderr=True).status(doing)
    done = Event()

    def show() -> None:
        if not done.wait(PATIENCE):
            status.start()

    Thread(target=show, daemon=True).start()
    try:
        yield status.update
    finally:
        done.set()
        status.stop()


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


def counting(work: Iterable[Done], doing: str, done: int, most: int) -> Iterator[Done]:
    """Return what comes of long work, and show on stderr, if that is a screen, how much of it is done."""
    if not sys.stderr.isatty():
        yield from work
        return
    from rich.console import Console  # noqa: PLC0415 - takes time to load
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn  # noqa: PLC0415 - seldom wanted

    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn())
    # Drawn without a thread of its own: processes may be copied off this one while it shows.
    with Progress(*columns, console=Console(stderr=True), transient=True, auto_refresh=False) as bar:
        task = bar.add_task(doing, total=most, completed=done)
        bar.refresh()
        for one in work:
            bar.update(task, advance=1, refresh=True)
            yield one


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
