"""``portloom plan --watch``: the plan, then at each save of its files how the new one differs, until Ctrl-C.

Files are looked at by their time and size. One that changes is left alone until two looks agree, so that an editor can
finish; nothing of one plan is taken into the next but what it is compared with.
"""

import sys
from collections.abc import Sequence
from pathlib import Path
from stat import S_ISREG
from time import sleep

from portloom.base.clock import TimeIsUp
from portloom.base.figures import listed
from portloom.cli.files import Files, read_files
from portloom.cli.limit import begin
from portloom.cli.plan import Answered, PlanOptions, answered, write_answer
from portloom.cli.screen import Exit, let_go, note, on_stdout, page, usage_error
from portloom.documents.difference.diff import diff
from portloom.documents.document import Plan
from portloom.inputs.files import bundled_units, find_unit
from portloom.inputs.problems import BadFile
from portloom.planning.plan import Planned
from portloom.report.text.difference import write_difference

PAUSE = 0.2
"""Seconds between two looks."""
Look = tuple[tuple[int, int, int] | None, ...]
"""Time, size and number of each file; none where there is no file."""


def watch(bike: Path, units: Sequence[str], asked: PlanOptions, *, as_json: bool) -> Exit:
    """Plan, and plan again at each save, until nobody reads any more; raise BadFile for a call that is wrong."""
    _check_call(asked, as_json=as_json)
    files = _files(bike, units)
    last: Plan | None = None
    while True:
        seen = _settled(files)
        try:
            last = _planned(bike, units, asked, last) or last
        except _NobodyReadsError:
            return Exit.DONE
        note(f"Watching {listed([str(file) for file in files])}: Ctrl-C ends this.")
        while _look(files) == seen:
            sleep(PAUSE)
        begin()  # a time limit counts anew


def _check_call(asked: PlanOptions, *, as_json: bool) -> None:
    """Raise BadFile where something is asked that is no answer to a save."""
    once = {"--json": as_json, "--model": asked.model is not None, "--trade-offs": asked.trade_offs}
    for option, given in once.items():
        if given:
            what = f"{option} is for one plan, and --watch plans again and again"
            raise usage_error("plan", what, "leave one of them out")


def _files(bike: Path, units: Sequence[str]) -> list[Path]:
    """Return the files to watch, bundled units not; raise BadFile where one is no file that can be watched."""
    bundled = {str(file) for _, file in bundled_units()}
    found = [str(find_unit(unit)) for unit in units]
    files = list(dict.fromkeys([bike, *(Path(file) for file in found if file not in bundled)]))
    for file in files:
        try:
            plain = S_ISREG(file.stat().st_mode)
        except (OSError, ValueError):
            plain = False
        if not plain:
            raise usage_error("plan", f"{file} is no file that can be watched", "give a plain file that is there")
    return files


def _look(files: Sequence[Path]) -> Look:
    return tuple(_stamp(file) for file in files)


def _stamp(file: Path) -> tuple[int, int, int] | None:
    try:
        found = file.stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino


def _settled(files: Sequence[Path]) -> Look:
    """Return how the files look once they stay so."""
    seen = _look(files)
    while True:
        sleep(PAUSE)
        if (now := _look(files)) == seen:
            return seen
        seen = now


def _planned(bike: Path, units: Sequence[str], asked: PlanOptions, last: Plan | None) -> Plan | None:
    """Plan the files as they are now and write what there is to tell; return the plan, if there is one."""
    try:
        files = read_files(bike, *units, limit=asked.time_limit)
        files.check_place(asked.place)
        found = answered(files, asked)
    except BadFile as bad:
        note(str(bad))
        return None
    except TimeIsUp:
        note("UNKNOWN: the time limit was reached while the files were read and set up; allow more time")
        return None
    _write(found, files, last, asked)
    return found.answer.plan if isinstance(found.answer, Planned) else None


class _NobodyReadsError(Exception):
    """Whoever reads the answers has had enough."""


def _write(found: Answered, files: Files, last: Plan | None, asked: PlanOptions) -> None:
    """Write how a plan differs from the last one; without two of them the answer itself."""
    with on_stdout():
        try:
            if isinstance(found.answer, Planned) and last is not None:
                write_difference(diff(last, found.answer.plan), page())
            else:
                write_answer(found.answer, None, files, found.reason, asked)
            sys.stdout.flush()
        except BrokenPipeError as error:
            let_go(sys.stdout)
            raise _NobodyReadsError from error
