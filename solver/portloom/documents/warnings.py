"""What is possible but deserves a second look, about a plan and about its bike."""

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from portloom.base.assumptions import PRACTICE
from portloom.base.bike import Load
from portloom.base.current import current_of_power, kind_of
from portloom.base.figures import amperes, listed, milliseconds, plain, with_article, with_verb
from portloom.base.fuses import outlasts_peak
from portloom.base.lamps import LAMPS
from portloom.base.parts.loads import (
    DAYTIME_LAMP,
    DIPPED_BEAM,
    DISPLAYS,
    RUNNING_ENGINE,
    STARTER_SOLENOID,
    load_part,
)
from portloom.base.parts.switches import OIL_PRESSURE_SWITCH
from portloom.base.parts.words import words_within
from portloom.base.quantities import MilliAmps, MilliHertz, MilliWatts
from portloom.base.vocabulary import DIM, INDUCTIVE
from portloom.documents.alongside import alongside_warnings
from portloom.documents.energy import Energy, energy_warnings
from portloom.documents.wiring.dashes import diode_at_unit, leaves_unit
from portloom.job.job import Job
from portloom.job.laid import Laid

SMALL_LOAD, BIG_TRIP = MilliAmps(1000), MilliAmps(10_000)
FLASH = "flash"
FLASH_SLOWEST, FLASH_FASTEST = MilliHertz(1000), MilliHertz(2000)
"""60 to 120 flashes a minute. Source: UN R53 and FMVSS 108, 90 +- 30 a minute."""


def _beside_the_starter(laid: Laid) -> Iterator[str]:
    """The starter motor's current lifts the earth point where it sits, and all that is earthed there."""
    starter = laid.site.job.bike.supply.starter
    wires = (*laid.site.fixed_of("return"), *laid.site.fixed_of("sender return"))
    far = [wire.said for wire in wires if starter and starter.at in wire.ends[1:] and starter.at != wire.ends[0]]
    if starter and far:
        yield (
            f"{listed(far)}: the only earth point is at {starter.at}, where the starter motor's "
            f"current comes back and lifts it while cranking: add another under 'earth' ({PRACTICE})"
        )


def unit_warnings(laid: Laid) -> tuple[str, ...]:
    """Return what deserves a second look on the outputs of a unit."""
    return (
        *_peaks(laid),
        *_tails(laid),
        *_dimmed_guests(laid),
        *_inductive(laid),
        *_big_trips(laid),
        *_flashing(laid),
        *_dark_with_the_engine(laid),
        *_through_diodes(laid),
    )


def bike_warnings(laid: Laid, energy: Energy) -> tuple[str, ...]:
    """Return what deserves a second look about the bike: its looms, oddities by the order of its file, energy."""
    return (
        *_moving(laid),
        *_beside_the_starter(laid),
        *alongside_warnings(laid),
        *sanity_warnings(laid.site.job),
        *energy_warnings(energy),
    )


def _peaks(laid: Laid) -> Iterator[str]:
    for wired in laid.outputs:
        output, inrush = wired.output, wired.circuit.inrush
        if outlasts_peak(output, inrush) and output.peak_for is not None:
            yield (
                f"{output.name}: {wired.circuit.label} needs its inrush for {milliseconds(inrush.lasts)}; the profile "
                f"allows the peak for {milliseconds(output.peak_for)} and has no trip curve; it is assumed to hold"
            )


def _tails(laid: Laid) -> Iterator[str]:
    for wired in laid.outputs:
        small = [c.name for c in wired.circuit.loads if c.current < SMALL_LOAD and c.leads is None]
        if wired.trip > BIG_TRIP and small:
            yield (
                f"{wired.output.name}: trip {amperes(wired.trip)} on {listed(small)}, under 1 A: "
                f"check that its own tails can take that, or give their size ('leads')"
            )


def _dimmed_guests(laid: Laid) -> Iterator[str]:
    for wired in laid.outputs:
        stiff = [guest.name for guest in wired.circuit.guests if not guest.dims]
        if DIM in wired.circuit.modes and stiff:
            yield f"{wired.output.name}: {listed(stiff)} is fed from a dimmed circuit and can't be dimmed"


