"""Matching: who can be seated on ports, one each, and the crowd that can't."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Crowd:
    """More things than the kinds of ports that any of them can go on have places; without any one, all fit.

    Source: Hall (1935), 'On representatives of subsets', doi:10.1112/jlms/s1-10.37.26.
    """

    things: tuple[str, ...]
    kinds: tuple[int, ...]


class Matching:
    """Things seated on kinds of ports by augmenting paths."""

    def __init__(self, takes: Mapping[str, Sequence[int]], room: Sequence[int]) -> None:
        """Take for each thing the kinds that take it, and how many ports each kind has."""
        self._takes = takes
        self._room = room
        self._seated: dict[int, list[str]] = {kind: [] for kind in range(len(room))}
        self.standing = tuple(thing for thing in takes if not self._seat(thing, set()))
        """Things without a port, however the others are seated."""

    def _seat(self, thing: str, tried: set[int]) -> bool:
        for kind in self._takes[thing]:
            if kind in tried:
                continue
            tried.add(kind)
            if len(self._seated[kind]) < self._room[kind]:
                self._seated[kind].append(thing)
                return True
            for number, other in enumerate(self._seated[kind]):
                if self._seat(other, tried):
                    self._seated[kind][number] = thing
                    return True
        return False

    def crowds(self) -> tuple[Crowd, ...]:
        """Return a crowd for each thing that stands, the smallest first."""
        found = (self._round(thing) for thing in self.standing)
        return tuple(sorted(found, key=lambda crowd: len(crowd.things)))

    def _round(self, thing: str) -> Crowd:
        """Return all that would have to move for this thing: those on the kinds that it can reach."""
        things, kinds = {thing: True}, dict.fromkeys(self._takes[thing])
        waiting = list(kinds)
        while waiting:
            for other in self._seated[waiting.pop()]:
                things[other] = True
                new = [kind for kind in self._takes[other] if kind not in kinds]
                kinds.update(dict.fromkeys(new))
                waiting += new
        return Crowd(tuple(name for name in self._takes if name in things), tuple(sorted(kinds)))
