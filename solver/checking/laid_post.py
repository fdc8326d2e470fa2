"""A posted plan laid on the bike: each circuit by its shortest tree, set and wired as posted where that is."""

from collections.abc import Sequence

from solver.checking.posted_multiplexers import with_multiplexers
from solver.frame.trees import Trees
from solver.job.circuits import InputCircuit, OutputCircuit
from solver.job.job import Job
from solver.job.laid import Laid
from solver.job.losses import Losses
from solver.job.site import Site
from solver.job.wired import WiredInput, WiredOutput, laid_shortest, strand_of
from solver.posts.matching import Posted
from solver.posts.settings import Settings
from solver.reading.checks.sharing import MOST
from solver.rules.as_posted import AsPosted
from solver.rules.clash import Clash
from solver.rules.cover import no_way


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


def _output(laid: Laid, port: str, circuit: OutputCircuit, settings: Settings) -> WiredOutput | Clash | None:
    """Lay a circuit from its port by the shortest tree, set and wired as posted where that is."""
    if not circuit.members:
        return None
    site, job = laid.site, laid.site.job
    output = next(output for output in job.unit.outputs if output.name == port)
    if len(circuit.members) > MOST:
        return Clash(
            "share", circuit.label, f"{len(circuit.members)} loads are on {port}, {MOST} may share one at most"
        )
    wired = laid_shortest(site, laid.losses, circuit, output)
    if wired is None:
        return Clash("wire", circuit.label, no_way(site.face(output.face), circuit.label, circuit.avoid, job))
    trip, size = settings.trips.get(port), settings.sizes.get(port)
    if trip is None and size is None:
        return wired
    return AsPosted(wired, strand_of(site, circuit, wired.run, site.face(output.face)), trip, size)


def _input(site: Site, port: str, names: Sequence[str]) -> WiredInput | Clash | None:
    circuit = InputCircuit(tuple(switch for switch in site.job.bike.inputs if switch.name in names))
    source = next(source for source in site.job.unit.inputs if source.name == port)
    if len(circuit.points) > MOST:
        return Clash("signal", port, f"{len(names)} switches are on {port}, {MOST} may share one at most")
    face = site.face(source.face)
    run = Trees(site.job.network, circuit.points, (face,)).tree(circuit.points, face)
    return None if run is None else WiredInput(site, circuit, run, source)
