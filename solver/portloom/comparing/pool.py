"""A crew of processes that work on tasks side by side; each takes the next task when it has done one.

Where the system can copy a running process, the crew starts at once; elsewhere each loads the program anew.
Whatever ends the process that started a crew, the crew ends with it.
"""

import os
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from multiprocessing import get_context
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess, parent_process
from signal import SIG_DFL, SIG_IGN, SIGINT, SIGTERM, set_wakeup_fd, signal
from threading import Thread
from typing import Generic, TypeVar

COPIES = sys.platform == "linux"
"""Whether a process can be copied as it runs; elsewhere that is not safe, or there is no such thing."""
TASKS_THAT_PAY = 3 if COPIES else 12
"""For so many tasks of a fifth of a second each it pays to have one more process."""
Task = TypeVar("Task")
Result = TypeVar("Result")


class Failed(RuntimeError):
    """A task failed in its process, or the process ended without an answer."""


def worker_count(tasks: int) -> int:
    """Tell how many processes pay for so many tasks."""
    return tasks // TASKS_THAT_PAY


class WorkerPool(Generic[Task, Result]):
    """Processes that each do tasks by the same work."""

    def __init__(self, work: Callable[[Task], Result], most: int) -> None:
        """Take the work, and how many processes there are at most."""
        self._work = work
        self._most = most

    def done(self, tasks: Sequence[Task]) -> Iterator[tuple[Task, Result]]:
        """Return each task with its answer, as it is done; raise Failed where one fails.

        Whatever ends this, an interrupt too, ends the processes.
        """
        waiting = list(reversed(tasks))
        members = [_Member(self._work) for _ in range(min(self._most, len(tasks)))]
        try:
            busy = {member.line: member for member in members if member.take(waiting)}
            while busy:
                for line in [line for line in wait(list(busy)) if isinstance(line, Connection)]:
                    member = busy.pop(line)
                    yield member.task, member.answer()
                    if member.take(waiting):
                        busy[line] = member
        finally:
            for member in members:
                member.end()


class _Member(Generic[Task, Result]):
    """One process, and the line to it."""

    task: Task

    def __init__(self, work: Callable[[Task], Result]) -> None:
        context = get_context("fork") if COPIES else get_context("spawn")
        self.line, its = context.Pipe()
        self._process: BaseProcess = context.Process(target=_serve, args=(work, its), daemon=True)
        self._process.start()
        its.close()

    def take(self, waiting: list[Task]) -> bool:
        """Take the next task, if there is one."""
        if waiting:
            self.task = waiting.pop()
            self.line.send(self.task)
            return True
        return False

    def answer(self) -> Result:
        try:
            done, failure = self.line.recv()
        except EOFError as error:
            raise Failed("a process ended before its work was done") from error
        if failure is not None:
            raise Failed(failure)
        answer: Result = done
        return answer

    def end(self) -> None:
        self._process.kill()  # it has nothing to clear up
        self._process.join()
        self.line.close()


def _serve(work: Callable[[Task], Result], line: Connection) -> None:
    """Do what comes down the line; an interrupt is for the process that started this one."""
    set_wakeup_fd(-1)
    signal(SIGINT, SIG_IGN)
    signal(SIGTERM, SIG_DFL)
    Thread(target=_end_with_parent, daemon=True).start()
    with suppress(EOFError, OSError):  # nobody asks any more
        while True:
            line.send(_answered(work, line.recv()))


def _answered(work: Callable[[Task], Result], task: Task) -> tuple[Result | None, str | None]:
    """Do a task; return its answer, or what went wrong."""
    try:
        return work(task), None
    except Exception as error:  # noqa: BLE001 - told where the answer is awaited
        return None, str(error) or type(error).__name__


def _end_with_parent() -> None:
    """End this process, in the middle of its work too, once the one that started it is gone.

    The line to it says nothing of that: the processes of a crew have copies of each other's ends.
    """
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
