"""Why not: a wish is impossible by itself, impossible with the rest, or possible at a price."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Literal

from portloom.base.clock import Clock
from portloom.base.unit import Output
from portloom.base.values import dataclass
from portloom.explaining.conflicts.find import first_conflict
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.conflicts.question import OutOfTime, Questions
from portloom.explaining.conflicts.wish import LoadOnPort, UnitAtPlace, Wish
from portloom.explaining.loom_change import LoomChange, loom_change
from portloom.explaining.solved import Solved, best_of_job, passed
from portloom.explaining.telling.conflict import Conflict
from portloom.explaining.telling.refused import merged, refused_output
from portloom.explaining.telling.told import told
from portloom.job.assignment import Assignment, OnOutput
from portloom.job.goal import Priced
from portloom.job.job import Job
from portloom.job.kinds import kind_of_output, output_kinds
from portloom.job.site import Site
from portloom.rules.book import place_clashes
from portloom.rules.clash import Clash
from portloom.rules.facts import Where
from portloom.rules.sites import site_at
from portloom.search.best import best_assignment
from portloom.search.columns import Column, OutputColumn, SumRow
from portloom.search.places import LimitReached, NoPlan
from portloom.search.tableau import NO_LOWER_BOUND, Tableau

# --- the plan that moves least


OutputsBefore = Mapping[str, Output]
"""The kind of output on which each load was."""


def steadiest(instance: Instance, wish: Wish, found: Assignment, best: Assignment, clock: Clock) -> Assignment:
    """A plan as good as ``found``, at its site, that moves the fewest loads of ``best``; at a limit ``found``.

    So it is with a built loom, too: what changes least of that moves as little as can be.
    """
    if instance.job.built is not None:
        return found
    kinds = {output.name: kind_of_output(output) for output in instance.job.unit.outputs}
    before = {load: kinds[line.port] for line in best.outputs for load in line.loads}
    job, sites = _where_found(instance, found)

    def narrowed(choice: Tableau) -> Tableau:
        return _as_cheap(wish.narrowed(choice), found.cost - found.costs.legs_in_use, before)

    again = best_assignment(job, instance.rules, sites, clock, narrowed)
    if not isinstance(again, Assignment) or not again.proven:
        return found
    return replace(again, cost=found.cost, bound=found.bound, legs=found.legs)


def _where_found(instance: Instance, found: Assignment) -> tuple[Job, list[Site]]:
    """Return the site of a plan, with the legs open that it chose: one as cheap uses all of them."""
    at = found.only.place, found.only.turned
    sites = [site for site in instance.sites if (site.place.name, site.turned) == at]
    if found.legs is None:
        return instance.job, sites
    job = instance.job.within(found.legs)
    return job, [site_at(job, site.place, turned=site.turned) for site in sites]


def _as_cheap(choice: Tableau, cost: int, before: OutputsBefore) -> Tableau:
    """Return a choice among plans of this cost in which each load that moves costs one."""
    entries = tuple((number, column.cost) for number, column in enumerate(choice.columns) if column.cost)
    row = SumRow(entries, NO_LOWER_BOUND, cost - choice.fixed_cost)
    columns = tuple(replace(column, cost=_moved(column, before)) for column in choice.columns)
    return replace(choice, columns=columns, rows=(*choice.rows, row), fixed_cost=0)


def _moved(column: Column, before: OutputsBefore) -> int:
    if not isinstance(column, OutputColumn) or column.later:
        return 0
    return sum(before.get(load.name) != column.kind.like for load in column.wired.circuit.members)


# --- the answer


WishAnswer = Literal["alone", "with the rest", "possible", "nothing fits", "not known"]


@dataclass(frozen=True)
class LoadMove:
    """Loads that sit elsewhere together when the wish comes true."""

    loads: tuple[str, ...]
    before: str
    after: str


@dataclass(frozen=True)
class ExtraCost(Priced):
    """What a wish costs beside the best plan: wire, spare ports, and who moves."""

    place: str
    moves: tuple[LoadMove, ...]
    same_kind: bool
    """True where the best plan has the load on a port just like it: the two can be swapped."""
    loom: LoomChange | None = None
    """What it changes otherwise of a built loom, where there is one."""


@dataclass(frozen=True)
class WhyNot:
    """One of three answers, each proved; or that the bike does not fit anyway, or that the limit was reached."""

    question: str
    answer: WishAnswer
    refusals: tuple[str, ...] = ()
    """For 'alone': at which places which rule refuses, with the figures."""
    conflict: Conflict | None = None
    """For 'with the rest'."""
    price: ExtraCost | None = None
    """For 'possible'."""


def why_not(instance: Instance, wish: Wish, best: Solved | NoPlan | LimitReached, where: Where, clock: Clock) -> WhyNot:
    """Answer a wish; ``best`` is the best plan without it, or why there is none.

    Where legs are chosen, too, what refuses a wish with every leg open may let it be with fewer; and a built wire may
    be allowed where a new one is not.
    """
    said = wish.question
    refusals = tuple(_refused_alone(instance, wish))
    if refusals and not instance.job.bike.weights.leg and instance.job.built is None:
        return WhyNot(said, "alone", refusals)
    if not isinstance(best, Solved):
        return WhyNot(said, "nothing fits" if isinstance(best, NoPlan) else "not known")
    found = best_of_job(instance.job, instance.rules, wish.sites(instance.sites), clock, wish.narrowed)
    if isinstance(found, Assignment) and found.proven and best.assignment.proven:
        steady = steadiest(instance, wish, found, best.assignment, clock)
        solved = passed((instance.job,), instance.rules, _named(instance.job, steady, wish))
        return WhyNot(said, "possible", price=_price(instance.job, best, solved, wish))
    if not isinstance(found, NoPlan):
        return WhyNot(said, "not known")
    return WhyNot(said, "alone", refusals) if refusals else _with_the_rest(instance, wish, where, clock)


def _with_the_rest(instance: Instance, wish: Wish, where: Where, clock: Clock) -> WhyNot:
    """Return what a wish that is possible by itself can't hold together with."""
    said = wish.question
    try:
        questions = Questions(Instance(instance.job, instance.rules, instance.place, wish), clock)
        conflict = told(questions, first_conflict(questions, questions.instance.everything), where)
    except OutOfTime:
        return WhyNot(said, "with the rest")
    return WhyNot(said, "with the rest", conflict=conflict)


