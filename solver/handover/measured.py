"""Steps that read what an output, or a load fed past the unit, draws."""

from collections.abc import Iterable

from solver.electrics.fuses import fuse_for
from solver.handover.drafts import Draft
from solver.handover.expected import Expected, draw_of
from solver.handover.steps import Part
from solver.job.consumers import Consumer, FedLoad
from solver.job.job import Job
from solver.job.wired import WiredOutput
from solver.words.figures import amperes, capital, listed
from solver.words.quantities import MilliAmps, MilliVolts


def output_on(
    wired: WiredOutput, part: Part, how: str, title: str = "", printed_for: MilliVolts | None = None
) -> Draft:
    """Return the step in which an output is on: its current, and the voltage that reaches its loads."""
    loads = wired.circuit.loads
    flashes = ", while it is lit" if "flash" in wired.circuit.modes else ""
    full = ", set to 100 % for this" if "dim" in wired.circuit.modes else ""
    return Draft(
        part,
        title or listed([load.name for load in loads]),
        f"{capital(how)}. Read the current in the wire of {wired.output.name}{flashes}{full}.",
        "current and voltage",
        port=wired.output.name,
        expected=_expected(wired.site.job, loads),
        loses=max(wired.first_drops().values()),
        printed_for=printed_for,
    )


def output_dead(wired: WiredOutput, part: Part, how: str, who: str) -> Draft:
    """Return the step in which an output must be off, for ``who`` stops it."""
    names = listed([load.name for load in wired.circuit.loads])
    do = f"{capital(how)}. Read the current in the wire of {wired.output.name}."
    return Draft(part, f"{who} stops {names}", do, "current", "dead", wired.output.name, Expected(()))


def fed_on(job: Job, fed: FedLoad, part: Part, how: str, printed_for: MilliVolts | None = None) -> Draft:
    """Return the step in which a load that is fed past the unit is on."""
    fuse = amperes(fuse_for(fed.consumer.current) or MilliAmps(0))
    do = f"Fed past the unit through a fuse of {fuse}. {capital(how)}. Read the current in its wire."
    return Draft(
        part, fed.consumer.name, do, "current", expected=_expected(job, [fed.consumer]), printed_for=printed_for
    )


def _expected(job: Job, loads: Iterable[Consumer]) -> Expected:
    return Expected(tuple(draw_of(load, job.bike.supply.running) for load in loads))
