"""The command run in this process: quick where a test calls it many times. Nothing runs beside it."""

import os
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from portloom.cli.limit import begin
from portloom.cli.main import main


@dataclass(frozen=True)
class Ran:
    """How a call ended."""

    returncode: int | str | None
    stdout: str
    stderr: str


Here = Callable[..., Ran]


def command_in(folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Here:
    """Return what runs the command with words in a folder, as if there were one core."""
    monkeypatch.chdir(folder)
    monkeypatch.setattr(os, "cpu_count", lambda: 1)

    def ran(*words: str) -> Ran:
        monkeypatch.setattr(sys, "argv", ["portloom", *words])
        begin()  # a time limit counts from here, not from when all was loaded
        with pytest.raises(SystemExit) as end:
            main()
        return Ran(end.value.code, *capsys.readouterr())

    return ran
