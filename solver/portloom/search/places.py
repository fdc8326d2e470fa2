"""Places side by side: one model each, every one bounded by the best so far; then what that says is proved again.

Threads find only the best value and its place. A place earlier in the file than the best so far is
bounded by its value, a later one by one micrometre less, so timing never settles a tie; a place whose
bound is above that is stopped, or not begun. The plan itself comes from a last solve of that place alone (``ties``).
Every solve is repeated with stricter rows until its plan passes with the true sizes of its wires.
"""

from collections.abc import Callable, Sequence
from contextlib import suppress
from functools import cached_property, partial
from itertools import dropwhile
from threading import RLock
from typing import Protocol

from portloom.base.clock import NO_LIMIT, Clock, TimeIsUp
from portloom.base.values import dataclass
from portloom.search.dual import Programme, Relaxation, Weighed, contradictory, programme_of, weighed
from portloom.search.model import Goal, Model
from portloom.search.running import Running
from portloom.search.solving import Disagreement, Outcome, Solve, Status
from portloom.search.tableau import Check, Tableau, cost_of, keeps, lower_bound
from portloom.search.ties import FirstPlan, break_ties


@dataclass(frozen=True)
class Found:
    """The best place, how often each of its columns is used, its cost, and the proven bound."""

    tableau: Tableau
    chosen: tuple[int, ...]
    cost: int
    bound: int
    proven: bool
    once: bool = False
    """Not proven: the solver says that it is the best, but the limit came before that was proved again."""


@dataclass(frozen=True)
class NoPlan:
    """Proved: no place has a plan."""


@dataclass(frozen=True)
class LimitReached:
    """The time limit was reached before a plan was found or proved impossible; the bound that is proven."""

    bound: int
    once: bool = False
    """The solver says that there is no plan, but the limit came before that was proved again."""


Answer = Found | NoPlan | LimitReached


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
        """A cost that no plan is below, checked without the solver."""

    def at_once(self) -> Outcome | None:
        """Return its best plan where that is had without a search: one that passes, and costs no more than its bound.

        Raises TimeIsUp where the limit comes first.
        """

    def solve(self, goal: Goal, most: Callable[[], int | None], run: Callable[[], Solve]) -> Outcome:
        """Solve until a plan passes, or none is left that costs ``most`` or less, or the limit is reached.

        Raises TimeIsUp where that is between two solves.
        """

    def prove_again(self, most: int | None, run: Callable[[], Solve]) -> Status:
        """Prove, in another way, that no plan costs ``most`` or less, None for none at all.

        IMPOSSIBLE if so, UNKNOWN at the limit, else what was found instead.
        """

    def first_of(self, value: int, known: Sequence[int], run: Callable[..., Solve]) -> FirstPlan | Status:
        """Return the plan that costs ``value``, its proven least, ties broken; IMPOSSIBLE, or UNKNOWN at the limit.

        ``known`` is how often a plan that costs so much uses its columns.
        """


