"""``portloom why``: why nothing fits and what would make it fit, why not, and how near a plan is to its limits.

A fix may be written into a copy of the bike's file.
"""

from codecs import BOM_UTF8
from collections.abc import Sequence
from pathlib import Path

from portloom.base.bike import Bike
from portloom.base.figures import listed
from portloom.base.nearest import suggest
from portloom.base.unit import Unit
from portloom.base.values import dataclass
from portloom.cli.files import Files, read_files
from portloom.cli.limit import clock_of, left_of
from portloom.cli.progress import waiting
from portloom.cli.screen import Exit, note, on_stdout, page, usage_error, write_json
from portloom.cli.written import clear_beside, writing
from portloom.disk.whole_file import replace
from portloom.explaining.conflicts.wish import LoadOnPort, UnitAtPlace, Wish
from portloom.explaining.explain import DoesNotFit, Explained, Fits, Undecided, explain
from portloom.explaining.fixes.edits import edits_of
from portloom.explaining.fixes.fix import Fix
from portloom.explaining.json import explained_json
from portloom.inputs.built_plan import built_from_text, read_built
from portloom.inputs.built_taken_out import with_taken_out
from portloom.inputs.editing.editing import CannotEdit, edited
from portloom.inputs.files import bike_from_text, bundled_units, read_unit
from portloom.inputs.parsing import file_text
from portloom.inputs.problems import BadFile, Problem
from portloom.inputs.tree import Source
from portloom.job.job import Job
from portloom.report.text.why import write_explained


def check_apply(files: Files, number: int | None, out: Path | None, built: Path | None = None) -> None:
    """Raise BadFile where no fix could be written, before any is looked for."""
    if (number is None) != (out is None):
        raise usage_error("why", "--apply and --out go together", "give both: --apply 1 --out FILE")
    if number is not None and number < 1:
        raise usage_error("why", f"there is no fix {number}", "the first is 1")
    if out is not None:
        for file in (out, *([] if built is None else [built_beside(out)])):
            _check_out(files, file, built)
        clear_beside(out)


def built_beside(out: Path) -> Path:
    """Return the file for the built plan that goes with a changed bike's."""
    return out.with_name(f"{out.name}.built.json")


def _check_out(files: Files, out: Path, built: Path | None) -> None:
    """Raise BadFile where a file can't be written, or is one that was read."""
    own = {"bike's own": Path(files.read_bike.source.file), "unit's own": Path(files.read_unit.source.file)}
    for whose, read in {**own, **({} if built is None else {"built plan's": built})}.items():
        if _same(read, out):
            what = f"--out names the {whose} file, {out}"
            raise usage_error("why", what, "give another file: the original is never changed")
    if _is_folder(out):
        raise usage_error("why", f"--out names a folder, {out}", "give a file")
    if not _is_folder(out.parent):
        raise usage_error("why", f"there is no folder {out.parent} to write to", "give a file in a folder that exists")


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


def apply(files: Files, answer: Fits | DoesNotFit, number: int, out: Path, built: Path | None = None) -> None:
    """Write the bike with the fix of that number; raise BadFile where there is none or the text can't be changed so.

    The file is complete or not there; it is read again and must say just what the fix is. What is taken out of a
    ``built`` loom is noted in a copy of its plan beside it, which is written first.
    """
    fix = _fix(answer, number)
    if built is not None and fix.taken_out:
        _write_taken_out(built, fix, built_beside(out))
    changed, encoding = _changed(files.read_bike.source, files.bike, fix.bike, out, files.unit.own_modes)
    with writing(out):
        replace(out, changed.encode(encoding))
    note(f"fix {number} is written to {out}")
    if fix.unit.unit != files.unit.unit:
        note(f"it is for another unit: --unit {fix.unit.unit}")


def _write_taken_out(built: Path, fix: Fix, out: Path) -> None:
    text = with_taken_out(file_text(built), fix.taken_out)
    left = built_from_text(text, str(out)).circuits
    if not set(fix.taken_out).isdisjoint(left):
        raise RuntimeError("the changed built plan would not say what the fix says")
    with writing(out):
        replace(out, text.encode())
    note(f"the built plan without {listed(fix.taken_out)} is written to {out}: give it with --built from there on")


def _fix(answer: Fits | DoesNotFit, number: int) -> Fix:
    if isinstance(answer, Fits):
        raise usage_error("why", f"there is no fix {number}", "the bike fits: nothing has to be fixed")
    fixes = answer.fixes.found
    if number > len(fixes):
        raise usage_error(
            "why", f"there is no fix {number}", f"the last is {len(fixes)}" if fixes else "none was found"
        )
    return fixes[number - 1]


