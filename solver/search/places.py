"""Places side by side: one model each, every one bounded by the best so far.

Threads find only the best value and its place. A place earlier in the file than the best so far is
bounded by its value, a later one by one micrometre less, so timing never settles a tie. The plan
itself comes from last solves of that place alone.
"""

import os
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from threading import Lock
from time import monotonic

from solver.search.model import Model, Outcome, Solve, Status
from solver.search.tableau import Tableau


@dataclass(frozen=True)
class Found:
    """The best place, how often each of its columns is used, its cost, and the proven bound."""

    tableau: Tableau
    chosen: tuple[int, ...]
    cost: int
    bound: int
    proven: bool


@dataclass(frozen=True)
class NoPlan:
    """Proved: no place has a plan."""


@dataclass(frozen=True)
class LimitReached:
    """The time limit was reached before a plan was found or proved impossible; the bound that is proven."""

    bound: int


Answer = Found | NoPlan | LimitReached


class Clock:
    """The time that is left of a limit, if there is one."""

    def __init__(self, seconds: float | None) -> None:
        """Start the clock."""
        self._end = None if seconds is None else monotonic() + seconds

    def left(self) -> float | None:
        """Give the seconds left, None without a limit."""
        return None if self._end is None else max(0.0, self._end - monotonic())


class Disagreement(RuntimeError):
    """Two proofs of the same model disagree."""


class _Race:
    """The best so far, shared by the threads."""

    def __init__(self, models: Sequence[Model], clock: Clock) -> None:
        self._models = models
        self._clock = clock
        self._lock = Lock()
        self._running: list[Solve] = []
        self.best: tuple[int, int] | None = None
        """Value, and number of the place."""
        self.ends: dict[int, Outcome] = {}

    def solve(self, number: int) -> None:
        model = self._models[number]
        run = Solve(self._clock.left())
        with self._lock:
            self._running.append(run)
            best = self.best
        if best is not None:
            model.bound(best[0] if number < best[1] else best[0] - 1)
        model.aim("cost")
        self._note(number, model.solve(run))

    def _note(self, number: int, end: Outcome) -> None:
        with self._lock:
            self.ends[number] = end
            if end.value is not None:
                mine = (end.value, number)
                self.best = mine if self.best is None else min(self.best, mine)

    def stop(self) -> None:
        """Stop every solve that runs."""
        with self._lock:
            for run in self._running:
                run.solver.stop_search()


def best_place(tableaux: Sequence[Tableau], clock: Clock) -> Answer:
    """Give the proven best plan over all places, or what a limit left of it."""
    race = _Race([Model(tableau) for tableau in tableaux], clock)
    _run(race, len(tableaux))
    if race.best is None:
        return _none_found(tableaux, race, clock)
    value, number = race.best
    proven = all(end.status in (Status.BEST, Status.IMPOSSIBLE) for end in race.ends.values())
    if not proven:
        return Found(tableaux[number], race.ends[number].chosen, value, _bound(race, value), proven=False)
    chosen = settle(tableaux[number], value, clock) or race.ends[number].chosen
    return Found(tableaux[number], chosen, value, value, proven=True)


def _run(race: _Race, count: int) -> None:
    with ThreadPoolExecutor(max_workers=max(1, min(count, os.cpu_count() or 1))) as threads:
        jobs = [threads.submit(race.solve, number) for number in range(count)]
        try:
            for job in jobs:
                job.result()
        except BaseException:
            for job in jobs:
                job.cancel()
            race.stop()
            raise


def _bound(race: _Race, value: int) -> int:
    """Give what no plan costs less than: a place that ended at its bound has nothing below the best."""
    unfinished = (end for end in race.ends.values() if end.status in (Status.FOUND, Status.UNKNOWN))
    return min([value, *(end.bound for end in unfinished)])


def _none_found(tableaux: Sequence[Tableau], race: _Race, clock: Clock) -> NoPlan | LimitReached:
    """Tell 'nothing fits' only once it is proved again, with presolve on."""
    if any(end.status is Status.UNKNOWN for end in race.ends.values()):
        return LimitReached(min(end.bound for end in race.ends.values() if end.status is Status.UNKNOWN))
    for tableau in tableaux:
        again = Model(tableau).solve(Solve(clock.left(), presolve=True))
        if again.status is Status.UNKNOWN:
            return LimitReached(again.bound)
        if again.status is not Status.IMPOSSIBLE:
            raise Disagreement(f"two proofs disagree on whether anything fits at {tableau.site.label}")
    return NoPlan()


def settle(tableau: Tableau, value: int, clock: Clock) -> tuple[int, ...] | None:
    """Give the plan of a place that costs ``value``, ties settled by the order of the files.

    Two solves: the same goal bounded by the value, then the least sum of column numbers. None where
    the limit is reached first.
    """
    first = Model(tableau)
    first.bound(value)
    first.aim("cost")
    start = first.solve(Solve(clock.left()))
    if start.status is not Status.BEST:
        return None
    last = Model(tableau)
    last.bound(value)
    last.hint(start.chosen)
    last.aim("order")
    end = last.solve(Solve(clock.left()))
    return end.chosen if end.status is Status.BEST else None
