"""A crew of processes: every task once, whatever happens to the processes. No outside source: promises of the tool."""

import os

import pytest

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
