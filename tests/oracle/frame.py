"""Shortest runs and trees over the frame, ties broken by the legs' order in the file.

A leg weighs its length and, far below a micrometre, a bonus that halves from leg to leg.
So of equally short trees the one wins whose sorted leg numbers come first as a list, and
no two trees weigh the same. A tree with k ends needs at most k - 2 points at which it
branches; every choice of such points is tried, joined by a spanning tree over distances.
"""

import heapq
from collections.abc import Iterable
from fractions import Fraction
from functools import cache
from itertools import combinations

from .things import Leg

Run = frozenset[int]


class Frame:
    """The legs that are open to a wire, and the shortest ways over them."""

    def __init__(self, legs: Iterable[Leg], shut: frozenset[str] = frozenset()) -> None:
        """Take all legs of a bike and the names of those that are shut."""
        self.legs = tuple(legs)
        count = len(self.legs)
        self._next: dict[str, list[tuple[int, int, str]]] = {}
        for leg in self.legs:
            for here, there in (leg.ends, leg.ends[::-1]):
                self._next.setdefault(here, [])
                if leg.name not in shut:
                    weight = (leg.length_um << count) - (1 << (count - 1 - leg.number))
                    self._next[here].append((weight, leg.number, there))
        self._ways = cache(self._ways_from)
        self.tree = cache(self._tree)

    def _ways_from(self, start: str) -> dict[str, tuple[int, Run]]:
        done: dict[str, tuple[int, Run]] = {}
        queue: list[tuple[int, str, Run]] = [(0, start, frozenset())]
        while queue:
            weight, here, run = heapq.heappop(queue)
            if here in done:
                continue
            done[here] = (weight, run)
            for more, number, there in self._next.get(here, []):
                heapq.heappush(queue, (weight + more, there, run | {number}))
        return done

    def path(self, start: str, end: str) -> Run | None:
        """Return the legs of the shortest way between two points; None if there is none."""
        way = self._ways(start).get(end)
        return None if way is None else way[1]

    def length_um(self, run: Run) -> int:
        """Return the length (um) of some legs."""
        return sum(self.legs[number].length_um for number in run)

    def _tree(self, ends: frozenset[str]) -> Run | None:
        first = min(ends)
        if any(end not in self._ways(first) for end in ends):
            return None
        others = sorted(set(self._ways(first)) - ends)
        tries = (
            self._spanning([*sorted(ends), *extra])
            for size in range(max(0, len(ends) - 2) + 1)
            for extra in combinations(others, size)
        )
        return min(tries)[1]

    def _spanning(self, points: list[str]) -> tuple[int, Run]:
        """Join points by a spanning tree over distances (Prim); its weight and legs."""
        total, legs = 0, frozenset[int]()
        best = {point: self._ways(points[0])[point] for point in points[1:]}
        while best:
            near = min(best, key=lambda point: best[point][0])
            weight, run = best.pop(near)
            total, legs = total + weight, legs | run
            ways = self._ways(near)
            best = {point: min(way, ways[point], key=lambda one: one[0]) for point, way in best.items()}
        return total, legs

    def paths_in(self, run: Run, root: str) -> dict[str, tuple[int, ...]]:
        """Give, for each point of a tree of legs, the legs from the root to it, in order."""
        found: dict[str, tuple[int, ...]] = {root: ()}
        left = set(run)
        while left:
            number = min(n for n in left if set(self.legs[n].ends) & set(found))
            left.remove(number)
            here, there = self.legs[number].ends
            known, new = (here, there) if here in found else (there, here)
            found[new] = (*found[known], number)
        return found


def ohm_metres(leg: Leg) -> Fraction:
    """Return the length (m) that at 20 C resists as this leg does when hot.

    Source: IEC 60028 / FAA AC 43.13-1B par. 11-66, (234.5 + T) / 254.5; 85 C or the
    leg's ambient where that is hotter.
    """
    return Fraction(leg.length_um, 10**6) * (leg.hot_c + Fraction("234.5")) / Fraction("254.5")
