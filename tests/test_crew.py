"""A crew of processes: every task once, whatever happens to the processes. No outside source: promises of the tool."""

import os
import subprocess
import sys
from signal import SIGKILL, SIGTERM, Signals

import pytest

import unix
from portloom.comparing.pool import TASKS_THAT_PAY, Failed, WorkerPool, worker_count


def _twice(number: int) -> int:
    return 2 * number


def _refused(number: int) -> int:
    raise ValueError(f"no {number}")


def _gone(number: int) -> int:
    os._exit(number)


@pytest.mark.parametrize("most", [1, 2, 9])
def test_every_task_is_done_once(most: int) -> None:
    """However many processes there are, more than tasks too, each task has its answer."""
    assert sorted(WorkerPool(_twice, most).done(range(5))) == [(number, 2 * number) for number in range(5)]


def test_no_tasks_no_processes() -> None:
    """Where nothing is to be done, nothing is."""
    assert list(WorkerPool(_twice, 2).done([])) == []


def test_what_fails_is_told() -> None:
    """What goes wrong in a process is told where its answer is awaited."""
    with pytest.raises(Failed, match="no 7"):
        list(WorkerPool(_refused, 2).done([7]))


def test_a_process_that_ends_is_told() -> None:
    """A process that is gone without an answer does not keep anybody waiting."""
    with pytest.raises(Failed, match="ended before its work was done"):
        list(WorkerPool(_gone, 2).done([3, 4]))


def test_few_tasks_are_done_at_once() -> None:
    """A process more must pay."""
    assert [worker_count(TASKS_THAT_PAY - 1), worker_count(2 * TASKS_THAT_PAY)] == [0, 2]


ENDED_AT_WORK = """
import os, sys, time
from portloom.cli.stopping import listen
from portloom.comparing.pool import WorkerPool
def work(number):
    if number == 0:
        time.sleep(0.2)  # the others are at work, too
        os.kill(os.getppid(), int(sys.argv[1]))
    time.sleep(600)
listen()
list(WorkerPool(work, 3).done([2, 1, 0]))
"""


@unix.signals
@pytest.mark.parametrize(("number", "said"), [(SIGKILL, ""), (SIGTERM, "terminated\n")], ids=["killed", "terminated"])
def test_the_crew_ends_with_the_process_that_started_it(number: Signals, said: str) -> None:
    """Ended from outside, it leaves nobody behind that works on, and nobody who keeps its output open."""
    call = [sys.executable, "-c", ENDED_AT_WORK, str(int(number))]
    ran = subprocess.run(call, capture_output=True, encoding="utf-8", timeout=60, check=False)
    assert (ran.stdout, ran.stderr) == ("", said)
