"""Ctrl-C and SIGTERM end the command at once, whatever it is doing, with one word and the usual exit code.

A thread of its own hears of them, so that neither a library that is loading nor a solver that is at work can swallow,
delay or misreport them. Only what is being written is finished first.
"""

import os
import sys
from collections.abc import Callable
from contextlib import suppress
from signal import SIG_IGN, SIGINT, SIGTERM, getsignal, set_wakeup_fd, signal
from threading import Thread

from portloom.disk.unbroken import WRITING

SAID = {int(SIGINT): "interrupted", int(SIGTERM): "terminated"}
AS_IT_WAS = b"\r\x1b[2K\x1b[?25h"
"""What showed on a screen that work goes on is taken away, and the cursor is back: ECMA-48 EL, DEC private mode 25."""


_LAST_WORDS: list[str] = []
"""What is said when the command is stopped, beside that."""


def say_when_stopped(text: str) -> None:
    """Say this from now on when the command is stopped; nothing more where it is ''."""
    _LAST_WORDS[:] = [text] if text else []


def listen() -> None:
    """Hear of both from now on, but for what is ignored already; to be called from the main thread."""
    heard, told = _line()
    for number in SAID:
        if getsignal(number) is not SIG_IGN:  # as in the background of a shell
            signal(number, lambda *_: None)  # the line tells of it
    set_wakeup_fd(told)
    Thread(target=_end_when_told, args=(heard,), daemon=True).start()


def _line() -> tuple[Callable[[], bytes], int]:
    """Return what waits for the next signals, and where Python is to write them."""
    if sys.platform == "win32":
        from socket import socketpair  # noqa: PLC0415 - there they can be written to nothing else

        near, far = socketpair()
        far.setblocking(False)  # noqa: FBT003 - its only argument
        return lambda: near.recv(1), far.detach()
    reading, writing = os.pipe()
    os.set_blocking(writing, False)
    return lambda: os.read(reading, 1), writing


def _end_when_told(heard: Callable[[], bytes]) -> None:
    while (number := heard()[0]) not in SAID:
        pass
    with WRITING, suppress(OSError):  # nobody may be reading
        shown = os.isatty(2) and os.environ.get("TERM", "dumb") != "dumb"
        os.write(2, (AS_IT_WAS if shown else b"") + "\n".join((SAID[number], *_LAST_WORDS, "")).encode())
    os._exit(128 + number)
