"""A unit of two at one place and way round: what it may be chosen to drive there."""

from collections.abc import Hashable, Iterator, Sequence
from functools import cached_property

from portloom.job.goal import cost_of, fixed_cost
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.rules.shapes import Rule
from portloom.rules.sites import shared_sites
from portloom.rules.two_units import together
from portloom.search.best import runs_over
from portloom.search.candidates import Candidates, candidates, input_circuits, output_circuits
from portloom.search.columns import Column, FuseColumn, InputColumn, OutputColumn
from portloom.search.enumeration import Runs, columns_at, inputs_at, outputs_at
from portloom.search.fuses import allowed_at


class SeatChoices:
    """A unit at one place and way round."""

    def __init__(self, site: Site, rules: Sequence[Rule], pairs: Candidates, runs: Runs) -> None:
        """Take the site with the main fuses with which the rules allow it."""
        self.site = site
        self._rules = rules
        self._pairs = pairs
        self._runs = runs

    @property
    def place(self) -> str:
        """The name of the place."""
        return self.site.place.name

    @cached_property
    def _columns(self) -> tuple[Column, ...]:
        return columns_at(self.site, self._rules, self._pairs, self._runs)

    @property
    def fuses(self) -> tuple[FuseColumn, ...]:
        """The main fuses that it may need, small to large."""
        return tuple(column for column in self._columns if isinstance(column, FuseColumn))

    @property
    def circuits(self) -> tuple[Column, ...]:
        """Every circuit on every kind of port."""
        return tuple(column for column in self._columns if not isinstance(column, FuseColumn))

    # --- before any wire is judged

    @cached_property
    def _unjudged(self) -> tuple[OutputColumn, ...]:
        """Every circuit on every kind of output that the largest main fuse is above."""
        columns = outputs_at(self.site, self._pairs, self._runs)
        return tuple(column for column in columns if column.wired.trip < self.site.fuses[-1])

    @cached_property
    def cheapest(self) -> dict[Hashable, int]:
        """The least share that each load (what is alike has one number) and switch has in a column's cost.

        In whole micrometres, rounded down; a column's cost, or nought where it is negative, is shared evenly by all
        that it covers. Wires are not judged yet.
        """
        shares: dict[Hashable, int] = {}
        columns: list[Column] = [*self._unjudged, *inputs_at(self.site, self._pairs, self._runs)]
        for column in columns:
            for key, amount in _shares(column):
                shares[key] = min(shares.get(key, amount), amount)
        return shares

    @cached_property
    def later(self) -> frozenset[str]:
        """The later loads that some output may take, their wires not judged yet."""
        return frozenset(column.later.consumer.name for column in self._unjudged if column.later)


def _shares(column: Column) -> Iterator[tuple[Hashable, int]]:
    if isinstance(column, OutputColumn) and not column.later:
        alike, members = column.wired.site.job.alike, column.wired.circuit.members
        yield from ((alike[load.name], max(0, column.cost) // len(members)) for load in members)
    elif isinstance(column, InputColumn):
        switches = column.wired.circuit.switches
        yield from ((switch.name, max(0, column.cost) // len(switches)) for switch in switches)


def seats_of(job: Job, rules: Sequence[Rule]) -> tuple[SeatChoices, ...]:
    """Return every place and way round that the rules allow a unit of two, in the order of the file."""
    everywhere = shared_sites(job)
    outputs = output_circuits(job, rules)
    runs = runs_over(job, everywhere)
    runs.learn(outputs)
    pairs = candidates(job, rules, outputs, input_circuits(job, rules))
    allowed = (allowed_at(rules, site) for site in everywhere)
    return tuple(SeatChoices(site, rules, pairs, runs) for site in allowed if site is not None)


def lower_bound_of(one: SeatChoices, other: SeatChoices) -> int:
    """Return a cost that no plan with one unit on each seat is below, in micrometres (FORMULATION.md, B0')."""
    job = one.site.job
    fixed = fixed_cost(one.site.beside(other.site)).total
    room = one.later | other.later
    gained = sum(cost_of(later).total for later in job.loads.later if later.consumer.name in room)
    kept = [[job.alike[load.name] for load in group] for group in together(job)]
    groups: list[Sequence[Hashable]] = [*kept, *([switch.name] for switch in job.inputs)]
    groups += [[number] for number in job.alike.values() if not any(number in group for group in kept)]
    return fixed - gained + sum(_cheaper(group, one, other) for group in groups)


def _cheaper(group: Sequence[Hashable], one: SeatChoices, other: SeatChoices) -> int:
    """Return what a group costs at least on the unit where it costs less; nothing where no unit takes it."""
    taking = (seat.cheapest for seat in (one, other) if all(key in seat.cheapest for key in group))
    return min((sum(cheapest[key] for key in group) for cheapest in taking), default=0)
