"""``portloom new``: a bike's file or a unit's to start from, on stdout or in a new file."""

import os
from pathlib import Path
from typing import Literal

import typer

from portloom.cli.screen import CannotWrite, note, on_stdout, usage_error
from portloom.inputs.starters import bike_to_start_from, unit_to_start_from


def run(what: Literal["bike", "unit"], out: Path | None) -> None:
    """Write a file to start from; raise BadFile where what it would overwrite is there, or its folder is not."""
    text = bike_to_start_from() if what == "bike" else unit_to_start_from()
    if out is None:
        with on_stdout():
            typer.echo(text, nl=False)
        return
    if os.path.lexists(out):
        raise usage_error("new", f"--out names what is there already, {out}", "give the name of a new file")
    if not out.parent.is_dir():
        no_folder = f"there is no folder {out.parent} to write to"
        raise usage_error("new", no_folder, "give a file in a folder that is there")
    try:
        with out.open("x", encoding="utf-8", newline="") as new:
            new.write(text)
    except OSError as error:
        raise CannotWrite(f"can't write {out}: {error.strerror}") from error
    note(f"a {what} to start from is written to {out}")
