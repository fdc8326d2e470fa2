"""What wires must join wherever they lie: which legs may be closed at a site, and how many are in use at least."""

from collections.abc import Iterable, Iterator
from functools import cached_property

from portloom.base.unit import FACES
from portloom.job.circuits import InputCircuit
from portloom.job.fixed_wires import FixedWire
from portloom.job.job import Job
from portloom.job.network import Network
from portloom.job.site import RETURNS, Site

Legs = frozenset[int]
NONE: Legs = frozenset()


class Joints:
    """The points that every plan at a site joins, whichever legs it uses."""

    def __init__(self, site: Site) -> None:
        """Take the site with every leg open."""
        self._site = site
        self._job = site.job
        self._fixed = tuple(wire for wire in site.fixed_wires if wire.kind != "alongside")
        self._faces = tuple(dict.fromkeys(site.face(face) for face in FACES))

    # --- whether all can be joined

    def joined(self, over: Network) -> bool:
        """Tell whether open legs lead to all that has a wire in every plan."""
        return all(self._is_laid(wire, over) for wire in self._fixed) and all(
            any(over.wire(face, point, avoid) is not None for face in self._faces) for point, avoid in self._to_unit
        )

    def _is_laid(self, wire: FixedWire, over: Network) -> bool:
        start, *ends = wire.ends
        if wire.kind in RETURNS:
            return any(over.wire(start, earth) is not None for earth in self._job.earths_for(start))
        avoid = self._avoided.get(wire.name, frozenset()) if wire.kind == "fed load" else frozenset()
        return all(over.wire(start, end, avoid) is not None for end in ends)

    @cached_property
    def _avoided(self) -> dict[str, Legs]:
        fed = (one.consumer for one in self._job.loads.fed)
        return {load.name: self._job.network.numbers_of(load.avoid) for load in fed}

    @cached_property
    def _to_unit(self) -> tuple[tuple[str, Legs], ...]:
        """The points of loads and switches of the unit, with the legs that their wire avoids."""
        return tuple(dict.fromkeys(_to_unit(self._job)))

    # --- how many legs are in use

    @cached_property
    def _points(self) -> frozenset[str]:
        """All points that a wire reaches in every plan; of a return only where it begins."""
        fixed = (wire.ends[:-1] if wire.kind in RETURNS else wire.ends for wire in self._fixed)
        return frozenset(point for ends in fixed for point in ends).union(point for point, _ in self._to_unit)

    def fewest(self, used: Legs) -> int:
        """Return a number of legs that no plan which uses all of ``used`` is below (FORMULATION.md, L3).

        Each piece that must be joined to the unit, and is not yet, takes one more leg at least.
        """
        pieces = _Pieces(self._job.network.points)
        pieces.join(self._faces)
        ends = [self._job.network.legs[number].between for number in used]
        for both in ends:
            pieces.join(both)
        wanted = {pieces.of(point) for point in self._points.union(*ends)}
        return len(used) + len(wanted - {pieces.of(self._faces[0])})


def _to_unit(job: Job) -> Iterator[tuple[str, Legs]]:
    for load in job.loads.on_unit:
        circuit = job.circuit((load,))
        avoid = job.network.numbers_of(circuit.avoid)
        yield from ((point, avoid) for point in circuit.points)
    for switch in job.inputs:
        yield from ((point, frozenset()) for point in InputCircuit((switch,)).points)


class _Pieces:
    """Points in pieces that are joined."""

    def __init__(self, points: Iterable[str]) -> None:
        self._under = {point: point for point in points}

    def of(self, point: str) -> str:
        while self._under[point] != point:
            point = self._under[point]
        return point

    def join(self, points: Iterable[str]) -> None:
        first, *others = (self.of(point) for point in points)
        for other in others:
            if self.of(other) != self.of(first):
                self._under[self.of(other)] = self.of(first)
