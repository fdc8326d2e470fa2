"""Overloads: loads that draw more in some case than the outputs that they can be on give together."""

from collections.abc import Iterator, Sequence
from itertools import combinations

from portloom.base.values import dataclass
from portloom.explaining.conflicts.kept import RelaxedInstance
from portloom.job.cases import Case
from portloom.job.consumers import Consumer
from portloom.job.kinds import output_kinds
from portloom.rules.book import RULES, output_clashes
from portloom.rules.fact_kinds import DECIDING, LOAD, OUT_OF_USE
from portloom.rules.facts import Keys
from portloom.rules.shapes import Capacities, Capacity

CapacitySet = tuple[Capacity, ...]
MOST_LIMITS = 4
"""Every set of so many limits of one rule is tried."""


@dataclass(frozen=True)
class Overload:
    """The fewest loads that are too much together for some limits, and the rule whose limits they are."""

    rule: str
    loads: tuple[str, ...]
    limits: CapacitySet
    given: str
    """What the limits give together, in words."""
    dead: tuple[str, ...]
    """The ports out of use."""

    @property
    def keys(self) -> Keys:
        """The facts of it: the loads, all that may keep them there, and the limits."""
        figures = (LOAD, *DECIDING)
        things = (kind.key(name) for name in self.loads for kind in figures)
        return (*things, *(limit.fact for limit in self.limits), *map(OUT_OF_USE.key, self.dead))


def overloads(relaxed: RelaxedInstance, units: int = 1) -> Iterator[Overload]:
    """Return each overload: of the whole unit first, then of one limit of a rule, then of several together.

    ``units`` is how many are counted as one.
    """
    job = relaxed.job
    heaviest = sorted(job.loads.on_unit, key=lambda load: -load.current)
    able: dict[str, frozenset[str]] | None = None
    for slug, capacities, limits in _whole_unit_first(relaxed):
        if able is None and not _is_whole(relaxed, limits):
            able = {load.name: _able(relaxed, load) for load in heaviest}
        for size in range(1, min(MOST_LIMITS, len(limits)) + 1):
            for some in combinations(limits, size):
                outputs = frozenset[str]().union(*(limit.outputs for limit in some))
                bound = [load for load in heaviest if able is None or able[load.name] <= outputs]
                for names in _too_much(relaxed, bound, sum(limit.limit for limit in some)):
                    yield Overload(slug, names, some, capacities.said(some, units), tuple(job.bike.out_of_use))


def _whole_unit_first(relaxed: RelaxedInstance) -> list[tuple[str, Capacities, CapacitySet]]:
    """Return each rule's limits, also of one that is set aside, as others judge by them too."""
    found = [(rule.slug, rule.capacities, tuple(rule.capacities.of(relaxed.job))) for rule in RULES if rule.capacities]
    return sorted(found, key=lambda limited: not _is_whole(relaxed, limited[2]))


def _is_whole(relaxed: RelaxedInstance, limits: CapacitySet) -> bool:
    """Tell whether limits are of all outputs alike, so that every load is bound by them."""
    every = frozenset(output.name for output in relaxed.job.unit.outputs)
    return all(limit.outputs == every for limit in limits)


def _able(relaxed: RelaxedInstance, load: Consumer) -> frozenset[str]:
    """Return the outputs that a load can be on."""
    circuit = relaxed.job.circuit((load,))
    taking = (
        kind
        for kind in output_kinds(relaxed.job.unit)
        if next(output_clashes(relaxed.rules, relaxed.job, circuit, kind.ports[0]), None) is None
    )
    return frozenset(name for kind in taking for name in kind.names)


def _too_much(relaxed: RelaxedInstance, heaviest: Sequence[Consumer], limit: int) -> Iterator[tuple[str, ...]]:
    """Return for each case the fewest loads that draw more than a limit, in mA, together."""
    for case in relaxed.job.cases:
        names = _fewest(relaxed, heaviest, case, limit)
        if names:
            yield names


def _fewest(relaxed: RelaxedInstance, heaviest: Sequence[Consumer], case: Case, limit: int) -> tuple[str, ...]:
    drawn, names = 0, []
    for load in heaviest:
        if relaxed.job.on(load, case):
            drawn += load.current
            names.append(load.name)
            if drawn > limit:
                return tuple(names)
    return ()
