"""A plan as it lies on the bike: the site, and every circuit on its port."""

from dataclasses import dataclass, replace

from solver.job.losses import Losses
from solver.job.site import Site
from solver.job.wired import WiredInput, WiredOutput


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
