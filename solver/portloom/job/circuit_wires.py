"""The wires of an output's circuit: which there are, and how many of them lie in a leg of its tree.

One wire leads from the output to all that it feeds at once: to each load, but to the switch of its own where a load has
one, and to each dash that shows a load. From its own switch a wire leads on to its load, along the legs of the tree.
Where that goes back the way that the first one came, both lie there.
"""

from functools import cached_property

from portloom.base.values import dataclass
from portloom.job.circuits import OutputCircuit
from portloom.job.consumers import Consumer
from portloom.job.network import NOWHERE, Network, Run


@dataclass(frozen=True)
class OnwardWire:
    """The wire from a load's own switch to the load: it carries what that load draws, and nothing else."""

    load: Consumer
    run: Run
    """Without legs where both are at one point."""


@dataclass(frozen=True)
class CircuitWires:
    """The wires of a circuit."""

    first: Run
    """Of the wire from the output, which parts at splices."""
    onward: tuple[OnwardWire, ...] = ()

    @cached_property
    def legs(self) -> tuple[int, ...]:
        """The numbers of the legs in which they lie, sorted; one where two lie is there twice."""
        return tuple(sorted((*self.first.legs, *(leg for wire in self.onward for leg in wire.run.legs))))

    def onward_to(self, load: Consumer) -> Run:
        """Return the run of the wire from a load's own switch; nowhere for a load without one."""
        return next((wire.run for wire in self.onward if wire.load.name == load.name), NOWHERE)


def circuit_wires(network: Network, circuit: OutputCircuit, tree: Run, root: str) -> CircuitWires:
    """Return the wires of a circuit that lie along the legs of its tree from ``root``."""
    switched = [load for load in circuit.loads if load.own_switch is not None]
    if not switched:
        return CircuitWires(tree)
    onward = (OnwardWire(load, network.within(tree, load.own_switch or "", load.at or "")) for load in switched)
    return CircuitWires(network.joining(tree, root, circuit.tips), tuple(onward))
