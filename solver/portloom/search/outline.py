"""Who may go on which kind of port before a wire is laid: what every site has in common, at a small part of the price.

No wire, opening, place and main fuse is judged, so where this has no plan no site has one; where it has one, that says
which columns to try first (FORMULATION.md, 'Outline').
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from portloom.job.circuits import InputCircuit
from portloom.job.goal import NO_COST
from portloom.job.kinds import InputKind
from portloom.job.losses import Losses
from portloom.job.network import NOWHERE, Run
from portloom.job.site import Site
from portloom.job.wired import not_laid
from portloom.rules.book import budgets_of
from portloom.rules.shapes import Addend, Budget, Key, Rule
from portloom.search.candidates import Candidates
from portloom.search.columns import InputColumn, OutputColumn, SumRow, contributions
from portloom.search.enumeration import InputRuns, Multiplicity, inputs_at, multiplexer_columns
from portloom.search.tableau import Tableau, sum_row, tableau_of


def looms(
    rules: Sequence[Rule], site: Site, sketch: Tableau, laid: Mapping[int, Sequence[OutputColumn]], ways: InputRuns
) -> Iterator[SumRow]:
    """Return the rows that an outline leaves out, with what each candidate gives whose wire is laid at the site.

    ``laid`` has the columns of candidates, by their numbers; of several ways the least counts, what is not laid counts
    as nothing, nor does what multiplexers need. A row to which anything gives less than nothing is left out.
    """
    inputs = {(id(c.wired.circuit), id(c.kind)): n for n, c in enumerate(sketch.columns) if isinstance(c, InputColumn)}
    there = inputs_at(site, Candidates((), (), tuple(_inputs_of(sketch)), (), ()), ways)
    known: dict[int, Sequence[OutputColumn | InputColumn]] = {
        **laid,
        **{inputs[id(column.wired.circuit), id(column.kind)]: [column] for column in there},
    }
    for rule in rules:
        for budget in budgets_of(rule, site) if rule.of_looms else ():
            yield from _least_sums(rule.slug, budget, known)


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
    """Return the choice without wires: the outputs' columns first, in the order of the pairs.

    ``site`` is any site of the one unit.
    """
    inputs = (*inputs_at(site, pairs, _NotLaid()), *multiplexer_columns(site, pairs, _NotLaid()))
    return tableau_of(site, [rule for rule in rules if not rule.of_looms], (*_outputs(site, pairs), *inputs))


def _outputs(site: Site, pairs: Candidates) -> Iterator[OutputColumn]:
    losses, possible = Losses(site), Multiplicity(site.job)
    for circuit, kind in pairs.outputs:
        most = min(len(kind.ports), possible.times(circuit))
        yield OutputColumn(not_laid(site, losses, circuit, kind.ports[0]), kind, NO_COST, 1, most)
