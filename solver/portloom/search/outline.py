"""Who may go on which kind of port before a wire is laid: what every site has in common, at a small part of the price.

No wire, opening, place and main fuse is judged, so where this has no plan no site has one; where it has one, that says
which columns to try first (FORMULATION.md, 'Outline').
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from portloom.job.circuits import InputCircuit
from portloom.job.goal import NO_COST, cost_of, fixed_cost
from portloom.job.kinds import InputKind
from portloom.job.laid import WIRES_TO_UNIT
from portloom.job.losses import Losses
from portloom.job.network import NOWHERE, Run
from portloom.job.site import Site
from portloom.job.wired import not_laid
from portloom.rules.book import budgets_of
from portloom.rules.shapes import Addend, Budget, Key, Rule
from portloom.search.candidates import Candidates
from portloom.search.columns import (
    Column,
    InputColumn,
    MultiplexerColumn,
    OutputColumn,
    ReturnColumn,
    SumRow,
    SwitchColumn,
    contributions,
)
from portloom.search.dual import Relaxation, Weighed, programme_of
from portloom.search.enumeration import InputRuns, Multiplicity, Runs, inputs_at, later_columns, multiplexer_columns
from portloom.search.tableau import Tableau, sum_row, tableau_of


def looms(
    rules: Sequence[Rule], site: Site, sketch: Tableau, laid: Mapping[int, Sequence[OutputColumn]], ways: InputRuns
) -> Iterator[SumRow]:
    """Return the rows that an outline leaves out, with what each candidate gives whose wire is laid at the site.

    ``laid`` has the columns of candidates, by their numbers; of several ways the least counts, what is not laid counts
    as nothing, nor does what multiplexers need. A row to which anything gives less than nothing is left out.
    """
    inputs = _numbers_of_inputs(sketch.columns)
    there = inputs_at(site, Candidates((), (), tuple(_inputs_of(sketch)), (), ()), ways)
    ways_in: dict[int, list[InputColumn]] = {}
    for column in there:
        ways_in.setdefault(inputs[id(column.wired.circuit), id(column.kind)], []).append(column)
    known: dict[int, Sequence[OutputColumn | InputColumn]] = {**laid, **ways_in}
    for rule in rules:
        for budget in budgets_of(rule, site) if rule.of_looms else ():
            yield from _least_sums(rule.slug, budget, known)


def _numbers_of_inputs(columns: Sequence[Column]) -> dict[tuple[int, int], int]:
    """Return the number of each column for an input, by the identities of its circuit and its kind."""
    return {(id(c.wired.circuit), id(c.kind)): number for number, c in enumerate(columns) if isinstance(c, InputColumn)}


def _inputs_of(sketch: Tableau) -> Iterator[tuple[InputCircuit, InputKind]]:
    return ((c.wired.circuit, c.kind) for c in sketch.columns if isinstance(c, InputColumn))


def _least_sums(
    slug: str, budget: Budget, known: Mapping[int, Sequence[OutputColumn | InputColumn]]
) -> Iterator[SumRow]:
    given: dict[Key, dict[int, int]] = {key: {} for key in budget.rows}
    for number, columns in known.items():
        sums = [_summed(contributions(budget, column)) for column in columns]
        for key in set[Key]().union(*sums).intersection(given):
            given[key][number] = min(adds[key] for adds in sums)
    for key, row in budget.rows.items():
        if all(amount >= 0 for amount in given[key].values()):
            entries = ((number, amount) for number, amount in sorted(given[key].items()) if amount)
            yield replace(sum_row(slug, row, entries), at_least=0)


def _summed(adds: Iterable[Addend]) -> Counter[Key]:
    sums: Counter[Key] = Counter()
    for key, amount in adds:
        sums[key] += amount
    return sums


class _NotLaid:
    """Ways of input wires of which nobody asks where they lie."""

    def of_input(self, _: InputCircuit, __: str) -> Run:
        return NOWHERE

    def to_face(self, _: str, __: str) -> Run:
        return NOWHERE


def outline(rules: Sequence[Rule], site: Site, pairs: Candidates) -> Tableau:
    """Return the choice without wires: outputs' columns first, in the order of the pairs, those of later loads last.

    ``site`` is any site of the one unit.
    """
    inputs = (*inputs_at(site, pairs, _NotLaid()), *multiplexer_columns(site, pairs, _NotLaid()))
    anew = (column for column in inputs if not _stays(column))
    columns = (*_outputs(site, pairs), *anew, *later_columns(site, Losses(site), pairs))
    return tableau_of(site, [rule for rule in rules if not rule.of_looms], columns)


def _stays(column: Column) -> bool:
    """Tell whether a column is one of what is built; who may go where is the same of the one beside it."""
    if isinstance(column, InputColumn | SwitchColumn | MultiplexerColumn):
        return column.wired.old is not None
    return False


def _outputs(site: Site, pairs: Candidates) -> Iterator[OutputColumn]:
    losses, possible = Losses(site), Multiplicity(site.job)
    for circuit, kind in pairs.outputs:
        most = min(len(kind.ports), possible.times(circuit))
        yield OutputColumn(not_laid(site, losses, circuit, kind.ports[0]), kind, NO_COST, 1, most)


class Glances:
    """What plans cost at least at each site, before a wire is judged there (FORMULATION.md, X6)."""

    def __init__(self, choice: Tableau, runs: Runs, relaxation: Relaxation | None = None) -> None:
        """Take the outline of a bike's choices, the shortest wires, and its relaxation where that is known."""
        self._choice = choice
        self._columns = choice.columns
        self._runs = runs
        self._outline = programme_of(choice)
        self._relaxation = relaxation or Relaxation(self._outline)
        self._lost = [_spare_port_loss(column) for column in choice.columns]

    def over(self, runs: Runs) -> "Glances":
        """Return the same over a frame of which other legs are closed, by its shortest wires; the rows are shared."""
        return Glances(self._choice, runs, self._relaxation)

    def legs_at(self, site: Site) -> frozenset[int]:
        """Return the legs that any column's shortest wire from a site follows."""
        runs = (self._run(site, column) for column in self._columns)
        return frozenset(number for run in runs if run is not None for number in run.legs)

    def least_at(self, site: Site, without: str | None = None) -> int:
        """Return a cost that no plan at a site is below, where one multiplexer may be ``without`` use."""
        return self._weighed_at(site, without).least

    def affordable(self, site: Site, pairs: Candidates, most: int, without: str | None = None) -> Candidates:
        """Return of the outline's ``pairs`` those that a plan at a site which costs ``most`` or less may use."""
        dear = frozenset(self._weighed_at(site, without).too_dear(most))
        numbers = _numbers_of_inputs(self._columns)
        first_later = len(self._columns) - len(pairs.later)
        return replace(
            pairs,
            outputs=tuple(pair for number, pair in enumerate(pairs.outputs) if number not in dear),
            later=tuple(pair for number, pair in enumerate(pairs.later, first_later) if number not in dear),
            inputs=tuple(pair for pair in pairs.inputs if numbers[id(pair[0]), id(pair[1])] not in dear),
        )

    def _weighed_at(self, site: Site, without: str | None) -> Weighed:
        """Return the outline's rows, weighed where each column costs what it costs at a site at least."""
        lengths = [self._length(site, column) for column in self._columns]
        costs = (lost + (length or 0) for lost, length in zip(self._lost, lengths, strict=True))
        known = zip(self._outline.most, self._columns, lengths, strict=True)
        most = (0 if length is None or _is_of(column, without) else limit for limit, column, length in known)
        here = replace(self._outline, costs=tuple(costs), most=tuple(most), fixed_cost=fixed_cost(site).total)
        return self._relaxation.weighed(here)

    def _length(self, site: Site, column: Column) -> int | None:
        """Return the length of a column's shortest wires from a site; None where no way leads there."""
        run = self._run(site, column)
        times = WIRES_TO_UNIT if isinstance(column, MultiplexerColumn) else 1
        return None if run is None else times * run.length

    def _run(self, site: Site, column: Column) -> Run | None:
        """Return the shortest way of a column's wires from a site; None where none leads there."""
        match column:
            case OutputColumn(later=None):
                return self._runs.of_output(column.wired.circuit, site.face(column.kind.like.face))
            case InputColumn():
                return self._runs.of_input(column.wired.circuit, site.face(column.kind.like.face))
            case MultiplexerColumn():
                return self._runs.to_face(column.wired.stand.at, site.face(column.kind.like.face))
            case SwitchColumn():
                return self._runs.of_input(InputCircuit((column.wired.switch,)), column.wired.stand.at)
            case _:
                return NOWHERE


def _spare_port_loss(column: Column) -> int:
    """Return what a column costs beside its wires; a return, which lies alike at every site, with its wire."""
    match column:
        case OutputColumn(later=None):
            return cost_of(column.wired).total
        case OutputColumn() | ReturnColumn():
            return column.cost
        case _:
            return 0


def _is_of(column: Column, multiplexer: str | None) -> bool:
    return isinstance(column, MultiplexerColumn) and column.wired.stand.multiplexer.name == multiplexer