# --- by itself


def _refused_alone(instance: Instance, wish: Wish) -> Iterator[str]:
    """Return what refuses the wish at every place, places that refuse alike together; nothing if one does not."""
    sites = wish.sites(instance.sites)
    clashes = [(site.label, _clash(instance, site, wish)) for site in sites]
    if all(clash is not None for _, clash in clashes):
        for refusal in merged(clashes):
            places = "" if len(refusal.ports) == len(sites) else f"{', '.join(refusal.ports)}: "
            yield f"{places}{refusal.clash.sentence} (rule {refusal.clash.rule})"


def _clash(instance: Instance, site: Site, wish: Wish) -> Clash | None:
    if isinstance(wish, UnitAtPlace):
        return next(place_clashes(instance.rules, site), None)
    load = next(load for load in instance.job.loads.on_unit if load.name == wish.load)
    output = next(output for output in instance.job.unit.outputs if output.name == wish.port)
    return refused_output(instance.rules, site, instance.job.circuit((load,)), output)


# --- possible


def _named(job: Job, plan: Assignment, wish: Wish) -> Assignment:
    """Return the plan with the very load on the very port; ports of a kind, and loads that are alike, change places."""
    if isinstance(wish, UnitAtPlace):
        return plan
    kinds = {output.name: kind_of_output(output) for output in job.unit.outputs}
    line = next(
        line for line in plan.outputs if _holds_alike(job, line, wish.load) and kinds[line.port] == kinds[wish.port]
    )
    other = next(load for load in line.loads if job.alike.get(load) == job.alike[wish.load])
    names = {other: wish.load, wish.load: other}
    ports = {line.port: wish.port, wish.port: line.port}
    outputs = [
        replace(o, port=ports.get(o.port, o.port), loads=tuple(names.get(name, name) for name in o.loads))
        for o in plan.outputs
    ]
    order = [output.name for output in job.unit.outputs]
    seat = replace(
        plan.only,
        outputs=tuple(sorted(outputs, key=lambda o: order.index(o.port))),
        room_for=tuple(replace(room, port=ports.get(room.port, room.port)) for room in plan.room_for),
    )
    return plan.seated(seat)


def _holds_alike(job: Job, line: OnOutput, load: str) -> bool:
    return any(job.alike.get(name) == job.alike[load] for name in line.loads)


def _price(job: Job, best: Solved, wished: Solved, wish: Wish) -> ExtraCost:
    before, after = _ports(job, best.assignment), _ports(job, wished.assignment)
    kinds = {output.name: kind_of_output(output) for output in job.unit.outputs}
    moves: dict[tuple[str, str], list[str]] = {}
    for load, port in after.items():
        if kinds[before[load]] != kinds[port]:
            moves.setdefault((before[load], port), []).append(load)
    swap = isinstance(wish, LoadOnPort) and kinds[before[wish.load]] == kinds[wish.port]
    return ExtraCost(
        costs=wished.assignment.costs - best.assignment.costs,
        place=wished.laid.site.label,
        moves=tuple(LoadMove(tuple(loads), *ports) for ports, loads in moves.items()),
        same_kind=swap,
        loom=loom_change(best.assignment, wished.assignment),
    )


def _ports(job: Job, plan: Assignment) -> dict[str, str]:
    """Return the port of each load that is on one of its own; what is fed from others is on theirs."""
    return {load: line.port for line in plan.outputs for load in line.loads if load in job.alike}


# --- what a port gives


@dataclass(frozen=True)
class Elsewhere:
    """Ports of one kind where a load is not, and what would come of it there."""

    ports: tuple[str, ...]
    why_not: WhyNot


def elsewhere(instance: Instance, load: str, best: Solved, where: Where, clock: Clock) -> Sequence[Elsewhere]:
    """Return for each other kind of output what keeps a load from it, or what it would cost there."""
    own = _ports(instance.job, best.assignment)[load]
    return [
        Elsewhere(
            tuple(port.name for port in kind.ports),
            why_not(instance, LoadOnPort(load, kind.ports[0].name), best, where, clock),
        )
        for kind in output_kinds(instance.job.unit)
        if all(port.name != own for port in kind.ports)
    ]
