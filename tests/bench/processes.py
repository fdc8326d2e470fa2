"""Whole processes, and what each took: seconds, processor time, memory; and tasks of this one."""

import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from tempfile import TemporaryDirectory
from time import perf_counter, process_time
from typing import TypeVar

Answer = TypeVar("Answer")


@dataclass(frozen=True)
class Taken:
    """What a process took: seconds, seconds of processor time, megabytes at its peak; and what it printed."""

    seconds: float
    processor: float
    memory: float
    said: str = ""


@contextmanager
def as_installed() -> Iterator[Mapping[str, str]]:
    """Lend an environment in which compiled files are kept, as an install keeps them."""
    with TemporaryDirectory() as compiled:
        kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
        yield {**kept, "PYTHONPYCACHEPREFIX": compiled}


def taken(arguments: Sequence[str], environment: Mapping[str, str]) -> Taken:
    """Run Python with arguments to its end; raise RuntimeError where it ends with more than 1, which is an answer.

    A small process starts it: what the system calls its peak of memory counts that of its parent, too.
    """
    starter = [sys.executable, "-I", "-S", __file__, *arguments]
    done = subprocess.run(starter, env=dict(environment), capture_output=True, text=True, check=False)
    if done.returncode not in (0, 1):
        raise RuntimeError(f"{' '.join(arguments)} ended with {done.returncode}: {done.stderr}")
    return Taken(**json.loads(done.stdout))


def started(arguments: Sequence[str]) -> tuple[Taken, int]:
    """Run Python with arguments to its end; give what it took and its exit code."""
    inside, outside = os.pipe()
    began = perf_counter()
    child = os.posix_spawn(
        sys.executable,
        [sys.executable, *arguments],
        os.environ,
        file_actions=[(os.POSIX_SPAWN_DUP2, outside, 1), (os.POSIX_SPAWN_CLOSE, inside)],
    )
    os.close(outside)
    with os.fdopen(inside) as pipe:
        said = pipe.read()
    _, status, usage = os.wait4(child, 0)
    seconds = perf_counter() - began
    took = Taken(seconds, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024, said)
    return took, os.waitstatus_to_exitcode(status)


def spent(task: Callable[[], Answer]) -> tuple[Answer, Taken]:
    """Do a task in this process; give its answer and what it took, all its threads together, memory left out."""
    began, worked = perf_counter(), process_time()
    answer = task()
    return answer, Taken(perf_counter() - began, process_time() - worked, 0)


def processor(task: Callable[[], Answer]) -> tuple[Answer, float]:
    """Do a task in this process; give its answer and the processor time that all its threads took."""
    answer, took = spent(task)
    return answer, took.processor


if __name__ == "__main__":
    took, code = started(sys.argv[1:])
    sys.stdout.write(json.dumps(asdict(took)))
    sys.exit(code if code >= 0 else 128 - code)
