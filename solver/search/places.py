"""Places side by side: one model each, every one bounded by the best so far.

Threads find only the best value and its place. A place earlier in the file than the best so far is
bounded by its value, a later one by one micrometre less, so timing never settles a tie; a place whose
proven bound is above that is stopped. The plan itself comes from last solves of that place alone.
"""

import os
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from threading import RLock
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
        self._lock = RLock()
        self._running: dict[int, Solve] = {}
        self._bounds: dict[int, int] = {}
        self.best: tuple[int, int] | None = None
        """Value, and number of the place."""
        self.ends: dict[int, Outcome] = {}

    def solve(self, number: int) -> None:
        """Solve one place, telling every plan and bound on the way."""
        model = self._models[number]
        run = Solve(
            self._clock.left(),
            found=lambda value: self._found(number, value),
            proved=lambda bound: self._proved(number, bound),
        )
        with self._lock:
            self._running[number] = run
            most = self._most(number)
        if most is not None:
            model.bound(most)
        model.aim("cost")
        self._note(number, model.solve(run))

    def _most(self, number: int) -> int | None:
        """Give what a plan of this place may cost to be the best, None while there is no other."""
        if self.best is None or self.best[1] == number:
            return None
        return self.best[0] if number < self.best[1] else self.best[0] - 1

    def beaten(self, number: int, bound: int) -> bool:
        """Tell whether a place that costs ``bound`` at least can't be the best."""
        most = self._most(number)
        return most is not None and bound > most

    def _found(self, number: int, value: int) -> None:
        with self._lock:
            mine = (value, number)
            self.best = mine if self.best is None else min(self.best, mine)
            for other, bound in self._bounds.items():
                self._stop_beaten(other, bound)

    def _proved(self, number: int, bound: int) -> None:
        with self._lock:
            self._bounds[number] = bound
            self._stop_beaten(number, bound)

    def _stop_beaten(self, number: int, bound: int) -> None:
        if number not in self.ends and self.beaten(number, bound):
            self._running[number].solver.stop_search()

    def _note(self, number: int, end: Outcome) -> None:
        with self._lock:
            self.ends[number] = end
            if end.value is not None:
                self._found(number, end.value)

    def open(self) -> dict[int, Outcome]:
        """Give the places that a limit kept from being settled."""
        return {
            number: end
            for number, end in self.ends.items()
            if end.status in (Status.FOUND, Status.UNKNOWN) and not self.beaten(number, end.bound)
        }

    def stop(self) -> None:
        """Stop every solve that runs."""
        with self._lock:
            for run in self._running.values():
                run.solver.stop_search()


def best_place(tableaux: Sequence[Tableau], clock: Clock) -> Answer:
    """Give the proven best plan over all places, or what a limit left of it."""
    return best_of([Model(tableau) for tableau in tableaux], clock)


def best_of(models: Sequence[Model], clock: Clock) -> Answer:
    """Give the same from models that are built already and were never solved."""
    tableaux = [model.tableau for model in models]
    race = _Race(models, clock)
    _run(race, sorted(range(len(models)), key=lambda number: (least_cost(tableaux[number]), number)))
    if race.best is None:
        return _none_found(tableaux, race, clock)
    value, number = race.best
    unfinished = race.open()
    if unfinished:
        bound = min([value, *(end.bound for end in unfinished.values())])
        return Found(tableaux[number], race.ends[number].chosen, value, bound, proven=False)
    chosen = settle(tableaux[number], value, clock) or race.ends[number].chosen
    return Found(tableaux[number], chosen, value, value, proven=True)


def _run(race: _Race, order: Sequence[int]) -> None:
    """Solve the places in threads, the most promising first."""
    with ThreadPoolExecutor(max_workers=max(1, min(len(order), os.cpu_count() or 1))) as threads:
        jobs = [threads.submit(race.solve, number) for number in order]
        try:
            for job in jobs:
                job.result()
        except BaseException:
            for job in jobs:
                job.cancel()
            race.stop()
            raise


def least_cost(tableau: Tableau) -> float:
    """Give a cost that no plan of a place is below, at a glance: each load and switch at its cheapest share.

    In micrometres. A column's cost is shared evenly by all that it covers.
    """
    covers = [row for row in tableau.rows if row.at_least > 0]
    shared = [0] * len(tableau.columns)
    for row in covers:
        for number, amount in row.entries:
            shared[number] += amount
    gained = sum(min(0, column.cost) * column.most for column in tableau.columns)
    return tableau.fixed_cost + gained + sum(
        row.at_least * min((max(0, tableau.columns[n].cost) / shared[n] for n, _ in row.entries), default=0.0)
        for row in covers
    )


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
    """Give the plan of a place that costs ``value``, its proven least, ties settled by the order of the files.

    Two solves: the same goal bounded by the value, stopped at the first plan that costs no more, then
    the least sum of column numbers. None where the limit is reached first.
    """
    model = Model(tableau)
    model.bound(value)
    model.aim("cost")
    start = model.solve(Solve(clock.left()))
    if start.value != value:
        return None
    model.hint(start.chosen)
    model.aim("order")
    end = model.solve(Solve(clock.left()))
    return end.chosen if end.status is Status.BEST else None
