"""A circuit's tree cut into pieces: at each fork, and at each thing that others lie beyond, is a splice.

Where the splice sits at a connector: if anything is joined to it at that point it sits on the near side, and
each piece that leads on takes a way; else it sits on the far side, and the piece that leads there takes one way
for all. Either way no more flows through a way, to no more loads, than the plan's drop counts there.
"""

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from itertools import pairwise

from portloom.base.quantities import Micrometres, MilliAmps
from portloom.base.values import dataclass
from portloom.documents.cut import NO_LENGTH
from portloom.documents.wiring.wire import WireEnd
from portloom.job.network import Network, Run
from portloom.job.routed import DisconnectedRoute


@dataclass(frozen=True)
class RunEnd:
    """What a circuit leads to: the end of its wire, and the current that it draws."""

    end: WireEnd
    current: MilliAmps = MilliAmps(0)


@dataclass(frozen=True)
class RunFork:
    """A splice without a name yet: its point, and its number within the circuit."""

    point: str
    number: int


CutNode = WireEnd | RunFork


@dataclass(frozen=True)
class Piece:
    """A stretch of a circuit between two ends that are no more than ends."""

    start: CutNode
    end: CutNode
    legs: tuple[int, ...]
    points: tuple[str, ...]
    parted: tuple[str, ...]
    """The connectors that it passes."""
    current: MilliAmps
    over: Micrometres = NO_LENGTH
    """What it is longer than its legs: a feed is never shorter than it can be."""

    @property
    def stretches(self) -> tuple[tuple[int, ...], ...]:
        """Its legs from start to end, parted at each connector."""
        at = [self.points.index(point) for point in self.parted]
        return tuple(self.legs[one:other] for one, other in pairwise((0, *at, len(self.legs))))


@dataclass(frozen=True)
class _Way:
    """Where the knife has come to: legs and points since the last cut."""

    legs: tuple[int, ...]
    points: tuple[str, ...]
    parts_at_start: bool

    def on(self, leg: int, point: str) -> "_Way":
        return _Way((*self.legs, leg), (*self.points, point), self.parts_at_start)


