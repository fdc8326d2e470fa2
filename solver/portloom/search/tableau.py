"""The choice to be made at one place, as plain numbers: columns, rows, and what must go with what.

A column is a circuit on a kind of port. The tableau holds no solver's objects, so that any solver
can be set on it.
"""

from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence

from portloom.base.values import dataclass
from portloom.job.goal import fixed_cost
from portloom.job.laid import MultiplexerStand
from portloom.job.site import Site
from portloom.rules.book import budgets_of, needs, told_key
from portloom.rules.shapes import Budget, BudgetRow, Key, Need, Rule
from portloom.search.as_built import change_links, change_rows
from portloom.search.candidates import Candidates
from portloom.search.columns import (
    Column,
    Flag,
    Link,
    MultiplexerColumn,
    OutputColumn,
    ReturnColumn,
    SumRow,
    SwitchColumn,
    contributions,
    may_add,
    told_by,
)
from portloom.search.enumeration import Runs, columns_at
from portloom.search.fuses import fuse_links, one_fuse_each


@dataclass(frozen=True)
class Tableau:
    """All that is to be chosen at one site, in micrometres of cost."""

    site: Site
    columns: tuple[Column, ...]
    """The main fuses first."""
    rows: tuple[SumRow, ...]
    links: tuple[Link, ...]
    fixed_cost: int
    """What every plan here costs: feed, returns, fed loads, and every later load as if lost."""
    flags: tuple[Flag, ...] = ()
    """Further variables, numbered after the columns; they cost nothing."""


Check = Callable[[Tableau, tuple[int, ...]], Callable[[], Tableau] | None]
"""Return None where a plan passes; where its true wire sizes break something, what makes the choice stricter.

That takes long, and is asked for only of a plan that a search ended with.
"""


NO_LOWER_BOUND = -(10**15)
"""Below any sum: the row has no lower bound."""


