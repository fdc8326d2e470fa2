"""What a powered step expects at its load, and the steps that read it.

This is the one place that says what a step's current and voltage should be.
"""

from collections.abc import Sequence
from fractions import Fraction

from portloom.base.figures import amperes, capital, listed
from portloom.base.fuses import fuse_for
from portloom.base.quantities import MilliAmps
from portloom.documents.handover.steps import PRINTED_FOR, Expected, Step, TestPart, draw_of
from portloom.documents.wiring.lines import relay_name
from portloom.job.consumers import Consumer, FedLoad
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.wired import WiredOutput

POINTS = "points"
WRONG = "more: a short; none: open, or the wrong port; fewer volts: a bad joint"


def driven(load: Consumer) -> bool:
    """Tell whether a box or controller drives a coil, which then draws nothing while the engine stands."""
    return load.switched_by not in (None, POINTS)


def expected_of(job: Job, loads: Sequence[Consumer]) -> Expected:
    """Return the current that loads draw together."""
    return Expected(tuple(draw_of(load, job.bike.supply.running) for load in loads))


def lost_on_the_way(wired: WiredOutput) -> Fraction:
    """Return the most that may be lost on the way to a load of an output, in microvolts."""
    return max(wired.first_drops().values())


def fuse_above(trip: MilliAmps) -> str:
    """Write the least fuse that is above an output's trip: a fault that the output passes blows it."""
    return amperes(fuse_for(MilliAmps(0), trip) or trip)


def drawing(wired: WiredOutput) -> list[Consumer]:
    """Return the loads of a circuit that draw while the engine stands."""
    return [load for load in wired.circuit.loads if not driven(load)]


def alone(wired: WiredOutput) -> str:
    """Say that a circuit is tried by itself, and on which fuse."""
    return f"{fuse_above(wired.trip)} fuse; plug in {'this' if len(drawing(wired)) == 1 else 'these'} alone."


def output_on(wired: WiredOutput, part: TestPart, how: str, title: str = "") -> Step:
    """Return the step in which an output is on: its current, and the voltage that reaches its loads."""
    running = part == "engine running"
    loads = wired.circuit.loads if running else drawing(wired)
    job, names = wired.site.job, listed([load.name for load in loads])
    return Step(
        part,
        title or names,
        f"{capital(how)}. {_read(wired)}, volts at the load.{_of_coils(loads)}",
        "current and voltage",
        if_not=WRONG,
        port=wired.output.name,
        expected=expected_of(job, loads),
        loses=lost_on_the_way(wired),
        supply=job.bike.supply.running if running else PRINTED_FOR,
    )


def fed_on(laid: Laid, fed: FedLoad, how: str, part: TestPart) -> Step:
    """Return the step in which a load that is fed past the unit is on."""
    job, name = laid.site.job, fed.consumer.name
    fuse = amperes(fuse_for(fed.consumer.current) or MilliAmps(0))
    relay = f", {relay_name(name)} in its socket" if fed.by == "relay" else ""
    running = part == "engine running"
    plug = "" if running else f"{fuse} fuse in its own holder{relay}; plug in this alone. "
    step = Step(
        part,
        name,
        f"Bypasses the unit. {plug}{capital(how)}. Amperes in its wire.",
        "current",
        if_not=WRONG.partition("; fewer")[0],
        expected=expected_of(job, [fed.consumer]),
    )
    return step.at(job.bike.supply.running) if running else step


def _read(wired: WiredOutput) -> str:
    flashes = ", while it is lit" if "flash" in wired.circuit.modes else ""
    full = ", set to 100 % for this" if "dim" in wired.circuit.modes else ""
    return f"Amperes in the wire of {wired.output.name}{flashes}{full}"


def _of_coils(loads: Sequence[Consumer]) -> str:
    """Say how coils that points switch are read: with the engine still they cook."""
    if not any(load.switched_by == POINTS for load in loads):
        return ""
    return " Key off as soon as it is read, or coil and points cook. No current: key off, turn the engine a little."
