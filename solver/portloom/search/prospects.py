"""A place of which a glance tells what plans there cost at least: its choice is set up only once it must be solved."""

from collections.abc import Callable, Sequence
from functools import cached_property

from portloom.base.clock import Clock, TimeIsUp
from portloom.search.model import Goal
from portloom.search.places import Answer, Contender, LimitReached, best_of
from portloom.search.solving import Outcome, Solve, Status
from portloom.search.tableau import Check, Tableau
from portloom.search.ties import FirstPlan


class Prospect:
    """A place, or two for two units, whose choice is not set up yet."""

    def __init__(
        self,
        label: str,
        glance: Callable[[], int],
        set_up: Callable[[], Tableau],
        check: Check,
        clock: Clock,
        *,
        is_small: bool,
    ) -> None:
        """Take where it is, and how its first bound and its choice are worked out.

        Where the bike ``is_small`` its choice is set up whatever the time that is left.
        """
        self.label = label
        self.check = check
        self._first_bound = glance
        self._set_up_choice = set_up
        self._clock = clock
        self._is_small = is_small
        self._contender: Contender | None = None
        """The place with its choice, once that is set up."""

    @property
    def _set_up(self) -> Contender:
        if self._contender is None:
            with self._clock.held(unless=self._is_small):
                self._contender = Contender(self._set_up_choice(), self.check, self._clock)
        return self._contender

    @property
    def choice(self) -> Tableau:
        """The choice that its best plan is of."""
        return self._set_up.choice

    @cached_property
    def _glance(self) -> int:
        return self._first_bound()

    @property
    def lower_bound(self) -> int:
        """A cost that no plan is below, in micrometres; before the choice is set up, what a glance tells."""
        return self._glance if self._contender is None else max(self._glance, self._contender.lower_bound)

    def at_once(self) -> Outcome | None:
        """Return its best plan where the linear relaxation is one; raise TimeIsUp where the limit comes first."""
        return self._set_up.at_once()

    def solve(self, goal: Goal, most: Callable[[], int | None], run: Callable[[], Solve]) -> Outcome:
        """Solve until the best plan is proved, or none is left that costs ``most`` or less, or at the limit."""
        if self._clock.left() == 0:
            return Outcome(Status.UNKNOWN, None, self.lower_bound, ())
        bound, at_most = self._set_up.lower_bound, most()
        if at_most is not None and bound > at_most:
            return Outcome(Status.IMPOSSIBLE, None, self.lower_bound, ())
        end = self._set_up.solve(goal, most, run)
        bound = end.bound if end.status is Status.BEST else max(end.bound, self.lower_bound)
        return Outcome(end.status, end.value, bound, end.chosen)

    def prove_again(self, most: int | None, run: Callable[[], Solve]) -> Status:
        """Prove, in another way, that no plan costs ``most`` or less, None for none at all."""
        if most is not None and self.lower_bound > most:
            return Status.IMPOSSIBLE
        if self._clock.left() == 0:
            return Status.UNKNOWN
        return self._set_up.prove_again(most, run)

    def first_of(self, value: int, known: Sequence[int], run: Callable[..., Solve]) -> FirstPlan | Status:
        """Return the plan that costs ``value``, its proven least, ties broken; IMPOSSIBLE, or UNKNOWN at the limit."""
        return self._set_up.first_of(value, known, run)


def best_prospect(prospects: Sequence[Prospect], clock: Clock, *, is_small: bool, most: int | None = None) -> Answer:
    """Return the proven best plan over all places, each looked at before any is set up, or what a limit left of it.

    NoPlan also where it is proved that none costs ``most`` or less.
    """
    try:
        with clock.held(unless=is_small):
            for each in prospects:
                each.lower_bound  # noqa: B018 - worked out while it can be broken off
    except TimeIsUp:
        return LimitReached(0)
    return best_of(prospects, clock, most)
