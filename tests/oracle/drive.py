"""A circuit on an output at a site: its tree, what flows where along it, and the sizes that serve."""

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, cached_property
from itertools import pairwise, takewhile

from .catalogue import Wire
from .circuits import Circuit
from .flow import Flow
from .frame import Run
from .job import Job, Laid
from .things import Load, Output


class Shape:
    """A circuit's tree, its wires along it, and what current flows where.

    The output's wire leads to each load, or to the switch of its own instead; from there the load has a wire for
    itself, along the same tree.
    """

    def __init__(self, job: Job, held: Circuit, tree: Run, root: str) -> None:
        """Take the tree from `root` through the circuit's loads."""
        self.job, self.held, self.tree = job, held, tree
        self.paths = job.frame.paths_in(tree, root)
        self.first: Run = frozenset(leg for load in held.ends for leg in self.paths[_stop(load)])
        self.onward = {load.name: self._from_switch(load) for load in held.members if load.own_switch}
        self.beyond_ma = cache(self._beyond_ma)
        self.shorted_ma = cache(self._shorted_ma)
        self._lost = cache(self._lost_along)
        self._wires_on = self._meeting()

    def _from_switch(self, load: Load) -> tuple[int, ...]:
        """Return the legs from a load's own switch to the load, in order: back to where the ways part, and out."""
        there, here = self.paths[load.own_switch], self.paths[load.at]
        same = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(there, here, strict=False)))
        return (*reversed(there[same:]), *here[same:])

    @property
    def runs(self) -> tuple[Run, ...]:
        """The legs of each of its wires."""
        return (self.first, *map(frozenset, self.onward.values()))

    def loaded(self, least_ma: int) -> tuple[int, ...]:
        """Return the legs in which a wire of it has so much current, as often as it has such wires there."""
        flow = self.job.steady
        first = [leg for leg in self.first if self.beyond_ma(flow, leg) >= least_ma]
        return (*first, *(leg for name, way in self.onward.items() if flow.ma[name] >= least_ma for leg in way))

    def _beyond_ma(self, flow: Flow, leg: int) -> int:
        """Return the current (mA) that the output's wire, while the circuit is on, has in a leg."""
        return sum(flow.ma[load.name] for load in self.held.members if leg in self.paths[_stop(load)])

    def run_uv(self, flow: Flow, load: Load, wire: Wire) -> Fraction:
        """Return the drop (uV) along the run to a load: wire, connectors inside it, and splices."""
        weighted, contacts = self._lost(flow, load)
        return wire.mohm_per_m * weighted + contacts

    def _lost_along(self, flow: Flow, load: Load) -> tuple[Fraction, Fraction]:
        """Return hot metres on the way to a load, each times its current (mA), and what contacts lose (uV)."""
        path, contacts = self.paths[_stop(load)], self.job.bike.contacts
        onward, own_ma = self.onward.get(load.name, ()), flow.ma[load.name]
        weighted = sum((self.beyond_ma(flow, n) * self.job.ohm_metres[n] for n in path), Fraction(0))
        weighted += sum((own_ma * self.job.ohm_metres[n] for n in onward), Fraction(0))
        lost = sum((contacts.connector * self.beyond_ma(flow, n) for n in self._connectors_inside(path)), Fraction(0))
        lost += contacts.connector * own_ma * len(self._connectors_inside(onward))
        entering = [sum(flow.ma[other.name] for other in self.held.members), *(self.beyond_ma(flow, n) for n in path)]
        spliced = (ma for ma, point in zip(entering, self._points_to(load), strict=True) if self._wires_on[point] > 2)
        return weighted, lost + contacts.splice * sum(spliced)

    def _points_to(self, load: Load) -> list[str]:
        """Return the points on the way of the output's wire to a load, the first where the unit is."""
        path = self.paths[_stop(load)]
        ways = {way: point for point, way in self.paths.items()}
        return [ways[path[:count]] for count in range(len(path) + 1)]

    def _meeting(self) -> Counter[str]:
        """Count the output's wires that meet at each point: the unit's, those of each leg, tails of what they feed."""
        root = next(point for point, way in self.paths.items() if not way)
        legs = (end for number in self.first for end in self.job.bike.legs[number].ends)
        return Counter([root, *legs, *map(_stop, self.held.ends)])

    def _shorted_ma(self, load: Load, wire: Wire, before_mohm: Fraction) -> Fraction:
        """Return what a short at a load draws (mA) through the run and what is before it."""
        return self.job.bike.running_mv * 1000 / (before_mohm + self._way_mohm(load, wire))

    def _way_mohm(self, load: Load, wire: Wire) -> Fraction:
        """Return the resistance (mohm) of the way to a load, connectors inside it included."""
        ways = (self.paths[_stop(load)], self.onward.get(load.name, ()))
        connectors = sum(len(self._connectors_inside(way)) for way in ways)
        metal = sum((self.job.legs_mohm(way, wire) for way in ways), Fraction(0))
        return metal + self.job.bike.contacts.connector * connectors

    def _connectors_inside(self, way: tuple[int, ...]) -> list[int]:
        """Give, for each connector strictly inside a way, the leg that enters it."""
        ends = [set(leg.ends) for leg in self.job.bike.legs]
        return [
            entering for entering, leaving in pairwise(way) if ends[entering] & ends[leaving] & self.job.bike.connectors
        ]


def _stop(load: Load) -> str:
    """Return where the output's wire ends for a load: at its own switch, where it has one."""
    return load.own_switch or load.at


@dataclass(frozen=True, eq=False)
class Drive:
    """A circuit on an output: its trip (mA), its tree, its legs with 1 A or more, and which reels serve alone.

    A leg with two such wires of it is in `loaded` twice.
    """

    held: Circuit
    output: Output
    trip_ma: int
    shape: Shape
    loaded: tuple[int, ...]
    reels: tuple[Wire, ...]
    serves: "Callable[[Drive, Wire], bool]"

    @cached_property
    def thinnest(self) -> Wire | None:
        """The first size that serves; None where none does."""
        return next((wire for wire in self.reels if self.serves(self, wire)), None)

    @cached_property
    def sizes(self) -> tuple[Wire, ...]:
        """All sizes that serve, thinnest first; few circuits are asked for them."""
        return tuple(wire for wire in self.reels if self.serves(self, wire))

    def laid(self, wire: Wire) -> tuple[Laid, ...]:
        """Return its wires in a size."""
        return tuple(Laid(wire.diameter_um, run) for run in self.shape.runs)

    def on_in(self, on: frozenset[str]) -> bool:
        """Tell whether the circuit is on when these loads are."""
        return not on.isdisjoint(self.held.names)


@dataclass(frozen=True)
class Column:
    """A circuit on a port: run and spare-port loss together (um), its wires at first size, its current (mA)."""

    cost_um: int
    wires: tuple[Laid, ...]
    steady_ma: int
    drive: Drive | None
