"""The choice of two units whatever their main fuses: no plan costs less, some that it allows are none.

Each column is there that some fuse allows, as thin as any allows it; one fuse each is chosen by flags.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

from solver.job.cases import Case
from solver.job.job import Job
from solver.job.losses import Losses
from solver.rules.main_fuse import counted_most
from solver.rules.shapes import Rule
from solver.search.columns import OutputColumn
from solver.search.levels import Flag, Levels
from solver.search.model import Model, Solve, Status
from solver.search.pairs.joint import kept_together
from solver.search.pairs.seats import AnyFuse, Seat
from solver.search.places import Clock
from solver.search.tableau import Tableau, tableau_of
from solver.words.quantities import MilliAmps

Fuses = tuple[MilliAmps, MilliAmps]
"""The main fuses of the first and of the second unit."""
Flags = dict[MilliAmps, Flag]


@dataclass(frozen=True)
class Eased:
    """The choice, and the flag of each main fuse of each unit."""

    choice: Tableau
    flags: tuple[Flags, Flags]
    parts: tuple[tuple[AnyFuse, ...], tuple[AnyFuse, ...]]
    """The columns of each unit."""
    gone: frozenset[Fuses] = frozenset()
    """Main fuses that are not allowed together any more."""

    def without(self, fuses: Fuses) -> "Eased":
        """Give the same without two main fuses together."""
        levels = Levels(self.choice)
        levels.at_most([(flags[fuse], 1) for flags, fuse in zip(self.flags, fuses, strict=True)], 1)
        return replace(self, choice=levels.tableau(), gone=self.gone | {fuses})

    def smallest(self, most: int, clock: Clock) -> Fuses | None:
        """Give the smallest main fuses, the first unit's first, of all that cost ``most`` at most; None at the limit.

        None, too, where there are none.
        """
        model = Model(self.choice)
        model.bound(most)
        first, second = self.flags
        weights = [(flag, number * len(second)) for number, flag in enumerate(first.values())]
        model.aim_at([*weights, *((flag, number) for number, flag in enumerate(second.values()))])
        end = model.solve(Solve(clock.left()))
        return self.fuses_of(end.chosen) if end.status is Status.BEST else None

    def fuses_of(self, chosen: Sequence[int]) -> Fuses:
        """Give the smallest main fuses that allow the chosen columns, the first unit's first."""
        job, count = self.choice.site.job, len(self.parts[0])
        first = _allowing(job, self.flags[0], self.parts[0], chosen[:count])
        second = _allowing(job, self.flags[1], self.parts[1], chosen[count:])
        return next(fuses for fuses in product(first, second) if fuses not in self.gone)


def _allowing(job: Job, flags: Flags, part: Sequence[AnyFuse], chosen: Sequence[int]) -> Iterator[MilliAmps]:
    """Give the main fuses that allow what is chosen of one unit, small to large."""
    used = [(each, times) for each, times in zip(part, chosen, strict=True) if times]
    worst = max((sum(times * drawn for times, drawn in _drawn_by(used, job, case)) for case in job.cases), default=0)
    for fuse in flags:
        if worst <= counted_most(fuse) and all(fuse in each.fuses for each, _ in used):
            yield fuse


def eased(rules: Sequence[Rule], one: Seat, other: Seat) -> Eased:
    """Set up the choice of two units whatever their main fuses."""
    parts = (one.with_any, other.with_any)
    columns = [each.column for part in parts for each in part]
    site = one.leanest.beside(other.leanest)
    levels = Levels(kept_together(rules, tableau_of(site, Losses(one.leanest), rules, columns)))
    flags = (_fused(levels, one, 0), _fused(levels, other, len(parts[0])))
    return Eased(levels.tableau(), flags, parts)


def _fused(levels: Levels, seat: Seat, first: int) -> Flags:
    """Choose one main fuse of a seat: it carries what is on the unit, and each column is one that it allows."""
    flags = {fuse: levels.new_flag() for fuse in seat.fuses}
    levels.at_most([(flag, 1) for flag in flags.values()], 1)
    levels.at_most([(flag, -1) for flag in flags.values()], -1)
    carried = [(flag, -counted_most(fuse)) for fuse, flag in flags.items()]
    numbered = list(enumerate(seat.with_any, first))
    job = seat.sites[0].job
    for case in job.cases:
        levels.at_most([*_drawn_by(((each, number) for number, each in numbered), job, case), *carried], 0)
    for number, each in numbered:
        if len(each.fuses) < len(flags):
            allowing = [(flag, -each.column.most) for fuse, flag in flags.items() if fuse in each.fuses]
            levels.at_most([(number, 1), *allowing], 0)
    return flags


def _drawn_by(columns: Iterable[tuple[AnyFuse, int]], job: Job, case: Case) -> Iterator[tuple[int, int]]:
    """Give what each circuit of today draws in a case, after the number that comes with its column."""
    for each, number in columns:
        column = each.column
        if isinstance(column, OutputColumn) and not column.later and job.circuit_on(column.wired.circuit, case):
            yield number, column.wired.circuit.current
