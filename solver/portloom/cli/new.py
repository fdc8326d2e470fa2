"""``portloom new``: a bike's file or a unit's to start from, on stdout or in a new file."""

from pathlib import Path
from typing import Literal

import typer

from portloom.cli.screen import note, on_stdout
from portloom.cli.written import check_new, write_new_file
from portloom.inputs.starters import bike_to_start_from, unit_to_start_from


def run(what: Literal["bike", "unit"], out: Path | None) -> None:
    """Write a file to start from; raise BadFile where what it would overwrite is there, or its folder is not."""
    text = bike_to_start_from() if what == "bike" else unit_to_start_from()
    if out is None:
        with on_stdout():
            typer.echo(text, nl=False)
        return
    check_new("new", "--out", out)
    write_new_file(out, text)
    note(f"a {what} to start from is written to {out}")
