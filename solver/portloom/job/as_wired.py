"""The bike as it is wired, with a load that draws more: same ports, wires, sizes and main fuse.

Whoever swaps a lamp for a stronger one lays no wire anew. So the main fuse and every size stay as
they are, and drops are counted with the feed and the returns of the plan; only the trip of the
load's own output may be set to another of its values. The rules are those of the book.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property

from portloom.base.copper import Conductor
from portloom.base.current import inrush_of
from portloom.base.fuses import carries, holds, trip_values
from portloom.base.quantities import MilliAmps
from portloom.job.circuits import OutputCircuit
from portloom.job.consumers import Consumer
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.losses import Losses
from portloom.job.site import Site
from portloom.job.wired import Strand, WiredOutput, strand_of

WORKED_OUT = frozenset(name for name, what in vars(Job).items() if isinstance(what, cached_property))
"""What a job works out when it is first asked for, from its loads and more."""


class AsWired(WiredOutput):
    """A circuit on its output with the wire that it has in the plan and no other, at a given trip."""

    def __init__(self, site: Site, losses: Losses, strand: Strand, planned: WiredOutput, trip: MilliAmps) -> None:
        """Take the circuit as laid, what it is in the plan, and what its output is set to."""
        super().__init__(site, losses, strand, planned.output, planned.drawn)
        self._set = trip

    @cached_property
    def trip(self) -> MilliAmps:
        """What the output is set to."""
        return self._set

    @cached_property
    def reels(self) -> Sequence[Conductor]:
        """The wire that it has, if it carries the trip."""
        return [reel for reel in super().reels if reel == self._settled]


def as_wired(site: Site, losses: Losses, planned: WiredOutput, circuit: OutputCircuit) -> AsWired:
    """Return a circuit in the place of ``planned``, at the smallest right trip that its wire serves."""
    tries = at_each_trip(site, losses, planned, circuit)
    return next((wired for wired in tries if wired.serving), tries[0])


def at_each_trip(site: Site, losses: Losses, planned: WiredOutput, circuit: OutputCircuit) -> list[AsWired]:
    """Return a circuit at each right trip, smallest first; at the highest of all where none is right."""
    output, values = planned.output, trip_values(planned.output)
    strand = strand_of(site, circuit, planned.run, site.face(output.face))
    enough = (trip for trip in values if carries(trip, circuit.current))
    right = [trip for trip in enough if holds(output.trip_curve, trip, circuit.inrush)]
    highest = max(values, default=output.limit)
    return [AsWired(site, losses, strand, planned, trip) for trip in right or [highest]]


def as_it_is(laid: Laid) -> Laid:
    """Return a plan whose circuits have the wires that they have and no other, and know what is lost now."""
    outputs = tuple(as_wired(laid.site, laid.losses, wired, wired.circuit) for wired in laid.outputs)
    return replace(laid, outputs=outputs, later=())


# --- a load that draws more


class GrownJob(Job):
    """The same job with other figures of a load, which is on when it was."""

    def __init__(self, job: Job, load: Consumer) -> None:
        """Take the job, and the load with the figures that it now has."""
        vars(self).update({name: what for name, what in vars(job).items() if name not in WORKED_OUT})
        on_unit, guests = swapped(job.loads.on_unit, load), swapped(job.loads.guests, load)
        self.loads = replace(job.loads, on_unit=on_unit, guests=guests)
        self._returned = {key: current for key, current in self._returned.items() if key[0] != load.at}
        self._through = {}
        self._guests = {one.name: tuple(guest for guest in guests if one.name in guest.feeders) for one in on_unit}


def drawing(job: Job, load: Consumer, more: int) -> Consumer:
    """Return a load that draws ``more`` mA; its inrush grows in proportion unless the file gives it."""
    entry = next(entry for entry in job.bike.loads if entry.name == load.name)
    current = MilliAmps(load.current + more)
    return replace(load, current=current, inrush=inrush_of(entry, current, job.assume))


def swapped(loads: tuple[Consumer, ...], load: Consumer) -> tuple[Consumer, ...]:
    """Return loads with ``load`` in the place of the one of its name."""
    return tuple(load if one.name == load.name else one for one in loads)


def with_load(circuit: OutputCircuit, load: Consumer) -> OutputCircuit:
    """Return a circuit with ``load`` in the place of the one of its name."""
    return OutputCircuit(swapped(circuit.members, load), swapped(circuit.guests, load))


def feeds(wired: WiredOutput, load: Consumer) -> bool:
    """Tell whether a circuit has a load of this name."""
    return any(one.name == load.name for one in wired.circuit.loads)


def grown(laid: Laid, load: Consumer) -> Laid:
    """Return a plan in which ``load`` draws other currents; the circuits without it stand as they are in ``laid``."""
    planned = laid.site
    job = GrownJob(planned.job, load)
    bare = Site(job, planned.place, turned=planned.turned, main_fuse=planned.main_fuse, ways=planned.ways)
    bare.whole = planned.whole
    site = bare.settle(planned.settled)
    losses = Losses(site)
    outputs = (
        as_wired(site, losses, wired, with_load(wired.circuit, load)) if feeds(wired, load) else wired
        for wired in laid.outputs
    )
    return replace(laid, site=site, losses=losses, outputs=tuple(outputs), later=())
