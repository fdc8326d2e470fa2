"""A plan as it lies on the bike: the site, and every circuit on its port."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from solver.job.fixed import fixed_wires
from solver.job.losses import Losses
from solver.job.site import Site
from solver.job.wired import WiredInput, WiredOutput
from solver.words.quantities import Micrometres


@dataclass(frozen=True)
class Laid:
    """Every circuit with its wire; ``later`` are the free outputs given to later loads."""

    site: Site
    losses: Losses
    outputs: tuple[WiredOutput, ...]
    inputs: tuple[WiredInput, ...]
    later: tuple[WiredOutput, ...]

    def with_output(self, wired: WiredOutput) -> "Laid":
        """Give the same with one more circuit."""
        return replace(self, outputs=(*self.outputs, wired))

    def with_input(self, wired: WiredInput) -> "Laid":
        """Give the same with one more input circuit."""
        return replace(self, inputs=(*self.inputs, wired))

    def wires(self) -> Iterator[tuple[tuple[int, ...], Micrometres]]:
        """Give every wire's legs and outer diameter."""
        for wired in self.outputs:
            yield wired.run.legs, wired.drawn.diameter
        for switches in self.inputs:
            yield switches.run.legs, self.site.job.reels[0].diameter
        for wire in fixed_wires(self.site):
            yield from [(wire.way.run.legs, wire.diameter)] * wire.count
