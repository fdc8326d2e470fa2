"""The command, loaded once and ready: each call is a fork of it, which spares the half second that loading takes.

Run as a program it reads calls from stdin, a line of JSON each, and answers each with the exit code.
``tests/test_ready.py`` holds that it prints and ends as the installed command does.
"""

import gc
import json
import os
import signal
import subprocess
import sys
import traceback
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NoReturn

Ran = subprocess.CompletedProcess[str]
LONGEST = 120
"""Seconds after which a call is ended."""


class Ready:
    """The command, ready to be called with words in a folder; it reads nothing from stdin."""

    def __init__(self, environment: Mapping[str, str], scratch: Path) -> None:
        """Load it in an environment; ``scratch`` is a folder for what it prints."""
        self._printed = [scratch / "stdout", scratch / "stderr"]
        self._loaded = subprocess.Popen(
            [sys.executable, __file__], env=environment, stdin=subprocess.PIPE, stdout=subprocess.PIPE, encoding="utf-8"
        )

    def run(self, words: tuple[str, ...], folder: Path) -> Ran:
        """Call it; give its end."""
        asked, answered = self._loaded.stdin, self._loaded.stdout
        assert asked
        assert answered
        asked.write(json.dumps({"words": words, "folder": str(folder), "printed": [*map(str, self._printed)]}) + "\n")
        asked.flush()
        code = int(answered.readline())
        out, err = (path.read_text("utf-8") for path in self._printed)
        return Ran(["portloom", *words], code, out, err)

    def end(self) -> None:
        """Let go of it."""
        self._loaded.communicate(timeout=LONGEST)


def _serve() -> None:
    from portloom.cli import check, plan, sheets, why  # noqa: F401, PLC0415 - loaded before the first call

    gc.freeze()
    for line in sys.stdin:
        forked = os.fork()
        if forked == 0:
            _run(**json.loads(line))
        print(os.waitstatus_to_exitcode(os.waitpid(forked, 0)[1]), flush=True)


def _run(words: list[str], folder: str, printed: list[str]) -> NoReturn:
    """Run one call, as a process of its own that never comes back."""
    from portloom.cli.limit import begin  # noqa: PLC0415 - loaded long before

    signal.alarm(LONGEST)
    os.chdir(folder)
    for number, path in enumerate([os.devnull, *printed]):
        os.dup2(os.open(path, os.O_RDWR | os.O_CREAT | os.O_TRUNC), number)
    sys.stdin = open(0, encoding="utf-8", closefd=False)  # noqa: SIM115 - these stay open to the end
    sys.stdout = open(1, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
    sys.stderr = open(2, "w", encoding="utf-8", errors="backslashreplace", closefd=False)  # noqa: SIM115
    sys.argv = ["portloom", *words]
    begin()  # its time limit counts from here, not from when all was loaded
    code = _ended()
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(code)


def _ended() -> int:
    from portloom.cli.main import main  # noqa: PLC0415 - loaded long before

    end: Any = None
    try:
        main()
    except SystemExit as left:
        end = left.code
    except BaseException:  # noqa: BLE001 - shown as Python shows it at the end
        traceback.print_exc()
        end = 1
    return int(end or 0)


if __name__ == "__main__":
    _serve()
