"""Places side by side: one model each, every one bounded by the best so far.

Threads find only the best value and its place. A place earlier in the file than the best so far is
bounded by its value, a later one by one micrometre less, so timing never settles a tie. The plan
itself comes from last solves of that place alone.
"""

import os
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from threading import Lock
from time import monotonic

from solver.search.model import Goal, Model, Outcome, Solve, Status
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


Check = Callable[[Tableau, tuple[int, ...]], Tableau | None]
"""Give a stricter choice where a plan's true wire sizes break something, None where the plan passes."""


class _Contender:
    """One place in the race: its choice, made stricter as often as a plan found does not pass."""

    def __init__(self, choice: Tableau, check: Check) -> None:
        self.choice = choice
        self._check = check
        self._model: Model | None = Model(choice)

    def solve(self, goal: Goal, at_most: int | None, start: tuple[int, ...], runs: Callable[[], Solve]) -> Outcome:
        """Solve until a plan passes, or none is left below the bound, or the limit is reached."""
        while True:
            end = self._once(goal, at_most, start, runs())
            stricter = self._check(self.choice, end.chosen) if end.chosen else None
            if stricter is None:
                return end
            self.choice = stricter

    def _once(self, goal: Goal, at_most: int | None, start: tuple[int, ...], run: Solve) -> Outcome:
        model = self._model or Model(self.choice)
        self._model = None  # a bound stays in a model, so each serves once
        if at_most is not None:
            model.bound(at_most)
        if start:
            model.hint(start)
        model.aim(goal)
        return model.solve(run)


class _Race:
    """The best so far, shared by the threads."""

    def __init__(self, contenders: Sequence[_Contender], clock: Clock) -> None:
        self.contenders = contenders
        self._clock = clock
        self._lock = Lock()
        self._running: list[Solve] = []
        self.best: tuple[int, int] | None = None
        """Value, and number of the place."""
        self.ends: dict[int, Outcome] = {}

    def solve(self, number: int) -> None:
        with self._lock:
            best = self.best
        at_most = None if best is None else best[0] - (number > best[1])
        self._note(number, self.contenders[number].solve("cost", at_most, (), self._new_run))

    def _new_run(self) -> Solve:
        run = Solve(self._clock.left())
        with self._lock:
            self._running.append(run)
        return run

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


def best_place(tableaux: Sequence[Tableau], check: Check, clock: Clock) -> Answer:
    """Give the proven best plan over all places that passes ``check``, or what a limit left of it."""
    race = _Race([_Contender(tableau, check) for tableau in tableaux], clock)
    _run(race, len(tableaux))
    if race.best is None:
        return _none_found(race, clock)
    value, number = race.best
    choice, chosen = race.contenders[number].choice, race.ends[number].chosen
    if any(end.status not in (Status.BEST, Status.IMPOSSIBLE) for end in race.ends.values()):
        return Found(choice, chosen, value, _bound(race, value), proven=False)
    return Found(choice, settle(choice, value, check, clock) or chosen, value, value, proven=True)


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


def _none_found(race: _Race, clock: Clock) -> NoPlan | LimitReached:
    """Tell 'nothing fits' only once it is proved again, with presolve on."""
    if any(end.status is Status.UNKNOWN for end in race.ends.values()):
        return LimitReached(min(end.bound for end in race.ends.values() if end.status is Status.UNKNOWN))
    for contender in race.contenders:
        again = Model(contender.choice).solve(Solve(clock.left(), presolve=True))
        if again.status is Status.UNKNOWN:
            return LimitReached(again.bound)
        if again.status is not Status.IMPOSSIBLE:
            label = contender.choice.site.label
            raise Disagreement(f"two proofs disagree on whether anything fits at {label}")
    return NoPlan()


def settle(choice: Tableau, value: int, check: Check, clock: Clock) -> tuple[int, ...] | None:
    """Give the plan of a place that costs ``value``, ties settled by the order of the files.

    Two solves: the same goal bounded by the value, then the least sum of column numbers; each until
    its plan passes ``check``. None where the limit is reached first.
    """

    def run() -> Solve:
        return Solve(clock.left())

    first = _Contender(choice, check)
    start = first.solve("cost", value, (), run)
    if start.status is not Status.BEST:
        return None
    end = _Contender(first.choice, check).solve("order", value, start.chosen, run)
    return end.chosen if end.status is Status.BEST else None
