"""What is possible but deserves a second look."""

from collections.abc import Iterator

from solver.checking.relaid import Laid
from solver.electrics.trip import outlasts_peak
from solver.job.job import Job
from solver.rules.mode import DIM, takes_dimming
from solver.words.figures import amperes, listed, milliseconds
from solver.words.looks_like import part_like
from solver.words.quantities import MilliAmps

SMALL_LOAD, BIG_TRIP = MilliAmps(1000), MilliAmps(10_000)


def warnings(laid: Laid) -> tuple[str, ...]:
    """Give every warning about a plan, in the order of the unit's outputs, then of the bike's loads."""
    return (*_peaks(laid), *_tails(laid), *_dimmed_guests(laid), *_names(laid.site.job))


def _peaks(laid: Laid) -> Iterator[str]:
    for wired in laid.outputs:
        output, inrush = wired.output, wired.circuit.inrush
        if outlasts_peak(output, inrush) and output.peak_for is not None:
            yield (
                f"{output.name}: {wired.circuit.label} needs its inrush for {milliseconds(inrush.lasts)}, the "
                f"profile gives the peak for {milliseconds(output.peak_for)} and no trip curve; it is taken to hold"
            )


def _tails(laid: Laid) -> Iterator[str]:
    for wired in laid.outputs:
        small = [c.name for c in wired.circuit.loads if c.current < SMALL_LOAD and c.leads is None]
        if wired.trip > BIG_TRIP and small:
            yield (
                f"{wired.output.name}: trip {amperes(wired.trip)} on {listed(small)}, under 1 A: "
                f"see that its own tails stand that, or state their size ('leads')"
            )


def _dimmed_guests(laid: Laid) -> Iterator[str]:
    for wired in laid.outputs:
        stiff = [guest.name for guest in wired.circuit.guests if not takes_dimming(guest)]
        if DIM in wired.circuit.modes and stiff:
            yield f"{wired.output.name}: {listed(stiff)} is fed from a dimmed circuit and does not take dimming"


def _names(job: Job) -> Iterator[str]:
    for load in job.bike.loads:
        likely = None if load.part else part_like(load.name)
        if likely:
            yield f"{load.name} looks like a {likely}: write 'part: {likely}', or no safety rule sees it"
