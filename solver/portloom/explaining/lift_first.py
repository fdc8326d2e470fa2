"""What to lift first of all that is decided: for one thing, two, and so on, the set of that many that saves most.

The best plan without some things breaks a few of them: to lift these alone is worth as much. Where they are too many,
one of them is lifted for good in one branch, and kept in the other; no set in a branch is worth more than the best plan
without all that may be lifted there (FORMULATION.md, 'What to lift first').
"""

from collections.abc import Callable, Sequence

from portloom.base.values import dataclass
from portloom.rules.facts import FactKey
from portloom.search.solving import Disagreement

Measure = tuple[int, ...]
"""What a plan costs, what matters most first; of two the lesser is better."""
Keys = frozenset[FactKey]
NOTHING_FITS: Measure = (10**18,)
"""More than any plan costs."""
MOST_PLANS = 300
"""So many best plans are asked for at most."""


@dataclass(frozen=True)
class Worth:
    """What the best plan without some things costs, and those of them that it breaks."""

    measure: Measure
    broken: Keys


def nothing_less() -> Worth:
    """Return what it is worth to lift things without which there is no plan either."""
    return Worth(NOTHING_FITS, frozenset())


@dataclass(frozen=True)
class Lifts:
    """Sets of things to lift, fewer first, each worth more than the one before; ``complete`` where that is proved."""

    sets: tuple[Keys, ...]
    complete: bool


class _NotKnown(Exception):
    """A limit came before a best plan was proved, or too many were asked for."""


class Lifting:
    """Looks for the sets of one bike."""

    def __init__(self, keys: Sequence[FactKey], worth: Callable[[Keys], Worth | None]) -> None:
        """Take all that is decided, and what tells the worth of lifting some of it; None where that is not proved."""
        self._keys = tuple(keys)
        self._worth = worth
        self._known: dict[Keys, Worth] = {}

    def go(self) -> Lifts:
        """Return for each number of things the set that saves most, until all that can be saved is saved."""
        sets: list[Keys] = []
        every = frozenset(self._keys)
        try:
            so_far, least = self._of(frozenset()).measure, self._of(every).measure
            for many in range(1, len(self._keys) + 1):
                if so_far == least:
                    break
                found = self._best_of(many, so_far)
                if found is not None:
                    sets.append(found[0])
                    so_far = self._as_measured(*found)
        except _NotKnown:
            return Lifts(tuple(sets), complete=False)
        return Lifts(tuple(sets), complete=True)

    def _of(self, keys: Keys) -> Worth:
        if keys not in self._known:
            found = self._worth(keys) if len(self._known) < MOST_PLANS else None
            if found is None:
                raise _NotKnown
            self._known[keys] = found
        return self._known[keys]

    def _as_measured(self, keys: Keys, measure: Measure) -> Measure:
        """Ask for the set alone: the plan that it was found by is one without these, too."""
        if self._of(keys).measure != measure:
            raise Disagreement("two proofs disagree on what it is worth to lift what is decided")
        return measure

    def _best_of(self, many: int, below: Measure) -> tuple[Keys, Measure] | None:
        """Return the set of so many things at most that is worth most, if less is left then than ``below``."""
        best: tuple[Keys, Measure] | None = None
        waiting: list[tuple[Keys, Keys]] = [(frozenset(self._keys), frozenset())]
        while waiting:
            may, must = waiting.pop()
            here = self._of(may)
            if here.measure >= below:
                continue
            if len(here.broken) <= many:
                best, below = (here.broken, here.measure), here.measure
                continue
            if len(must) == many:
                waiting.append((must, must))
                continue
            one = next(key for key in self._keys if key in here.broken and key not in must)
            waiting += [(may - {one}, must), (may, must | {one})]
        return best
