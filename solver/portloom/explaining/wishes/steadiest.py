"""Of plans that cost the same, the one that leaves most loads where they are."""

from collections.abc import Mapping
from dataclasses import replace

from portloom.base.unit import Output
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.conflicts.wish import Wish
from portloom.job.assignment import Assignment
from portloom.job.kinds import kind_of_output
from portloom.search.best import best_assignment
from portloom.search.columns import Column, OutputColumn, SumRow
from portloom.search.places import Clock
from portloom.search.tableau import NO_LEAST, Tableau

OutputsBefore = Mapping[str, Output]
"""The kind of output on which each load was."""


def steadiest(instance: Instance, wish: Wish, found: Assignment, best: Assignment, clock: Clock) -> Assignment:
    """A plan as good as ``found``, at its site, that moves the fewest loads of ``best``; at a limit ``found``."""
    kinds = {output.name: kind_of_output(output) for output in instance.job.unit.outputs}
    before = {load: kinds[line.port] for line in best.outputs for load in line.loads}
    sites = [s for s in instance.sites if (s.place.name, s.turned) == (found.only.place, found.only.turned)]

    def narrowed(choice: Tableau) -> Tableau:
        return _as_cheap(wish.narrowed(choice), found.cost, before)

    again = best_assignment(instance.job, instance.rules, sites, clock, narrowed)
    if not isinstance(again, Assignment) or not again.proven:
        return found
    return replace(again, cost=found.cost, bound=found.bound)


def _as_cheap(choice: Tableau, cost: int, before: OutputsBefore) -> Tableau:
    """Return a choice among plans of this cost in which each load that moves costs one."""
    entries = tuple((number, column.cost) for number, column in enumerate(choice.columns) if column.cost)
    row = SumRow(entries, NO_LEAST, cost - choice.fixed_cost)
    columns = tuple(replace(column, cost=_moved(column, before)) for column in choice.columns)
    return replace(choice, columns=columns, rows=(*choice.rows, row), fixed_cost=0)


def _moved(column: Column, before: OutputsBefore) -> int:
    if not isinstance(column, OutputColumn) or column.later:
        return 0
    return sum(before.get(load.name) != column.kind.like for load in column.wired.circuit.members)
