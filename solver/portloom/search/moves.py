"""The sound plan that moves the fewest loads of a plan that is there, and of those the cheapest.

Ports of one kind are interchangeable, so how many loads stay is a matching between circuits and ports. It is in the
columns: each circuit that keeps a load on some port has a column for that port alone, beside the one for any
port of the kind; no two columns of one port are chosen together. Loads that nothing but their names tells apart
are counted, as everywhere: at each port as many stay as are there before and after.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import accumulate

from portloom.base.clock import Clock, TimeIsUp
from portloom.base.values import dataclass
from portloom.job.assignment import Assignment, OnOutput
from portloom.job.goal import cost_of_plan
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.rules.shapes import Rule
from portloom.search.assign import assignment_of
from portloom.search.before import Before, on_one, ports_once, seated, stays
from portloom.search.best import best_assignment, best_choice, tableaux_of
from portloom.search.columns import (
    Column,
    FuseColumn,
    InputColumn,
    Link,
    MultiplexerColumn,
    OutputColumn,
    PortColumn,
    SumRow,
    SwitchColumn,
    on_kind,
)
from portloom.search.places import Found, LimitReached, NoPlan
from portloom.search.sizing_cuts import laid_by
from portloom.search.tableau import NO_LOWER_BOUND, Tableau, lower_bound
from portloom.search.trade_offs import priced

Numbers = Sequence[tuple[int, ...]]
"""For each column as it was set up, the numbers of those that stand for it."""


@dataclass(frozen=True)
class Mended:
    """A sound plan, and how many moves each sound plan takes at least."""

    plan: Assignment
    least: int


def fewest_moves(
    job: Job, rules: Sequence[Rule], sites: Sequence[Site], before: Before, clock: Clock
) -> Mended | NoPlan | LimitReached:
    """Return the plan with the fewest moves, over all sites, and of those the cheapest.

    A load that is on no port before is placed, which counts as a move. At a limit it is the best found.
    """
    try:
        with clock.held(unless=job.bike.is_small):
            choices = [_priced_by_moves(_by_port(choice, before), before) for choice in tableaux_of(job, rules, sites)]
    except TimeIsUp:
        return LimitReached(0)
    moved = best_choice(rules, choices, clock)
    if not isinstance(moved, Found):
        return moved
    cheapest = within(job, rules, sites, before, moved.cost, clock) if moved.proven else None
    plan = cheapest if isinstance(cheapest, Assignment) else as_before(job, _unproven(moved), before)
    return Mended(plan, moved.bound)


def _unproven(moved: Found) -> Assignment:
    """Return a plan found by its moves as one that costs what it costs, of which nothing is proved."""
    choice = priced(moved.tableau, 1, 1)
    cost = cost_of_plan(laid_by(moved.tableau, moved.chosen)).total
    return assignment_of(Found(choice, moved.chosen, cost, lower_bound(choice), proven=False))


def within(
    job: Job, rules: Sequence[Rule], sites: Sequence[Site], before: Before, moves: int, clock: Clock
) -> Assignment | NoPlan | LimitReached:
    """Return the cheapest plan that takes at most so many moves."""
    found = best_assignment(
        job, rules, sites, clock, lambda choice: _with_at_most(_by_port(choice, before), before, moves)
    )
    return as_before(job, found, before) if isinstance(found, Assignment) else found


# --- what a column moves


def _moved(column: Column, before: Before, job: Job) -> int:
    """Return how many loads, switches or multiplexers a column moves: all but those that its one port has already."""
    match column:
        case OutputColumn():
            return 0 if column.later else len(column.wired.circuit.members) - _kept(column, _port(column), before, job)
        case InputColumn() | MultiplexerColumn() | SwitchColumn():
            return len(seated(column, before)) - _kept(column, _port(column), before, job)
        case _:
            return 0


def _port(column: PortColumn | SwitchColumn) -> str | None:
    """Return the port of a column for one port alone; of a switch's way its multiplexer."""
    if isinstance(column, SwitchColumn):
        return column.wired.stand.multiplexer.name
    return column.kind.ports[0].name if len(column.kind.ports) == 1 else None


def _kept(column: PortColumn | SwitchColumn, port: str | None, before: Before, job: Job) -> int:
    """Return how many loads, switches or multiplexers are on a port already; none where the port is any of its kind."""
    if isinstance(column, OutputColumn):
        return _kept_loads(column, port, before, job)
    return sum(before.ports[name] == port for name in seated(column, before))


def _kept_loads(column: OutputColumn, port: str | None, before: Before, job: Job) -> int:
    there = Counter(job.alike[name] for name in before.outputs.get(port or "", ()) if name in job.alike)
    here = Counter(job.alike[load.name] for load in column.wired.circuit.members)
    return (there & here).total()


# --- a column a port


