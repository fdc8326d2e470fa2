"""Circuits laid from a port: their wire, its trip, its size, and what reaches each load."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from solver.electrics.copper import Conductor
from solver.electrics.drop import NO_MATTER, MicroVolts, greatest_resistance, resistance_drop, wire_drop
from solver.electrics.trip import trip_for, trip_values
from solver.frame.network import Run
from solver.job.circuits import InputCircuit, OutputCircuit
from solver.job.losses import Losses
from solver.job.site import Site
from solver.job.strand import Path, paths
from solver.words.quantities import MicroOhms, MilliAmps
from solver.words.unit import Output, Port


@dataclass(frozen=True)
class Strand:
    """An output circuit's wire from one face: its run, and the path to each of its points."""

    circuit: OutputCircuit
    run: Run
    paths: dict[str, Path]


def strand_of(site: Site, circuit: OutputCircuit, run: Run, face_point: str) -> Strand:
    """Lay a circuit along ``run``; raise Torn where its legs do not join face and loads."""
    currents = {
        point: MilliAmps(sum(load.current for load in circuit.loads if load.at == point))
        for point in circuit.points
    }
    connectors = site.job.bike.frame.connectors
    return Strand(circuit, run, paths(site.job.network, run, face_point, currents, connectors))


class WiredOutput:
    """A circuit on an output: what a rule needs to know to judge it."""

    def __init__(self, site: Site, losses: Losses, strand: Strand, output: Output) -> None:
        """Take the circuit's wire as laid, and the output (any of its kind)."""
        self.site = site
        self.circuit = strand.circuit
        self.run = strand.run
        self.output = output
        self._losses = losses
        self._paths = strand.paths

    @cached_property
    def trip(self) -> MilliAmps:
        """What the output's electronic fuse is set to; its largest value where none is right."""
        right = trip_for(self.output, self.circuit.current, self.circuit.inrush)
        return right if right is not None else max(trip_values(self.output), default=self.output.limit)

    @cached_property
    def reels(self) -> Sequence[Conductor]:
        """The reels that the trip protects and the terminal takes, thin to thick."""
        terminal = self.output.wire_max
        return [
            reel
            for reel in self.site.job.reels
            if reel.ampacity >= self.trip and (terminal is None or reel.size.area <= terminal.area)
        ]

    @cached_property
    def conductor(self) -> Conductor | None:
        """The thinnest wire that the trip protects, the terminal takes, and every drop allows."""
        greatest = min((self._greatest_to(point) for point in self.circuit.points), default=NO_MATTER)
        return next((reel for reel in self.reels if reel.resistance <= greatest), None)

    def _greatest_to(self, point: str) -> int:
        """Give the greatest resistance at 20 C that every load at ``point`` allows the run."""
        path = self._paths[point]
        connector = self.site.job.assume["connector"]
        lost = self.output.resistance * self.circuit.current + connector * path.through_connectors
        return greatest_resistance(self._losses.allowed_to(self.circuit, point), lost, path.moment)

    def drop(self, point: str, conductor: Conductor) -> MicroVolts:
        """Give what is lost in the output and on the run to ``point``."""
        path = self._paths[point]
        connector = MicroOhms(self.site.job.assume["connector"])
        return MicroVolts(
            resistance_drop(self.output.resistance, self.circuit.current)
            + resistance_drop(connector, path.through_connectors)
            + wire_drop(conductor, path.moment)
        )

    def drops(self, conductor: Conductor) -> dict[str, MicroVolts]:
        """Give what each load loses on its whole path in its worst case."""
        return {
            load.name: MicroVolts(self._losses.before_run(load) + self.drop(load.at, conductor))
            for load in self.circuit.loads
            if load.at is not None
        }


@dataclass(frozen=True)
class WiredInput:
    """Switches on an input, and their wire."""

    site: Site
    circuit: InputCircuit
    run: Run
    port: Port
