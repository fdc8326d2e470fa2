"""Runs of the solver on one clock, in threads, which can all be stopped."""

import os
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from threading import RLock
from typing import Any, TypeVar

from portloom.base.clock import Clock
from portloom.search.solving import Solve

T = TypeVar("T")


class Running:
    """Runs on one clock, which can be stopped together."""

    def __init__(self, clock: Clock) -> None:
        """Take the clock."""
        self.clock = clock
        self._lock = RLock()
        self._runs: dict[object, Solve] = {}
        self._stopped = False

    def new(self, key: object, **settings: Any) -> Solve:
        """Return a new run, known by its key, with the seconds that are left."""
        run = Solve(0.0 if self._stopped else self.clock.left(), **settings)
        with self._lock:
            self._runs[key] = run
        return run

    def stop(self, key: object) -> None:
        """Stop a run, if it goes on."""
        run = self._runs.get(key)
        if run is not None:
            run.solver.stop()

    def all_at_once(self, tasks: Sequence[Callable[[], T]]) -> list[T]:
        """Do some things in as many threads as there are processors, the first ones first; return what they return.

        Where one of them fails, or this is interrupted, every run is stopped.
        """
        with ThreadPoolExecutor(max_workers=max(1, min(len(tasks), os.cpu_count() or 1))) as threads:
            jobs = [threads.submit(task) for task in tasks]
            try:
                return [job.result() for job in jobs]
            except BaseException:
                self._stopped = True
                for job in jobs:
                    job.cancel()
                for key in list(self._runs):
                    self.stop(key)
                raise
