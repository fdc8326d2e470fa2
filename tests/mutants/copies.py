"""A copy of the package with an environment of its own, in which the tests of the project run on it."""

import os
import shutil
import signal
import subprocess
import sys
import time
import venv
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor, as_completed
from dataclasses import dataclass
from pathlib import Path
from queue import SimpleQueue
from threading import Event
from typing import Protocol, TypeVar

ROOT = Path(__file__).parent.parent.parent
MEMORY = 6_000_000
"""The most kB that a process of the tests may ask for, many times what they take."""
WAIT = 0.02


class Stoppable(Protocol):
    """What can be stopped."""

    def stop(self) -> None:
        """Stop what it does."""


Worker = TypeVar("Worker", bound=Stoppable)
Work = TypeVar("Work")
Done = TypeVar("Done")


@dataclass(frozen=True)
class Ran:
    """How a run of tests ended: its exit code, None where it had to be ended, seconds of a core, what it printed."""

    code: int | None
    seconds: float
    printed: str


@dataclass(frozen=True)
class Project:
    """A project: its folder, with ``solver`` and ``tests`` in it, and the name of its package."""

    root: Path
    name: str

    @property
    def package(self) -> Path:
        """The folder of the package."""
        return self.root / "solver" / self.name


OURS = Project(ROOT, "portloom")


class Stopped(Exception):
    """A run was ended from outside."""


class Copy:
    """A copy of a project's package in a folder; only its files change, never those of the project."""

    def __init__(self, folder: Path, project: Project = OURS) -> None:
        """Copy the package, and make an environment that has this copy first, and then all that this process has."""
        self._root = project.root
        self._package = folder / "solver" / project.name
        shutil.copytree(project.package, self._package, ignore=shutil.ignore_patterns("__pycache__"))
        (folder / "profiles").symlink_to(project.root / "profiles")
        self._bin = folder / ".venv" / "bin"
        venv.create(folder / ".venv", symlinks=True)
        (site,) = (folder / ".venv").glob("lib/*/site-packages")
        found = [path for path in sys.path if (Path(path) / "ortools").is_dir()]
        (site / "first.pth").write_text("\n".join([str(folder / "solver"), str(ROOT), *found]) + "\n", "utf-8")
        command = self._bin / "portloom"
        python = self._bin / "python"
        command.write_text(f"#!{python}\nimport sys\nfrom portloom.cli.start import main\nsys.exit(main())\n", "utf-8")
        command.chmod(0o755)
        self._folder = folder
        self._changes = 0
        self._stopped = Event()

    def read(self, file: str) -> str:
        """Return the text of a file of the package."""
        return (self._package / file).read_text("utf-8")

    def write(self, file: str, text: str) -> None:
        """Write a file of the package; its time is new, so that Python never takes what it made of an older text."""
        path = self._package / file
        path.write_text(text, "utf-8")
        self._changes += 1
        os.utime(path, (self._changes, self._changes))

    def run(self, files: Iterable[str], seconds: float) -> Ran:
        """Run files of tests, as the project names them, up to the first that fails, or so many seconds of a core.

        Four times as long may pass on the clock, for what sleeps instead of working.
        """
        out = self._folder / "printed"
        limited = ["sh", "-c", f'ulimit -t {int(seconds) + 1} && ulimit -v {MEMORY} && exec "$@"', "sh"]
        call = [*limited, str(self._bin / "python"), "-m", "pytest", "-x", "-q", "-n", "0", "--tb=line", *files]
        with out.open("wb") as file:
            begun = time.monotonic()
            process = subprocess.Popen(
                [*call, "-p", "tests.mutants.unshrunk"], cwd=self._root, env=self._environment(),
                stdin=subprocess.DEVNULL, stdout=file, stderr=subprocess.STDOUT, start_new_session=True,
            )  # fmt: skip
            try:
                while True:
                    pid, status, used = os.wait4(process.pid, os.WNOHANG)
                    if pid:
                        break
                    if self._stopped.is_set() or time.monotonic() - begun > 4 * seconds:
                        os.killpg(process.pid, signal.SIGKILL)
                    time.sleep(WAIT)
            finally:
                _end(process.pid)
        if self._stopped.is_set():
            raise Stopped
        code = os.waitstatus_to_exitcode(status)
        process.returncode = code
        printed = out.read_text("utf-8", "replace")
        return Ran(None if code in (-signal.SIGXCPU, -signal.SIGKILL) else code, used.ru_utime + used.ru_stime, printed)

    def stop(self) -> None:
        """End what is run on it, from another thread, and whatever is still to be run."""
        self._stopped.set()

    def _environment(self) -> dict[str, str]:
        kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
        return kept | {
            "PYTHONPYCACHEPREFIX": str(self._folder / "compiled"),
            "HYPOTHESIS_STORAGE_DIRECTORY": str(self._folder / "hypothesis"),
            "TMPDIR": str(_made(self._folder / "tmp")),
        }


def _made(folder: Path) -> Path:
    folder.mkdir(exist_ok=True)
    return folder


def _end(group: int) -> None:
    """End what a run has left behind."""
    try:
        os.killpg(group, signal.SIGKILL)
    except ProcessLookupError:
        return


def side_by_side(
    workers: Sequence[Worker], do: Callable[[Worker, Work], Done], works: Iterable[Work]
) -> Iterator[Done]:
    """Do each work by a worker that is free; return what was done as it is done. What fails, or ends it, ends all."""
    free = SimpleQueue[Worker]()
    for worker in workers:
        free.put(worker)

    def done(work: Work) -> Done:
        worker = free.get()
        try:
            return do(worker, work)
        finally:
            free.put(worker)

    with ThreadPoolExecutor(len(workers)) as pool:
        try:
            yield from (one.result() for one in as_completed([pool.submit(done, work) for work in works]))
        finally:
            pool.shutdown(wait=False, cancel_futures=True)
            for worker in workers:
                worker.stop()
