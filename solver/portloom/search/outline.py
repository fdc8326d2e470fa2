"""Who may go on which kind of port before a wire is laid: what every site has in common, at a small part of the price.

No wire, opening, place and main fuse is judged, so where this has no plan no site has one; where it has one, that says
which columns to try first (FORMULATION.md, 'Outline').
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from portloom.job.circuits import InputCircuit
from portloom.job.goal import NO_COST
from portloom.job.losses import Losses
from portloom.job.network import NOWHERE, Run
from portloom.job.site import Site
from portloom.job.wired import not_laid
from portloom.rules.shapes import Rule
from portloom.search.candidates import Candidates
from portloom.search.columns import OutputColumn
from portloom.search.enumeration import Multiplicity, inputs_at, multiplexer_columns
from portloom.search.tableau import Tableau, tableau_of


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
        yield OutputColumn(not_laid(site, losses, circuit, kind.ports[0]), kind, NO_COST, 0, most)


def chosen_of(pairs: Candidates, chosen: Sequence[int]) -> Candidates:
    """Return those candidates for outputs that a plan of the outline uses, and all for inputs."""
    outputs = tuple(pair for pair, times in zip(pairs.outputs, chosen, strict=False) if times)
    return replace(pairs, outputs=outputs)
