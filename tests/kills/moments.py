"""A call of the command as a process of its own, which something befalls at one of the moments it changes the disk.

What tells of the moments are Python's audit events; their table is in the documentation of Python's library.
"""

import errno
import os
import signal
import sys
import traceback
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NoReturn

CHANGES = ("os.mkdir", "os.rename", "os.link", "os.remove", "os.rmdir", "os.chmod", "os.truncate")
NEEDS_ROOM = ("open", "os.mkdir", "os.rename", "os.link")
SIGNALS = {"killed": signal.SIGKILL, "interrupted": signal.SIGINT, "terminated": signal.SIGTERM}
FULL = "disk full"
WAYS = (*SIGNALS, FULL)
"""What befalls a call; a disk that is full stays so."""


@dataclass(frozen=True)
class End:
    """How a call ended: its exit code, or a signal's number below 0; what stderr said; the moments that it had."""

    code: int
    said: str
    moments: int


@dataclass(frozen=True)
class Fault:
    """What befalls a call, and at the moment of which number."""

    way: str
    at: int


def run(folder: Path, words: tuple[str, ...], fault: Fault | None = None) -> End:
    """Run the command in a folder; to be called where it is loaded already."""
    moments, tell = os.pipe()
    said, say = os.pipe()
    pid = os.fork()
    if pid == 0:
        sys.addaudithook(_Moments(folder, fault, tell).heard)
        _called(folder, words, say)
    os.close(tell)
    os.close(say)
    with os.fdopen(said, "rb") as text, os.fdopen(moments, "rb") as bytes_:
        told, seen = text.read().decode(), bytes_.read()
    return End(os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]), told, len(seen))


def _called(folder: Path, words: tuple[str, ...], say: int) -> NoReturn:
    from portloom.cli.start import main  # noqa: PLC0415 - loaded before

    os.chdir(folder)
    nowhere = os.open(os.devnull, os.O_RDWR)
    for number, to in enumerate((nowhere, nowhere, say)):
        os.dup2(to, number)
    sys.stdout, sys.stderr = open(1, "w", encoding="utf-8"), open(2, "w", encoding="utf-8")  # noqa: SIM115 - to the end
    sys.argv = ["portloom", *words]
    code: Any = 99
    try:
        main()
    except SystemExit as end:
        code = end.code or 0
    except BaseException:  # noqa: BLE001 - as Python shows it
        traceback.print_exc()
    sys.stderr.flush()
    os._exit(code)


class _Moments:
    """Counts what is done to the disk in a folder, and lets the fault happen."""

    def __init__(self, folder: Path, fault: Fault | None, tell: int) -> None:
        self._folder, self._fault, self._tell = str(folder), fault, tell
        self._seen = 0

    def heard(self, event: str, words: tuple[Any, ...]) -> None:
        """Take an audit event: of the changes within the folder each is a moment."""
        if (event in CHANGES or (event == "open" and _writes(words))) and self._is_here(words[0]):
            if self._fault is not None:
                self._befall(self._fault, event)
            self._seen += 1
            os.write(self._tell, b".")

    def _befall(self, fault: Fault, event: str) -> None:
        if fault.way == FULL and self._seen >= fault.at and event in NEEDS_ROOM:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        if fault.way != FULL and self._seen == fault.at:
            os.kill(os.getpid(), SIGNALS[fault.way])

    def _is_here(self, path: object) -> bool:
        return isinstance(path, str | os.PathLike) and os.path.abspath(path).startswith(self._folder)  # noqa: PTH100


def _writes(words: tuple[Any, ...]) -> bool:
    return bool(int(words[2] or 0) & (os.O_WRONLY | os.O_RDWR | os.O_CREAT))
