"""A circuit on an output at a site: its tree, what flows where along it, and the sizes that serve."""

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, cached_property
from itertools import pairwise

from .catalogue import Wire
from .circuits import Circuit
from .flow import Flow
from .frame import Run
from .job import Job, Laid
from .things import Load, Output


class Shape:
    """A circuit's tree, and what current flows where along it."""

    def __init__(self, job: Job, held: Circuit, tree: Run, root: str) -> None:
        """Take the tree from `root` through the circuit's loads."""
        self.job, self.held, self.tree = job, held, tree
        self.paths = job.frame.paths_in(tree, root)
        self.beyond_ma = cache(self._beyond_ma)
        self.shorted_ma = cache(self._shorted_ma)
        self._lost = cache(self._lost_along)
        self._wires_on = self._meeting()

    def _beyond_ma(self, flow: Flow, leg: int) -> int:
        """Return the current (mA) that the circuit, while on, has in a leg."""
        return sum(flow.ma[load.name] for load in self.held.members if leg in self.paths[load.at])

    def run_uv(self, flow: Flow, load: Load, wire: Wire) -> Fraction:
        """Return the drop (uV) along the run to a load: wire, connectors inside it, and splices."""
        weighted, contacts = self._lost(flow, load)
        return wire.mohm_per_m * weighted + contacts

    def _lost_along(self, flow: Flow, load: Load) -> tuple[Fraction, Fraction]:
        """Return hot metres on the way to a load, each times its current (mA), and what contacts lose (uV)."""
        path, contacts = self.paths[load.at], self.job.bike.contacts
        weighted = sum((self.beyond_ma(flow, n) * self.job.ohm_metres[n] for n in path), Fraction(0))
        lost = sum((contacts.connector * self.beyond_ma(flow, n) for n in self._connectors_inside(load)), Fraction(0))
        entering = [sum(flow.ma[other.name] for other in self.held.members), *(self.beyond_ma(flow, n) for n in path)]
        spliced = (ma for ma, point in zip(entering, self._points_to(load), strict=True) if self._wires_on[point] > 2)
        return weighted, lost + contacts.splice * sum(spliced)

    def _points_to(self, load: Load) -> list[str]:
        """Return the points on the way to a load, the first where the unit is."""
        path = self.paths[load.at]
        ways = {way: point for point, way in self.paths.items()}
        return [ways[path[:count]] for count in range(len(path) + 1)]

    def _meeting(self) -> Counter[str]:
        """Count the wires that meet at each point: the unit's, those of each leg, the tails of loads and dashes."""
        root = next(point for point, way in self.paths.items() if not way)
        legs = (end for number in self.tree for end in self.job.bike.legs[number].ends)
        return Counter([root, *legs, *(load.at for load in self.held.ends)])

    def _shorted_ma(self, load: Load, wire: Wire, before_mohm: Fraction) -> Fraction:
        """Return what a short at a load draws (mA) through the run and what is before it."""
        return self.job.bike.running_mv * 1000 / (before_mohm + self._way_mohm(load, wire))

    def _way_mohm(self, load: Load, wire: Wire) -> Fraction:
        """Return the resistance (mohm) of the way to a load, connectors inside it included."""
        connectors = self.job.bike.contacts.connector * len(self._connectors_inside(load))
        return self.job.legs_mohm(self.paths[load.at], wire) + connectors

    def _connectors_inside(self, load: Load) -> list[int]:
        """Give, for each connector strictly inside the way to a load, the leg that enters it."""
        ends = [set(leg.ends) for leg in self.job.bike.legs]
        return [
            entering
            for entering, leaving in pairwise(self.paths[load.at])
            if ends[entering] & ends[leaving] & self.job.bike.connectors
        ]


@dataclass(frozen=True, eq=False)
class Drive:
    """A circuit on an output: its trip (mA), its tree, its legs with 1 A or more, and which reels serve alone."""

    held: Circuit
    output: Output
    trip_ma: int
    shape: Shape
    loaded: Run
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

    def on_in(self, on: frozenset[str]) -> bool:
        """Tell whether the circuit is on when these loads are."""
        return not on.isdisjoint(self.held.names)


@dataclass(frozen=True)
class Column:
    """A circuit on a port: run and spare-port loss together (um), its wire at first size, its current (mA)."""

    cost_um: int
    laid: Laid
    steady_ma: int
    drive: Drive | None
