"""Why nothing fits with a loom that is built, and what to take out of it so that something does.

Facts are the built circuits alone; all else is as it is. A conflict is a least set of them with which nothing fits,
however much is set anew, as their wires stay in the looms: each proof is that of a plan that does not exist. To undo a
circuit, its wires are taken out: effort 2 each. What to undo comes from hitting all conflicts known. Loads of a return
that is undone are dealt anew, so it is not taken for granted that to undo more only helps: that two circuits are the
least is told only once each single one was tried, and of more that is not told.
"""

from collections.abc import Collection, Sequence
from itertools import combinations

from portloom.base.bike import Bike
from portloom.base.built import BuiltLoom
from portloom.base.clock import Clock
from portloom.base.unit import Unit
from portloom.base.values import dataclass
from portloom.explaining.conflicts.shrinking import quickxplain
from portloom.explaining.solved import Solved, passed
from portloom.job.job import Job
from portloom.rules.book import rules_of
from portloom.rules.sites import sites_of
from portloom.search.assign import assignment_of
from portloom.search.best import Choices
from portloom.search.least_change import least_change
from portloom.search.places import Found, NoPlan

EFFORT = 2
"""Of a built circuit that is undone."""


class NotDecided(Exception):
    """A time limit came before one of the questions was answered."""


@dataclass(frozen=True)
class BuiltConflict:
    """Built circuits with which nothing fits; without any one of them something does. Proved."""

    circuits: tuple[str, ...]


@dataclass(frozen=True)
class Undoing:
    """Circuits whose wires are taken out, so that the bike fits, and the best plan then."""

    circuits: tuple[str, ...]
    solved: Solved

    @property
    def effort(self) -> int:
        """The efforts, summed."""
        return EFFORT * len(self.circuits)


@dataclass(frozen=True)
class Undone:
    """What was found: conflicts, and the fixes of least effort; nothing of either where the loom is not to blame."""

    conflicts: tuple[BuiltConflict, ...]
    fixes: tuple[Undoing, ...]
    least: bool
    """Whether it is proved that nothing of less effort makes it fit."""
    to_blame: bool
    """False where nothing fits at that place even if all of the loom is taken out."""


class Looms:
    """Asks whether a bike fits with a part of its built loom, each part once."""

    def __init__(self, bike: Bike, unit: Unit, loom: BuiltLoom, clock: Clock) -> None:
        """Take the bike as it is, with the loom as it was built."""
        self._bike, self._unit, self._loom, self._clock = bike, unit, loom, clock
        self.circuits = tuple(loom.circuits)
        self._known: dict[frozenset[str], Solved | None] = {}

    def loom_legs(self) -> dict[str, frozenset[str]]:
        """Return for each circuit the legs in which its wires lie."""
        return {
            name: frozenset(leg for piece in pieces for leg in piece.legs)
            for name, pieces in self._loom.circuits.items()
        }

    def fits_with(self, kept: Collection[str]) -> bool:
        """Tell whether there is a plan with these circuits in the loom; raise NotDecided at the time limit."""
        return self.without([name for name in self.circuits if name not in kept]) is not None

    def without(self, names: Collection[str]) -> Solved | None:
        """Return the best plan once some circuits are taken out, None where that is proved not to be."""
        key = frozenset(names)
        if key not in self._known:
            self._known[key] = self._solved(key)
        return self._known[key]

    def _solved(self, names: frozenset[str]) -> Solved | None:
        job = Job(self._bike, self._unit, built=self._loom.without(names))
        rules = rules_of(job)
        choices = Choices(job, rules, sites_of(job))
        found = least_change(rules, choices, self._clock, is_small=job.bike.is_small)
        if isinstance(found, NoPlan):
            return None
        if not isinstance(found, Found):
            raise NotDecided
        return passed((job,), rules, assignment_of(found))


def undone(looms: Looms) -> Undone:
    """Return why a bike that does not fit with its built loom does not, and what to take out.

    Raises NotDecided where the time limit comes first.
    """
    if not looms.fits_with(()):
        return Undone((), (), least=False, to_blame=False)
    conflicts: list[BuiltConflict] = []
    while True:
        hitting = _least_hitting(looms.circuits, conflicts)
        fixes = [Undoing(names, solved) for names in hitting if (solved := looms.without(names)) is not None]
        if fixes:
            return Undone(tuple(conflicts), tuple(fixes), least=_is_least(looms, len(hitting[0])), to_blame=True)
        left = [name for name in looms.circuits if name not in hitting[0]]
        conflicts.append(BuiltConflict(_certified(looms, quickxplain(left, looms.fits_with))))


def _is_least(looms: Looms, size: int) -> bool:
    """Tell whether it is proved that fewer circuits do not do: none does not, and of two each single one was tried."""
    return size == 1 or (size == 2 and all(looms.without([name]) is None for name in looms.circuits))


def _certified(looms: Looms, circuits: Sequence[str]) -> tuple[str, ...]:
    """Return the circuits, less each without which the others leave no plan either."""
    for name in circuits:
        others = [other for other in circuits if other != name]
        if not looms.fits_with(others):
            return _certified(looms, others)
    return tuple(circuits)


def _least_hitting(circuits: Sequence[str], conflicts: Sequence[BuiltConflict]) -> list[tuple[str, ...]]:
    """Return every smallest set of circuits that has one of each conflict, in the order of the loom."""
    within = [name for name in circuits if any(name in conflict.circuits for conflict in conflicts)]
    for size in range(len(within) + 1):
        every = combinations(within, size)
        found = [names for names in every if all(not {*names}.isdisjoint(one.circuits) for one in conflicts)]
        if found:
            return found
    raise ValueError("a conflict without circuits")