def _inductive(laid: Laid) -> Iterator[str]:
    for wired in laid.outputs:
        bare = [load.name for load in wired.circuit.loads if load.kind in INDUCTIVE and not load.suppressed]
        if wired.output.inductive is None and bare:
            yield (
                f"{wired.output.name}: the profile does not say whether it can switch {listed(bare)} without "
                "a suppressor"
            )


def _big_trips(laid: Laid) -> Iterator[str]:
    fuse = laid.site.main_fuse
    dark = "the whole bike" if laid.site.feed_most is None else "everything on this unit"
    for wired in laid.outputs:
        if fuse is not None and 2 * wired.trip > fuse:
            yield (
                f"{wired.output.name}: the trip of {amperes(wired.trip)} is more than half the main fuse of "
                f"{amperes(fuse)}: a short there may take down {dark}"
            )


def _flashing(laid: Laid) -> Iterator[str]:
    for wired in laid.outputs:
        rate = wired.output.flash_rate or laid.site.job.unit.flash_rate
        if FLASH in wired.circuit.modes and rate is not None and not FLASH_SLOWEST <= rate <= FLASH_FASTEST:
            a_minute = plain(Decimal(rate) * 60 / 1000)
            yield f"{wired.output.name} flashes {a_minute} times a minute, UN R53 requires 60 to 120"


def _dark_with_the_engine(laid: Laid) -> Iterator[str]:
    """The engine stop takes away what drives the engine, and with it what else is on those outputs."""
    if not any("engine stop" in switch.tells for switch in laid.site.job.bike.inputs):
        return
    for wired in laid.outputs:
        engine = [load.name for load in wired.circuit.members if load.part in RUNNING_ENGINE]
        dark = [load.name for load in wired.circuit.members if load.part in DISPLAYS]
        if engine and dark:
            yield (
                f"{wired.output.name}: {with_verb(listed(dark), 'goes')} dark with the engine stop, sharing an output "
                f"with {listed(engine)}: 'share: none' parts them"
            )


def _through_diodes(laid: Laid) -> Iterator[str]:
    """An input behind a diode sees 0.7 V where its switch is made: common practice, no source."""
    told = [(wired.port.name, wired.circuit, wired.port) for wired in laid.inputs]
    ways = [(wired.stand.multiplexer.name, wired.circuit, None) for wired in laid.switches]
    for where, circuit, port in (*told, *ways):
        if diode_at_unit(laid.site.job, circuit, port) and leaves_unit(circuit):
            yield (
                f"{where} reads {circuit.label} through a diode, for a dash shows it too: it must take 0.7 V for made; "
                f"where it takes {plain(Decimal(laid.site.job.bike.supply.running) / 1000)} V from the dash's lamp, "
                "write 'up_to' in the unit's file, and the diode goes"
            )


def _moving(laid: Laid) -> Iterator[str]:
    used = {number for legs, _ in laid.wires() for number in legs}
    legs = [leg.label for number, leg in enumerate(laid.site.job.network.legs) if leg.moves and number in used]
    if legs:
        yield (
            f"{listed(legs)} {'move' if len(legs) > 1 else 'moves'}: leave slack there and use fine-stranded wire "
            f"(common practice, no source)"
        )


BRIGHT_LED = MilliWatts(100_000)
LONG_LEG = 3_000_000
LONG_BIKE = 15_000_000
SEEN_BY_DAY = (DIPPED_BEAM.name, DAYTIME_LAMP.name)


def sanity_warnings(job: Job) -> Iterator[str]:
    """Return what a careful person would ask about, in the order of the file."""
    for load in job.bike.loads:
        yield from _load(load)
    yield from _frame(job)
    yield from _lights(job)
    yield from _start(job)
    yield from _key(job)
    yield from _oil(job)
    yield from _plain_lamps(job)
    yield from _regulator(job)


