"""The cheapest way to wire what a plan leaves open: its outputs are laid, some of its switches may be on a port.

No output moves, nor what is on an input; where a way exists it is the best, and where none does that is proved.
Each output is a column of its own, wired just as it is laid, so nothing of it is judged again but what it adds to sums.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from portloom.base.clock import Clock, TimeIsUp
from portloom.base.unit import Unit
from portloom.base.values import dataclass
from portloom.job.assignment import Assignment
from portloom.job.circuits import InputCircuit
from portloom.job.goal import cost_of
from portloom.job.job import Job
from portloom.job.kinds import OutputKind, input_kinds, kind_of_output, output_kinds
from portloom.job.laid import Laid
from portloom.rules.shapes import Rule
from portloom.search.assign import assignment_of
from portloom.search.before import Before, on_one, ports_once, seated, stays
from portloom.search.best import best_choice, runs_over
from portloom.search.candidates import Candidates, candidates, input_circuits
from portloom.search.columns import (
    Column,
    FuseColumn,
    InputColumn,
    MultiplexerColumn,
    OutputColumn,
    SumRow,
    SwitchColumn,
)
from portloom.search.enumeration import Runs, allowed, inputs_at, multiplexer_columns, outputs_at
from portloom.search.fuses import fused
from portloom.search.moves import as_before
from portloom.search.places import Found, LimitReached, NoPlan
from portloom.search.tableau import Tableau, tableau_of


@dataclass(frozen=True)
class Begun:
    """Outputs as they are laid at a site with the main fuses that serve them, small to large; what else is settled."""

    laid: Laid
    before: Before

    @property
    def job(self) -> Job:
        """The bike on its unit."""
        return self.laid.site.job


def finished(rules: Sequence[Rule], begun: Sequence[Begun], clock: Clock) -> Assignment | NoPlan | LimitReached:
    """Return the cheapest plan that leaves all that was begun as it is, over several sites."""
    try:
        with clock.held(unless=begun[0].job.bike.is_small):
            choices = [open_choice(rules, one) for one in begun]
    except TimeIsUp:
        return LimitReached(0)
    found = best_choice(rules, choices, clock)
    return as_before(begun[0].job, assignment_of(found), begun[0].before) if isinstance(found, Found) else found


def open_choice(rules: Sequence[Rule], begun: Begun) -> Tableau:
    """Set up what is to be chosen yet at the site of a plan that was begun."""
    columns = tuple(_columns(rules, begun))
    choice = tableau_of(begun.laid.site, rules, columns)
    return replace(choice, rows=(*choice.rows, *_settled_once(columns, begun.job.unit)))


def _settled_once(columns: Sequence[Column], unit: Unit) -> Iterator[SumRow]:
    """Return a row for each input of several alike that a column takes alone; the others are counted by their kind."""
    names = [kind.names for kind in output_kinds(unit)] + [kind.names for kind in input_kinds(unit)]
    counted = {own[0] for own in names if len(own) == 1}
    return (row for row in ports_once(columns) if counted.isdisjoint(row.name))


def _columns(rules: Sequence[Rule], begun: Begun) -> Iterator[Column]:
    """Return main fuses, outputs as they are laid, later loads, then whoever may read the switches."""
    site, job = begun.laid.site, begun.job
    pairs = candidates(job, rules, (), _input_circuits(job, rules, begun.before))
    runs = runs_over(job, [site])
    later = tuple(allowed(rules, outputs_at(site, pairs, runs)))
    first = fused(rules, site, later)
    yield from (column for column in first if isinstance(column, FuseColumn))
    yield from _outputs(begun.laid)
    yield from (column for column in first if isinstance(column, OutputColumn))
    yield from _inputs(begun, pairs, runs)


def _outputs(laid: Laid) -> Iterator[OutputColumn]:
    for wired in laid.outputs:
        price = cost_of(wired)
        kind = OutputKind(kind_of_output(wired.output), (wired.output,))
        yield OutputColumn(wired, kind, price, price.total)


def _input_circuits(job: Job, rules: Sequence[Rule], before: Before) -> list[InputCircuit]:
    """Return every group of switches that may share an input, and those that do."""
    posted = (
        InputCircuit(tuple(switch for switch in job.inputs if switch.name in held))
        for port, held in before.inputs.items()
        if port in {source.name for source in job.unit.inputs}
    )
    sharing = (circuit for circuit in posted if circuit.switches)
    return list(dict.fromkeys((*input_circuits(job, rules), *sharing)))


def _inputs(begun: Begun, pairs: Candidates, runs: Runs) -> Iterator[Column]:
    site = begun.laid.site
    # Columns for one port come first, so that one for any port never takes theirs.
    every = [*inputs_at(site, pairs, runs), *multiplexer_columns(site, pairs, runs)]
    kept = [one for column in every for one in _as_settled(column, begun.before)]
    yield from sorted(kept, key=lambda column: not seated(column, begun.before))


def _as_settled(column: Column, before: Before) -> Iterator[Column]:
    """Return a column as it is where nothing in it is settled, for its one port where that is, else nothing."""
    ports = {before.ports[name] for name in seated(column, before)}
    if not stays(column, before):
        return
    if not ports:
        yield column
    elif isinstance(column, InputColumn | MultiplexerColumn):
        here = [port.name for port in column.kind.ports if ports == {port.name}]
        yield from (on_one(column, name) for name in here)
    elif isinstance(column, SwitchColumn) and ports == {column.wired.stand.multiplexer.name}:
        yield column