def _changed(source: Source, before: Bike, after: Bike, out: Path, modes: Sequence[str]) -> tuple[str, str]:
    """Return the changed text, comments and order kept, and its encoding; ``modes`` are the unit's own."""
    path = Path(source.file)
    text = file_text(path)

    def same(read: Bike, known: Bike) -> bool:
        return read.having_read(known.as_read) == known

    if not same(bike_from_text(text, source.file, modes), before):
        raise _unchangeable(path, "the file was changed while reasons were looked for", "ask again")
    try:
        changed = edited(text, tuple(edits_of(before, after, source)))
    except CannotEdit as error:
        raise _unchangeable(path, str(error), "make the change by hand") from error
    if not same(bike_from_text(changed, str(out), modes), after):
        raise RuntimeError("the changed file would not say what the fix says")
    return changed, "utf-8-sig" if path.read_bytes().startswith(BOM_UTF8) else "utf-8"


def _unchangeable(source: Path, what: str, right: str) -> BadFile:
    return BadFile([Problem(str(source), 1, 1, what, right)])


USUALLY = "mostly under 20 s"
"""How long it may take: measured on bikes of 24 to 120 loads; DEVELOPERS.md has the table."""


@dataclass(frozen=True)
class WhyOptions:
    """What a call asks beside why."""

    not_on: str | None
    not_place: str | None
    about: str | None
    pins: bool
    every: bool
    proof: bool
    apply: int | None
    out: Path | None
    built: Path | None = None
    """The plan of a loom that is built."""


def run(bike: Path, unit: str, asked: WhyOptions, limit: float | None, *, as_json: bool) -> Exit:
    """Explain and write the answer; raise BadFile for files or names that are wrong."""
    if asked.built is not None and asked.not_place is not None:
        stays = "ask without --built: place and turn stay as built"
        raise usage_error("why", "--not-place is for a loom that is not built yet, and --built is given", stays)
    files = read_files(bike, unit, limit=limit)
    built = None if asked.built is None else read_built(asked.built, files.bike, files.unit)
    wish = _wish(files, asked, limit)
    _check_load(files, asked.about, limit)
    check_apply(files, asked.apply, asked.out, asked.built)
    with waiting("looking for reasons", USUALLY if limit is None else f"{limit:g} s at most") as say:
        explained = explain(
            files.bike,
            files.unit,
            wish=wish,
            about=asked.about,
            pins=asked.pins,
            every=asked.every,
            known=_bundled(),
            time_limit=left_of(limit),
            where=files.where,
            say=say,
            built=built,
        )
    with on_stdout():
        if as_json:
            write_json(explained_json(explained, proof=asked.proof))
        else:
            write_explained(explained, page(), proof=asked.proof)
    if asked.apply is not None and asked.out is not None and not isinstance(explained.answer, Undecided):
        apply(files, explained.answer, asked.apply, asked.out, asked.built)
    return _exit(explained)


def _bundled() -> tuple[Unit, ...]:
    return tuple(read_unit(file) for _, file in bundled_units())


# --- what the call names


def _wish(files: Files, asked: WhyOptions, limit: float | None) -> Wish | None:
    if asked.not_on is not None and asked.not_place is not None:
        raise usage_error("why", "--not and --not-place are two questions", "ask one of them, then the other")
    if asked.not_place is not None:
        files.check_place(asked.not_place)
        return UnitAtPlace(asked.not_place)
    if asked.not_on is None:
        return None
    load, equals, port = (word.strip() for word in asked.not_on.rpartition("="))
    if not equals:
        raise usage_error("why", f"'{asked.not_on}' names no port", "write LOAD=PORT, such as 'horn=out 3'")
    _check_load(files, load, limit)
    _check_output(files, port)
    return LoadOnPort(load, port)


def _check_load(files: Files, name: str | None, limit: float | None) -> None:
    """Raise BadFile unless an output of the unit may feed a load of this name; a relay's coil is one, too.

    Raises TimeIsUp where the limit of the call comes first, of a large bike.
    """
    if name is None:
        return
    with clock_of(limit).held(unless=files.bike.is_small):
        own = [load.name for load in Job(files.bike, files.unit).loads.on_unit]
    if name in own:
        return
    for number, load in enumerate(files.bike.loads):
        if load.name == name:
            by = f"fed from {listed(load.from_)}" if load.from_ else f"fed by a {load.fed}"
            what = f"'{name}' is {by}, so it is on no output of its own"
            raise files.unknown(what, ("loads", number), suggest(name, own))
    raise files.unknown(f"the bike has no load '{name}'", ("loads",), suggest(name, own))


def _check_output(files: Files, name: str) -> None:
    """Raise BadFile unless the unit has an output of this name."""
    names = [output.name for output in files.unit.outputs]
    if name not in names:
        source = files.read_unit.source
        file = source.file.removeprefix(files.bundled_in)
        what = f"the {files.unit.unit} has no output '{name}'"
        raise BadFile([Problem(file, *source.at(("outputs",)), what, suggest(name, names))])


# --- how it ends


def _exit(explained: Explained) -> Exit:
    wish = explained.why_not
    if wish is not None and wish.answer != "not known":
        return Exit.DONE if wish.answer == "possible" else Exit.NO_PLAN
    match explained.answer:
        case Fits():
            return Exit.LIMIT if wish is not None else Exit.DONE
        case DoesNotFit():
            return Exit.NO_PLAN
        case _:
            return Exit.LIMIT
