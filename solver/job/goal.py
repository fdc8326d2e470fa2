"""The goal of a plan: wire run and spare-port loss, in micrometres of wire."""

from collections.abc import Iterable

from solver.job.wired import WiredOutput
from solver.job.wires import COUNTED, Way
from solver.words.quantities import Micrometres


def counted_run(ways: Iterable[Way]) -> Micrometres:
    """Return the run of the fixed wires that count: feed, returns and fed loads."""
    return Micrometres(sum(way.run.length for way in ways if way.kind in COUNTED))


def port_loss(wired: WiredOutput) -> Micrometres:
    """Return what an output in use is lost for: the amperes and abilities that its circuit leaves.

    The bike's weights give what an ampere and an ability are worth.
    """
    weights, output, circuit = wired.site.job.bike.weights, wired.output, wired.circuit
    amperes = weights.ampere * (output.limit - circuit.current)
    abilities = 1000 * weights.ability * len(output.modes - circuit.modes)
    return Micrometres(amperes + abilities)
