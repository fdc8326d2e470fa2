"""Trade-offs between legs in use and all else: the corners of the lower hull, each proven.

First the least of all else, then the fewest legs, then between two neighbours the plan that lies deepest below their
line, until there is none. Source: Aneja and Nair (1979), 'Bicriteria transportation problem', doi:10.1287/mnsc.25.1.73.
"""

from math import gcd

from portloom.base.values import dataclass
from portloom.search.legs.best import LegChoice
from portloom.search.legs.branching import Candidate, Weighing

LEAST, MOST = 1, 10**9
"""Micrometres of wire: for legs worth less, or more, than that nothing is said."""


@dataclass(frozen=True)
class LegHull:
    """The corners, most legs first; ``complete`` unless a limit ended the search."""

    corners: tuple[Candidate, ...]
    complete: bool


def leg_hull(choice: LegChoice) -> LegHull:
    """Return each plan that is the best for some worth of a leg, but for those of equal legs and cost."""
    ends = [_best(choice, Weighing(worth)) for worth in (LEAST, MOST)]
    found = [end for end in ends if end is not None]
    if len(found) < len(ends):
        return LegHull(tuple(found), complete=False)
    most, fewest = found
    if len(most.legs) == len(fewest.legs):
        return LegHull((most,), complete=True)
    between, complete = _between(choice, most, fewest)
    return LegHull((most, *between, fewest), complete)


def _between(choice: LegChoice, most: Candidate, fewest: Candidate) -> tuple[list[Candidate], bool]:
    """Return the corners between two neighbours, and whether all were found."""
    legs, dearer = len(most.legs) - len(fewest.legs), fewest.found.cost - most.found.cost
    if legs < 2 or dearer <= 0:
        return [], True
    common = gcd(legs, dearer)
    weights = Weighing(dearer // common, legs // common)
    deepest = _best(choice, weights)
    if deepest is None:
        return [], False
    if deepest.total(weights) >= most.total(weights):
        return [], True
    left, left_done = _between(choice, most, deepest)
    right, right_done = _between(choice, deepest, fewest)
    return [*left, deepest, *right], left_done and right_done


def _best(choice: LegChoice, weights: Weighing) -> Candidate | None:
    """Return the proven best plan; None where a limit came first."""
    end = choice.outcome(weights)
    return end.best if end.complete else None
