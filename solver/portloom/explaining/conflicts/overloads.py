"""Overloads: loads that draw more in some case than the banks that they can be on give, or the unit passes."""

from collections.abc import Iterator, Sequence
from itertools import combinations

from portloom.base.quantities import MilliAmps
from portloom.explaining.conflicts.kept import Part
from portloom.job.cases import Case
from portloom.job.consumers import Consumer
from portloom.job.kinds import output_kinds
from portloom.rules.book import output_clashes
from portloom.rules.facts import FEED_LIMIT, FactKey

Keys = tuple[FactKey, ...]
MOST_BANKS = 4
"""Every set of so many banks is tried."""


def overloads(part: Part) -> Iterator[Keys]:
    """Return the facts of each overload: the whole unit first, then one bank, then banks together."""
    job = part.job
    heaviest = sorted(job.loads.on_unit, key=lambda load: -load.current)
    for case in job.cases:
        yield from _overload(part, heaviest, case, job.unit.feed.limit, (FEED_LIMIT,))
    able = {load.name: _banks(part, load) for load in heaviest}
    for size in range(1, min(MOST_BANKS, len(job.unit.banks)) + 1):
        for banks in combinations(job.unit.banks, size):
            limit = MilliAmps(sum(job.unit.banks[bank] for bank in banks))
            bound = [load for load in heaviest if able[load.name] <= set(banks)]
            for case in job.cases:
                yield from _overload(part, bound, case, limit, [("bank", bank) for bank in banks])


def _banks(part: Part, load: Consumer) -> set[str | None]:
    """Return the banks that a load can be on; None stands for an output of no bank."""
    circuit = part.job.circuit((load,))
    kinds = output_kinds(part.job.unit)
    return {k.like.bank for k in kinds if next(output_clashes(part.rules, part.job, circuit, k.ports[0]), None) is None}


def _overload(
    part: Part, heaviest: Sequence[Consumer], case: Case, limit: MilliAmps, limits: Sequence[FactKey]
) -> Iterator[Keys]:
    """Return the fewest loads that are too much together, and all that may keep them there."""
    drawn, names = 0, []
    for load in heaviest:
        if part.job.on(load, case):
            drawn += load.current
            names.append(load.name)
            if drawn > limit:
                figures = ("load", "current", "inrush", "mode", "kind")
                yield (*((what, name) for name in names for what in figures), *limits)
                return
