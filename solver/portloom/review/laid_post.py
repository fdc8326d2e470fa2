"""A posted plan laid on the bike: each circuit by its shortest tree, set and wired as posted where that is."""

from collections.abc import Sequence
from dataclasses import replace

from portloom.base.bike import Multiplexer, Switch
from portloom.base.unit import Port
from portloom.inputs.checks.sharing import MOST
from portloom.job.circuits import InputCircuit, OutputCircuit
from portloom.job.fixed_wires import multiplexer_return
from portloom.job.goal import cost_of
from portloom.job.job import Job
from portloom.job.laid import Laid, MultiplexerStand, WiredInput, WiredMultiplexer, WiredSwitch
from portloom.job.losses import Losses
from portloom.job.network import NOWHERE, Run, Trees
from portloom.job.site import Site
from portloom.job.wired import WiredOutput, laid_shortest
from portloom.review.matching import Posted
from portloom.review.settings import PostedSettings
from portloom.rules.as_posted import AsPosted
from portloom.rules.clash import Clash
from portloom.rules.faults import no_wire_to, too_many_on


def circuit_of(job: Job, names: Sequence[str]) -> OutputCircuit:
    """Return the circuit of the loads of these names, with all that is fed from them."""
    return job.circuit(tuple(load for load in job.loads.on_unit if load.name in names))


def laid_of_post(site: Site, posted: Posted) -> tuple[Laid, tuple[Clash, ...]]:
    """Lay what is posted, each circuit by its shortest tree; and tell what can't be laid."""
    laid, unlaid = Laid(site, Losses(site), (), (), ()), []
    for port, names in posted.outputs.items():
        wired = _output(laid, port, circuit_of(site.job, names), posted.settings) if names else None
        if isinstance(wired, Clash):
            unlaid.append(wired)
        elif wired is not None:
            laid = laid.with_output(wired)
    boxes = {box.name for box in site.job.bike.multiplexers}
    for port, names in posted.inputs.items():
        own = [name for name in names if name not in boxes]
        switches = _input(site, port, own) if own and port not in boxes else None
        if isinstance(switches, Clash):
            unlaid.append(switches)
        elif switches is not None:
            laid = laid.with_input(switches)
    return with_multiplexers(laid, posted), tuple(unlaid)


def _output(laid: Laid, port: str, circuit: OutputCircuit, settings: PostedSettings) -> WiredOutput | Clash | None:
    """Lay a circuit from its port by the shortest tree, set and wired as posted where that is."""
    if not circuit.members:
        return None
    site, job = laid.site, laid.site.job
    output = next(output for output in job.unit.outputs if output.name == port)
    if len(circuit.members) > MOST:
        return too_many_on("outputs", port, circuit.label, len(circuit.members), MOST)
    wired = laid_shortest(site, laid.losses, circuit, output)
    if wired is None:
        return no_wire_to(site.face(output.face), circuit, job)
    trip, size = settings.trips.get(port), settings.sizes.get(port)
    if trip is None and size is None:
        return wired
    return AsPosted(wired, trip, size)


def _input(site: Site, port: str, names: Sequence[str]) -> WiredInput | Clash | None:
    circuit = InputCircuit(tuple(switch for switch in site.job.inputs if switch.name in names))
    source = next(source for source in site.job.unit.inputs if source.name == port)
    if not circuit.switches:
        return None
    if len(circuit.points) > MOST:
        return too_many_on("inputs", port, port, len(names), MOST)
    face = site.face(source.face)
    run = Trees(site.job.network, circuit.points, (face,)).tree(circuit.points, face)
    return None if run is None else WiredInput(site, circuit, run, source)


def with_multiplexers(laid: Laid, posted: Posted) -> Laid:
    """Return the same with each multiplexer that has switches on it and is on an input itself."""
    ports = {name: port for port, held in posted.inputs.items() for name in held}
    for box in laid.site.job.bike.multiplexers:
        source = next((port for port in laid.site.job.unit.inputs if port.name == ports.get(box.name)), None)
        names = posted.inputs.get(box.name, ())
        switches = [switch for switch in laid.site.job.inputs if switch.name in names]
        if source is not None and switches:
            laid = _with_one(laid, box, source, switches, posted.stands.get(box.name))
    return laid


def _with_one(laid: Laid, box: Multiplexer, source: Port, switches: Sequence[Switch], at: str | None) -> Laid:
    points = [at] if at in box.at and at is not None else box.at
    stands = [_Standing(laid.site, MultiplexerStand(box, point), source, switches) for point in points]
    best = min(stands, key=lambda stand: stand.run)
    return replace(
        laid,
        site=laid.site.joined_by([best.back] if best.back else []),
        switches=(*laid.switches, *best.switches),
        multiplexers=(*laid.multiplexers, best.multiplexer),
    )


class _Standing:
    """A multiplexer at one of its points, with the wires that it takes there."""

    def __init__(self, site: Site, stand: MultiplexerStand, source: Port, switches: Sequence[Switch]) -> None:
        face, network = site.face(source.face), site.job.network
        self.stand = stand
        self.multiplexer = WiredMultiplexer(site, stand, network.wire(face, stand.at) or NOWHERE, source)
        self.switches = [WiredSwitch(site, switch, self._tree(site, switch), stand) for switch in switches]
        back = multiplexer_return(site.job, stand.at)
        self.back = None if back is None or back.key in {way.key for way in site.fixed_of("return")} else back
        """The return that it brings; None where it needs none or one is there already."""
        self.run = (
            cost_of(self.multiplexer).wire_run
            + sum(cost_of(wired).wire_run for wired in self.switches)
            + (cost_of(self.back).wire_run if self.back else 0)
        )

    def _tree(self, site: Site, switch: Switch) -> Run:
        points = switch.reached
        return Trees(site.job.network, points, (self.stand.at,)).tree(points, self.stand.at) or NOWHERE