def _load(load: Load) -> Iterator[str]:
    likely = None if load.part else words_within(load.name)
    if likely is not None and likely.sort == "load":
        part = likely.name
        yield f"{load.name} looks like {with_article(part)}: write 'part: {part}', or the safety rules can't see it"
    if likely is not None and likely.sort == "refused":
        yield f"{load.name} looks like {with_article(likely.name)}, which no output may feed: {likely.why}"
    known = load_part(load.part)
    if known is not None and known.proposed and load.fed == "unit":
        yield f"{load.name}: {known.proposed} (common practice, no source)"
    if load.kind == "led" and load.power is not None and load.power > BRIGHT_LED:
        yield f"{load.name}: an LED of {_watts(load.power)} is more than a motorcycle's lamps draw"
    alike = _alike(load)
    if load.kind == "filament" and alike:
        yield (
            f"{load.name}: {_watts(load.power or 0)} is a nominal power of UN R37; it draws more than that: "
            f"write 'lamp: {alike[0]}' or the like"
        )


def _alike(load: Load) -> list[str]:
    """Return lamps of a load's nominal power, the usual ones first; of two filaments only the one that it is."""
    part = load_part(load.part)
    names = [name for name, lamp in LAMPS.items() if lamp.nominal == load.power]
    single = [name for name in names if " " not in name]
    fitting = [name for name in names if part and name.rpartition(" ")[2] in part.filaments]
    return [*fitting, *single] if part and part.beam else [*single, *fitting]


def _watts(power: int) -> str:
    return f"{plain(Decimal(power) / 1000)} W"


def _frame(job: Job) -> Iterator[str]:
    for leg in job.bike.frame.legs:
        if leg.length > LONG_LEG:
            yield f"{leg.label} is {plain(Decimal(leg.length) / 1_000_000)} m long: is that right for a motorcycle?"
    total = sum(leg.length for leg in job.bike.frame.legs)
    if total > LONG_BIKE:
        yield f"the legs are {plain(Decimal(total) / 1_000_000)} m long together: is that one motorcycle?"


def _lights(job: Job) -> Iterator[str]:
    loads = (*job.loads.on_unit, *(fed.consumer for fed in job.loads.fed))
    if not any(load.part in SEEN_BY_DAY and "day" in job.states_of(load) for load in loads):
        yield "by day neither a dipped beam nor a daytime lamp is on: check what local codes require"


def _start(job: Job) -> Iterator[str]:
    cranked = [load for load in job.loads.on_unit if "cranking" in job.states_of(load)]
    if cranked and all(load.part == STARTER_SOLENOID.name for load in cranked):
        yield f"while cranking nothing but {cranked[0].name} is on: ignition and pump must be on to start"


def _key(job: Job) -> Iterator[str]:
    if not any("key" in switch.tells for switch in job.bike.inputs):
        yield "no input tells the unit 'key': the key can't wake it, and it can't sleep with the key off"


def _oil(job: Job) -> Iterator[str]:
    for switch in job.unread_inputs:
        if switch.part == OIL_PRESSURE_SWITCH.name:
            yield f"{switch.name} is not wired, for no dash shows it: nothing warns that the oil pressure is gone"


def _plain_lamps(job: Job) -> Iterator[str]:
    """A lamp of two ends that is fed and earthed has no third one for what it shows."""
    for load in job.bike.loads:
        if load.shows and load.part not in DISPLAYS and kind_of(load) in ("led", "filament"):
            shown = listed([name for lamp in load.shows for name in lamp])
            yield (
                f"{load.name} is fed and earthed, and needs a terminal more for {shown}: a plain lamp has none "
                "(one that is lit by loads is written with 'from')"
            )


def _regulator(job: Job) -> Iterator[str]:
    charging = job.bike.supply.charging
    if charging is None:
        return
    if charging.joins == "unit":
        yield "the regulator's lead goes to the unit: connect it to the battery side, through a fuse of its own"
    most = current_of_power(MilliWatts(max(charging.idle or 0, charging.cruise or 0)), job.bike.supply.running)
    if charging.fuse is not None and Fraction(charging.fuse) * 4 < 5 * most:
        yield (
            f"the regulator's fuse of {amperes(charging.fuse)} is less than 1.25 x the {amperes(most)} "
            f"that it charges at"
        )
