"""A fix written into a copy of the bike's file."""

from codecs import BOM_UTF8
from pathlib import Path
from tempfile import TemporaryDirectory

from solver.cli.calls import bad_call
from solver.cli.files import Files
from solver.cli.screen import CannotWrite, note
from solver.editing.editing import Unchangeable, edited
from solver.explaining.explain import DoesNotFit, Fits
from solver.explaining.fixes.edits import edits_of
from solver.explaining.fixes.fix import Fix
from solver.reading.bike import bike_from_text
from solver.reading.opening import file_text
from solver.reading.problems import BadFile, Problem
from solver.words.bike import Bike


def check_apply(files: Files, number: int | None, out: Path | None) -> None:
    """Raise BadFile where no fix could be written, before any is looked for."""
    if (number is None) != (out is None):
        raise bad_call("why", "--apply and --out go together", "give both: --apply 1 --out FILE")
    if number is not None and number < 1:
        raise bad_call("why", f"there is no fix {number}", "the first is 1")
    if out is not None:
        _check_out(files, out)


def _check_out(files: Files, out: Path) -> None:
    """Raise BadFile where a file can't be written, or is one that was read."""
    for whose, source in (("bike", files.read_bike.source), ("unit", files.read_unit.source)):
        if _same(Path(source.file), out):
            what = f"--out names the {whose}'s own file, {out}"
            raise bad_call("why", what, "give another file: the original stays as it is")
    if _is_folder(out):
        raise bad_call("why", f"--out names a folder, {out}", "give a file")
    if not _is_folder(out.parent):
        raise bad_call("why", f"there is no folder {out.parent} to write to", "give a file in a folder that is there")


def _same(one: Path, other: Path) -> bool:
    try:
        return other.exists() and one.samefile(other)
    except OSError:
        return False


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError:
        return False


def apply(files: Files, answer: Fits | DoesNotFit, number: int, out: Path) -> None:
    """Write the bike with the fix of that number; raise BadFile where there is none or the text can't be changed so.

    The file is complete or not there; it is read again and must say just what the fix is.
    """
    fix = _fix(answer, number)
    _write(out, *_changed(Path(files.read_bike.source.file), files.bike, fix.bike, out))
    note(f"fix {number} is written to {out}")
    if fix.unit != files.unit:
        note(f"it is for another unit: --unit {fix.unit.unit}")


def _fix(answer: Fits | DoesNotFit, number: int) -> Fix:
    if isinstance(answer, Fits):
        raise bad_call("why", f"there is no fix {number}", "the bike fits: nothing has to be fixed")
    fixes = answer.fixes.found
    if number > len(fixes):
        raise bad_call("why", f"there is no fix {number}", f"the last is {len(fixes)}" if fixes else "none was found")
    return fixes[number - 1]


def _changed(source: Path, before: Bike, after: Bike, out: Path) -> tuple[str, str]:
    """Return the changed text, comments and order kept, and its encoding."""
    text = file_text(source)
    if bike_from_text(text, str(source)) != before:
        raise _unchangeable(source, "the file was changed while reasons were looked for", "ask again")
    try:
        changed = edited(text, tuple(edits_of(before, after)))
    except Unchangeable as error:
        raise _unchangeable(source, str(error), "make the change by hand") from error
    if bike_from_text(changed, str(out)) != after:
        raise RuntimeError("the changed file does not say what the fix is")
    return changed, "utf-8-sig" if source.read_bytes().startswith(BOM_UTF8) else "utf-8"


def _unchangeable(source: Path, what: str, right: str) -> BadFile:
    return BadFile([Problem(str(source), 1, 1, what, right)])


def _write(out: Path, text: str, encoding: str) -> None:
    try:
        with TemporaryDirectory(dir=out.parent, prefix=".portloom-") as folder:
            new = Path(folder) / out.name
            new.write_text(text, encoding, newline="")
            new.replace(out)
    except OSError as error:
        raise CannotWrite(f"can't write {out}: {error.strerror}") from error
