"""Ties: of the plans of one cost, the one whose column numbers, sorted, come first as a list.

A column that is used twice stands twice; [1, 4] comes before [2, 3], and [1] before [1, 4]. So ties follow the order
of the files, and which plan is the first does not depend on how it is found.
"""

from collections.abc import Callable, Container, Iterator, Sequence
from dataclasses import replace
from itertools import accumulate

from portloom.base.values import dataclass
from portloom.search.columns import SumRow
from portloom.search.model import Model
from portloom.search.solving import Outcome, Solve, Status
from portloom.search.tableau import Check, Tableau

WAYS = 2**25
"""So many ways to use some columns are weighed against one another at once: measured to be quickest."""


@dataclass(frozen=True)
class FirstPlan:
    """The first plan of a cost: its choice, the same however it was found, and how often it uses each column."""

    choice: Tableau
    chosen: tuple[int, ...]


def break_ties(
    choice: Tableau,
    check: Check,
    value: int,
    known: Sequence[int],
    too_dear: Sequence[int],
    run: Callable[..., Solve],
) -> tuple[int, ...] | Status:
    """Return each column's use in the first plan that costs ``value``, the least that any does, and passes ``check``.

    ``known`` is a plan of that cost, nothing where none is at hand; none uses what is ``too_dear``; each solve is a
    new ``run``. Where there is no such plan, IMPOSSIBLE; where the limit is reached, UNKNOWN.
    """
    while True:
        end = _lexicographic_maximum(choice, value, known, too_dear, run)
        if end.status not in (Status.BEST, Status.FOUND):
            return end.status
        chosen = end.chosen
        stricter = check(choice, chosen)
        if stricter is None:
            break
        choice = stricter()
    shorter = (each for each in _prefixes(choice, chosen, value) if _holds(choice, each) and not check(choice, each))
    return next(shorter, chosen)


def _lexicographic_maximum(
    choice: Tableau, value: int, known: Sequence[int], too_dear: Sequence[int], run: Callable[..., Solve]
) -> Outcome:
    """Return the plan that uses the first column as often as can be, then the second, and so on.

    Of two plans, sorted as lists, the first is the one that uses more of the first column in which they differ,
    unless the other ends there.
    """
    model = _of_cost(choice, value, too_dear)
    model.in_order()
    end = model.solve(run(as_decided=True))
    return _part_by_part(choice, value, known, too_dear, run) if end.status is Status.UNKNOWN else end


def _part_by_part(
    choice: Tableau, value: int, known: Sequence[int], too_dear: Sequence[int], run: Callable[..., Solve]
) -> Outcome:
    """Return the same by some columns after the other, each time with those before them as they were found (T3)."""
    model = _of_cost(choice, value, too_dear)
    model.try_first(known)
    end = Outcome(Status.UNKNOWN, None, 0, ())
    for part in _parts(choice, frozenset(too_dear)):
        model.most_of_first(part)
        end = model.solve(run())
        if end.status is not Status.BEST:
            return end if end.status is Status.IMPOSSIBLE else Outcome(Status.UNKNOWN, None, 0, ())
        model.keep(part, end.chosen)
        model.try_first(end.chosen)
    return end


def _parts(choice: Tableau, left_out: Container[int]) -> Iterator[list[int]]:
    """Return the columns but for some in their order, so many together that a solve is quick with their weights."""
    part: list[int] = []
    ways = 1
    for number, column in enumerate(choice.columns):
        if number not in left_out:
            if ways * (column.most + 1) > WAYS:
                yield part
                part, ways = [], 1
            part.append(number)
            ways *= column.most + 1
    yield part


def _of_cost(choice: Tableau, value: int, too_dear: Sequence[int]) -> Model:
    model = Model(choice)
    model.cost_exactly(value)
    model.leave_out(too_dear)
    return model


def _prefixes(choice: Tableau, chosen: Sequence[int], value: int) -> Iterator[tuple[int, ...]]:
    """Return what begins as a plan does and costs the same with fewer columns, the shortest first."""
    numbers = [number for number, times in enumerate(chosen) for _ in range(times)]
    costs = accumulate((choice.columns[number].cost for number in numbers), initial=choice.fixed_cost)
    for count, cost in enumerate(costs):
        if cost == value and count < len(numbers):
            yield tuple(numbers[:count].count(number) for number in range(len(chosen)))


def _holds(choice: Tableau, chosen: Sequence[int]) -> bool:
    """Tell whether columns keep every row and link."""
    rows = (SumRow(((number, 1),), times, times) for number, times in enumerate(chosen))
    return Model(replace(choice, rows=(*choice.rows, *rows))).solve(Solve(None)).status is Status.BEST
