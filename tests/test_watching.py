"""``portloom plan --watch`` in a process of its own: the plan, then at each save the difference, until Ctrl-C.

The bike is made up. Source of the exit code: as in ``test_interrupted.py``.
"""

import os
import subprocess
import sys
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from queue import Queue
from signal import SIGINT
from threading import Thread

import pytest

import unix
from calls import Call, Portloom, changed, small_job

pytestmark = [unix.terminal, unix.signals]

LONGEST = 120
"""Seconds after which a test gives up on a process that hangs."""
SAVES = (
    ("length: 360 mm", "length: 460 mm"),
    ("H4 dipped", "H7"),
    ("name: under seat", "name: in the tail"),
)  # fmt: skip
"""What is changed, save after save."""


class Watched:
    """The command as it watches; its answers are cut where it says that it goes on watching."""

    def __init__(self, folder: Path, environment: dict[str, str], call: Call, *, terminal: bool = False) -> None:
        """Start it, stdout and stderr in one pipe, or in a terminal of its own."""
        self._inside, outside = os.openpty() if terminal else os.pipe()
        self.process = subprocess.Popen(
            [sys.executable, "-m", "portloom.cli", *call],
            cwd=folder,
            env={**environment, "TERM": "dumb"},
            stdin=subprocess.DEVNULL,
            stdout=outside,
            stderr=outside,
        )
        os.close(outside)
        self._said: Queue[bytes] = Queue()
        Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        while True:
            try:
                part = os.read(self._inside, 65536)
            except OSError:  # so Linux tells that nobody writes any more
                part = b""
            self._said.put(part)
            if not part:
                return

    def until(self, end: str) -> str:
        """Return what is said up to some words."""
        said = b""
        while end not in (text := said.decode("utf-8", "ignore").replace("\r", "")):
            part = self._said.get(timeout=LONGEST)
            assert part, f"it ended after {text}"
            said += part
        return text

    def answer(self) -> str:
        """Return its next answer."""
        return self.until(": Ctrl-C ends this.\n").rpartition("Watching ")[0]

    def interrupted(self) -> tuple[int, str]:
        """Press Ctrl-C; return the exit code and what is still said."""
        self.process.send_signal(SIGINT)
        code = self.process.wait(timeout=LONGEST)
        said = b""
        while part := self._said.get(timeout=LONGEST):
            said += part
        os.close(self._inside)
        return code, said.decode().replace("\r", "")

    def end(self) -> None:
        """Let go of it, however a test ends."""
        if self.process.poll() is None:
            self.process.kill()
            self.process.wait()


@pytest.fixture
def call(tmp_path: Path) -> Call:
    """Return the call that watches a small bike and its unit."""
    return (*small_job(tmp_path), "--watch")


@pytest.fixture
def watched(tmp_path: Path, environment: dict[str, str], call: Call) -> Iterator[Watched]:
    """Return the command, watching."""
    started = Watched(tmp_path, environment, call)
    yield started
    started.end()


def saved(file: Path, text: str) -> None:
    """Save a file as careful editors do: beside it first, then in its place."""
    beside = file.with_suffix(".new")
    beside.write_text(text, "utf-8")
    beside.replace(file)


def test_first_comes_the_plan_and_ctrl_c_ends_it(watched: Watched, portloom: Portloom, tmp_path: Path) -> None:
    """The plan is the one that is printed without it, byte for byte; Ctrl-C says one word, and no traceback."""
    assert watched.answer() == portloom("plan", "bike.yaml", "--unit", "unit.yaml", folder=tmp_path).stdout
    assert watched.interrupted() == (130, "interrupted\n")


def test_in_a_terminal(tmp_path: Path, environment: dict[str, str], call: Call) -> None:
    """So it is on a screen: the plan, a difference, one word at Ctrl-C."""
    watched = Watched(tmp_path, environment, call, terminal=True)
    try:
        assert "FITS, proven best." in watched.answer()
        changed(tmp_path / "bike.yaml", ("length: 360 mm", "length: 460 mm"))
        assert "DIFFERENT from the old plan" in watched.answer()
        code, said = watched.interrupted()
        assert (code, said.replace("^C", "")) == (130, "interrupted\n")
    finally:
        watched.end()


def test_each_save_tells_what_a_fresh_process_tells(watched: Watched, portloom: Portloom, tmp_path: Path) -> None:
    """Save after save, the difference is that of ``portloom diff`` on the file before, byte for byte; and back."""
    watched.answer()
    texts = [(tmp_path / "bike.yaml").read_text("utf-8")]
    for old, new in SAVES:
        assert old in texts[-1]
        texts.append(texts[-1].replace(old, new))
    texts += [texts[0], texts[0]]
    for number, (before, after) in enumerate(pairwise(texts)):
        saved(tmp_path / "bike.yaml", after)
        for name, text in (("old", before), ("new", after)):
            (tmp_path / f"{name}{number}.yaml").write_text(text, "utf-8")
        fresh = portloom("diff", f"old{number}.yaml", f"new{number}.yaml", "--unit", "unit.yaml", folder=tmp_path)
        assert watched.answer() == fresh.stdout
        assert ("THE SAME" in fresh.stdout) is (before == after)
    assert watched.interrupted()[0] == 130


def test_the_unit_is_watched_too(watched: Watched, tmp_path: Path) -> None:
    """A save of the unit's file plans again."""
    watched.answer()
    changed(tmp_path / "unit.yaml", ("trip: [3 A, 5 A, 10 A]", "trip: [4 A, 5 A, 10 A]"))
    assert "DIFFERENT from the old plan" in watched.answer()