def lower_bound(choice: Tableau) -> int:
    """Return a cost that no plan of a choice is below, without a solve, in the unit of its columns' costs.

    Each load and switch at its cheapest share, a column's cost being shared evenly by all that it covers; less what
    can be gained, once where one column at most of several gains it.
    """
    covers = [row for row in choice.rows if row.at_least > 0 and _adds_columns(row, len(choice.columns))]
    shared = [0] * len(choice.columns)
    for row in covers:
        for number, amount in row.entries:
            shared[number] += amount
    covered = sum(
        row.at_least * min((max(0, choice.columns[n].cost) // shared[n] for n, _ in row.entries), default=0)
        for row in covers
    )
    return choice.fixed_cost + covered + _gain(choice)


def _adds_columns(row: SumRow, count: int) -> bool:
    """Tell whether a row adds nothing but columns, and takes none away."""
    return all(number < count and amount > 0 for number, amount in row.entries)


def _gain(choice: Tableau) -> int:
    """Return what columns of negative cost gain at most, as a number below nought or nought."""
    once: dict[int, int] = {}
    for at, row in enumerate(choice.rows):
        if row.at_most == 1 and all(amount == 1 for _, amount in row.entries):
            for number, _ in row.entries:
                once.setdefault(number, at)
    gains: dict[int, int] = {}
    alone = 0
    for number, column in enumerate(choice.columns):
        if column.cost < 0 and number in once:
            gains[once[number]] = min(column.cost, gains.get(once[number], 0))
        elif column.cost < 0:
            alone += column.cost * column.most
    return alone + sum(gains.values())


PARTS = 27_720
"""A share of an amount is a whole number of such parts: up to twelve that share it evenly lose nothing."""


def counted_out(choice: Tableau) -> bool:
    """Tell whether a row by itself, beside what must be covered, shows that there is no plan (FORMULATION.md, X5)."""
    most = [column.most for column in choice.columns] + [flag.most for flag in choice.flags]
    for link in choice.links:
        if not any(most[number] for number in link.any_of):
            most[link.column] = 0
    covers = [row for row in choice.rows if row.at_least > 0 and _adds_columns(row, len(choice.columns))]
    shared = [0] * len(choice.columns)
    for row in covers:
        for number, amount in row.entries:
            shared[number] += amount
    needing = [(row.at_least, [(n, shared[n]) for n, _ in row.entries if most[n]]) for row in covers]
    return any(_is_out_of_bounds(row, most, needing) for row in choice.rows)


def _is_out_of_bounds(row: SumRow, most: Sequence[int], needing: Sequence[tuple[int, list[tuple[int, int]]]]) -> bool:
    """Tell whether a sum is below its bounds with all that can be in it, or above them with what must be."""
    highest = sum(amount * most[number] for number, amount in row.entries if amount > 0)
    if highest < row.at_least or row.at_least > row.at_most:
        return True
    if highest <= row.at_most:
        return False
    added: dict[int, int] = {}
    for number, amount in row.entries:
        added[number] = added.get(number, 0) + amount
    if any(amount < 0 for amount in added.values()):
        return False
    lowest = 0
    for times, entries in needing:
        if all(number in added for number, _ in entries):
            lowest += times * min((PARTS * added[number] // parts for number, parts in entries), default=0)
    return lowest > PARTS * row.at_most


def cost_of(choice: Tableau, chosen: Sequence[int]) -> int:
    """Return what columns cost, used so often."""
    return choice.fixed_cost + sum(times * column.cost for times, column in zip(chosen, choice.columns, strict=True))


def keeps(choice: Tableau, values: Sequence[int]) -> bool:
    """Tell whether variables of these values keep every bound, row and link; values are of columns, then of flags."""
    most = (*(column.most for column in choice.columns), *(flag.most for flag in choice.flags))
    return (
        all(0 <= value <= limit for value, limit in zip(values, most, strict=True))
        and all(
            row.at_least <= sum(amount * values[number] for number, amount in row.entries) <= row.at_most
            for row in choice.rows
        )
        and all(
            values[link.column] <= most[link.column] * sum(values[other] for other in link.any_of)
            for link in choice.links
        )
    )


def tableau(site: Site, rules: Sequence[Rule], pairs: Candidates, runs: Runs) -> Tableau:
    """Set up the choice at one site: each candidate with its shortest wire, where the rules allow that."""
    return tableau_of(site, rules, columns_at(site, rules, pairs, runs))


def tableau_of(site: Site, rules: Sequence[Rule], columns: Sequence[Column]) -> Tableau:
    """Hold columns together by the sums and links of all rules."""
    rows = _Rows(columns)
    for rule in rules:
        for budget in budgets_of(rule, site):
            rows.add(rule.slug, budget)
    links = (
        *_links(rules, columns),
        *multiplexer_links(columns),
        *fuse_links(columns),
        *change_links(site, columns),
    )
    once = (
        *_once_each(columns),
        *one_stand_each(columns),
        *one_fuse_each(columns),
        *change_rows(site, columns),
    )
    return Tableau(site, tuple(columns), (*rows.needed(), *once), links, fixed_cost(site).total)


class _Rows:
    """The sums of all budgets over the columns."""

    def __init__(self, columns: Sequence[Column]) -> None:
        self._columns = columns
        self._classes = {type(column): None for column in columns}
        self._rows: list[SumRow] = []

    def add(self, slug: str, budget: Budget) -> None:
        """Add every row of a budget with what each column gives to it."""
        if not budget.rows:
            return
        entries: dict[Key, list[tuple[int, int]]] = {key: [] for key in budget.rows}
        adding = {own for own in self._classes if may_add(budget, own)}
        for number, column in enumerate(self._columns):
            if type(column) not in adding:
                continue
            given: dict[Key, int] = {}
            for key, amount in contributions(budget, column):
                given[key] = given.get(key, 0) + amount
            for key, amount in given.items():
                if key in entries:
                    entries[key].append((number, amount))
        self._rows += [sum_row(slug, row, entries[key]) for key, row in budget.rows.items()]

    def needed(self) -> Iterable[SumRow]:
        """Return the rows that can bind: none that always holds, none that another row implies."""
        kept: list[KeptRow] = []
        biggest_first = sorted(self._binding(), key=lambda row: -len(row.entries))
        for row in biggest_first:
            if not any(other.implies(row) for other in kept):
                kept.append(KeptRow(row))
        return [each.row for each in kept]

    def _binding(self) -> Iterable[SumRow]:
        for row in self._rows:
            highest = sum(self._columns[number].most * amount for number, amount in row.entries if amount > 0)
            if row.at_least > 0 or highest > row.at_most:
                yield row


def sum_row(slug: str, row: BudgetRow, entries: Iterable[tuple[int, int]]) -> SumRow:
    """Return a row of a budget as a sum over columns."""
    least, most = max(0, row.at_least - row.fixed), row.at_most - row.fixed
    return SumRow(tuple(entries), least, most, row.fact, (slug, row.subject))


class KeptRow:
    """A row that can bind."""

    def __init__(self, row: SumRow) -> None:
        """Take the row."""
        self.row = row
        self._entries = frozenset(row.entries)
        self._only_adds = all(amount >= 0 for _, amount in row.entries)

    def implies(self, row: SumRow) -> bool:
        """Tell whether another row holds wherever this one does, which has its entries and takes nothing away."""
        if row.at_least or row.at_most < self.row.at_most or not self._only_adds:
            return False
        return self._entries.issuperset(row.entries)


def _once_each(columns: Sequence[Column]) -> Iterable[SumRow]:
    """A later load takes one free output at most."""
    places: dict[str, list[tuple[int, int]]] = {}
    for number, column in enumerate(columns):
        if isinstance(column, OutputColumn) and column.later:
            places.setdefault(column.later.consumer.name, []).append((number, 1))
    return (SumRow(tuple(entries), 0, 1, name=("once", name)) for name, entries in places.items())


def _links(rules: Sequence[Rule], columns: Sequence[Column]) -> Iterable[Link]:
    meeting = _Meeting(columns)
    for number, column in enumerate(columns):
        if isinstance(column, OutputColumn) and not column.later:
            site = column.wired.site
            for rule, need in needs(rules, site.job, column.wired.circuit, column.kind.ports[0]):
                yield Link(number, meeting.columns(need, site), told_key(rule, need))


class _Meeting:
    """The input columns of a unit that meet a need; needs that are alike are looked up once."""

    def __init__(self, columns: Sequence[Column]) -> None:
        self._inputs = [
            (number, told.site, told.circuit, told.port)
            for number, column in enumerate(columns)
            for told in told_by(column)
        ]
        self._known: dict[Hashable, tuple[int, ...]] = {}

    def columns(self, need: Need, unit: Site) -> tuple[int, ...]:
        if need.alike is None:
            return self._look_up(need, unit)
        key = (need.alike, unit.place.name)
        if key not in self._known:
            self._known[key] = self._look_up(need, unit)
        return self._known[key]

    def _look_up(self, need: Need, unit: Site) -> tuple[int, ...]:
        return tuple(n for n, site, circuit, port in self._inputs if site.shares(unit) and need.met_by(circuit, port))


def multiplexer_links(columns: Sequence[Column]) -> Iterator[Link]:
    """A switch's way is there where its multiplexer stands; a multiplexer stands where a switch goes through it."""
    boxes: dict[MultiplexerStand, list[int]] = {}
    switches: dict[MultiplexerStand, list[int]] = {}
    returns = {column.wire.name: number for number, column in enumerate(columns) if isinstance(column, ReturnColumn)}
    standing: dict[str, list[int]] = {point: [] for point in returns}
    for number, column in enumerate(columns):
        if isinstance(column, SwitchColumn):
            switches.setdefault(column.wired.stand, []).append(number)
        elif isinstance(column, MultiplexerColumn):
            boxes.setdefault(column.wired.stand, []).append(number)
            standing.get(column.wired.stand.at, []).append(number)
    for stand, numbers in switches.items():
        yield from (Link(number, tuple(boxes.get(stand, ()))) for number in numbers)
    for stand, numbers in boxes.items():
        yield from (Link(number, tuple(switches.get(stand, ()))) for number in numbers)
        if stand.at in returns:
            yield from (Link(number, (returns[stand.at],)) for number in numbers)
    yield from (Link(returns[point], tuple(numbers)) for point, numbers in standing.items())


def one_stand_each(columns: Sequence[Column]) -> Iterator[SumRow]:
    """A multiplexer stands at one of its points, on one input, or nowhere."""
    boxes: dict[str, list[tuple[int, int]]] = {}
    for number, column in enumerate(columns):
        if isinstance(column, MultiplexerColumn):
            boxes.setdefault(column.wired.stand.multiplexer.name, []).append((number, 1))
    return (SumRow(tuple(entries), 0, 1, name=("once", name)) for name, entries in boxes.items())
