"""``portloom new``: a bike's file or a unit's to start from, as it lies ready, or made of answers."""

import sys
from pathlib import Path
from typing import Literal

import typer

from portloom.base.values import dataclass
from portloom.cli.screen import note, on_stdout
from portloom.cli.written import check_new, write_new_file
from portloom.inputs.starting.commented import bike_to_start_from, unit_to_start_from

What = Literal["bike", "unit"]


@dataclass(frozen=True)
class NewCall:
    """What was asked for."""

    what: What
    out: Path | None
    answers: Path | None = None
    yes: bool = False
    like: str | None = None


def run(call: NewCall) -> int:
    """Write a file to start from, made of answers where some are given or can be asked for; return the exit code.

    Raise BadFile where what it would overwrite is there, its folder is not, or answers are wrong or missing.
    """
    if call.out is not None:
        check_new("new", "--out", call.out)
    if call.answers is None and call.like is None and not call.yes and not somebody_is_there():
        _commented(call)
        return 0
    from portloom.cli.new_by_answers import by_answers  # noqa: PLC0415 - keeps the rest quick

    return by_answers(call)


def somebody_is_there() -> bool:
    """Tell whether a person types and reads."""
    return sys.stdin is not None and sys.stdin.isatty() and sys.stdout.isatty()


def _commented(call: NewCall) -> None:
    text = bike_to_start_from() if call.what == "bike" else unit_to_start_from()
    if call.out is None:
        with on_stdout():
            typer.echo(text, nl=False)
        return
    write_new_file(call.out, text)
    note(f"a {call.what} to start from is written to {call.out}")