class Contender:
    """One place: its choice, made stricter as often as a plan that is found does not pass."""

    def __init__(self, choice: Tableau, check: Check, clock: Clock = NO_LIMIT) -> None:
        """Take the choice as the rules set it up, and the time that is left."""
        self._clock = clock
        self._least: int | None = None
        """The lower bound, once it is worked out."""
        self.untouched = choice
        """The choice before any row was added: what was added may depend on which place was quicker."""
        self.choice = choice
        self.check = check

    @property
    def label(self) -> str:
        """Say where it is."""
        return self.choice.site.label

    @cached_property
    def _programme(self) -> Programme:
        return programme_of(self.untouched)

    @cached_property
    def _relaxation(self) -> Relaxation:
        return Relaxation(self._programme)

    @cached_property
    def _weighed(self) -> Weighed:
        return self._relaxation.weighed(self._programme)

    @property
    def lower_bound(self) -> int:
        """A cost that no plan is below, checked without the solver."""
        if self._least is None:
            with suppress(TimeIsUp), self._clock.held():
                self._least = max(self._glance, self._weighed.least)
        return self._glance if self._least is None else self._least

    def at_once(self) -> Outcome | None:
        """Return a plan that costs no more than the bound, where the linear relaxation leads to one that passes.

        Raises TimeIsUp where the limit comes first.
        """
        with self._clock.held():
            bound, values = self.lower_bound, self._relaxation.whole(self._programme)
            if values is None or not keeps(self.untouched, values):
                return None
            chosen = values[: len(self.untouched.columns)]
            cost = cost_of(self.untouched, chosen)
            if cost > bound or self.check(self.untouched, chosen) is not None:
                return None
        return Outcome(Status.BEST, cost, cost, chosen)

    @cached_property
    def _glance(self) -> int:
        return lower_bound(self.untouched)

    def too_dear(self, most: int) -> Sequence[int]:
        """Return the columns and flags that no plan uses which costs ``most`` or less (FORMULATION.md, B3)."""
        return self._weighed.too_dear(most)

    def prove_again(self, most: int | None, run: Callable[[], Solve]) -> Status:
        """Prove, in another way, that no plan costs ``most`` or less, None for none at all.

        By rows added up, checked in whole numbers; where these do not say it, by a solve with other settings.
        """
        if most is None:
            return Status.IMPOSSIBLE if contradictory(self.choice) else Model(self.choice).solve(run()).status
        if self.lower_bound > most or weighed(self.choice).least > most:
            return Status.IMPOSSIBLE
        model = self._at_most(most)
        model.minimise_cost()
        return model.solve(run()).status

    def first_of(self, value: int, known: Sequence[int], run: Callable[..., Solve]) -> FirstPlan | Status:
        """Return the plan that costs ``value``, its proven least, ties broken; IMPOSSIBLE, or UNKNOWN at the limit.

        The rows that were added help to find it and are no part of it: there is one first plan, with them or without.
        """
        first = break_ties(self.choice, self.check, value, known, self._weighed.too_dear(value), run)
        return first if isinstance(first, Status) else FirstPlan(self.untouched, first)

    def solve(self, goal: Goal, most: Callable[[], int | None], run: Callable[[], Solve]) -> Outcome:
        """Solve until a plan passes, or none is left that costs ``most`` or less, or the limit is reached.

        Raises TimeIsUp where that is between two solves.
        """
        while True:
            with self._clock.held():
                model = self._model(goal, most())
            end = model.solve(run())
            if end.value is None:
                return end
            with self._clock.held():
                stricter = self.check(self.choice, end.chosen)
                if stricter is None:
                    return end
                self.choice = stricter()

    def _model(self, goal: Goal, most: int | None) -> Model:
        model = Model(self.choice) if most is None else self._at_most(most)
        if goal == "cost":
            model.minimise_cost()
        return model

    def _at_most(self, most: int) -> Model:
        """Return the model of the plans that cost ``most`` or less."""
        model = Model(self.choice)
        model.bound(most)
        model.leave_out(self._weighed.too_dear(most))
        return model


NOBODY = -1
"""The number of no place: before all of them."""


class _Race:
    """The best so far, shared by the threads."""

    def __init__(self, contenders: Sequence[Entrant], running: Running, most: int | None) -> None:
        self.contenders = contenders
        self._running = running
        self._lock = RLock()
        self._bounds: dict[int, int] = {}
        """The greatest bound that was proved for each place on the way."""
        self.best: tuple[int, int] | None = None if most is None else (most + 1, NOBODY)
        """Value, and number of the place; what a plan must beat is nobody's."""
        self.chosen: tuple[int, ...] = ()
        """How often the best plan uses each column of its place."""
        self.ends: dict[int, Outcome] = {}

    def is_settled(self, number: int) -> bool:
        """Tell whether one place is settled without a search: it is beaten, or its best plan is there at once."""
        contender = self.contenders[number]
        end = None
        if self.beaten(number, contender.lower_bound):
            end = Outcome(Status.UNKNOWN, None, contender.lower_bound, ())
        else:
            with suppress(TimeIsUp):
                end = contender.at_once()
        if end is not None:
            self._end(number, end)
        return end is not None

    def solve(self, number: int) -> None:
        """Solve one place, telling every plan that passes and every bound on the way."""
        contender = self.contenders[number]
        self._proved(number, contender.lower_bound)
        end = Outcome(Status.UNKNOWN, None, contender.lower_bound, ())
        if not self.beaten(number, contender.lower_bound):
            with suppress(TimeIsUp):
                end = contender.solve("cost", lambda: self._most(number), partial(self._new_run, number))
        self._end(number, end)

    def _end(self, number: int, end: Outcome) -> None:
        with self._lock:
            self.ends[number] = end
            if end.value is not None:
                self._take((end.value, number), end.chosen)

    def _new_run(self, number: int) -> Solve:
        return self._running.new(number, found=partial(self._found, number), proved=partial(self._proved, number))

    def _found(self, number: int, values: tuple[int, ...]) -> None:
        """Take a plan found on the way, if it would be the best and passes."""
        contender = self.contenders[number]
        choice = contender.choice
        chosen = values[: len(choice.columns)]
        value = cost_of(choice, chosen)
        if self._is_better((value, number)) and keeps(choice, values) and contender.check(choice, chosen) is None:
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
        return None if best is None or best[1] == number else self.better(number, best)

    def better(self, number: int, best: tuple[int, int]) -> int:
        """Return what a plan of a place may cost at most to be better than another, of a value at a place."""
        value, winner = best
        return value if number < winner else value - 1

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
            self._running.stop(number)

    def is_open(self) -> bool:
        """Tell whether a limit kept a place from being settled.

        A solve that is stopped may end with a weaker bound than the one that it was stopped for, and a place that is
        solved again with more rows starts anew: what was proved of a place on the way counts, too.
        """
        return any(
            not self.beaten(number, max(end.bound, self._bounds.get(number, end.bound)))
            for number, end in self.ends.items()
            if end.status in (Status.FOUND, Status.UNKNOWN)
        )


