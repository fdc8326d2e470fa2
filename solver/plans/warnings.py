"""What is possible but deserves a second look, about a plan and about its bike."""

from collections.abc import Iterator
from decimal import Decimal

from solver.electrics.trip import outlasts_peak
from solver.job.laid import Laid
from solver.plans.energy import energy_of, energy_warnings
from solver.plans.odd import odd
from solver.rules.inductive import INDUCTIVE
from solver.rules.mode import DIM
from solver.words.figures import amperes, listed, milliseconds, plain
from solver.words.quantities import MilliAmps, MilliHertz

SMALL_LOAD, BIG_TRIP = MilliAmps(1000), MilliAmps(10_000)
FLASH = "flash"
FLASH_SLOWEST, FLASH_FASTEST = MilliHertz(1000), MilliHertz(2000)
"""60 to 120 flashes a minute. Source: UN R53 and FMVSS 108, 90 +- 30 a minute."""


def warnings(laid: Laid) -> tuple[str, ...]:
    """Return every warning: about the plan by output, then about the bike in the order of its file."""
    return (*unit_warnings(laid), *bike_warnings(laid), *energy_warnings(energy_of(laid.site.job)))


def unit_warnings(laid: Laid) -> tuple[str, ...]:
    """Return what deserves a second look on the outputs of a unit."""
    return (
        *_peaks(laid),
        *_tails(laid),
        *_dimmed_guests(laid),
        *_inductive(laid),
        *_big_trips(laid),
        *_flashing(laid),
    )


def bike_warnings(laid: Laid) -> tuple[str, ...]:
    """Return what deserves a second look about the bike, whatever unit is on it: legs that move, then oddities."""
    return (*_moving(laid), *odd(laid.site.job))


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
        stiff = [guest.name for guest in wired.circuit.guests if not guest.dims]
        if DIM in wired.circuit.modes and stiff:
            yield f"{wired.output.name}: {listed(stiff)} is fed from a dimmed circuit and does not take dimming"


def _inductive(laid: Laid) -> Iterator[str]:
    for wired in laid.outputs:
        bare = [load.name for load in wired.circuit.loads if load.kind in INDUCTIVE and not load.suppressed]
        if wired.output.inductive is None and bare:
            yield f"{wired.output.name}: the profile does not say whether it takes {listed(bare)} without a suppressor"


def _big_trips(laid: Laid) -> Iterator[str]:
    fuse = laid.site.main_fuse
    dark = "the whole bike" if laid.site.feed_most is None else "all that is on this unit"
    for wired in laid.outputs:
        if fuse is not None and 2 * wired.trip > fuse:
            yield (
                f"{wired.output.name}: the trip of {amperes(wired.trip)} is more than half the main fuse of "
                f"{amperes(fuse)}: a short there may take {dark} with it"
            )


def _flashing(laid: Laid) -> Iterator[str]:
    for wired in laid.outputs:
        rate = wired.output.flash_rate or laid.site.job.unit.flash_rate
        if FLASH in wired.circuit.modes and rate is not None and not FLASH_SLOWEST <= rate <= FLASH_FASTEST:
            a_minute = plain(Decimal(rate) * 60 / 1000)
            yield f"{wired.output.name} flashes {a_minute} times a minute, UN R53 asks for 60 to 120"


def _moving(laid: Laid) -> Iterator[str]:
    used = {number for legs, _ in laid.wires() for number in legs}
    legs = [leg.label for number, leg in enumerate(laid.site.job.network.legs) if leg.moves and number in used]
    if legs:
        yield (
            f"{listed(legs)} {'move' if len(legs) > 1 else 'moves'}: leave slack there and use fine-stranded wire "
            f"(common practice, no source)"
        )
