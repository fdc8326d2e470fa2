"""The plan that changes least of a built loom: the least change first, then of all such plans the cheapest.

Two searches of one site, as place and turn stay as built: what is touched and opened is made least and proved, then
held as a row while the cost is made least. So the order is exact, however much a metre of wire is worth.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial

from portloom.base.clock import Clock, TimeIsUp
from portloom.rules.shapes import Rule
from portloom.search.as_built import one_more, weights
from portloom.search.best import Choices, as_is
from portloom.search.columns import Column, SumRow
from portloom.search.places import Answer, Contender, Found, LimitReached, NoPlan, best_of, best_place
from portloom.search.sizing_cuts import in_true_sizes
from portloom.search.solving import Solve, Status
from portloom.search.tableau import Check, Tableau
from portloom.search.ties import FirstPlan


class _LeastChange(Contender):
    """The search for the least change: only how much that is, is wanted, and no plan of it is told."""

    def first_of(
        self,
        value: int,  # noqa: ARG002 - as every place
        known: Sequence[int],  # noqa: ARG002 - as every place
        run: Callable[..., Solve],  # noqa: ARG002 - as every place
    ) -> FirstPlan | Status:
        """Return no plan in particular, with the cuts that were made."""
        return FirstPlan(self.choice, ())


def least_change(
    rules: Sequence[Rule],
    choices: Choices,
    clock: Clock,
    narrowed: Callable[[Tableau], Tableau] = as_is,
    *,
    is_small: bool,
) -> Answer:
    """Return the proven best plan with a built loom, the proof that there is none, or what a limit left.

    ``narrowed`` may give the site's choice more rows. The bound that is told is of plans that change no more; where
    least change is not proved, it is nought.
    """
    if not choices:
        return NoPlan()
    check = partial(in_true_sizes, rules)
    try:
        with clock.held(unless=is_small):
            few, ports = choices.where_all_stays()
            most = one_more(few.site, few.columns, ports)
        if most is not None:
            changed = Change(narrowed(few), check, clock)
            if changed.is_below(most):
                return changed.cheapest()
        with clock.held(unless=is_small):
            every = choices.narrowed(0, narrowed)
    except TimeIsUp:
        return LimitReached(0)
    return Change(every, check, clock).cheapest()


class Change:
    """The least change among a choice, and the cheapest plan of it."""

    def __init__(self, choice: Tableau, check: Check, clock: Clock) -> None:
        """Take the choice, and find how little changes."""
        self._choice = choice
        self._check = check
        self._clock = clock
        self._search = _LeastChange(_of_change(choice), check, clock)
        self._least = best_of([self._search], clock)

    def is_below(self, most: int) -> bool:
        """Tell whether the least change is proved, and below a sum."""
        return isinstance(self._least, Found) and self._least.proven and self._least.cost < most

    def cheapest(self) -> Answer:
        """Return the cheapest of the plans that change least."""
        changed = self._least
        if not isinstance(changed, Found):
            return changed if isinstance(changed, NoPlan) else LimitReached(0, changed.once)
        held = _held(self._choice, changed, self._search.too_dear(changed.cost))
        cheapest = best_place([held], self._check, self._clock)
        if not isinstance(cheapest, Found):
            return LimitReached(0)
        if changed.proven:
            return cheapest
        return replace(cheapest, bound=min(0, cheapest.cost), proven=False, once=False)


def _of_change(choice: Tableau) -> Tableau:
    """Return a choice of which the change is the cost."""
    weighed = zip(choice.columns, weights(choice.columns), strict=True)
    columns: tuple[Column, ...] = tuple(replace(column, cost=weight) for column, weight in weighed)
    return replace(choice, columns=columns, fixed_cost=0)


def _held(choice: Tableau, changed: Found, dear: Sequence[int]) -> Tableau:
    """Return a choice of plans that change no more; the cuts that were made hold for every plan.

    No such plan uses what is ``dear``: whatever does changes more (FORMULATION.md, B3).
    """
    weighed = tuple((number, weight) for number, weight in enumerate(weights(choice.columns)) if weight)
    held = SumRow(weighed, 0, changed.cost, name=("as built", "least change"))
    left_out = SumRow(tuple((number, 1) for number in dear), 0, 0, name=("as built", "changes more"))
    rows = (*changed.tableau.rows, held, *([left_out] if dear else ()))
    return replace(changed.tableau, columns=choice.columns, fixed_cost=choice.fixed_cost, rows=rows)
