"""Answers in a terminal that is narrow: no line is wider than it, whatever is told."""

import os
import re
import struct
import subprocess
import sys

import pytest

from calls import ROOT

if sys.platform == "win32":
    pytest.skip("a pseudo-terminal is needed", allow_module_level=True)

import fcntl
import termios

from slices import first_of

ESCAPES = re.compile(r"\x1b\[[0-9;?]*[A-Za-z]")
HARBOUR = "examples/harbour-trail.yaml"
CALLS = (
    f"plan {HARBOUR} --unit eleven-way",
    "plan examples/market-parallel.yaml --unit six-way --unit eleven-way",
    f"plan {HARBOUR} --unit six-way",
    f"check examples/harbour-trail-posted.md {HARBOUR} --unit eleven-way",
    f"diff {HARBOUR} examples/market-parallel.yaml --unit fourteen-way",
    "compare examples/bare-single.yaml --unit six-way --unit eleven-way",
    "units",
    "rules",
    "parts",
)


def lines_at(columns: int, words: list[str]) -> list[str]:
    """Return what the command writes in a terminal of so many columns, without what colours it."""
    inside, outside = os.openpty()
    fcntl.ioctl(outside, termios.TIOCSWINSZ, struct.pack("HHHH", 50, columns, 0, 0))
    environment = {name: value for name, value in os.environ.items() if name not in ("COLUMNS", "LINES")}
    command = [sys.executable, "-m", "portloom.cli", *words]
    with subprocess.Popen(
        command, stdin=subprocess.DEVNULL, stdout=outside, stderr=subprocess.DEVNULL, cwd=ROOT,
        env={**environment, "TERM": "xterm"},
    ):  # fmt: skip
        os.close(outside)
        said = b""
        while part := _read(inside):
            said += part
    os.close(inside)
    return ESCAPES.sub("", said.decode()).replace("\r", "").split("\n")


def _read(terminal: int) -> bytes:
    try:
        return os.read(terminal, 65536)
    except OSError:  # so Linux tells that nobody writes any more
        return b""


@first_of("columns", (20, 40), 1)
@pytest.mark.parametrize("call", CALLS)
def test_no_line_of_an_answer_is_wider_than_the_terminal(call: str, columns: int) -> None:
    """Tables become lists where they find no room; words and figures fold."""
    lines = lines_at(columns, call.split())
    assert len(lines) > 10
    assert [line for line in lines if len(line) > columns] == []
