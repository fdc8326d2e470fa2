"""A unit of two at one place and way round: what it may be chosen to drive, with each main fuse and with any.

Columns as they are with whichever main fuse suits them best are those of the relaxation: no plan has them cheaper,
thinner or sturdier.
"""

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from portloom.base.copper import Conductor
from portloom.base.quantities import MilliAmps
from portloom.base.sizes import WireSize
from portloom.job.consumers import Return
from portloom.job.goal import cost_of, fixed_cost
from portloom.job.job import Job
from portloom.job.losses import Losses
from portloom.job.site import Site, feed_conductor
from portloom.job.wired import WiredOutput
from portloom.rules.book import place_clashes
from portloom.rules.shapes import Rule
from portloom.rules.sites import shared_sites
from portloom.rules.two_units import together
from portloom.search.best import runs_over
from portloom.search.candidates import Candidates, candidates, input_circuits, output_circuits
from portloom.search.columns import Column, InputColumn, OutputColumn
from portloom.search.enumeration import Runs, allowed, inputs_at, outputs_at


@dataclass(frozen=True)
class AnyFuse:
    """A column as it is with the main fuse that suits it best, and the fuses that allow it."""

    column: Column
    fuses: frozenset[MilliAmps]


class _Best(WiredOutput):
    """A circuit on an output with whichever main fuse suits it best: its wire, and how a short is borne."""

    def __init__(self, each: Sequence[WiredOutput], conductor: Conductor | None = None) -> None:
        """Take the circuit as it is with each main fuse."""
        like = each[0]
        super().__init__(like.site, like.losses, like.wire, conductor)
        self._each = each

    def sized(self, conductor: Conductor) -> WiredOutput:
        return _Best(self._each, conductor)

    @cached_property
    def serving(self) -> Sequence[Conductor]:
        """The reels that serve with any main fuse, thin to thick."""
        return [reel for reel in self.reels if any(reel in wired.serving for wired in self._each)]

    def return_withstands(self, way: Return, size: WireSize) -> bool:
        """Tell whether a joint return of ``size`` stands a short with any main fuse and wire."""
        if super().return_withstands(way, size):
            return True
        return any(wired.sized(reel).return_withstands(way, size) for wired in self._each for reel in wired.serving)


def with_any(columns: Sequence[tuple[MilliAmps, Column]]) -> AnyFuse:
    """Return one column of those that differ in the main fuse alone."""
    first = columns[0][1]
    if isinstance(first, OutputColumn) and not first.later:
        wired = [column.wired for _, column in columns if isinstance(column, OutputColumn)]
        first = replace(first, wired=_Best(wired))
    return AnyFuse(first, frozenset(fuse for fuse, _ in columns))


@dataclass(frozen=True)
class Fused:
    """A unit at its place with one main fuse, and the columns that it then has."""

    site: Site
    losses: Losses
    columns: tuple[Column, ...]


class SeatChoices:
    """A unit at one place and way round, with each main fuse that it may have there."""

    def __init__(self, sites: Sequence[Site], rules: Sequence[Rule], pairs: Candidates, runs: Runs) -> None:
        """Take the site with each main fuse that the rules allow, small to large; one at least."""
        self.sites = tuple(sites)
        self._rules = rules[::-1]
        """Backwards: what compares a trip with the main fuse comes before what works out a wire."""
        self._pairs = pairs
        self._runs = runs
        self._with: dict[MilliAmps, Fused] = {}

    @property
    def place(self) -> str:
        """The name of the place."""
        return self.sites[0].place.name

    @cached_property
    def fuses(self) -> tuple[MilliAmps, ...]:
        """The main fuses that it may have, small to large."""
        return tuple(site.main_fuse or MilliAmps(0) for site in self.sites)

    def with_fuse(self, fuse: MilliAmps) -> Fused:
        """Return what there is to choose with a main fuse."""
        if fuse not in self._with:
            site = self.sites[self.fuses.index(fuse)]
            losses = Losses(site)
            outputs = (replace(column, wired=column.wired.fed_at(site, losses)) for column in self._outputs)
            inputs = inputs_at(site, self._pairs, self._runs)
            self._with[fuse] = Fused(site, losses, (*allowed(self._rules, outputs), *inputs))
        return self._with[fuse]

    @cached_property
    def _outputs(self) -> tuple[OutputColumn, ...]:
        """Every circuit on every kind of output that some main fuse is above, whether its wire is allowed or not."""
        site = self.sites[0]
        columns = outputs_at(site, Losses(site), self._pairs, self._runs)
        return tuple(column for column in columns if column.wired.trip < self.fuses[-1])

    @cached_property
    def with_any(self) -> tuple[AnyFuse, ...]:
        """Every column that some main fuse allows, each once."""
        found: dict[tuple[object, ...], list[tuple[MilliAmps, Column]]] = {}
        for fuse in self.fuses:
            for column in self.with_fuse(fuse).columns:
                found.setdefault(_same(column), []).append((fuse, column))
        return tuple(with_any(these) for these in found.values())

    @cached_property
    def cheapest(self) -> dict[Hashable, int]:
        """The least share that each load (what is alike has one number) and switch has in a column's cost.

        In whole micrometres, rounded down; a column's cost, or nought where it is negative, is shared evenly by all
        that it covers. Wires are not judged yet.
        """
        shares: dict[Hashable, int] = {}
        columns: list[Column] = [*self._outputs, *inputs_at(self.sites[0], self._pairs, self._runs)]
        for column in columns:
            for key, amount in _shares(column):
                shares[key] = min(shares.get(key, amount), amount)
        return shares

    @cached_property
    def later(self) -> frozenset[str]:
        """The later loads that some output may take, their wires not judged yet."""
        return frozenset(column.later.consumer.name for column in self._outputs if column.later)

    @cached_property
    def leanest(self) -> Site:
        """The site with the thinnest feed and the smallest main fuse that it may have."""
        thinnest = min((feed_conductor(site) for site in self.sites), key=lambda reel: reel.size)
        return self.sites[0].with_first_feed(thinnest)


def _same(column: Column) -> tuple[object, ...]:
    """Return what tells the columns of a seat apart, whatever its main fuse."""
    if isinstance(column, OutputColumn):
        later = column.later and column.later.consumer.name
        return "output", id(column.wired.circuit), column.kind.like, later
    if isinstance(column, InputColumn):
        return "input", id(column.wired.circuit), column.kind.like
    raise TypeError(f"no {type(column).__name__} with two units")


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
    runs = runs_over(job, [sites[0] for sites in everywhere])
    runs.learn(outputs)
    pairs = candidates(job, rules, outputs, input_circuits(job, rules))
    return tuple(SeatChoices(sites, rules, pairs, runs) for sites in _allowed(rules, everywhere))


def _allowed(rules: Sequence[Rule], everywhere: Sequence[Sequence[Site]]) -> Iterator[Sequence[Site]]:
    for sites in everywhere:
        allowed = [site for site in sites if next(place_clashes(rules, site), None) is None]
        if allowed:
            yield allowed


def lower_bound_of(one: SeatChoices, other: SeatChoices) -> int:
    """Return a cost that no plan with one unit on each seat is below, in micrometres (FORMULATION.md, B0')."""
    job = one.sites[0].job
    fixed = fixed_cost(one.leanest.beside(other.leanest)).total
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
