"""A small file system that is really full, where one can be mounted: Linux, as root."""

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from kills.judging import Course, held
from kills.moments import run

SIZE = 4_000_000
"""Bytes that it has."""
ROOM = (0, 1, 2, 3, 5, 8, 13, 30, 60, 120)
"""Blocks of 4096 bytes that are left."""


def filled(undisturbed: Course, scratch: Path) -> Iterator[tuple[int, list[str]]]:
    """Run a job with just so much room left, then once more with enough; return how much, and what is wrong."""
    for blocks in ROOM:
        with mounted(scratch / "small") as disk:
            if disk is None:
                print(f"{undisturbed.job.name}: no small file system can be mounted here")
                return
            yield blocks * 4096, _judged(undisturbed, disk, blocks)


@contextmanager
def mounted(at: Path) -> Iterator[Path | None]:
    """Mount a small file system, if that can be done here."""
    at.mkdir(exist_ok=True)
    call = ["mount", "-t", "tmpfs", "-o", f"size={SIZE}", "tmpfs", str(at)]
    if sys.platform != "linux" or subprocess.run(call, capture_output=True, check=False).returncode:
        yield None
        return
    try:
        yield at
    finally:
        subprocess.run(["umount", str(at)], check=True)


def _judged(undisturbed: Course, disk: Path, blocks: int) -> list[str]:
    folder, filler, job = disk / "folder", disk / "filler", undisturbed.job
    shutil.copytree(undisturbed.prepared, folder)
    free = os.statvfs(disk)
    filler.write_bytes(b"x" * max(0, (free.f_bfree - blocks) * free.f_bsize))
    end = run(folder, job.words)
    seen = held(folder)
    filler.unlink()
    wrong = []
    if end.code == 2 and "No space left on device" in end.said:
        if seen != undisturbed.before and job.rows is None:
            wrong.append("not all is as it was")
    elif end.code != job.code or seen != undisturbed.after:
        wrong.append(f"it ended with {end.code}: {end.said}")
    run(folder, job.words)
    if held(folder) != undisturbed.after:
        wrong.append("with enough room the next call did not do it")
    return wrong
