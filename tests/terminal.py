"""A real terminal of the standard library, in which the command runs as it does on somebody's desk."""

import fcntl
import os
import pty
import re
import struct
import subprocess
import termios
from collections.abc import Mapping, Sequence
from pathlib import Path
from select import select
from time import monotonic

from ready import LONGEST

PROMPT = "> "
CONTROL = re.compile(r"\x1b\[[0-9;?]*[A-Za-z]")
"""What moves the cursor or clears a line: ECMA-48, control sequences."""
CLEARED = re.compile(r"[^\n]*(\n(\x1b\[[?]25h)?\r?\x1b\[1A|\r)\x1b\[2K")
"""A line that was cleared: what stood there is seen no more."""


def _in_control() -> None:
    """Let the terminal send its signals, such as that of Ctrl-C, to this process."""
    fcntl.ioctl(0, termios.TIOCSCTTY, 0)


class Terminal:
    """A command in a terminal of so many columns and rows; what it shows is read up to each prompt."""

    def __init__(
        self, call: Sequence[str], folder: Path, environment: Mapping[str, str], columns: int = 80, rows: int = 24
    ) -> None:
        """Start it in a folder."""
        self._here, there = pty.openpty()
        fcntl.ioctl(there, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
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
        try:
            return os.read(self._here, 4096).decode().replace("\r\n", "\n")
        except OSError:  # Linux: nobody has it open any more
            return ""
