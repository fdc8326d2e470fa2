"""What shows that long work goes on: a line on stderr, where that is a screen, with what is being done and how long.

It comes once a second has gone since the call began, and is wiped away when the work is done. With ``--plain``, and on
a terminal that can't move its cursor, lines are written one below the other instead, a few seconds apart.
"""

import os
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from itertools import cycle
from shutil import get_terminal_size
from threading import Event, Thread
from time import monotonic
from typing import TypeVar

from portloom.base.letters import shown
from portloom.cli.limit import seconds_gone
from portloom.cli.look import look
from portloom.cli.screen import PATIENCE, note

Done = TypeVar("Done")
EACH = 0.1
"""Seconds between two looks of the line."""
APART = 5.0
"""Seconds between two lines, where they stay."""
FRAMES = "|/-\\"
WIPE = "\r\x1b[2K"


class _Line:
    """The one line that is written over again and again, or lines that stay."""

    def __init__(self) -> None:
        self._stays = look.plain or os.environ.get("TERM") == "dumb"
        self._frames = cycle(FRAMES)
        self._last, self._at = "", -APART

    def show(self, doing: str, usual: str = "") -> None:
        """Show what is being done now, how long it has been, and how long it may be."""
        since = f", {int(seconds_gone())} s{usual and f' ({usual})'}"
        if self._stays:
            if doing != self._last and monotonic() - self._at >= APART:
                note(f"{doing}{since}")
                self._last, self._at = doing, monotonic()
            return
        room = get_terminal_size((80, 24)).columns - len(f"| {since}") - 1
        self._write(f"{WIPE}{next(self._frames)} {shown(doing)[: max(0, room)]}{since}")

    def wipe(self) -> None:
        """Leave nothing of it."""
        if not self._stays:
            self._write(WIPE)

    @staticmethod
    def _write(text: str) -> None:
        with suppress(OSError):
            sys.stderr.write(text)
            sys.stderr.flush()


@contextmanager
def waiting(doing: str, usual: str = "") -> Iterator[Callable[[str], None]]:
    """Show that work goes on once a second has gone; yield what says what is done now.

    ``usual`` says how long it may take.
    """
    if not sys.stderr.isatty():
        yield lambda _: None
        return
    now, done = [doing], Event()
    thread = Thread(target=_show, args=(now, usual, done), daemon=True)
    thread.start()
    try:
        yield lambda what: now.__setitem__(0, what)
    finally:
        done.set()
        thread.join()


def _show(now: list[str], usual: str, done: Event) -> None:
    """Show what is done now until it is done."""
    if done.wait(max(0.0, PATIENCE - seconds_gone())):
        return
    line = _Line()
    line.show(now[0], usual)
    while not done.wait(EACH):
        line.show(now[0], usual)
    line.wipe()


def counting(work: Iterable[Done], doing: str, done: int, most: int) -> Iterator[Done]:
    """Return what comes of long work, and show how much of it is done.

    It is shown without a thread of its own: processes may be copied off this one meanwhile.
    """
    if not sys.stderr.isatty():
        yield from work
        return
    line = _Line()
    line.show(f"{doing}, {done} of {most}")
    try:
        for number, one in enumerate(work, done + 1):
            line.show(f"{doing}, {number} of {most}")
            yield one
    finally:
        line.wipe()