class Cutting:
    """Cuts one tree."""

    def __init__(
        self,
        network: Network,
        run: Run,
        source: WireEnd,
        tips: Sequence[RunEnd],
        connectors: Sequence[str],
        most: int | None = None,
    ) -> None:
        """Take the tree's legs, what it starts from, what it leads to, and where the loom can be parted.

        ``most`` is how many wires one splice joins: what is more hangs on a further splice at the same point.
        """
        self._network = network
        self._most = most
        self._source = source
        self._connectors = frozenset(connectors)
        self._tips: dict[str, list[RunEnd]] = {}
        for tip in tips:
            self._tips.setdefault(tip.end.point, []).append(tip)
        self._onward = _onward(network, run, source.point)
        self._forks = 0

    def pieces(self) -> Iterator[Piece]:
        """Return every piece, from the source on; raise DisconnectedRoute where a leg leads to nothing."""
        root = self._source.point
        if self._count(root):
            yield from self._on(self._source, _Way((), (root,), parts_at_start=False))

    def _count(self, point: str) -> int:
        return len(self._tips.get(point, ())) + len(self._onward.get(point, ()))

    def _on(self, start: CutNode, way: _Way) -> Iterator[Piece]:
        """Follow the wire from where it has come to until it ends or forks."""
        here = way.points[-1]
        while self._count(here) == 1 and here not in self._tips:
            leg, here = self._onward[here][0]
            way = way.on(leg, here)
        if not self._count(here):
            raise DisconnectedRoute(f"a leg leads to {here}, where nothing is")
        if self._count(here) == 1:
            tip = self._tips[here][0]
            yield self._piece(start, tip.end, way, parts_at_end=False)
            return
        yield from self._fork(start, way)

    def _fork(self, start: CutNode, way: _Way) -> Iterator[Piece]:
        here = way.points[-1]
        near = here in self._tips
        fork = self._next_fork(here)
        yield self._piece(start, fork, way, parts_at_end=not near and here != self._source.point)
        beyond, free, left = self._beyond[here], self._ways_of_one, self._count(here)
        for branch in (*self._tips.get(here, ()), *self._onward.get(here, ())):
            if free == 1 and left > 1:
                another = self._next_fork(here)
                yield Piece(fork, another, (), (here,), (), beyond)
                fork, free = another, self._ways_of_one
            free, left = free - 1, left - 1
            if isinstance(branch, RunEnd):
                beyond = MilliAmps(beyond - branch.current)
                yield self._piece(fork, branch.end, _Way((), (here,), parts_at_start=False), parts_at_end=False)
            else:
                leg, point = branch
                beyond = MilliAmps(beyond - self._beyond[point])
                yield from self._on(fork, _Way((leg,), (here, point), near and here != self._source.point))

    def _next_fork(self, here: str) -> RunFork:
        self._forks += 1
        return RunFork(here, self._forks)

    @property
    def _ways_of_one(self) -> int:
        """How many wires may lead on from one splice."""
        return len(self._network.points) + sum(map(len, self._tips.values())) if self._most is None else self._most - 1

    def _piece(self, start: CutNode, end: CutNode, way: _Way, *, parts_at_end: bool) -> Piece:
        passed = (*way.points[:1] * way.parts_at_start, *way.points[1:-1], *way.points[-1:] * parts_at_end)
        parted = tuple(point for point in passed if point in self._connectors)
        current = self._beyond[way.points[-1]] if isinstance(end, RunFork) else self._drawn(end)
        return Piece(start, end, way.legs, way.points, parted, current)

    def _drawn(self, end: WireEnd) -> MilliAmps:
        return next(tip.current for tip in self._tips[end.point] if tip.end == end)

    @cached_property
    def _beyond(self) -> Mapping[str, MilliAmps]:
        """What is drawn at each point and beyond it."""
        order = [self._source.point]
        for point in order:
            order.extend(other for _, other in self._onward.get(point, ()))
        found: dict[str, MilliAmps] = {}
        for point in reversed(order):
            here = sum(tip.current for tip in self._tips.get(point, ()))
            found[point] = MilliAmps(here + sum(found[other] for _, other in self._onward.get(point, ())))
        return found


def length(network: Network, legs: Sequence[int]) -> Micrometres:
    """Return the length of some legs."""
    return Micrometres(sum(network.legs[number].length for number in legs))


def in_order(network: Network, run: Run, start: str) -> tuple[tuple[int, ...], tuple[str, ...]]:
    """Return the legs and points of a plain wire from its start on; raise DisconnectedRoute where it forks."""
    onward = _onward(network, run, start)
    legs: list[int] = []
    points = [start]
    while onward.get(points[-1]):
        if len(onward[points[-1]]) > 1:
            raise DisconnectedRoute("it forks")
        leg, point = onward[points[-1]][0]
        legs.append(leg)
        points.append(point)
    return tuple(legs), tuple(points)


def _onward(network: Network, run: Run, root: str) -> dict[str, list[tuple[int, str]]]:
    """Return for each point the legs that lead on from it, away from the root, with the points at their ends."""
    onward: dict[str, list[tuple[int, str]]] = {}
    left, queue, seen = dict.fromkeys(run.legs), [root], {root}
    for point in queue:
        for number in [leg for leg in left if point in network.legs[leg].between]:
            one, other = network.legs[number].between
            beyond = other if one == point else one
            if beyond in seen:
                raise DisconnectedRoute("its legs close a ring")
            onward.setdefault(point, []).append((number, beyond))
            del left[number]
            seen.add(beyond)
            queue.append(beyond)
    if left:
        raise DisconnectedRoute("its legs lie apart")
    return onward
