"""A circuit on an output at a site: its tree, what flows where along it, and the sizes that serve."""

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from itertools import pairwise

from .catalogue import Wire
from .circuits import Circuit
from .flow import Flow
from .frame import Run
from .job import CONNECTOR_MOHM, Job, Laid
from .things import Load, Output


class Shape:
    """A circuit's tree, and what current flows where along it."""

    def __init__(self, job: Job, held: Circuit, tree: Run, root: str) -> None:
        """Take the tree from `root` through the circuit's loads."""
        self.job, self.held, self.tree = job, held, tree
        self.paths = job.frame.paths_in(tree, root)
        self.beyond_ma = cache(self._beyond_ma)
        self._inside = cache(self._connectors_inside)

    def _beyond_ma(self, flow: Flow, leg: int) -> int:
        """Give the current (mA) that the circuit, while on, has in a leg."""
        return sum(flow.ma[load.name] for load in self.held.members if leg in self.paths[load.at])

    def run_uv(self, flow: Flow, load: Load, wire: Wire) -> Fraction:
        """Give the drop (uV) along the run to a load, connectors inside it included."""
        path = self.paths[load.at]
        along = sum((self.beyond_ma(flow, n) * self.job.legs_mohm((n,), wire) for n in path), Fraction(0))
        return along + sum(CONNECTOR_MOHM * self.beyond_ma(flow, entering) for entering in self._inside(load))

    def way_mohm(self, load: Load, wire: Wire) -> Fraction:
        """Give the resistance (mohm) of the way to a load, connectors inside it included."""
        return self.job.legs_mohm(self.paths[load.at], wire) + CONNECTOR_MOHM * len(self._inside(load))

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
    """A circuit on an output: its trip (mA), its tree, the sizes that serve alone, and its legs with 1 A or more.

    `before_mohm` is what lies before the output: the feed, its connectors and the main fuse.
    """

    held: Circuit
    output: Output
    trip_ma: int
    shape: Shape
    sizes: tuple[Wire, ...]
    loaded: Run
    before_mohm: Fraction

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
