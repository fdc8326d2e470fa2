"""A case tried in this process, and judged by what holds for every call, whatever it is given.

- It ends with 0 to 3; never with a traceback, nor with an error of the program.
- What is wrong is told on lines of their own, each with its file, line and column; of the call, or of the system,
  after the program's name. Nothing is on stdout then, but for a post, of which the rest is judged, and a fix to apply.
- Nothing hidden leaves (tests/test_nothing_hidden.py), and no megabytes.
- JSON is JSON. What is written is whole, and nothing is left beside it.
- The same again gives the same; where a limit of time is set, if neither run comes near it.
"""

import gc
import json
import re
import sys
import traceback
from collections.abc import Iterator
from contextlib import chdir, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from io import BytesIO, TextIOWrapper
from math import inf
from pathlib import Path
from shutil import rmtree
from time import monotonic
from unicodedata import category
from unittest.mock import patch

import portloom.cli.main
from portloom.cli.limit import begin
from portloom.cli.screen import Exit
from portloom.comparing.kept_rows import KeptRows
from portloom.inputs.bench_readings import readings_from_text
from portloom.inputs.files import find_unit, read_bike, read_unit
from portloom.inputs.parsing import file_text
from portloom.inputs.problems import BadFile
from portloom.review.check import check
from test_nothing_hidden import KINDS, VISIBLE

from .cases import Case

PLACED = re.compile(r"[^\n]+?:[1-9][0-9]*:[1-9][0-9]*: [^\n]*\S")
OF_CALL = re.compile(
    r"Usage: |Try '|Error: |portloom: can't|portloom [a-z]+: |More: portloom help |Give a profile's file, |$|  |"
    r"[0-9]+ (?:of|sheets)|'[^\n]*' is read as the bundled unit "
)
NO_FILE = re.compile(
    r"[^\n]+: (?:there is no such file|this is a folder|this (?:file|folder) can't be |there is no profile)[^\n]*"
)
"""What is told of what is no file has no place in it."""
"""A call that is wrong, a system that refuses, a list that goes with either; and how many rows were there."""
MOST_OUT, MOST_ERR = 2_000_000, 400_000
JOINERS = "\u200c\u200d"


@dataclass(frozen=True)
class Ended:
    """How a call ended, and each file that is there then and was not given as it is."""

    code: object
    out: str
    err: str
    files: tuple[tuple[str, bytes], ...]
    broke: str = ""
    """The traceback of what the program called its own error."""


def faults(case: Case, folder: Path, *, twice: bool) -> list[str]:
    """Return what is wrong with how a case ends; the folder is emptied before and after."""
    ended, took = _timed(case, folder)
    found = list(_faults(case, ended))
    if twice and not found and took < _uncut(case):
        again, took = _timed(case, folder)
        if again != ended and took < _uncut(case):
            found.append("the same again ends otherwise")
    return found


def _timed(case: Case, folder: Path) -> tuple[Ended, float]:
    """Return how a case ended, and the seconds that it took."""
    began = monotonic()
    return _ended(case, folder), monotonic() - began


def _uncut(case: Case) -> float:
    """Return the seconds in which a call ends that its limit, if it has one, has not cut short."""
    return float(case.call[case.call.index("--time-limit") + 1]) / 2 if "--time-limit" in case.call else inf


def _faults(case: Case, ended: Ended) -> Iterator[str]:
    if ended.broke or ended.code not in {0, 1, 2, 3}:
        yield f"exit code {ended.code!r}: {ended.err[:300]}\n{ended.broke}"
        return
    if "Traceback" in ended.err:
        yield f"a traceback: {ended.err[:2000]}"
    if ended.code == 2:
        yield from _refused(case, ended)
    for name, text in (("stdout", ended.out), ("stderr", ended.err), *_written(ended)):
        unseen = {x for x in text if category(x) in KINDS and x not in "\n\t" and not _is_known(x)}
        was_there = dict(case.files).get(name, "").encode("latin-1")  # as it lies on the disk
        unseen -= set(was_there.decode(errors="replace"))  # rows that were there stay as they are
        if unseen:
            yield f"{name} holds {unseen!a}"
    if len(ended.out) > MOST_OUT or len(ended.err) > MOST_ERR:
        yield f"{len(ended.out)} letters on stdout, {len(ended.err)} on stderr"
    if "--json" in case.call and ended.code != 2 and not _is_json(ended.out):
        yield f"no JSON: {ended.out[:300]}"
    yield from (f"left behind: {name}" for name, _ in ended.files if ".portloom-" in name)
    yield from (f"{name} is empty" for name, content in ended.files if not content and name != "rows")


