"""Loads that the builder wants on outputs alike: all of one limit, with one list of trips.

The first of a set says which: each other one is on an output of a sort only as often as the first is on one of it.
Loads fed past the unit are on no output, nor are those that others feed; a relay's coil is no load that a file names.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from portloom.base.figures import amperes, listed
from portloom.base.nearest import or_list
from portloom.base.quantities import MilliAmps
from portloom.base.unit import Output
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.job.wired import WiredOutput
from portloom.rules.clash import Clash
from portloom.rules.fact_kinds import ALIKE
from portloom.rules.facts import At, Fact, FactKey, OnPorts
from portloom.rules.posted import OfPosts, PostedPlan
from portloom.rules.shapes import Addend, Budget, BudgetRow, Key, Rule

Sort = tuple[MilliAmps, tuple[MilliAmps, ...]]
"""An output's limit, and the trips that it lists, small to large; one that lists none has its limit."""


def _sort(output: Output) -> Sort:
    return output.limit, tuple(sorted(set(output.trip or (output.limit,))))


def _budgets(site: Site) -> list[Budget]:
    """A row for each set, each nature in it but its first load's, and each sort of output (FORMULATION.md, C6)."""
    job = site.job
    sorts = dict.fromkeys(_sort(output) for unit in site.units for output in unit.job.unit.outputs)
    rows: dict[Key, BudgetRow] = {
        (names, nature, sort): BudgetRow(listed(left), at_most=0, fact=ALIKE.key(*names))
        for names, left in job.sets_alike.items()
        for nature in dict.fromkeys(job.alike[name] for name in left[1:])
        for sort in sorts
    }
    return [Budget(rows, _sentence, output=lambda wired: _given(job, wired), summed=_summed)] if rows else []


def _given(job: Job, wired: WiredOutput) -> Iterator[Addend]:
    sort, members = _sort(wired.output), [load.name for load in wired.circuit.members]
    for names, left in job.sets_alike.items():
        here = [job.alike[name] for name in members if name in left]
        others = Counter(job.alike[name] for name in left[1:])
        for nature in here:
            if nature == job.alike[left[0]]:
                yield from (((names, other, sort), -count) for other, count in others.items())
            else:
                yield (names, nature, sort), 1


def _sentence(row: BudgetRow, _: int) -> str:
    return f"{row.subject} are not all on outputs of the same limit and the same trips"


def _summed(laid: Laid, row: BudgetRow) -> str:
    ports = {load.name: wired.output for wired in laid.outputs for load in wired.circuit.members}
    names = (row.fact or ())[1:]
    return _apart([name for name in names if name in ports], ports)


def _apart(names: Sequence[str], ports: Mapping[str, Output]) -> str:
    """Say that loads are on outputs unlike, sort by sort."""
    sorts: dict[Sort, list[str]] = {}
    for name in names:
        sorts.setdefault(_sort(ports[name]), []).append(name)
    told = "; ".join(f"{_on(some, ports)} ({_said(sort)})" for sort, some in sorts.items())
    return f"{listed(tuple(names))} must be on outputs of the same limit and the same trips: {told}"


def _on(names: Sequence[str], ports: Mapping[str, Output]) -> str:
    return listed([f"{name} on {ports[name].name}" for name in names])


def _said(sort: Sort) -> str:
    limit, trips = sort
    return f"limit {amperes(limit)}, trip {or_list(amperes(trip) for trip in trips)}"


def _of_post(plan: PostedPlan) -> Iterator[Clash]:
    """Judge those that are on outputs: of what is missing nothing is known."""
    outputs = {output.name: output for output in plan.job.unit.outputs}
    ports = {name: outputs[port] for name, port in plan.ports.items() if port in outputs}
    for left in plan.job.sets_alike.values():
        there = [name for name in left if name in ports]
        if len({_sort(ports[name]) for name in there}) > 1:
            yield Clash(RULE.slug, ", ".join(there), _apart(there, ports))


def _facts(job: Job) -> Iterator[Fact]:
    for names, left in job.sets_alike.items():
        said = f"{listed(left)} must be on outputs of the same limit and the same trips"
        at = At("bike", ("alike", job.bike.alike.index(names)))
        yield Fact(ALIKE.key(*names), RULE.slug, listed(left), said, at)


def _breaks(job: Job, on: OnPorts) -> Iterator[FactKey]:
    sorts = {output.name: _sort(output) for output in job.unit.outputs}
    ports = {name: port for port, names in on.items() if port in sorts for name in names}
    for names, left in job.sets_alike.items():
        if len({sorts[ports[name]] for name in left}) > 1:
            yield ALIKE.key(*names)


def _judged(plan: PostedPlan) -> bool:
    ports = plan.ports
    sets: Iterable[Sequence[str]] = plan.job.sets_alike.values()
    return any(sum(name in ports for name in names) > 1 for names in sets)


RULE = Rule(
    slug="alike",
    protects="loads that belong together from outputs that can't be set alike",
    source="the bike's file",
    right="put the set on outputs of one limit and one list of trips, or take it out of 'alike'",
    budgets=_budgets,
    of_whole_bike=True,
    facts=_facts,
    breaks=_breaks,
    posts=OfPosts(plan=_of_post, judged=_judged),
)
