"""Places side by side: one model each, every one bounded by the best so far.

Threads find only the best value and its place. A place earlier in the file than the best so far is
bounded by its value, a later one by one micrometre less, so timing never settles a tie; a place whose
proven bound is above that is stopped. The plan itself comes from a last solve of that place alone (``ties``).
Every solve is repeated with stricter rows until its plan passes with the true sizes of its wires.
"""

import os
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial
from threading import RLock
from time import monotonic
from typing import Protocol

from portloom.search.model import Goal, Model
from portloom.search.solving import Outcome, Solve, Status
from portloom.search.tableau import Check, Tableau, lower_bound
from portloom.search.ties import FirstPlan, break_ties


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
        """Return the seconds left, None without a limit."""
        return None if self._end is None else max(0.0, self._end - monotonic())


class Disagreement(RuntimeError):
    """Two proofs of the same model disagree."""


class Entrant(Protocol):
    """One place, or two for two units, that may have the best plan."""

    check: Check

    @property
    def choice(self) -> Tableau:
        """The choice that its best plan is of."""

    @property
    def label(self) -> str:
        """Say where it is."""

    @property
    def lower_bound(self) -> int:
        """A cost that no plan is below."""

    def solve(self, goal: Goal, most: Callable[[], int | None], run: Callable[[], Solve]) -> Outcome:
        """Solve until a plan passes, or none is left that costs ``most`` or less, or the limit is reached."""

    def prove_again(self, clock: Clock) -> Outcome:
        """Solve once more with other settings: a second proof that there is no plan."""

    def first_of(self, value: int, clock: Clock) -> FirstPlan | Status:
        """Return the plan that costs ``value``, its proven least, ties broken; IMPOSSIBLE, or UNKNOWN at the limit."""


class Contender:
    """One place: its choice, made stricter as often as a plan that is found does not pass."""

    def __init__(self, choice: Tableau, check: Check) -> None:
        """Build the place's model, to be solved once."""
        self.untouched = choice
        """The choice before any row was added: what was added may depend on which place was quicker."""
        self.choice = choice
        self.check = check
        self._model: Model | None = Model(choice)

    @property
    def label(self) -> str:
        """Say where it is."""
        return self.choice.site.label

    @property
    def lower_bound(self) -> int:
        """A cost that no plan is below."""
        return lower_bound(self.choice)

    def prove_again(self, clock: Clock) -> Outcome:
        """Solve once more with other settings: a second proof that there is no plan."""
        return Model(self.choice).solve(Solve(clock.left(), presolve=True))

    def first_of(self, value: int, clock: Clock) -> FirstPlan | Status:
        """Return the plan that costs ``value``, its proven least, ties broken; IMPOSSIBLE, or UNKNOWN at the limit."""
        return break_ties(self.untouched, self.check, value, clock.left)

    def solve(self, goal: Goal, most: Callable[[], int | None], run: Callable[[], Solve]) -> Outcome:
        """Solve until a plan passes, or none is left that costs ``most`` or less, or the limit is reached."""
        while True:
            end = self._once(goal, most(), run())
            stricter = None if end.value is None else self.check(self.choice, end.chosen)
            if stricter is None:
                return end
            self.choice = stricter

    def _once(self, goal: Goal, most: int | None, run: Solve) -> Outcome:
        model = self._model or Model(self.choice)
        self._model = None  # a bound stays in a model, so each serves once
        if most is not None:
            model.bound(most)
        if goal == "cost":
            model.minimise_cost()
        return model.solve(run)