def best_place(tableaux: Sequence[Tableau], check: Check, clock: Clock) -> Answer:
    """Return the proven best plan over all places that passes ``check``, or what a limit left of it."""
    return best_of([Contender(tableau, check, clock) for tableau in tableaux], clock)


def best_of(contenders: Sequence[Entrant], clock: Clock, most: int | None = None) -> Answer:
    """Return the same from contenders that were never solved.

    Where it must cost ``most`` or less, NoPlan tells that none does, proved, and of plans as good any is told.
    Raises Disagreement where what one solve says is not what another, or a sum of the rows, does.
    """
    running = Running(clock)
    race = _Race(contenders, running, most)
    costs = [contender.lower_bound for contender in contenders]
    order = sorted(range(len(contenders)), key=lambda number: (costs[number], number))
    left = tuple(dropwhile(race.is_settled, order))
    running.all_at_once([partial(race.solve, number) for number in left])
    if race.best is None or race.best[1] == NOBODY:
        return _none_found(race, running, most)
    value, number = race.best
    if race.is_open():
        bound = _bound(value, contenders)
        return Found(contenders[number].choice, race.chosen, value, bound, proven=False)
    found = FirstPlan(contenders[number].choice, race.chosen)
    if most is not None:
        proved = _best_again(race, value, number, running)
        bound = value if proved else _bound(value, contenders)
        return Found(found.choice, found.chosen, value, bound, proven=proved, once=not proved)
    first, proved = _proved_again(race, value, number, running)
    if first is Status.UNKNOWN and clock.left() is not None:
        first = found  # at the limit ties are not broken
    if not isinstance(first, FirstPlan):
        raise Disagreement(f"the best plan at {contenders[number].label} is not found again")
    bound = value if proved else _bound(value, contenders)
    return Found(first.choice, first.chosen, value, bound, proven=proved, once=not proved)


def _bound(value: int, contenders: Sequence[Entrant]) -> int:
    """Return a cost that no plan is below, where the best that was found costs ``value``."""
    return min([value, *(contender.lower_bound for contender in contenders)])


def _proved_again(race: _Race, value: int, winner: int, running: Running) -> tuple[FirstPlan | Status, bool]:
    """Break the ties of the best plan, and prove anew that there is no better one; False where the limit came first."""
    ties: list[FirstPlan | Status] = []

    def break_ties() -> bool:
        run = partial(running.new, "ties")
        try:
            with running.clock.held():
                ties.append(race.contenders[winner].first_of(value, race.chosen, run))
        except TimeIsUp:
            ties.append(Status.UNKNOWN)
        return True

    proved = all(running.all_at_once([break_ties, *_proofs(race, value, winner, running)]))
    return ties[0], proved


def _best_again(race: _Race, value: int, winner: int, running: Running) -> bool:
    """Prove anew that there is no better plan; False where the limit came first."""
    return all(running.all_at_once(_proofs(race, value, winner, running)))


def _proofs(race: _Race, value: int, winner: int, running: Running) -> list[Callable[[], bool]]:
    return [
        partial(_prove_again, contender, race.better(number, (value, winner)), running)
        for number, contender in enumerate(race.contenders)
    ]


def _prove_again(contender: Entrant, most: int | None, running: Running) -> bool:
    """Prove anew that no plan costs ``most`` or less; False where the limit came first."""
    try:
        with running.clock.held():
            status = contender.prove_again(most, partial(running.new, contender, again=True))
    except TimeIsUp:
        return False
    if status not in (Status.IMPOSSIBLE, Status.UNKNOWN):
        raise Disagreement(f"two proofs disagree on what fits at {contender.label}")
    return status is Status.IMPOSSIBLE


def _none_found(race: _Race, running: Running, most: int | None) -> NoPlan | LimitReached:
    """Tell 'nothing fits', or nothing for so little, only once it is proved again."""
    again = [partial(_prove_again, contender, most, running) for contender in race.contenders]
    if not race.is_open() and all(running.all_at_once(again)):
        return NoPlan()
    bound = min(contender.lower_bound for contender in race.contenders)
    return LimitReached(bound, once=not race.is_open())
