"""The fewest moves that make a posted plan sound, by trying every load and switch on every port; no solver."""

from collections.abc import Iterator, Mapping, Sequence

from .brute import seatings
from .circuits import Circuit, circuit, may_join, may_share
from .electrics import input_fits
from .job import Job
from .judge import Plan, cost_um
from .reading import on_unit
from .site import Site
from .things import InPort, Output, Switch

Outputs = tuple[tuple[Circuit, Output], ...]
Inputs = tuple[tuple[tuple[Switch, ...], InPort], ...]
Ports = Mapping[str, Sequence[str]]
"""What is on each port, by names."""


def fewest(job: Job, sites: Sequence[Site], outputs: Ports, inputs: Ports) -> tuple[int, int] | None:
    """Return the fewest moves, and the least cost (um) of a sound plan with so few; None where none is sound.

    A load that is posted on no port moves; a switch that is posted on none may be anywhere. No later loads.
    """
    best: tuple[int, int] | None = None
    seated = sorted(_inputs(job, inputs), key=lambda pair: pair[0])
    for site in sites:
        for moves, held in sorted(_outputs(job, outputs), key=lambda pair: pair[0]):
            for more, switches in seated:
                if best is not None and moves + more > best[0]:
                    break
                cost = cost_um(site, Plan(held, switches, ()))
                if cost is not None and (best is None or (moves + more, cost) < best):
                    best = moves + more, cost
    return best


def _outputs(job: Job, posted: Ports) -> Iterator[tuple[int, Outputs]]:
    loads = on_unit(job.bike)
    for seating in seatings(loads, job.unit.outputs, lambda *_: True, lambda one, two: may_share(job.bike, one, two)):
        stays = sum(load.name in posted.get(port.name, ()) for held, port in seating for load in held)
        yield len(loads) - stays, tuple((circuit(job.bike, held), port) for held, port in seating)


def _inputs(job: Job, posted: Ports) -> Iterator[tuple[int, Inputs]]:
    switches = list(job.bike.switches)
    seated = {name for held in posted.values() for name in held}
    for seating in seatings(switches, job.unit.inputs, input_fits, may_join):
        stays = sum(switch.name in posted.get(port.name, ()) for held, port in seating for switch in held)
        yield len(seated) - stays, tuple((tuple(held), port) for held, port in seating)
