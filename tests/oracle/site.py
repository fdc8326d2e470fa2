"""One place and one way round: what a circuit costs and needs on each port."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from itertools import pairwise

from .catalogue import Wire
from .circuits import Circuit
from .electrics import input_fits, trip_ma
from .frame import Frame, Run
from .job import CONNECTOR_MOHM, Job, Laid
from .things import InPort, Load, Output, Place, Switch

FUSE_DROP_UV = 100_000  # at the rating, in proportion; common practice
FEED_DROP_UV = 150_000
GROUPS = {
    "dipped beam": "headlamp",
    "main beam": "headlamp",
    "daytime lamp": "headlamp",
    "ignition": "engine",
    "engine controller": "engine",
    "fuel pump": "engine",
    "brake lamp": "brake lamp",
    "left indicator": "indicators",
    "right indicator": "indicators",
    "position lamp": "position lamps",
    "tail lamp": "position lamps",
    "plate lamp": "position lamps",
}


@dataclass(frozen=True)
class Column:
    """A circuit on a port: run and spare-port loss together (um), its wire, its current (mA)."""

    cost_um: int
    laid: Laid
    steady_ma: int


class Site:
    """A place and turn for a job."""

    def __init__(self, job: Job, place: Place, *, turned: bool) -> None:
        """Take the job, the place and whether front and rear are swapped."""
        self.job, self.bike, self.unit = job, job.bike, job.unit
        ends = (place.rear, place.front) if turned else (place.front, place.rear)
        self.faces = dict(zip(("front", "rear"), ends, strict=True))
        self.feed_face = self.faces[self.unit.face]
        self.feed_run = job.path(self.bike.battery, self.feed_face)
        self.feed_wire = self._feed_wire()
        self.output_column = cache(self._output_column)
        self.input_column = cache(self._input_column)
        self._shared = cache(self._shared_uv)
        self._way = cache(self._shape)
        self.feed_uv = cache(self._feed_uv)

    def _feed_wire(self) -> Wire | None:
        most = self.unit.largest
        reels = [wire for wire in self.bike.reels if most is None or wire.area <= most]
        able = (wire for wire in reels if self._carries(wire) and self._feed_drop(wire) <= FEED_DROP_UV)
        wire = next(able, reels[-1] if reels else None)
        return wire if wire is not None and self._carries(wire) else None

    def _carries(self, wire: Wire) -> bool:
        return self.job.fuse_ma is not None and wire.carries_ma >= self.job.fuse_ma

    def _feed_drop(self, wire: Wire) -> Fraction:
        return self.job.legs_mohm(self.feed_run, wire) * max(self.job.feed_ma)

    @property
    def sound(self) -> bool:
        """Tell whether main fuse, feed and fed loads can be had at all."""
        return self.feed_wire is not None and self.job.fed is not None

    def fixed(self) -> list[Laid]:
        """Give the wires of the looms that every plan at this site has."""
        earth = self.job.path(self.feed_face, self.job.nearest_earth(self.feed_face))
        feed = [Laid(self.feed_wire.diameter_um, self.feed_run)] if self.feed_wire else []
        return [*self.job.fixed, *feed, Laid(self.job.thin.diameter_um, earth)]

    def fixed_um(self) -> int:
        """Give the run (um) that every plan at this site has: feed, returns, fed loads."""
        return self.job.fixed_um + self.job.frame.length_um(self.feed_run)

    def _feed_uv(self, case: int) -> Fraction:
        """Give the drop (uV) of feed, its connectors and the main fuse in a case."""
        if self.feed_wire is None or self.job.fuse_ma is None:
            msg = "a site without a feed has no drop"
            raise ValueError(msg)
        connectors = self.job.connectors_on(self.feed_run, self.bike.battery, self.feed_face)
        mohm = self.job.legs_mohm(self.feed_run, self.feed_wire) + CONNECTOR_MOHM * connectors
        return self.job.feed_ma[case] * (mohm + Fraction(FUSE_DROP_UV, self.job.fuse_ma))

    def _shared_uv(self, held: Circuit, load: Load) -> Fraction:
        """Give the worst drop (uV) outside the circuit while it is on; 0 if it never is."""
        on = [case for case, names in enumerate(self.job.cases) if held.names & names]
        return max((self.feed_uv(case) + self.job.return_uv(load, case) for case in on), default=Fraction(0))

    def _shape(self, held: Circuit, root: str) -> "Shape | None":
        shut = frozenset().union(*(load.avoid for load in held.members))
        frame = Frame(self.bike.legs, shut) if shut else self.job.frame
        tree = frame.tree(frozenset({root, *(load.at for load in held.members)}))
        return None if tree is None else Shape(self.job, held, tree, root)

    def _output_column(self, held: Circuit, output: Output) -> Column | None:
        trip = trip_ma(held, output)
        shape = self._way(held, self.faces[output.face])
        if trip is None or shape is None or trip >= (self.job.fuse_ma or 0):
            return None
        if any(load.leads is not None and load.leads.carries_ma < trip for load in held.members):
            return None
        wire = next(self._sizes(held, output, shape, trip), None)
        if wire is None:
            return None
        loss = self.bike.ampere_um * (output.limit_ma - held.steady_ma)
        spare = Fraction(loss, 1000) + self.bike.ability_um * len(output.abilities - held.loads[0].modes)
        run_um = self.job.frame.length_um(shape.tree)
        return Column(run_um + int(spare), Laid(wire.diameter_um, shape.tree), held.steady_ma)

    def _sizes(self, held: Circuit, output: Output, shape: "Shape", trip: int) -> Iterator[Wire]:
        for wire in self.bike.reels:
            small = output.largest is None or wire.area <= output.largest
            if small and wire.carries_ma >= trip and self._drops_kept(held, output, shape, wire):
                yield wire

    def _drops_kept(self, held: Circuit, output: Output, shape: "Shape", wire: Wire) -> bool:
        on = any(held.names & names for names in self.job.cases)
        return not on or all(
            self._shared(held, load) + output.mohm * held.steady_ma + shape.run_uv(load, wire)
            <= self.bike.drop_uv[GROUPS.get(load.part, "other")]
            for load in held.members
        )

    def _input_column(self, switches: tuple[Switch, ...], port: InPort) -> Column | None:
        root = self.faces[port.face]
        tree = self.job.frame.tree(frozenset({root, *(point for switch in switches for point in switch.points)}))
        if tree is None or not all(input_fits(switch, port) for switch in switches):
            return None
        return Column(self.job.frame.length_um(tree), Laid(self.job.thin.diameter_um, tree), 0)

    def takes_later(self, held: Circuit, output: Output) -> bool:
        """Tell whether an output, free, takes a later load: mode, trip, main fuse, a wire."""
        trip = trip_ma(held, output)
        if trip is None or trip >= (self.job.fuse_ma or 0):
            return False
        return any(
            wire.carries_ma >= trip and (output.largest is None or wire.area <= output.largest)
            for wire in self.bike.reels
        )


class Shape:
    """A circuit's tree, and what current flows where along it."""

    def __init__(self, job: Job, held: Circuit, tree: Run, root: str) -> None:
        """Take the tree from `root` through the circuit's loads."""
        self.job, self.tree, self.root = job, tree, root
        self._paths = job.frame.paths_in(tree, root)
        self._beyond_ma = {
            number: sum(load.current_ma for load in held.members if number in self._paths[load.at]) for number in tree
        }

    def run_uv(self, load: Load, wire: Wire) -> Fraction:
        """Give the drop (uV) along the run to a load, connectors inside it included."""
        path = self._paths[load.at]
        along = sum((self._beyond_ma[n] * self.job.legs_mohm(frozenset({n}), wire) for n in path), Fraction(0))
        inside = [
            entering
            for entering, leaving in pairwise(path)
            if set(self.job.bike.legs[entering].ends) & set(self.job.bike.legs[leaving].ends) & self.job.bike.connectors
        ]
        return along + sum(CONNECTOR_MOHM * self._beyond_ma[entering] for entering in inside)
