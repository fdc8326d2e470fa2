"""The sizing loop: cuts for what a plan's true wire sizes break, valid for every plan (FORMULATION.md, C3).

A column carries the thinnest size that serves it alone. Once a plan is found its wires are sized by what lies beside
them; where that breaks a terminal, a return or a budget, rows are added that say so for every plan, and the place is
solved again. The first plan that passes is the best, because the rows only cut off plans whose true sizes break the
same thing. Thicker wires are flags: up when a wire must be thicker than one of the reels that it may be of.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial, reduce
from itertools import groupby, product

from portloom.base.ampacity import most_loaded
from portloom.base.copper import Conductor
from portloom.job.fixed import conductor_of, first_conductor
from portloom.job.fixed_as_built import stays
from portloom.job.fixed_wires import FixedWire, FixedWireKey
from portloom.job.laid import Laid
from portloom.job.loading import Demand, fault_demands, output_demands
from portloom.job.site import Site
from portloom.job.sizing import Unprotected, candidates, fixed_demands, size_wires
from portloom.job.wired import WiredOutput
from portloom.rules.book import BrokenRow, broken_rows, budgets_of
from portloom.rules.shapes import Budget, Key, Rule
from portloom.search.columns import (
    Column,
    FuseColumn,
    InputColumn,
    MultiplexerColumn,
    OutputColumn,
    ReturnColumn,
    SumRow,
    SwitchColumn,
    TouchColumn,
    column_name,
    contributions,
)
from portloom.search.levels import Level, Levels, Terms, Variable
from portloom.search.model import Model
from portloom.search.solving import Solve, Status
from portloom.search.tableau import Tableau


class NoProgress(RuntimeError):
    """A plan breaks something in its true sizes, and keeps every row that says so: the search would not end."""


def laid_by(choice: Tableau, chosen: Sequence[int]) -> Laid:
    """Lay the plan that the chosen columns make, each unit with the main fuse that is chosen."""
    used = [column for column, times in zip(choice.columns, chosen, strict=True) for _ in range(times)]
    fuses = [column for column in used if isinstance(column, FuseColumn)]
    outputs = [column for column in used if isinstance(column, OutputColumn)]
    returns = [column.wire for column in used if isinstance(column, ReturnColumn)]
    site = reduce(Site.beside, (column.site for column in fuses))
    return Laid(
        site.joined_by(returns) if returns else site,
        fuses[0].losses,
        tuple(_fed(column.wired, fuses) for column in outputs if not column.later),
        tuple(column.wired for column in used if isinstance(column, InputColumn)),
        tuple(_fed(column.wired, fuses) for column in outputs if column.later),
        tuple(column.wired for column in used if isinstance(column, SwitchColumn)),
        tuple(column.wired for column in used if isinstance(column, MultiplexerColumn)),
    )


def _fed(wired: WiredOutput, fuses: Iterable[FuseColumn]) -> WiredOutput:
    """Return a circuit with the main fuse of its unit."""
    own = next(column for column in fuses if column.site.shares(wired.site))
    return wired.fed_at(own.site, own.losses)


def in_true_sizes(rules: Sequence[Rule], choice: Tableau, chosen: Sequence[int]) -> Callable[[], Tableau] | None:
    """Return what adds rows to the choice for what the plan's true sizes break, or None where they break nothing.

    What is returned raises NoProgress where the plan keeps these rows.
    """
    sized = size_wires(laid_by(choice, chosen))
    broken = [row for row in broken_rows(rules, sized.laid) if row.found > row.row.at_most]
    grown = list(_grown(choice, chosen, sized.laid.site))
    if not sized.unprotected and not broken and not grown:
        return None
    return partial(_cut_off, choice, chosen, sized.unprotected, broken, grown)


def _cut_off(
    choice: Tableau,
    chosen: Sequence[int],
    unprotected: Sequence[Unprotected],
    broken: Sequence[BrokenRow],
    grown: Sequence[tuple[int, FixedWire]],
) -> Tableau:
    """Return the choice with rows for unprotected wires, sums that are too much, and built wires that grow."""
    levels = Levels(choice)
    cuts = SizingCuts(choice, levels)
    for wire in unprotected:
        _forbid(cuts, wire)
    for row in broken:
        cuts.restate(row.rule, row.number, row.key)
    for number, built in grown:
        cuts.touch(number, built)
    stricter = levels.tableau()
    if _still_allowed(choice, stricter, chosen):
        raise NoProgress(f"what a plan breaks at {choice.site.label} is not cut off")
    return stricter


def _grown(choice: Tableau, chosen: Sequence[int], site: Site) -> Iterator[tuple[int, FixedWire]]:
    """Return the built wires that a plan says stay, and that its true sizes make thicker, with their columns."""
    for number, (column, times) in enumerate(zip(choice.columns, chosen, strict=True)):
        wire = column.wire if isinstance(column, TouchColumn) and not times else None
        if wire is not None and wire.old is not None and not stays(wire, conductor_of(site, wire)):
            yield number, wire


def _still_allowed(choice: Tableau, stricter: Tableau, chosen: Sequence[int]) -> bool:
    """Tell whether the chosen columns keep every row that was added, whatever the flags that were."""
    count = len(chosen) + len(choice.flags)
    rows = []
    for row in stricter.rows[len(choice.rows) :]:
        own = sum(amount * chosen[number] for number, amount in row.entries if number < len(chosen))
        entries = tuple((number - count, amount) for number, amount in row.entries if number >= count)
        rows.append(SumRow(entries, row.at_least - own, row.at_most - own))
    flags = stricter.flags[len(choice.flags) :]
    alone = replace(stricter, columns=(), rows=tuple(rows), links=(), fixed_cost=0, flags=flags)
    return Model(alone).solve(Solve(None)).status is not Status.IMPOSSIBLE


def _forbid(cuts: "SizingCuts", wire: Unprotected) -> None:
    """Keep every plan from leaving this wire, or an output's wire in the same leg, without a reel."""
    if isinstance(wire.wire, WiredOutput):
        cuts.protect_outputs(wire.leg)
    else:
        cuts.protect_fixed_wire(wire.wire)


