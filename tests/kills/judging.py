"""What must hold after a call that something befell, and after the next one."""

import csv
import json
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from kills.jobs import Job
from kills.moments import FULL, End, Fault, run

Files = dict[str, bytes]
"""What a folder holds: each file's bytes by its way from there; a folder's way ends with '/', and holds nothing."""
OURS = (".portloom-", "portloom-unfinished")
"""How names begin of what a killed command may leave."""
TOLD = ("is taken away", "are all in place now", "is taken out")
"""What the next call says of what it mended."""
CODES = {"killed": -9, "interrupted": 130, "terminated": 143, FULL: 2}
WORDS = {"killed": "", "interrupted": "interrupted\n", "terminated": "terminated\n", FULL: "No space left on device"}


@dataclass(frozen=True)
class Course:
    """A job undisturbed: the folder that was prepared, what it held, what it holds then, and how the call ended."""

    job: Job
    prepared: Path
    before: Files
    after: Files
    end: End


def held(folder: Path) -> Files:
    """Return what a folder holds."""
    return {
        path.relative_to(folder).as_posix() + "/" * path.is_dir(): b"" if path.is_dir() else path.read_bytes()
        for path in sorted(folder.rglob("*"))
    }


def course(job: Job, scratch: Path) -> Course:
    """Prepare a job's folder, and run the job in a copy of it."""
    prepared, done = scratch / "prepared", scratch / "done"
    prepared.mkdir(parents=True)
    job.prepare(prepared)
    shutil.copytree(prepared, done)
    end = run(done, job.words)
    assert end.code == job.code, end.said
    return Course(job, prepared, held(prepared), held(done), end)


def judged(undisturbed: Course, fault: Fault, folder: Path) -> list[str]:
    """Let a fault befall the job in a new folder, run it once more, and return what is wrong."""
    shutil.copytree(undisturbed.prepared, folder)
    own = undisturbed.job.own
    there = [(folder / name).stat().st_ino for name in own]
    end, seen = run(folder, undisturbed.job.words, fault), held(folder)
    wrong = [*_of_end(undisturbed, fault, end, seen), *_of_files(undisturbed, seen)]
    if there != [(folder / name).stat().st_ino for name in own if name in seen]:
        wrong.append("what is the user's is gone, or another file")
    wrong += [f"{name} was the user's" for name in own if seen.get(name) != undisturbed.before[name]]
    left = [name for name in seen if name.removeprefix("sheets/").startswith(OURS)]
    if left and fault.way in {"interrupted", "terminated"}:
        wrong.append(f"left over: {left}")
    return [*wrong, *_of_next(undisturbed, folder, seen, left)]


def _of_end(undisturbed: Course, fault: Fault, end: End, seen: Files) -> Iterator[str]:
    """Look at code and words; a call that was done already may end as ever."""
    if "Traceback" in end.said:
        yield f"a traceback: {end.said}"
    if end.code == undisturbed.job.code and seen == undisturbed.after:
        return
    if end.code != CODES[fault.way] or WORDS[fault.way] not in end.said:
        yield f"it ended with {end.code}: {end.said}"


def _of_files(undisturbed: Course, seen: Files) -> Iterator[str]:
    """Look at each file: the user's as it was, ours whole, and none gone that was to stay."""
    before, after = undisturbed.before, undisturbed.after
    for name in {**before, **after}:
        if name not in seen:
            if name in before and name in after:
                yield f"{name} is gone"
        elif name in undisturbed.job.rows:
            if not _are_whole(name, seen[name].decode()):
                yield f"{name} is not whole"
        elif seen[name] not in (before.get(name), after.get(name)):
            yield f"{name} is neither the old one nor the new"
    for name in seen:
        if name not in before and name not in after and not name.removeprefix("sheets/").startswith(OURS):
            yield f"{name} is a file that nobody knows"


def _are_whole(name: str, text: str) -> bool:
    """Tell whether each line is whole: of the table, or of the JSON beside it."""
    lines = text.splitlines(keepends=True)
    if not name.endswith(".csv"):
        return text.endswith("\n") and all(json.loads(line) for line in lines)
    rows = list(csv.reader(lines, strict=True))
    return text.endswith("\n") and all(len(row) == len(rows[0]) for row in rows)


def _of_next(undisturbed: Course, folder: Path, seen: Files, left: list[str]) -> Iterator[str]:
    """Run the job once more: it ends as undisturbed, says what it mended, and leaves just what it should."""
    job = undisturbed.job
    again = run(folder, job.words)
    if again.code != (2 if job.new in seen else job.code) or "Traceback" in again.said:
        yield f"the next call ended with {again.code}: {again.said}"
    if left and not any(word in again.said for word in TOLD):
        yield f"the next call did not tell of {left}: {again.said}"
    now = held(folder)
    if now != undisturbed.after:
        differ = sorted(name for name in {**now, **undisturbed.after} if now.get(name) != undisturbed.after.get(name))
        yield f"after the next call {differ} is not as it should be"