class _Race:
    """The best so far, shared by the threads."""

    def __init__(self, contenders: Sequence[Entrant], clock: Clock) -> None:
        self.contenders = contenders
        self._clock = clock
        self._lock = RLock()
        self._running: dict[int, Solve] = {}
        self._bounds: dict[int, int] = {}
        """The greatest bound that was proved for each place on the way."""
        self.best: tuple[int, int] | None = None
        """Value, and number of the place."""
        self.chosen: tuple[int, ...] = ()
        """How often the best plan uses each column of its place."""
        self.ends: dict[int, Outcome] = {}

    def solve(self, number: int) -> None:
        """Solve one place, telling every plan that passes and every bound on the way."""
        end = self.contenders[number].solve("cost", lambda: self._most(number), partial(self._new_run, number))
        with self._lock:
            self.ends[number] = end
            if end.value is not None:
                self._take((end.value, number), end.chosen)

    def _new_run(self, number: int) -> Solve:
        run = Solve(self._clock.left(), found=partial(self._found, number), proved=partial(self._proved, number))
        with self._lock:
            self._running[number] = run
        return run

    def _found(self, number: int, value: int, chosen: tuple[int, ...]) -> None:
        """Take a plan found on the way, if it would be the best and passes."""
        contender = self.contenders[number]
        if self._is_better((value, number)) and contender.check(contender.choice, chosen) is None:
            with self._lock:
                self._take((value, number), chosen)

    def _is_better(self, mine: tuple[int, int]) -> bool:
        return self.best is None or mine < self.best

    def _take(self, mine: tuple[int, int], chosen: tuple[int, ...]) -> None:
        if self._is_better(mine):
            self.best, self.chosen = mine, chosen
            for other, bound in self._bounds.items():
                self._stop_beaten(other, bound)

    def _most(self, number: int) -> int | None:
        """Return what a plan of this place may cost to be the best, None while there is no other."""
        best = self.best
        if best is None or best[1] == number:
            return None
        return best[0] if number < best[1] else best[0] - 1

    def beaten(self, number: int, bound: int) -> bool:
        """Tell whether a place that costs ``bound`` at least can't be the best."""
        most = self._most(number)
        return most is not None and bound > most

    def _proved(self, number: int, bound: int) -> None:
        with self._lock:
            self._bounds[number] = max(bound, self._bounds.get(number, bound))
            self._stop_beaten(number, self._bounds[number])

    def _stop_beaten(self, number: int, bound: int) -> None:
        if number not in self.ends and self.beaten(number, bound):
            self._running[number].solver.stop_search()

    def open(self) -> dict[int, int]:
        """Return the places that a limit kept from being settled, each with what a plan there costs at least.

        A solve that is stopped may end with a weaker bound than the one that it was stopped for, and a place that is
        solved again with more rows starts anew: what was proved of a place on the way counts, too.
        """
        bounds = {
            number: max(end.bound, self._bounds.get(number, end.bound))
            for number, end in self.ends.items()
            if end.status in (Status.FOUND, Status.UNKNOWN)
        }
        return {number: bound for number, bound in bounds.items() if not self.beaten(number, bound)}

    def stop(self) -> None:
        """Stop every solve that runs."""
        with self._lock:
            for run in self._running.values():
                run.solver.stop_search()


def best_place(tableaux: Sequence[Tableau], check: Check, clock: Clock) -> Answer:
    """Return the proven best plan over all places that passes ``check``, or what a limit left of it."""
    return best_of([Contender(tableau, check) for tableau in tableaux], clock)


def best_of(contenders: Sequence[Entrant], clock: Clock) -> Answer:
    """Return the same from contenders whose models are built already and were never solved."""
    race = _Race(contenders, clock)
    costs = [contender.lower_bound for contender in contenders]
    _run(race, sorted(range(len(contenders)), key=lambda number: (costs[number], number)))
    if race.best is None:
        return _none_found(race, clock)
    value, number = race.best
    winner, chosen = contenders[number], race.chosen
    unfinished = race.open()
    if unfinished:
        bound = min([value, *unfinished.values()])
        return Found(winner.choice, chosen, value, bound, proven=False)
    first = winner.first_of(value, clock)
    if first is Status.UNKNOWN and clock.left() is not None:
        first = FirstPlan(winner.choice, chosen)  # at the limit ties are not broken
    if not isinstance(first, FirstPlan):
        raise Disagreement(f"the best plan at {winner.label} is not found again")
    return Found(first.choice, first.chosen, value, value, proven=True)


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


def _none_found(race: _Race, clock: Clock) -> NoPlan | LimitReached:
    """Tell 'nothing fits' only once it is proved again, with presolve on."""
    unknown = race.open()
    if unknown:
        return LimitReached(min(unknown.values()))
    for contender in race.contenders:
        again = contender.prove_again(clock)
        if again.status is Status.UNKNOWN:
            return LimitReached(min(other.lower_bound for other in race.contenders))
        if again.status is not Status.IMPOSSIBLE:
            raise Disagreement(f"two proofs disagree on whether anything fits at {contender.label}")
    return NoPlan()
