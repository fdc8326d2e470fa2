"""Things seated on kinds of ports by augmenting paths, and the crowds that are too many for theirs."""

from collections.abc import Callable, Mapping, Sequence
from typing import Generic, TypeVar

from portloom.base.values import dataclass

Thing = TypeVar("Thing")


class Seating(Generic[Thing]):
    """Who sits on which kind of port; for one more the others may change places."""

    def __init__(self, takes: Callable[[Thing], Sequence[int]], room: Sequence[int]) -> None:
        """Take what gives for each thing the kinds that take it, and how many ports each kind has."""
        self._takes = takes
        self._room = room
        self.on: dict[int, list[Thing]] = {kind: [] for kind in range(len(room))}
        """The things on each kind."""

    def put(self, thing: Thing, kind: int) -> bool:
        """Seat a thing on a kind of port, whether that takes it or not; False where there is no port left."""
        if len(self.on[kind]) == self._room[kind]:
            return False
        self.on[kind].append(thing)
        return True

    def seat(self, thing: Thing) -> bool:
        """Seat a thing; False where there is no port for it, however the others are seated."""
        return self._seat(thing, set())

    def _seat(self, thing: Thing, tried: set[int]) -> bool:
        for kind in self._takes(thing):
            if kind in tried:
                continue
            tried.add(kind)
            if self.put(thing, kind):
                return True
            for number, other in enumerate(self.on[kind]):
                if self._seat(other, tried):
                    self.on[kind][number] = thing
                    return True
        return False


@dataclass(frozen=True)
class Crowd:
    """More things than the kinds of ports that any of them can go on have places; without any one, all fit.

    Source: Hall (1935), 'On representatives of subsets', doi:10.1112/jlms/s1-10.37.26.
    """

    things: tuple[str, ...]
    kinds: tuple[int, ...]


class Matching:
    """As many things seated on kinds of ports as can be."""

    def __init__(self, takes: Mapping[str, Sequence[int]], room: Sequence[int]) -> None:
        """Take for each thing the kinds that take it, and how many ports each kind has."""
        self._takes = takes
        self._seating = Seating(takes.__getitem__, room)
        self.standing = tuple(thing for thing in takes if not self._seating.seat(thing))
        """Things without a port, however the others are seated."""

    def crowds(self) -> tuple[Crowd, ...]:
        """Return a crowd for each thing that stands, the smallest first."""
        found = (self._round(thing) for thing in self.standing)
        return tuple(sorted(found, key=lambda crowd: len(crowd.things)))

    def _round(self, thing: str) -> Crowd:
        """Return all that would have to move for this thing: those on the kinds that it can reach."""
        things, kinds = {thing: True}, dict.fromkeys(self._takes[thing])
        waiting = list(kinds)
        while waiting:
            for other in self._seating.on[waiting.pop()]:
                things[other] = True
                new = [kind for kind in self._takes[other] if kind not in kinds]
                kinds.update(dict.fromkeys(new))
                waiting += new
        return Crowd(tuple(name for name in self._takes if name in things), tuple(sorted(kinds)))
