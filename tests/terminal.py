"""A real terminal of the standard library, in which the command runs as it does on somebody's desk."""

import os
import re
import struct
import subprocess
import sys
from collections.abc import Mapping, Sequence
from itertools import dropwhile
from pathlib import Path
from select import select
from time import monotonic

from ready import LONGEST

if sys.platform != "win32":  # there tests are skipped by ``unix.terminal``
    import fcntl
    import pty
    import termios

ROOT = Path(__file__).parent.parent
ANSI = re.compile("\x1b\\[[0-9;?]*[A-Za-z]")
WAITING = re.compile(r"\r\x1b\[2K(?:[|/\\-] [^\r\n]*)?")
"""What shows that work goes on, and wipes itself away."""

PROMPT = "> "
CONTROL = re.compile(r"\x1b\[[0-9;?]*[A-Za-z]")
"""What moves the cursor or clears a line: ECMA-48, control sequences."""
CLEARED = re.compile(r"[^\n]*(\n(\x1b\[[?]25h)?\r?\x1b\[1A|\r)\x1b\[2K")
"""A line that was cleared: what stood there is seen no more."""


def _in_control() -> None:
    """Let the terminal send its signals, such as that of Ctrl-C, to this process."""
    fcntl.ioctl(0, termios.TIOCSCTTY, 0)


def opened(columns: int, rows: int) -> tuple[int, int]:
    """Return both ends of a new terminal: the one that is looked at, and the one for a command."""
    here, there = pty.openpty()
    fcntl.ioctl(there, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
    return here, there


def on_a_screen(environment: Mapping[str, str], columns: int, call: Sequence[str]) -> tuple[int, str]:
    """Run the command on a terminal of that width; give its exit code and all that it shows."""
    here, there = opened(columns, 24)
    with subprocess.Popen(
        ["portloom", *call], cwd=ROOT, env=dict(environment), stdin=there, stdout=there, stderr=there
    ) as started:
        os.close(there)
        shown = b"".join(iter(lambda: _read(here), b""))
    os.close(here)
    return started.returncode, shown.decode("utf-8").replace("\r\n", "\n")


def _read(terminal: int) -> bytes:
    try:
        return os.read(terminal, 65536)
    except OSError:  # Linux: nobody has it open any more
        return b""


def without_colour(text: str) -> list[str]:
    """Return the lines of a screen; what shows that work goes on is wiped away again."""
    lines = [line.rstrip() for line in ANSI.sub("", WAITING.sub("", text)).splitlines()]
    return list(dropwhile(lambda line: not line, lines))


class Terminal:
    """A command in a terminal of so many columns and rows; what it shows is read up to each prompt."""

    def __init__(
        self, call: Sequence[str], folder: Path, environment: Mapping[str, str], columns: int = 80, rows: int = 24
    ) -> None:
        """Start it in a folder."""
        self._here, there = opened(columns, rows)
        self._ran = subprocess.Popen(
            call, stdin=there, stdout=there, stderr=there, cwd=folder, env=dict(environment),
            start_new_session=True, preexec_fn=_in_control,  # noqa: PLW1509 - no thread runs here
        )  # fmt: skip
        os.close(there)
        self.seen = ""
        """All that was on the screen, with what was typed."""

    @property
    def text(self) -> str:
        """All that was on the screen, without what moves its cursor."""
        return CONTROL.sub("", CLEARED.sub("", self.seen)).replace("\r", "")

    def screen(self) -> str:
        """Return what is shown up to the next prompt, or to the end of the command."""
        shown, until = "", monotonic() + LONGEST
        while not shown.endswith(PROMPT) and (more := self._more(until)):
            shown += more
        self.seen += shown
        return CONTROL.sub("", shown)

    def type(self, line: str) -> str:
        """Type a line; return what is shown then."""
        os.write(self._here, f"{line}\n".encode())
        return self.screen().removeprefix(f"{line}\n")

    def press(self, key: bytes) -> str:
        """Press a key, as its byte; return what is shown then."""
        os.write(self._here, key)
        return self.screen()

    def end(self) -> int:
        """Return the exit code, once it has ended."""
        while self.screen():
            pass
        code = self._ran.wait(LONGEST)
        os.close(self._here)
        return code

    def _more(self, until: float) -> str:
        if not select([self._here], [], [], max(0.0, until - monotonic()))[0]:
            raise TimeoutError(self.seen)
        return _read(self._here).decode().replace("\r\n", "\n")
