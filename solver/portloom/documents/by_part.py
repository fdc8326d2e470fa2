"""What a plan took because of what its parts are, and how words of the file were read.

Source: common practice, no source.
"""

from collections.abc import Iterator, Mapping, Sequence

from portloom.base.bike import Bike, Taken
from portloom.base.figures import listed
from portloom.base.parts.loads import RUNNING_ENGINE, STARTER_SOLENOID
from portloom.job.job import Job
from portloom.rules.practice import may_crank, tells
from portloom.rules.start import wanted_to_crank

SAID: Mapping[str, str] = {
    "kind": "of kind {value}: {names}",
    "mode": "driven in mode {value}: {names}",
    "when": "on in {value}: {names}",
    "except": "off in {value}, as one filament of two: {names}",
    "from": "{names} is fed from {value}, through a diode each",
    "operates": "{names} works {value}",
    "made": "the contact of {names} is made at '{value}'",
    "return": "{names} earths through its own body",
    "level": "pulses of {names} are up to {value}",
}
"""What is said of each key that a part brought; what it tells the unit its name says already."""
BY_VALUE = ("kind", "mode", "when", "except")
"""Keys of which those with one value are told together."""


def by_part(job: Job) -> Iterator[str]:
    """Return a line for each thing that a bike's parts brought, what has the same together."""
    bike = job.bike
    yield from bike.as_read.words
    taken = bike.as_read.taken
    for key in SAID:
        together = _by_value([one for one in taken if one.key == key], key)
        yield from (f"by part: {SAID[key].format(value=value, names=listed(names))}" for value, names in together)
    yield from _sharing(job, taken)
    yield from _start_and_stop(bike)
    yield from (f"comes out: {line}" for line in bike.as_read.falls_away)


def _by_value(taken: Sequence[Taken], key: str) -> Iterator[tuple[str, list[str]]]:
    """Return each value with all that have it; what is told one by one stands by itself."""
    if key not in BY_VALUE:
        yield from ((one.value, [one.subject]) for one in taken)
        return
    for value in dict.fromkeys(one.value for one in taken):
        yield value, [one.subject for one in taken if one.value == value]


def _sharing(job: Job, taken: Sequence[Taken]) -> Iterator[str]:
    on_unit = {load.name for load in job.loads.on_unit}
    for group in dict.fromkeys(one.value for one in taken if one.key == "share"):
        names = [one.subject for one in taken if (one.key, one.value) == ("share", group) and one.subject in on_unit]
        if len(names) > 1:
            yield f"by part: {group} may share an output: {listed(names)} ('share: none' parts one)"


def _start_and_stop(bike: Bike) -> Iterator[str]:
    """Tell what follows from the switches that there are, where some are not."""
    wanted = tuple(wanted_to_crank(bike))
    has = [what for what in ("neutral", "clutch") if what in wanted]
    cranks = any(load.part == STARTER_SOLENOID.name for load in bike.loads)
    if cranks and bike.clutch == "lever" and len(has) == 1:
        yield f"the engine cranks {may_crank(dict.fromkeys(wanted, ''))}: the unit is told of nothing else"
    runs = any(load.part in RUNNING_ENGINE for load in bike.loads)
    if runs and bike.stand == "side" and tells(bike, "side stand") and not tells(bike, "neutral"):
        yield "the side stand stops the engine in neutral too: no switch tells the unit of neutral"