class SizingCuts:
    """Adds to a tableau the rows by which wires get thicker, and what they then break."""

    def __init__(self, choice: Tableau, levels: Levels) -> None:
        """Take the choice and the levels that it is made stricter with."""
        self._choice = choice
        self._site = choice.site
        self._levels = levels
        self._fuse_columns = [
            (number, column) for number, column in enumerate(choice.columns) if isinstance(column, FuseColumn)
        ]
        self._of_wire: dict[int, Sequence[Demand]] = {}
        """What the wire of a column must carry, by the identity of the circuit as it is wired."""
        self._serving: dict[int, Sequence[tuple[int, Sequence[Conductor]]]] = {}
        """The reels that serve it with each main fuse with which any does, likewise."""
        self._of_column: dict[int, list[Variable]] = {}
        self._of_fixed_wire: dict[FixedWireKey, list[Variable]] = {}
        self._settled: set[tuple[int, int]] = set()

    # --- when is a reel too thin

    def _too_thin(self, reel: Conductor, legs: Iterable[int], demands: Sequence[Demand]) -> Iterator[Level]:
        """Return the levels at any of which a reel no longer carries some demand; True where it never does."""
        job = self._site.job
        for leg, current in product(legs, dict.fromkeys(demand.current for demand in demands)):
            most = most_loaded(reel.ampacity, job.insulation, job.network.legs[leg].ambient, current)
            if most is not None:
                alike = (demand for demand in demands if demand.current == current)
                yield from (self._levels.level(leg, demand.case, most + 1 - demand.more) for demand in alike)

    def _too_thin_for(self, wired: WiredOutput, reel: Conductor) -> Iterator[Level]:
        """Return the levels at any of which a reel no longer carries the trip of a circuit's wire."""
        if id(wired) not in self._of_wire:
            self._of_wire[id(wired)] = tuple(output_demands(self._site.job, wired))
        yield from self._too_thin(reel, wired.run.legs, self._of_wire[id(wired)])

    def _implies(self, number: int, level: Level, then: Terms) -> None:
        """With the column chosen and the level up, the terms (each amount negative) reach its count."""
        most, name = self._choice.columns[number].most, ("too thin", column_name(self._choice.columns[number]))
        if level is True:
            self._levels.at_most([(number, 1), *then], 0, *name)
        elif level is not False:
            self._levels.at_most([(number, 1), (level, most), *then], most, *name)

    # --- what hangs on the main fuse

    def _fuses(self, unit: Site) -> Iterator[tuple[int, FuseColumn]]:
        """Return the main fuses that a unit may have."""
        return ((number, column) for number, column in self._fuse_columns if column.site.shares(unit))

    def _not_serving(self, wired: WiredOutput, reel: Conductor) -> list[int]:
        """Return the main fuses with which a reel of a circuit loses too much."""
        if id(wired) not in self._serving:
            each = ((number, wired.fed_at(own.site, own.losses)) for number, own in self._fuses(wired.site))
            self._serving[id(wired)] = [(number, so_fed.serving) for number, so_fed in each if so_fed.serving]
        return [number for number, serving in self._serving[id(wired)] if reel not in serving]

    def _demands(self, wire: FixedWire) -> Iterator[tuple[list[Variable], Demand]]:
        """Return what a fixed wire must carry, of a feed with each main fuse, after the flags for which it must."""
        if wire.kind != "feed":
            yield from (([], demand) for demand in fixed_demands(self._site, wire, ()))
            return
        for number, own in self._fuses(self._site.owner(wire)):
            yield from (([number], demand) for demand in fixed_demands(own.site, wire, ()))

    def _where_too_thin(self, wire: FixedWire, reel: Conductor) -> Iterator[list[Variable]]:
        """Return flags, several times some, of which all are up only where a reel of a fixed wire is too thin."""
        for flags, demand in self._demands(wire):
            for level in self._too_thin(reel, self._site.borne(wire), [demand]):
                if level is not False:
                    yield flags if level is True else [*flags, level]
        for number, own in self._fuses(self._site.owner(wire)) if wire.kind == "feed" else ():
            if reel.size < first_conductor(own.site, wire).size:
                yield [number]

    # --- no reel left

    def protect_outputs(self, leg: int) -> None:
        """Choose no column that passes a leg where, in some case, none of its reels carries its trip."""
        for number, column in self._levels.outputs:
            if leg in column.wired.run.legs:
                self._forbid_beyond(number, column.wired)

    def _forbid_beyond(self, number: int, wired: WiredOutput) -> None:
        for reel in wired.serving[-1:]:
            for level in self._too_thin_for(wired, reel):
                self._implies(number, level, ())

    def protect_fixed_wire(self, wire: FixedWire) -> None:
        """Allow no plan in which the thickest reel of a fixed wire is too thin."""
        reels = list(candidates(self._site, wire, ())) or list(self._site.job.reels[-1:])
        for up in self._where_too_thin(wire, reels[-1]):
            self._levels.at_most([(each, 1) for each in up], len(up) - 1, "too thin", wire.said)
        for number, level in self._faults(wire, reels[-1]):
            self._implies(number, level, ())
        for number, uses in self._melting(wire, reels[-1]):
            self._levels.at_most(uses, 0, "melts", column_name(self._choice.columns[number]), wire.said)

    def _returned_at(self, wire: FixedWire) -> Iterator[tuple[int, OutputColumn]]:
        """Return the columns whose fault a fixed wire bears: those with a load where a return begins."""
        for number, column in self._levels.outputs if wire.kind == "return" else ():
            if wire.back in column.wired.circuit.returns:
                yield number, column

    def _faults(self, wire: FixedWire, reel: Conductor) -> Iterator[tuple[int, Level]]:
        """Return the columns whose fault, at a level, a return of this reel does not carry."""
        for number, column in self._returned_at(wire):
            for demand in fault_demands(self._site.job, wire, column.wired):
                for level in self._too_thin(reel, self._site.borne(wire), [demand]):
                    yield number, level

    def _melting(self, wire: FixedWire, reel: Conductor) -> Iterator[tuple[int, Terms]]:
        """Return the columns of which a short melts a return of this reel: for each, a sum that counts such uses.

        It depends on the output's true wire. A thicker one makes the short larger; it may melt the return then, or
        trip sooner and spare it.
        """
        for number, column in self._returned_at(wire):
            spared = [wired.return_withstands(wire.back, reel.size) for wired in _in_each_size(column.wired)]
            for spares, own in groupby(range(len(spared)), spared.__getitem__):
                if not spares:
                    reels = list(own)
                    yield number, list(self._uses(number, column.wired, reels[0], reels[-1]))

    def _uses(self, number: int, wired: WiredOutput, first: int, last: int) -> Terms:
        """Count the uses of a column that are of its reels from ``first`` to ``last``."""
        yield (self._flags_of_column(number, wired)[first - 1] if first else number), 1
        if last + 1 < len(wired.serving):
            yield self._settled_flag(number, wired, last), -1

    def _settled_flag(self, number: int, wired: WiredOutput, at: int) -> Variable:
        """Return the flag of a column's reel, up no more often than the true sizes of a plan say."""
        flag = self._flags_of_column(number, wired)[at]
        if (number, at) not in self._settled:
            self._settled.add((number, at))
            most, name = self._choice.columns[number].most, ("thick enough", column_name(self._choice.columns[number]))
            self._levels.at_most([(flag, 1), (number, -1)], 0, *name)
            levels = list(self._too_thin_for(wired, wired.serving[at]))
            if not any(level is True for level in levels):
                raising = sorted({level for level in levels if level is not False})
                fuses = self._not_serving(wired, wired.serving[at])
                self._levels.at_most([(flag, 1), *((each, -most) for each in (*raising, *fuses))], 0, *name)
                for level in raising:
                    self._levels.only_when_reached(level)
        return flag

    def touch(self, number: int, wire: FixedWire) -> None:
        """Let no plan leave a built wire as it is where its built size is too thin: its column is chosen then."""
        self._raise(wire, self._site.job.catalogue[wire.old_size or self._site.job.reels[0].size], number)

    # --- flags

    def _flags_of_column(self, number: int, wired: WiredOutput) -> list[Variable]:
        """Return a flag for each reel of a column but its thinnest: up when the one before is too thin."""
        if number not in self._of_column:
            column = self._choice.columns[number]
            most = column.most
            flags = [
                self._levels.new_flag("thicker", f"than {reel.size} mm2", column_name(column), most=most)
                for reel in wired.serving[:-1]
            ]
            self._of_column[number] = flags
            for reel, flag in zip(wired.serving, flags, strict=False):
                for level in (*self._too_thin_for(wired, reel), *self._not_serving(wired, reel)):
                    self._implies(number, level, [(flag, -1)])
        return self._of_column[number]

    def _flags_of_fixed_wire(self, wire: FixedWire, reels: Sequence[Conductor]) -> list[Variable]:
        """Return a flag for each reel of a fixed wire but its first size."""
        if wire.key not in self._of_fixed_wire:
            flags = [self._levels.new_flag("thicker", f"than {reel.size} mm2", wire.said) for reel in reels[:-1]]
            self._of_fixed_wire[wire.key] = flags
            for reel, flag in zip(reels, flags, strict=False):
                self._raise(wire, reel, flag)
        return self._of_fixed_wire[wire.key]

    def _raise(self, wire: FixedWire, reel: Conductor, flag: Variable) -> None:
        for up in self._where_too_thin(wire, reel):
            self._levels.at_most([*((each, 1) for each in up), (flag, -1)], len(up) - 1, "too thin", wire.said)
        for number, level in self._faults(wire, reel):
            self._implies(number, level, [(flag, -self._choice.columns[number].most)])
        for number, uses in self._melting(wire, reel):
            column = self._choice.columns[number]
            self._levels.at_most([*uses, (flag, -column.most)], 0, "melts", column_name(column), wire.said)

    # --- budgets with true sizes

    def restate(self, rule: Rule, at: int, key: Key) -> None:
        """Add a budget's row once more, each wire with what its true size adds."""
        budget = self._budget(rule, at)
        terms: list[tuple[int, int]] = []
        for number, column in enumerate(self._choice.columns):
            terms += self._column_terms(number, column, budget, key)
        for wire in self._site.fixed_wires:
            terms += self._fixed_wire_terms(wire, rule, at, key)
        row = budget.rows[key]
        summed = [(number, amount) for number, amount in terms if amount]
        self._levels.at_most(summed, row.at_most - row.fixed, rule.slug, row.subject, "true sizes")

    def _budget(self, rule: Rule, at: int) -> Budget:
        return list(budgets_of(rule, self._site))[at]

    def _column_terms(self, number: int, column: Column, budget: Budget, key: Key) -> Terms:
        if not isinstance(column, OutputColumn) or column.later:
            return [(number, _given(contributions(budget, column), key))]
        amounts = [_given(budget.output(wired), key) for wired in _in_each_size(column.wired)]
        if not any(amounts):
            return []
        flags = self._flags_of_column(number, column.wired)
        return [(number, amounts[0]), *_steps(flags, amounts)]

    def _fixed_wire_terms(self, wire: FixedWire, rule: Rule, at: int, key: Key) -> Terms:
        reels = list(candidates(self._site, wire, ()))
        if len(reels) < 2 or not wire.run.legs:
            return []
        amounts = [
            list(budgets_of(rule, self._site.with_sizes({wire.key: reel})))[at].rows[key].fixed for reel in reels
        ]
        if amounts[0] == amounts[-1]:
            return []
        return _steps(self._flags_of_fixed_wire(wire, reels), amounts)


def _in_each_size(wired: WiredOutput) -> list[WiredOutput]:
    """Return a circuit with each reel that its wire may be of, thin to thick; as it is where there is none."""
    return [wired.sized(reel) for reel in wired.serving] or [wired]


def _given(entries: Iterable[tuple[Key, int]], key: Key) -> int:
    return sum(amount for own, amount in entries if own == key)


def _steps(flags: Sequence[Variable], amounts: Sequence[int]) -> Terms:
    """Return what each thicker reel adds to the one before."""
    return [(flag, more - less) for flag, less, more in zip(flags, amounts, amounts[1:], strict=False)]
