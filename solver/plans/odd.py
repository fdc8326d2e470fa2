"""What is possible but odd about a bike: warnings, never refusals."""

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from solver.electrics.current import current_of_power
from solver.electrics.lamps import LAMPS
from solver.job.job import Job
from solver.words.agreement import one
from solver.words.bike import Load
from solver.words.figures import amperes, plain
from solver.words.looks_like import KEPT_OFF, kept_off_like, part_like
from solver.words.quantities import MilliWatts

BRIGHT_LED = MilliWatts(100_000)
LONG_LEG = 3_000_000
LONG_BIKE = 15_000_000
SEEN_BY_DAY = ("dipped beam", "daytime lamp")


def odd(job: Job) -> Iterator[str]:
    """Return what a careful person would ask about, in the order of the file."""
    for load in job.bike.loads:
        yield from _load(load)
    yield from _frame(job)
    yield from _lights(job)
    yield from _start(job)
    yield from _key(job)
    yield from _regulator(job)


def _load(load: Load) -> Iterator[str]:
    likely = None if load.part else part_like(load.name)
    if likely:
        yield f"{load.name} looks like {one(likely)}: write 'part: {likely}', or no safety rule sees it"
    kept_off = None if load.part or likely else kept_off_like(load.name)
    if kept_off:
        yield f"{load.name} looks like {one(kept_off)}, which no output may feed: {KEPT_OFF[kept_off]}"
    if load.kind == "led" and load.power is not None and load.power > BRIGHT_LED:
        yield f"{load.name}: an LED of {_watts(load.power)} is more than a motorcycle's lamps draw"
    alike = [name for name, lamp in LAMPS.items() if lamp.nominal == load.power]
    if load.kind == "filament" and alike:
        yield (
            f"{load.name}: {_watts(load.power or 0)} is a nominal power of UN R37; it draws more than that: "
            f"write 'lamp: {alike[0]}' or the like"
        )


def _watts(power: int) -> str:
    return f"{plain(Decimal(power) / 1000)} W"


def _frame(job: Job) -> Iterator[str]:
    for leg in job.bike.frame.legs:
        if leg.length > LONG_LEG:
            yield f"{leg.label} is {plain(Decimal(leg.length) / 1_000_000)} m long: is that a motorcycle's leg?"
    total = sum(leg.length for leg in job.bike.frame.legs)
    if total > LONG_BIKE:
        yield f"the legs are {plain(Decimal(total) / 1_000_000)} m long together: is that one motorcycle?"


def _lights(job: Job) -> Iterator[str]:
    loads = (*job.loads.on_unit, *(fed.consumer for fed in job.loads.fed))
    if not any(load.part in SEEN_BY_DAY and "day" in job.states_of(load) for load in loads):
        yield "by day neither a dipped beam nor a daytime lamp is on: see what local codes ask for"


def _start(job: Job) -> Iterator[str]:
    cranked = [load for load in job.loads.on_unit if "cranking" in job.states_of(load)]
    if cranked and all(load.part == "starter solenoid" for load in cranked):
        yield f"while cranking nothing but {cranked[0].name} is on: ignition and pump must be on to start"


def _key(job: Job) -> Iterator[str]:
    if not any("key" in switch.tells for switch in job.bike.inputs):
        yield "no input tells the unit 'key': nothing wakes it with the key, or lets it sleep without"


def _regulator(job: Job) -> Iterator[str]:
    charging = job.bike.supply.charging
    if charging is None:
        return
    if charging.joins == "unit":
        yield "the regulator's lead joins the unit: let it join the battery side, through a fuse of its own"
    most = current_of_power(MilliWatts(max(charging.idle or 0, charging.cruise or 0)), job.bike.supply.running)
    if charging.fuse is not None and Fraction(charging.fuse) * 4 < 5 * most:
        yield (
            f"the regulator's fuse of {amperes(charging.fuse)} is less than 1.25 x the {amperes(most)} "
            f"that it charges with"
        )