def _is_known(letter: str) -> bool:
    """Tell whether a letter of these categories is seen, or joins others (tests/test_nothing_hidden.py)."""
    return letter in JOINERS or letter in VISIBLE


def _refused(case: Case, ended: Ended) -> Iterator[str]:
    lines = ended.err.splitlines()
    if not lines:
        yield "nothing is said of what is wrong"
    bad = [line for line in lines if not (PLACED.fullmatch(line) or NO_FILE.fullmatch(line) or OF_CALL.match(line))]
    if bad:
        yield f"no place, or more than a line: {bad[0][:300]!a}"
    if ended.out and case.call[0] != "check" and "--apply" not in case.call:
        yield f"an answer beside what is wrong: {ended.out[:200]}"


def _written(ended: Ended) -> Iterator[tuple[str, str]]:
    for name, content in ended.files:
        if not name.endswith("m.txt"):  # the solver's own text
            marked = "utf-8-sig" if name == "rows" else "utf-8"  # a table begins with the mark that spreadsheets know
            yield name, content.decode(marked).replace("\r\n", "\n")


def _is_json(text: str) -> bool:
    try:
        json.loads(text)
    except ValueError:
        return False
    return True


# --- running


def _ended(case: Case, folder: Path) -> Ended:
    rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    for name, content in case.files:
        (folder / name).write_bytes(content.encode("latin-1"))
    with chdir(folder):
        code, out, err, broke = _read_alone(case) if case.call[0] == "<" else _called(case)
    given = {name: content.encode("latin-1") for name, content in case.files}
    here = ((str(path.relative_to(folder)), path) for path in sorted(folder.rglob("*")) if path.is_file())
    files = tuple((name, path.read_bytes()) for name, path in here)
    return Ended(code, out, err, tuple((name, content) for name, content in files if given.get(name) != content), broke)


def _read_alone(case: Case) -> tuple[object, str, str, str]:
    kind = case.call[1]
    try:
        match kind:
            case "bike":
                read_bike(Path(kind))
            case "unit":
                read_unit(Path(kind))
            case "post":
                check(file_text(Path(kind)), None, read_unit(find_unit("eleven-way")), name=kind)
            case "readings":
                readings_from_text(file_text(Path(kind)), kind)
            case _:
                KeptRows(Path(kind.removesuffix(".resume")))
    except BadFile as bad:
        return 2, "", f"{bad}\n", ""
    except Exception:  # noqa: BLE001 - any other is a fault
        return 4, "", "", traceback.format_exc(limit=-6)
    return 0, "", "", ""


def _called(case: Case) -> tuple[object, str, str, str]:
    out, err = (TextIOWrapper(BytesIO(), "utf-8", newline="") for _ in range(2))
    code: object = None
    broke: list[str] = []
    stop = portloom.cli.main._stop  # noqa: SLF001 - to have the traceback of an error that is told in a line

    def heard(message: str, end: Exit) -> None:
        if end == Exit.FAILED_CHECK:
            broke.append(traceback.format_exc(limit=-6))
        stop(message, end)

    with (
        redirect_stdout(out), redirect_stderr(err), patch("sys.argv", ["portloom", *case.call]),
        patch("os.cpu_count", lambda: 1), patch("portloom.cli.main._stop", heard),
    ):  # fmt: skip
        begin()  # a time limit counts from here, not from when all was loaded
        try:
            portloom.cli.main.main()
        except SystemExit as end:
            code = end.code
        except BaseException:  # noqa: BLE001 - nothing at all may get out
            broke.append(traceback.format_exc(limit=-6))
        finally:
            gc.unfreeze()  # it spares its end the collections, which many calls in one process can't do without
            sys.stdout.flush()
            sys.stderr.flush()
    told, said = (stream.buffer.getvalue().decode() for stream in (out, err))
    return code, told, said, "".join(broke)
