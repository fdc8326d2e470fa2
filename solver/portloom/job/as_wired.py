"""The bike as it is wired, with a load that draws more: same ports, wires, sizes and main fuse.

Whoever swaps a lamp for a stronger one lays no wire anew. So the main fuse and every size stay as
they are, and drops are those of the wires that are there; only the trip of the
load's own output may be set to another of its values. The rules are those of the book.
"""

from dataclasses import replace

from portloom.base.current import inrush_of
from portloom.base.fuses import carries, holds_inrush, trip_values
from portloom.base.quantities import MilliAmps
from portloom.job.circuits import OutputCircuit
from portloom.job.consumers import Consumer
from portloom.job.drops import losses_as_cut
from portloom.job.job import Job, swapped
from portloom.job.laid import Laid
from portloom.job.losses import Losses
from portloom.job.routed import routed_tree
from portloom.job.site import Site
from portloom.job.wired import OutputWire, WiredOutput


def as_wired(site: Site, losses: Losses, planned: WiredOutput, circuit: OutputCircuit) -> WiredOutput:
    """Return a circuit in the place of ``planned``, at the smallest right trip that its wire serves."""
    tries = at_each_trip(site, losses, planned, circuit)
    return next((wired for wired in tries if wired.serving), tries[0])


def at_each_trip(site: Site, losses: Losses, planned: WiredOutput, circuit: OutputCircuit) -> list[WiredOutput]:
    """Return a circuit at each right trip, smallest first; at the highest of all where none is right."""
    output, values = planned.output, trip_values(planned.output)
    tree = routed_tree(site, circuit, planned.run, site.face(output.face))
    enough = (trip for trip in values if carries(trip, circuit.current))
    right = [trip for trip in enough if holds_inrush(output.trip_curve, trip, circuit.inrush)]
    highest = max(values, default=output.limit)
    wires = (OutputWire(site.job, tree, output, trip, [planned.drawn]) for trip in right or [highest])
    return [WiredOutput(site, losses, wire, planned.drawn) for wire in wires]


def as_it_is(laid: Laid) -> Laid:
    """Return the plan of one unit whose circuits have the wires that they have and no other.

    What is lost in it is what those wires lose.
    """
    losses = losses_as_cut(laid)
    outputs = tuple(as_wired(laid.site, losses, wired, wired.circuit) for wired in laid.outputs)
    return replace(laid, losses=losses, outputs=outputs, later=())


# --- a load that draws more


def drawing(job: Job, load: Consumer, more: int) -> Consumer:
    """Return a load that draws ``more`` mA; its inrush grows in proportion unless the file gives it."""
    entry = next(entry for entry in job.bike.loads if entry.name == load.name)
    current = MilliAmps(load.current + more)
    return replace(load, current=current, inrush=inrush_of(entry, current, job.assume))


def with_load(circuit: OutputCircuit, load: Consumer) -> OutputCircuit:
    """Return a circuit with ``load`` in the place of the one of its name."""
    return OutputCircuit(swapped(circuit.members, load), swapped(circuit.guests, load))


def feeds(wired: WiredOutput, load: Consumer) -> bool:
    """Tell whether a circuit has a load of this name."""
    return any(one.name == load.name for one in wired.circuit.loads)


def grown(laid: Laid, load: Consumer) -> Laid:
    """Return a plan in which ``load`` draws other currents; the circuits without it stand as they are in ``laid``."""
    site = laid.site.with_job(laid.site.job.with_load(load))
    losses = losses_as_cut(replace(laid, site=site))
    outputs = (
        as_wired(site, losses, wired, with_load(wired.circuit, load)) if feeds(wired, load) else wired
        for wired in laid.outputs
    )
    return replace(laid, site=site, losses=losses, outputs=tuple(outputs), later=())
