"""Trade-offs: the extreme points of the lower hull between wire run and spare-port loss, each proven.

Both ends first (least wire, then least loss within that, and the other way round), then between two
neighbours the plan that lies deepest below their line, until there is none.
Source: Aneja and Nair (1979), 'Bicriteria transportation problem', doi:10.1287/mnsc.25.1.73.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from math import gcd

from portloom.base.clock import Clock
from portloom.base.values import dataclass
from portloom.job.goal import cost_of_plan, fixed_cost
from portloom.rules.shapes import Rule
from portloom.search.columns import SumRow
from portloom.search.places import Found, best_place
from portloom.search.sizing_cuts import in_true_sizes, laid_by
from portloom.search.tableau import NO_LOWER_BOUND, Check, Tableau

SHOWN = 12


@dataclass(frozen=True)
class Extreme:
    """An extreme point: its place, and its two parts in micrometres."""

    place: str
    turned: bool
    run: int
    loss: int


@dataclass(frozen=True)
class Hull:
    """Extreme points, least wire first; ``complete`` unless a time limit ended the search."""

    points: tuple[Extreme, ...]
    complete: bool


@dataclass(frozen=True)
class SearchSetup:
    """How each plan is found: what it must pass, and the time that is left."""

    check: Check
    clock: Clock


def hull(rules: Sequence[Rule], choices: Sequence[Tableau], clock: Clock) -> Hull:
    """Return every extreme point of the lower hull; none where nothing fits. ``choices`` are those at every site."""
    search = SearchSetup(partial(in_true_sizes, rules), clock)
    ends = [_end(choices, first, search) for first in ((1, 0), (0, 1))]
    found = [end for end in ends if end is not None]
    if len(found) < len(ends):
        return Hull(tuple(found), complete=clock.left() != 0)
    between, complete = _between(choices, found[0], found[1], search)
    return Hull(_extreme([found[0], *between, found[1]]), complete)


def shown(points: Sequence[Extreme]) -> tuple[Extreme, ...]:
    """Return at most twelve points: the ends, then always the one that lies farthest from those chosen."""
    chosen = list(dict.fromkeys((points[0], points[-1]))) if points else []
    while len(chosen) < min(SHOWN, len(points)):
        left = [point for point in points if point not in chosen]
        chosen.append(max(left, key=lambda point: min(_apart(point, other) for other in chosen)))
    return tuple(sorted(chosen, key=lambda point: point.run))


def _apart(one: Extreme, other: Extreme) -> int:
    return abs(one.run - other.run) + abs(one.loss - other.loss)


def _end(choices: Sequence[Tableau], first: tuple[int, int], search: SearchSetup) -> Extreme | None:
    """Return the plan with the least of one part, and within that the least of the other."""
    least = _best([priced(choice, *first) for choice in choices], search)
    if least is None:
        return None
    at_most = least.run if first == (1, 0) else least.loss
    held = [_held(priced(choice, first[1], first[0]), choice, first, at_most) for choice in choices]
    return _best(held, search)


def _between(
    choices: Sequence[Tableau], low: Extreme, high: Extreme, search: SearchSetup
) -> tuple[list[Extreme], bool]:
    """Return the points between two neighbours, and whether the limit left time to find all."""
    by_run, by_loss = low.loss - high.loss, high.run - low.run
    if by_run <= 0 or by_loss <= 0:
        return [], True
    common = gcd(by_run, by_loss)
    by_run, by_loss = by_run // common, by_loss // common
    deepest = _best([priced(choice, by_run, by_loss) for choice in choices], search)
    if deepest is None:
        return [], False
    if by_run * deepest.run + by_loss * deepest.loss >= by_run * low.run + by_loss * low.loss:
        return [], True
    left, left_done = _between(choices, low, deepest, search)
    right, right_done = _between(choices, deepest, high, search)
    return [*left, deepest, *right], left_done and right_done


def _extreme(points: Sequence[Extreme]) -> tuple[Extreme, ...]:
    """Leave out points on the line between their neighbours."""
    kept: list[Extreme] = []
    for point in dict.fromkeys(points):
        while len(kept) > 1 and not _bends(kept[-2], kept[-1], point):
            kept.pop()
        kept.append(point)
    return tuple(kept)


def _bends(one: Extreme, middle: Extreme, other: Extreme) -> bool:
    return (middle.run - one.run) * (other.loss - one.loss) > (middle.loss - one.loss) * (other.run - one.run)


def _best(choices: Sequence[Tableau], search: SearchSetup) -> Extreme | None:
    found = best_place(choices, search.check, search.clock)
    if not isinstance(found, Found) or not found.proven:
        return None
    site, cost = found.tableau.site, cost_of_plan(laid_by(found.tableau, found.chosen))
    return Extreme(site.place.name, site.turned, cost.wire_run, cost.spare_port_loss)


def priced(choice: Tableau, by_run: int, by_loss: int) -> Tableau:
    """Return the same choice with the two parts of its cost weighed by whole numbers."""
    columns = tuple(replace(column, cost=column.price.weighed(by_run, by_loss)) for column in choice.columns)
    return replace(choice, columns=columns, fixed_cost=fixed_cost(choice.site).weighed(by_run, by_loss))


def _held(weighed: Tableau, choice: Tableau, part: tuple[int, int], at_most: int) -> Tableau:
    """Keep one part of the cost at its least."""
    alone = priced(choice, *part)
    entries = tuple((number, column.cost) for number, column in enumerate(alone.columns) if column.cost)
    return replace(weighed, rows=(*weighed.rows, SumRow(entries, NO_LOWER_BOUND, at_most - alone.fixed_cost)))
