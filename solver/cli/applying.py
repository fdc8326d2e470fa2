"""A fix written into a copy of the bike's file."""

import os
import tempfile
from pathlib import Path

from solver.cli.screen import CannotWrite
from solver.explaining.fixes.edits import edits_of
from solver.explaining.fixes.fix import Fix
from solver.reading.bike import bike_from_text
from solver.reading.editing import Unchangeable, edited
from solver.reading.opening import file_text
from solver.reading.problems import BadFile, Problem
from solver.words.bike import Bike


def apply(source: Path, bike: Bike, fix: Fix, out: Path) -> None:
    """Write the changed file, comments and order kept; raise BadFile where its text can't be changed so.

    The file is complete or not there; it is read again and must say just what the fix is.
    """
    try:
        text = edited(file_text(source), tuple(edits_of(bike, fix.bike)))
    except Unchangeable as error:
        raise BadFile([Problem(str(source), 1, 1, str(error), "make the change by hand")]) from error
    if bike_from_text(text, str(out)) != fix.bike:
        raise RuntimeError("the changed file does not say what the fix is")
    _write(out, text)


def _write(out: Path, text: str) -> None:
    try:
        handle, name = tempfile.mkstemp(dir=out.parent, prefix=f".{out.name}.")
        with os.fdopen(handle, "w", encoding="utf-8", newline="") as file:
            file.write(text)
        Path(name).replace(out)
    except OSError as error:
        raise CannotWrite(f"can't write {out}: {error.strerror}") from error