def test_mistakes_are_told_and_the_next_good_one_is_compared_with_the_last(watched: Watched, tmp_path: Path) -> None:
    """A mistake, a file that is gone, one that is half written: each is told as ever, and it goes on."""
    bike = tmp_path / "bike.yaml"
    watched.answer()
    text = bike.read_text("utf-8")
    saved(bike, text.replace("620 mm", "620 A"))
    assert watched.answer().startswith("bike.yaml:9:")
    bike.unlink()
    assert watched.answer() == (
        f"bike.yaml: there is no such file in {tmp_path}; give the path of a file that can be read\n"
    )
    saved(bike, text[: len(text) // 2])
    assert watched.answer().startswith("bike.yaml:")
    saved(bike, text)
    assert watched.answer() == "My bike on the four-way: THE SAME plan, in all that it tells.\n"
    assert watched.interrupted()[0] == 130


def test_no_plan_is_told_and_the_last_good_one_is_kept(watched: Watched, portloom: Portloom, tmp_path: Path) -> None:
    """Where nothing fits the answer is that of ``portloom plan``; then it is compared with the last that did."""
    bike = tmp_path / "bike.yaml"
    watched.answer()
    text = bike.read_text("utf-8")
    saved(bike, text.replace("ignition: own", "ignition: own\nout_of_use: {out 1: burnt, out 2: burnt}"))
    fresh = portloom("plan", "bike.yaml", "--unit", "unit.yaml", folder=tmp_path)
    assert watched.answer() == fresh.stdout
    assert "NOTHING FITS" in fresh.stdout
    saved(bike, text)
    assert "THE SAME plan" in watched.answer()


def test_first_a_mistake_then_the_plan(tmp_path: Path, environment: dict[str, str], call: Call) -> None:
    """Where the first file is wrong there is nothing to compare with: the first good one is told as a plan."""
    bike = tmp_path / "bike.yaml"
    text = bike.read_text("utf-8")
    saved(bike, text.replace("620 mm", "620 A"))
    watched = Watched(tmp_path, environment, call)
    try:
        assert watched.answer().startswith("bike.yaml:9:")
        saved(bike, text)
        assert "FITS, proven best." in watched.answer()
    finally:
        watched.end()


def test_two_units_are_watched(tmp_path: Path, environment: dict[str, str], call: Call) -> None:
    """A plan on two units is planned again, too."""
    seat = "rear: tail, way_round: either}"
    changed(tmp_path / "bike.yaml", (seat, f"{seat}\n  - {{name: neck, front: headstock}}"))
    watched = Watched(tmp_path, environment, (*call, "--unit", "unit.yaml"))
    try:
        assert "on two units: FITS" in watched.answer()
        changed(tmp_path / "bike.yaml", ("length: 360 mm", "length: 460 mm"))
        assert "DIFFERENT from the old plan" in watched.answer()
    finally:
        watched.end()


def test_waiting_is_no_work(watched: Watched) -> None:
    """Between saves it sleeps: in a second and more it takes less than a tenth of it."""
    watched.answer()
    before = _worked(watched.process.pid)
    with pytest.raises(subprocess.TimeoutExpired):
        watched.process.wait(timeout=1.5)
    assert _worked(watched.process.pid) - before < 0.1 * os.sysconf("SC_CLK_TCK")


def _worked(process: int) -> int:
    """Return the ticks that a process has worked; source: proc(5), fields 14 and 15 of stat."""
    stat = Path(f"/proc/{process}/stat")
    if not stat.exists():
        pytest.skip("there is no /proc to ask")
    fields = stat.read_text("utf-8").rpartition(")")[2].split()
    return int(fields[11]) + int(fields[12])


def test_nobody_who_reads_ends_it(tmp_path: Path, environment: dict[str, str], call: Call) -> None:
    """Once its reader is gone, the next save ends it, and that is no error."""
    with subprocess.Popen(
        [sys.executable, "-m", "portloom.cli", *call], cwd=tmp_path, env=environment,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    ) as process:  # fmt: skip
        assert process.stdout is not None
        assert process.stderr is not None
        assert b"Watching" in process.stderr.readline()
        process.stdout.close()
        changed(tmp_path / "bike.yaml", ("length: 360 mm", "length: 460 mm"))
        assert process.wait(timeout=LONGEST) == 0
        assert process.stderr.read() == b""


# --- calls that make no sense


@pytest.mark.parametrize("option", [("--json",), ("--model", "model.txt"), ("--trade-offs",)])
def test_what_is_for_one_plan_is_refused(portloom: Portloom, tmp_path: Path, option: Call) -> None:
    """One line says so, exit code 2; nothing is planned."""
    ran = portloom(*small_job(tmp_path), "--watch", *option, folder=tmp_path)
    told = f"portloom plan: {option[0]} is for one plan, and --watch plans again and again; leave one of them out\n"
    assert (ran.returncode, ran.stdout, ran.stderr) == (2, "", told)


@unix.links
def test_what_is_no_file_is_refused(portloom: Portloom, tmp_path: Path) -> None:
    """A file that is not there, a folder, a device and a pipe can't be watched; nor a unit that is nowhere."""
    small_job(tmp_path)
    (tmp_path / "folder").mkdir()
    os.mkfifo(tmp_path / "pipe")
    for file in ("nowhere.yaml", "folder", "/dev/null", "pipe"):
        ran = portloom("plan", file, "--unit", "unit.yaml", "--watch", folder=tmp_path)
        told = f"portloom plan: {file} is no file that can be watched; give a plain file that is there\n"
        assert (ran.returncode, ran.stdout, ran.stderr) == (2, "", told)
    ran = portloom("plan", "bike.yaml", "--unit", "nowhere", "--watch", folder=tmp_path)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.startswith("nowhere: there is no such file in ")
