"""The choice of two units whatever their main fuses: no plan costs less, some that it allows are none.

Each column is there that some fuse allows, as thin as any allows it; one fuse each is chosen by flags. A feed is as
thick as its main fuse asks for at least, and adds that to the looms (FORMULATION.md, C5).
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import product

from portloom.base.copper import Conductor
from portloom.base.quantities import MilliAmps
from portloom.job.cases import Case
from portloom.job.fixed_wires import FixedWireKey
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.loading import Bundles, feed_demands
from portloom.job.losses import Losses
from portloom.job.site import Site, feed_conductor, feed_reels
from portloom.job.sizing import carries
from portloom.rules.book import budgets_of
from portloom.rules.fuse_size import counted_most
from portloom.rules.shapes import Key, Rule
from portloom.search.columns import OutputColumn, SumRow, column_name, contributions
from portloom.search.levels import Levels, Variable
from portloom.search.model import Model
from portloom.search.pairs.joint import Wanted, kept_together
from portloom.search.pairs.seats import AnyFuse, SeatChoices
from portloom.search.places import Clock
from portloom.search.sizing_cuts import with_sizing_cuts
from portloom.search.solving import Solve, Status
from portloom.search.tableau import NO_LOWER_BOUND, Check, Tableau, tableau_of

Fuses = tuple[MilliAmps, MilliAmps]
"""The main fuses of the first and of the second unit."""


FuseFlags = dict[MilliAmps, Variable]


@dataclass(frozen=True)
class FuseRelaxation:
    """The choice, and the flag of each main fuse of each unit."""

    choice: Tableau
    flags: tuple[FuseFlags, FuseFlags]
    parts: tuple[tuple[AnyFuse, ...], tuple[AnyFuse, ...]]
    """The columns of each unit."""
    check: Check
    """What a plan of it must pass, so far as that holds with any main fuses."""
    excluded: tuple[Fuses, ...] = ()
    """Main fuses that are not allowed together any more."""

    def without(self, fuses: Fuses) -> "FuseRelaxation":
        """Return the same without two main fuses together."""
        return replace(self, excluded=(*self.excluded, fuses))

    def with_all(self) -> "FuseRelaxation":
        """Return the same with all main fuses allowed together again."""
        return replace(self, excluded=())

    def _cuts(self) -> tuple[SumRow, ...]:
        """Return a row for each two main fuses that are not allowed together."""
        first, second = self.flags
        return tuple(SumRow(((first[one], 1), (second[other], 1)), NO_LOWER_BOUND, 1) for one, other in self.excluded)

    @property
    def tableau(self) -> Tableau:
        """The choice without the main fuses that are not allowed together."""
        return replace(self.choice, rows=(*self.choice.rows, *self._cuts()))

    def with_cuts_of(self, choice: Tableau) -> "FuseRelaxation":
        """Return the same with the rows of a stricter ``tableau``."""
        cuts = self._cuts()
        return replace(self, choice=replace(choice, rows=tuple(row for row in choice.rows if row not in cuts)))

    def smallest(self, most: int, clock: Clock) -> Fuses | Status:
        """Return the smallest main fuses, the first unit's first, of all that cost ``most`` at most (O2).

        Where there are none, IMPOSSIBLE; where the limit is reached, UNKNOWN.
        """
        choice: Tableau | None = self.tableau
        while choice is not None:
            model = Model(choice)
            model.bound(most)
            model.minimise(self._sizes())
            end = model.solve(Solve(clock.left()))
            if end.status is not Status.BEST:
                return Status.IMPOSSIBLE if end.status is Status.IMPOSSIBLE else Status.UNKNOWN
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
        return next(fuses for fuses in product(first, second) if fuses not in self.excluded)


def _allowing(job: Job, flags: FuseFlags, part: Sequence[AnyFuse], chosen: Sequence[int]) -> Iterator[MilliAmps]:
    """Return the main fuses that allow what is chosen of one unit, small to large."""
    used = [(each, times) for each, times in zip(part, chosen, strict=True) if times]
    worst = max((sum(times * drawn for times, drawn in _drawn_by(used, job, case)) for case in job.cases), default=0)
    for fuse in flags:
        if worst <= counted_most(fuse) and all(fuse in each.fuses for each, _ in used):
            yield fuse


def relaxation_of(rules: Sequence[Rule], wanted: Wanted, one: SeatChoices, other: SeatChoices) -> FuseRelaxation:
    """Set up the choice of two units whatever their main fuses."""
    parts = (one.with_any, other.with_any)
    columns = [each.column for part in parts for each in part]
    site = one.leanest.beside(other.leanest)
    rules = [replace(rule, budgets=None) if rule.by_main_fuse else rule for rule in rules]
    levels = Levels(kept_together(wanted, tableau_of(site, Losses(one.leanest), rules, columns)))
    flags = (_fused(levels, one, 0), _fused(levels, other, len(parts[0])))
    lay_feeds(levels, rules, (one, other), flags)
    return FuseRelaxation(levels.tableau(), flags, parts, partial(with_sizing_cuts, rules))


def _fused(levels: Levels, seat: SeatChoices, first: int) -> FuseFlags:
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


def least_feeds(both: Site, seat: SeatChoices) -> dict[MilliAmps, Conductor | None]:
    """Return the thinnest feed of each main fuse of a seat: it carries the fuse beside what lies there in every plan.

    ``both`` are the leanest sites of both units. None where no reel carries it there.
    """
    bundles = Bundles(Laid(both, Losses(both), (), (), ()))
    return {fuse: _thinnest(site, bundles) for fuse, site in zip(seat.fuses, seat.sites, strict=True)}


def _thinnest(site: Site, bundles: Bundles) -> Conductor | None:
    first = feed_conductor(site).size
    legs, demands = site.borne(site.feed), tuple(feed_demands(site))
    reels = (reel for reel in feed_reels(site.job) if reel.size >= first)
    return next((reel for reel in reels if all(carries(site, reel, legs, each, bundles) for each in demands)), None)


def lay_feeds(levels: Levels, rules: Sequence[Rule], seats: Sequence[SeatChoices], flags: Sequence[FuseFlags]) -> None:
    """Add the sums over looms once more, each feed as thick as the main fuse that is chosen asks for at least."""
    both = levels.choice.site
    sizes = [least_feeds(both, seat) for seat in seats]
    for own, of_seat in zip(sizes, flags, strict=True):
        levels.at_most([(of_seat[fuse], 1) for fuse, size in own.items() if size is None], 0, "feed", "no reel carries")
    added = [
        (flag, seat.sites[0].feed.key, size)
        for seat, own, of_seat in zip(seats, sizes, flags, strict=True)
        for fuse, flag in of_seat.items()
        if (size := own[fuse]) is not None and seat.sites[0].feed.run.legs
    ]
    for rule in rules:
        if rule.of_whole_bike:
            _restate(levels, rule, added)


def _restate(levels: Levels, rule: Rule, added: Sequence[tuple[Variable, FixedWireKey, Conductor]]) -> None:
    """Add each row of a rule's sums to which a feed adds more than at its thinnest."""
    site = levels.choice.site
    more: dict[tuple[int, Key], list[tuple[Variable, int]]] = {}
    lean = [budget.rows for budget in budgets_of(rule, site)]
    for flag, key, size in added:
        for number, budget in enumerate(budgets_of(rule, site.with_sizes({key: size}))):
            for at, row in budget.rows.items():
                if row.fixed > lean[number][at].fixed:
                    more.setdefault((number, at), []).append((flag, row.fixed - lean[number][at].fixed))
    budgets = list(budgets_of(rule, site))
    for (number, at), terms in more.items():
        row = budgets[number].rows[at]
        columns = (
            (n, amount)
            for n, column in enumerate(levels.choice.columns)
            for own, amount in contributions(budgets[number], column)
            if own == at
        )
        levels.at_most([*columns, *terms], row.at_most - row.fixed, rule.slug, row.subject, "feeds")