def _by_port(choice: Tableau, before: Before) -> Tableau:
    """Return the same choice with a column for each port on which a circuit would keep a load or a switch.

    A multiplexer that stands somewhere stands there alone. ``choice`` is as the rules set it up, without flags.
    """
    job = choice.site.job
    own = [list(_ports_of(column, before, job)) for column in choice.columns]
    # Main fuses stay first. Those for one port come next, so that one for any port never takes theirs.
    fuses = sum(isinstance(column, FuseColumn) for column in choice.columns)
    firsts = list(accumulate(map(len, own), initial=fuses))
    numbers = [(*range(firsts[n], firsts[n + 1]), n if n < fuses else firsts[-1] + n - fuses) for n in range(len(own))]
    ports = (column for ports in own for column in ports)
    columns = (*choice.columns[:fuses], *ports, *choice.columns[fuses:])
    rows = (*(_row(row, numbers) for row in choice.rows), *ports_once(columns), *_as_often(choice, numbers))
    rows = (*rows, *_stands_kept(columns, before))
    return replace(choice, columns=columns, rows=rows, links=tuple(_links(choice.links, numbers)))


def _ports_of(column: Column, before: Before, job: Job) -> Iterator[Column]:
    """Return a column for each port of several on which a circuit, or a multiplexer, keeps something."""
    if not on_kind(column) or len(column.kind.ports) == 1 or (isinstance(column, OutputColumn) and column.later):
        return
    for port in column.kind.ports:
        if _kept(column, port.name, before, job):
            yield on_one(column, port.name)


def _row(row: SumRow, numbers: Numbers) -> SumRow:
    return replace(row, entries=tuple((copy, amount) for number, amount in row.entries for copy in numbers[number]))


def _links(links: Sequence[Link], numbers: Numbers) -> Iterator[Link]:
    for link in links:
        needed = tuple(copy for number in link.any_of for copy in numbers[number])
        yield from (replace(link, column=copy, any_of=needed) for copy in numbers[link.column])


def _stands_kept(columns: Sequence[Column], before: Before) -> Iterator[SumRow]:
    """No multiplexer stands where it does not stand already."""
    away = tuple((n, 1) for n, column in enumerate(columns) if not stays(column, before))
    if away:
        yield SumRow(away, 0, 0, name=("stands",))


def _as_often(choice: Tableau, numbers: Numbers) -> Iterator[SumRow]:
    """A circuit is chosen no more often than it can be made, on whichever ports."""
    for column, own in zip(choice.columns, numbers, strict=True):
        if len(own) > 1:
            yield SumRow(tuple((number, 1) for number in own), 0, column.most)


# --- goals


def _priced_by_moves(choice: Tableau, before: Before) -> Tableau:
    job = choice.site.job
    columns = tuple(replace(column, cost=_moved(column, before, job)) for column in choice.columns)
    return replace(choice, columns=columns, fixed_cost=0)


def _with_at_most(choice: Tableau, before: Before, moves: int) -> Tableau:
    job = choice.site.job
    entries = tuple((n, cost) for n, column in enumerate(choice.columns) if (cost := _moved(column, before, job)))
    return replace(choice, rows=(*choice.rows, SumRow(entries, NO_LOWER_BOUND, moves)))


# --- names


def as_before(job: Job, plan: Assignment, before: Before) -> Assignment:
    """Return a plan in which, of loads that nothing but their names tells apart, those stay that were there before."""
    left: dict[int, list[str]] = {}
    for load in job.loads.on_unit:
        left.setdefault(job.alike[load.name], []).append(load.name)
    kept = {line.port: list(_kept_names(job, line, before, left)) for line in plan.outputs}
    lines = []
    for line in plan.outputs:
        names = kept[line.port]
        for nature in _natures(job, line, names):
            names.append(left[nature].pop(0))
        members = tuple(load for load in job.loads.on_unit if load.name in names)
        lines.append(replace(line, loads=tuple(load.name for load in job.circuit(members).loads)))
    return plan.seated(replace(plan.only, outputs=tuple(lines)))


def _kept_names(job: Job, line: OnOutput, before: Before, left: dict[int, list[str]]) -> Iterator[str]:
    wanted = Counter(job.alike[name] for name in line.loads if name in job.alike)
    for name in before.outputs.get(line.port, ()):
        nature = job.alike.get(name)
        if nature is not None and wanted[nature] and name in left[nature]:
            wanted[nature] -= 1
            left[nature].remove(name)
            yield name


def _natures(job: Job, line: OnOutput, named: Sequence[str]) -> Iterator[int]:
    """Return what is still to be named on an output."""
    wanted = Counter(job.alike[name] for name in line.loads if name in job.alike)
    wanted.subtract(Counter(job.alike[name] for name in named))
    return wanted.elements()
