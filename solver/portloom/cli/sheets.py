"""``portloom sheets``: everything that goes on the bench and with the bike, into a folder; readings judged."""

from collections.abc import Iterable
from pathlib import Path

from portloom.cli.files import Files, read_files
from portloom.cli.limit import left_of
from portloom.cli.plan import exit_of, write_answer
from portloom.cli.progress import waiting
from portloom.cli.screen import CannotWrite, Exit, note, on_stdout, page, patient, usage_error
from portloom.disk.folder import (
    CannotWriteFolder,
    FolderConflict,
    folder_conflict,
    left_beside,
    mend_folder,
    write_folder,
)
from portloom.documents.handover.bench_test import bench_test
from portloom.documents.handover.readings import judge, unknown_steps
from portloom.inputs.bench_readings import Reading, readings_from_text
from portloom.inputs.built_plan import read_built
from portloom.inputs.parsing import file_text
from portloom.inputs.problems import refuse
from portloom.planning.plan import Planned, coloured_lists, plan
from portloom.report.html.pages import NAMES, bundle
from portloom.report.text.bench import write_findings
from portloom.report.text.layout import write_first


def run(
    bike: Path,
    unit: str,
    out: Path | None,
    place: str | None,
    readings: Path | None,
    limit: float | None,
    built: Path | None = None,
    *,
    force: bool,
) -> Exit:
    """Plan and write the folder, or judge readings; raise BadFile for a call or files that are wrong."""
    files = read_files(bike, unit, limit=limit)
    files.check_place(place)
    with patient(*([readings] if readings else [])):
        read = None if readings is None else readings_from_text(file_text(readings), str(readings))
    _check_call(out, readings, force=force)
    if built is not None and place is not None:
        without = "leave it out: place and turn stay as built"
        raise usage_error("sheets", "--place is for a loom that is not built yet, and --built is given", without)
    loom = None if built is None else read_built(built, files.bike, files.unit)
    with waiting("planning"):
        answer = plan(files.bike, files.unit, place=place, time_limit=left_of(limit), where=files.where, built=loom)
    if not isinstance(answer, Planned):
        with on_stdout():
            write_answer(answer, None, files)
        return exit_of(answer)
    if read is not None:
        _judge(files, answer, read, str(readings))
    if out is not None:
        _write(answer, out, force=force)
    return exit_of(answer)


def _check_call(out: Path | None, readings: Path | None, *, force: bool) -> None:
    """Raise BadFile where the folder can't be written to, before anything is planned."""
    if out is None:
        if readings is None:
            raise usage_error("sheets", "there is neither a folder to write nor readings to check", "--out FOLDER")
        return
    _mend(out, force=force)
    _check_free(out, NAMES, force=force)


def _mend(out: Path, *, force: bool) -> None:
    """Mend what an earlier run left when it was killed, and say so."""
    for aside in left_beside(out):
        note(f"{aside} was left by an earlier version when it was stopped; what it holds may be yours: move it back")
    try:
        mended = mend_folder(out, force=force)
    except CannotWriteFolder as error:
        raise CannotWrite(str(error)) from error
    if isinstance(mended, FolderConflict):
        raise usage_error("sheets", mended.what, mended.right)
    if mended is not None:
        note(mended)


def _check_free(out: Path, names: Iterable[str], *, force: bool) -> None:
    trouble = folder_conflict(out, tuple(names), force=force)
    if trouble is not None:
        raise usage_error("sheets", trouble.what, trouble.right)


def _judge(files: Files, answer: Planned, readings: tuple[Reading, ...], name: str) -> None:
    test = bench_test(answer.laid)
    flaws = list(unknown_steps(test, readings))
    if flaws:
        raise refuse(name, flaws)
    with on_stdout():
        sheet = page()
        write_first(answer.plan.first, answer.plan.set_aside, sheet)
        write_findings(files.bike.bike, judge(test, readings), answer.plan.cautions, sheet)


def _write(answer: Planned, out: Path, *, force: bool) -> None:
    with waiting("choosing colours and drawing"):
        sheets = bundle(answer.plan, answer.laid, coloured_lists(answer.laid))
    _check_free(out, sheets, force=force)
    try:
        write_folder(out, sheets)
    except CannotWriteFolder as error:
        raise CannotWrite(str(error)) from error
    note(f"{len(sheets)} sheets are in {out}: start with job-sheet.html")
