"""Whether a bike fits at all, with room for some later loads: any plan that passes, at the first site that has one."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.rules.shapes import Rule
from portloom.search.assign import assignment_of
from portloom.search.best import each_tableau
from portloom.search.columns import OutputColumn, SumRow
from portloom.search.places import Clock, Found
from portloom.search.possible import Impossible, NotKnown, Possible, any_plan
from portloom.search.strands import Runs
from portloom.search.tableau import Tableau


def any_assignment(
    job: Job, rules: Sequence[Rule], sites: Sequence[Site], clock: Clock, runs: Runs, room_for: Sequence[str] = ()
) -> Assignment | Impossible | NotKnown:
    """Return any plan with an output for each later load of ``room_for``, or the proof, made twice, that there is none.

    Raises Disagreement where the two proofs differ.
    """
    choices = (_with_room(choice, room_for) for choice in each_tableau(job, rules, sites, runs))
    verdict = any_plan(rules, choices, clock, twice=True)
    return _as_found(verdict) if isinstance(verdict, Possible) else verdict


def _with_room(choice: Tableau, names: Iterable[str]) -> Tableau:
    """Each of the later loads takes an output."""
    rows = tuple(SumRow(tuple(_takers(choice, name)), 1, 1) for name in names)
    return replace(choice, rows=(*choice.rows, *rows)) if rows else choice


def _takers(choice: Tableau, name: str) -> Iterable[tuple[int, int]]:
    for number, column in enumerate(choice.columns):
        if isinstance(column, OutputColumn) and column.later and column.later.consumer.name == name:
            yield number, 1


def _as_found(plan: Possible) -> Assignment:
    used = zip(plan.choice.columns, plan.chosen, strict=True)
    cost = plan.choice.fixed_cost + sum(column.cost * times for column, times in used)
    return assignment_of(Found(plan.choice, plan.chosen, cost, cost, proven=False))
