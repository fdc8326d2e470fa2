"""A solver that lies at one of its solves: what a fault in the solver beneath would look like from above."""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Literal
from unittest.mock import patch

from portloom.search.cp_sat import CpSatModel, CpSatRun
from portloom.search.solving import Solve, Status

Lie = Literal["impossible", "impossible after all", "worse", "bound", "wrong plan"]
LIES: tuple[Lie, ...] = ("impossible", "impossible after all", "worse", "bound", "wrong plan")
TOO_HIGH = 10**14


@dataclass
class Told:
    """How many solves there were, and whether the lie was one: what it says was not what the solver had found."""

    solves: int = 0
    lied: bool = False


@contextmanager
def lying(lie: Lie, at: int | None) -> Iterator[Told]:
    """Lie at the solve of this number, from nought; at none where that is None. Solves come one after the other.

    Those at which such a lie can't be told do not count.
    """
    told = Told()
    run, values = Solve.run, Solve.values

    def untrue(self: Solve, model: CpSatModel) -> Status:
        if lie == "worse" and not model.has_goal:
            return run(self, model)  # nothing is worse than anything
        number, told.solves = told.solves, told.solves + 1
        if number != at:
            return run(self, model)
        return TOLD[lie](self, model, lambda: run(self, model), told)

    def found(self: Solve, variables: Sequence[int]) -> tuple[int, ...]:
        true = values(self, variables)
        wrong = getattr(self, "wrong", False)
        told.lied |= wrong and any(true)
        return (0,) * len(true) if wrong else true

    def bound(self: Solve) -> int | None:
        return TOO_HIGH if getattr(self, "too_high", False) else round(self.solver.bound) or None

    with (
        patch.object(Solve, "run", untrue),
        patch.object(Solve, "values", found),
        patch.object(Solve, "bound", property(bound)),
        patch("os.cpu_count", lambda: 1),
    ):
        yield told


def _silent(self: Solve, run: Callable[[], Status]) -> Status:
    """Solve without a word on the way."""
    self.solver.found = self.solver.proved = None
    return run()


def _impossible(self: Solve, _: CpSatModel, run: Callable[[], Status], told: Told) -> Status:
    """Say that there is no plan."""
    told.lied = _silent(self, run) in (Status.BEST, Status.FOUND)
    return Status.IMPOSSIBLE


def _impossible_after_all(_: Solve, __: CpSatModel, run: Callable[[], Status], told: Told) -> Status:
    """Say that there is no plan, though some were found on the way."""
    told.lied = run() in (Status.BEST, Status.FOUND)
    return Status.IMPOSSIBLE


def _worse(self: Solve, model: CpSatModel, run: Callable[[], Status], told: Told) -> Status:
    """Say that a plan is the best that costs more than it."""
    status = _silent(self, run)
    if status is not Status.BEST:
        return status
    worse = CpSatModel()
    worse.message.copy_from(model.message)
    goal = model.message.objective
    reached = round(self.solver.value - goal.offset)
    worse.between(zip(goal.vars, goal.coeffs, strict=True), reached + 1, None)
    other = CpSatRun()
    if other.solve(worse) != "OPTIMAL":
        return status
    told.lied = True
    self.solver = other
    return Status.BEST


def _bound(self: Solve, _: CpSatModel, run: Callable[[], Status], told: Told) -> Status:
    """Say that nothing can cost as little as anything does, and stop."""
    say = self.solver.proved
    told.lied = _silent(self, run) in (Status.BEST, Status.FOUND)
    if say is not None:
        say(float(TOO_HIGH))
    self.too_high = True  # type: ignore[attr-defined]  # what ``bound`` goes by
    return Status.UNKNOWN


def _wrong(self: Solve, _: CpSatModel, run: Callable[[], Status], __: Told) -> Status:
    """Say that a plan is one that uses nothing."""
    self.wrong = True  # type: ignore[attr-defined]  # what ``values`` goes by
    return run()


TOLD: dict[Lie, Callable[[Solve, CpSatModel, Callable[[], Status], Told], Status]] = {
    "impossible": _impossible,
    "impossible after all": _impossible_after_all,
    "worse": _worse,
    "bound": _bound,
    "wrong plan": _wrong,
}
