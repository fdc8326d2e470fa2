"""Branch and bound over sets of legs: each leg of a site is closed, or in use, until nothing is left to choose.

Every set that is not planned is ruled out by a bound that was summed up in whole numbers (FORMULATION.md, L4).
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from heapq import heappop, heappush

from portloom.base.values import dataclass
from portloom.search.legs.bounds import Least, LegBounds
from portloom.search.legs.joints import Legs
from portloom.search.places import Answer, Found, LimitReached
from portloom.search.sizing_cuts import laid_by

MOST_LOOKS = 20_000
"""So many bounds and plans are worked out at most, plans counted as ``PLAN`` bounds each."""
PLAN = 20


@dataclass(frozen=True)
class Weighing:
    """How a leg in use is weighed beside all else: ``leg`` micrometres against ``cost`` times the cost of the rest."""

    leg: int
    cost: int = 1

    def of(self, cost: int, legs: int) -> int:
        """Return both together."""
        return self.cost * cost + self.leg * legs

    def most(self, total: int, legs: int) -> int:
        """Return what the rest may cost at most for both to be less than a total."""
        return (total - 1 - self.leg * legs) // self.cost


@dataclass(frozen=True)
class Candidate:
    """A plan, and the legs that it uses."""

    found: Found
    legs: Legs

    def total(self, weights: "Weighing") -> int:
        """Return what it costs, legs in use among it."""
        return weights.of(self.found.cost, len(self.legs))


def candidate(found: Found) -> Candidate:
    """Return a plan with the legs that it uses."""
    return Candidate(found, frozenset(laid_by(found.tableau, found.chosen).legs_in_use))


@dataclass(frozen=True)
class Node:
    """A part of the sets of legs: at a site, with some legs closed and some in use; no plan there costs less."""

    bound: int
    site: int
    closed: Legs
    used: Legs


Solve = Callable[[int, Legs, int | None], Answer]
"""Returns the best plan of a site, by its number, with these legs closed; NoPlan where none costs so little."""


@dataclass(frozen=True)
class Outcome:
    """The best plan that was found, if any; a cost that no plan is below; whether nothing is left to look at."""

    best: Candidate | None
    bound: int | None
    """None where there is no plan at all."""
    complete: bool


class _Waiting:
    """The parts that are left to look at, by their bounds; of equal ones that which came last."""

    def __init__(self) -> None:
        self._heap: list[tuple[int, int, Node]] = []
        self._came = 0

    def add(self, nodes: Iterable[Node]) -> None:
        for node in nodes:
            self._came += 1
            heappush(self._heap, (node.bound, -self._came, node))

    def next(self) -> Node:
        """Return the most promising one, which waits no longer."""
        return heappop(self._heap)[-1]

    @property
    def bounds(self) -> list[int]:
        return [bound for bound, *_ in self._heap]


class Branching:
    """The search for one weighing of legs."""

    def __init__(self, bounds: LegBounds, solve: Solve, weights: Weighing, out_of_time: Callable[[], bool]) -> None:
        """Take what bounds and plans are worked out by."""
        self._bounds = bounds
        self._solve = solve
        self._weights = weights
        self._out_of_time = out_of_time
        self._plans = 0
        self._best: Candidate | None = None
        self._left: list[int] = []
        """The bounds of sites with legs closed that a limit left without a plan or a proof."""

    def search(self, known: Candidate | None) -> Outcome:
        """Return the best over all sets of legs; ``known`` is a plan that is there already."""
        self._best = known
        waiting = _Waiting()
        waiting.add(self._roots())
        start = self._bounds.looked
        while waiting.bounds:
            if self._out_of_time() or self._bounds.looked - start + PLAN * self._plans > MOST_LOOKS:
                break
            node = waiting.next()
            if self._is_open(node.bound):
                waiting.add(self._parts(node))
        return self._ended([*waiting.bounds, *self._left])

    def _ended(self, left: list[int]) -> Outcome:
        best = None if self._best is None else self._best.total(self._weights)
        still = [bound for bound in left if self._is_open(bound)]
        known = [*still, *([] if best is None else [best])]
        return Outcome(self._best, min(known, default=None), complete=not still)

    def _is_open(self, bound: int) -> bool:
        return self._best is None or bound < self._best.total(self._weights)

    def _roots(self) -> Iterator[Node]:
        for number in range(len(self._bounds.joints)):
            least = self._bounds.least(number, frozenset())
            if least is not None:
                yield Node(self._sum(number, least, frozenset()), number, frozenset(), frozenset())

    def _sum(self, site: int, least: Least, used: Legs) -> int:
        return self._weights.of(least.cost, self._bounds.joints[site].fewest(used))

    # --- one part

    def _parts(self, node: Node) -> list[Node]:
        """Return what is left to look at of a part, the most promising last; plan it where there is no more choice."""
        least = self._bounds.least(node.site, node.closed)
        if least is None or not node.used <= least.legs:
            return []  # a leg that must be in use holds no wire there
        node, ways = self._settled(node, least)
        if not self._is_open(node.bound):
            return []
        if node.used >= least.legs:
            self._plan(node)
            return []
        leg = max(sorted(ways), key=lambda number: min(part.bound for part in ways[number]))
        return sorted(ways[leg], key=lambda part: -part.bound)

    def _settled(self, node: Node, least: Least) -> tuple[Node, dict[int, tuple[Node, Node]]]:
        """Return a part with each leg in use that can't be closed, and both ways of each that is left."""
        ways: dict[int, tuple[Node, Node]] = {}
        for leg in sorted(least.legs - node.used):
            shut = self._bounds.least(node.site, node.closed | {leg})
            bound = None if shut is None else self._sum(node.site, shut, node.used)
            if shut is None or bound is None or not node.used <= shut.legs or not self._is_open(bound):
                used = node.used | {leg}
                node = replace(node, used=used, bound=max(node.bound, self._sum(node.site, least, used)))
            else:
                used = node.used | {leg}
                within = Node(self._sum(node.site, least, used), node.site, node.closed, used)
                ways[leg] = Node(bound, node.site, node.closed | {leg}, node.used), within
        # what was put in use later counts in all of them
        return node, {leg: self._again(both, node.used, least) for leg, both in ways.items()}

    def _again(self, both: tuple[Node, Node], used: Legs, least: Least) -> tuple[Node, Node]:
        shut, within = (replace(part, used=part.used | used) for part in both)
        closed = self._bounds.least(shut.site, shut.closed)
        if closed is not None:
            shut = replace(shut, bound=max(shut.bound, self._sum(shut.site, closed, shut.used)))
        return shut, replace(within, bound=max(within.bound, self._sum(within.site, least, within.used)))

    def _plan(self, node: Node) -> None:
        """Plan a part of which every leg is closed, in use, or of no use."""
        self._plans += 1
        most = None if self._best is None else self._weights.most(self._best.total(self._weights), len(node.used))
        answer = self._solve(node.site, node.closed, most)
        if isinstance(answer, Found):
            found = candidate(answer)
            if self._is_open(found.total(self._weights)):
                self._best = found
        if isinstance(answer, LimitReached) or (isinstance(answer, Found) and not answer.proven):
            self._left.append(max(node.bound, self._weights.of(answer.bound, len(node.used))))
