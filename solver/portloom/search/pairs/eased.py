"""The choice of two units whatever their main fuses: no plan costs less, some that it allows are none.

Each column is there that some fuse allows, as thin as any allows it; one fuse each is chosen by flags.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import product

from portloom.base.quantities import MilliAmps
from portloom.job.cases import Case
from portloom.job.job import Job
from portloom.job.losses import Losses
from portloom.rules.fuse_size import counted_most
from portloom.rules.shapes import Rule
from portloom.search.columns import OutputColumn, SumRow, column_name
from portloom.search.levels import Levels, Variable
from portloom.search.model import Model
from portloom.search.pairs.any_fuse import AnyFuse
from portloom.search.pairs.feeds import lay_feeds
from portloom.search.pairs.joint import Wanted, kept_together
from portloom.search.pairs.seats import Seat
from portloom.search.places import Clock
from portloom.search.solving import Solve, Status
from portloom.search.strengthen import strengthened
from portloom.search.tableau import NO_LEAST, Check, Tableau, tableau_of

Fuses = tuple[MilliAmps, MilliAmps]
"""The main fuses of the first and of the second unit."""
Flags = dict[MilliAmps, Variable]


@dataclass(frozen=True)
class Eased:
    """The choice, and the flag of each main fuse of each unit."""

    choice: Tableau
    flags: tuple[Flags, Flags]
    parts: tuple[tuple[AnyFuse, ...], tuple[AnyFuse, ...]]
    """The columns of each unit."""
    check: Check
    """What a plan of it must pass, so far as that holds with any main fuses."""
    gone: tuple[Fuses, ...] = ()
    """Main fuses that are not allowed together any more."""

    def without(self, fuses: Fuses) -> "Eased":
        """Return the same without two main fuses together."""
        return replace(self, gone=(*self.gone, fuses))

    def with_all(self) -> "Eased":
        """Return the same with all main fuses allowed together again."""
        return replace(self, gone=())

    def _cuts(self) -> tuple[SumRow, ...]:
        """Return a row for each two main fuses that are not allowed together."""
        first, second = self.flags
        return tuple(SumRow(((first[one], 1), (second[other], 1)), NO_LEAST, 1) for one, other in self.gone)

    @property
    def cut(self) -> Tableau:
        """The choice without the main fuses that are not allowed together."""
        return replace(self.choice, rows=(*self.choice.rows, *self._cuts()))

    def stricter(self, choice: Tableau) -> "Eased":
        """Return the same with the rows of a stricter ``cut``."""
        cuts = self._cuts()
        return replace(self, choice=replace(choice, rows=tuple(row for row in choice.rows if row not in cuts)))

    def smallest(self, most: int, clock: Clock) -> Fuses | None:
        """Return the smallest main fuses, the first unit's first, of all that cost ``most`` at most; None at the limit.

        None, too, where there are none.
        """
        choice: Tableau | None = self.cut
        while choice is not None:
            model = Model(choice)
            model.bound(most)
            model.aim_at(self._sizes())
            end = model.solve(Solve(clock.left()))
            if end.status is not Status.BEST:
                return None
            choice = self.check(choice, end.chosen)
        return self.fuses_of(end.chosen)

    def _sizes(self) -> list[tuple[int, int]]:
        """Weigh the main fuses: the smaller the lighter, the first unit's before the second's."""
        first, second = self.flags
        weights = [(flag, number * len(second)) for number, flag in enumerate(first.values())]
        return [*weights, *((flag, number) for number, flag in enumerate(second.values()))]

    def fuses_of(self, chosen: Sequence[int]) -> Fuses:
        """Return the smallest main fuses that allow the chosen columns, the first unit's first."""
        job, count = self.choice.site.job, len(self.parts[0])
        first = _allowing(job, self.flags[0], self.parts[0], chosen[:count])
        second = _allowing(job, self.flags[1], self.parts[1], chosen[count:])
        return next(fuses for fuses in product(first, second) if fuses not in self.gone)


def _allowing(job: Job, flags: Flags, part: Sequence[AnyFuse], chosen: Sequence[int]) -> Iterator[MilliAmps]:
    """Return the main fuses that allow what is chosen of one unit, small to large."""
    used = [(each, times) for each, times in zip(part, chosen, strict=True) if times]
    worst = max((sum(times * drawn for times, drawn in _drawn_by(used, job, case)) for case in job.cases), default=0)
    for fuse in flags:
        if worst <= counted_most(fuse) and all(fuse in each.fuses for each, _ in used):
            yield fuse


def eased(rules: Sequence[Rule], wanted: Wanted, one: Seat, other: Seat) -> Eased:
    """Set up the choice of two units whatever their main fuses."""
    parts = (one.with_any, other.with_any)
    columns = [each.column for part in parts for each in part]
    site = one.leanest.beside(other.leanest)
    rules = [replace(rule, budgets=None) if rule.by_main_fuse else rule for rule in rules]
    levels = Levels(kept_together(wanted, tableau_of(site, Losses(one.leanest), rules, columns)))
    flags = (_fused(levels, one, 0), _fused(levels, other, len(parts[0])))
    lay_feeds(levels, rules, (one, other), flags)
    return Eased(levels.tableau(), flags, parts, partial(strengthened, rules))


def _fused(levels: Levels, seat: Seat, first: int) -> Flags:
    """Choose one main fuse of a seat: it carries what is on the unit, and each column is one that it allows."""
    flags = {fuse: levels.new_flag("main fuse", str(fuse), seat.place) for fuse in seat.fuses}
    levels.at_most([(flag, 1) for flag in flags.values()], 1, "main fuse", seat.place)
    levels.at_most([(flag, -1) for flag in flags.values()], -1, "main fuse", seat.place)
    carried = [(flag, -counted_most(fuse)) for fuse, flag in flags.items()]
    numbered = list(enumerate(seat.with_any, first))
    job = seat.sites[0].job
    for case in job.cases:
        drawn = _drawn_by(((each, number) for number, each in numbered), job, case)
        levels.at_most([*drawn, *carried], 0, "main fuse", seat.place, case.label)
    for number, each in numbered:
        if len(each.fuses) < len(flags):
            allowing = [(flag, -each.column.most) for fuse, flag in flags.items() if fuse in each.fuses]
            levels.at_most([(number, 1), *allowing], 0, "main fuse", column_name(each.column))
    return flags


def _drawn_by(columns: Iterable[tuple[AnyFuse, int]], job: Job, case: Case) -> Iterator[tuple[int, int]]:
    """Return what each circuit of today draws in a case, after the number that comes with its column."""
    for each, number in columns:
        column = each.column
        if isinstance(column, OutputColumn) and not column.later and job.circuit_on(column.wired.circuit, case):
            yield number, column.wired.circuit.current
