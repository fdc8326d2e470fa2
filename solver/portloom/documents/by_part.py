"""What a plan took because of what its parts are, and how words of the file were read.

Source: common practice, no source.
"""

from collections.abc import Iterator, Mapping, Sequence

from portloom.base.as_read import Taken
from portloom.base.bike import Bike
from portloom.base.figures import listed
from portloom.base.parts.loads import RUNNING_ENGINE, STARTER_SOLENOID
from portloom.base.vocabulary import Told
from portloom.job.job import Job
from portloom.rules.book import RULES
from portloom.rules.practice import may_crank, tells, wanted_to_crank
from portloom.rules.shapes import BRAKES

SAID: Mapping[str, str] = {
    "kind": "kind",
    "mode": "mode",
    "when": "on in",
    "except": "one filament of two, off in",
    "from": "fed from, through a diode each where there are several",
    "operates": "which switch works what",
    "made": "contact made at",
    "return": "earthed through the",
    "level": "pulses of up to",
    "share": "may share an output",
}
"""What is said of each key that a part brought; what it tells the unit its name says already."""
BY_SUBJECT = ("from", "operates")
"""Keys of which each has a value of its own."""


def by_part(job: Job) -> Iterator[str]:
    """Return a line for each thing that a bike's parts brought, what has the same together."""
    bike = job.bike
    if bike.as_read.words:
        yield f"words: {'; '.join(bike.as_read.words)}"
    on_unit = {load.name for load in job.loads.on_unit}
    for key, said in SAID.items():
        taken = [one for one in bike.as_read.taken if one.key == key and (key != "share" or one.subject in on_unit)]
        told = list(_of_each(taken) if key in BY_SUBJECT else _together(taken, at_least=2 if key == "share" else 1))
        if told:
            yield f"by part, {said}: {'; '.join(told)} ('{key}' changes that)"
    yield from _start_and_stop(bike)
    yield from (f"comes out: {line}" for line in bike.as_read.falls_away)
    if job.unread_inputs:
        names = listed([switch.name for switch in job.unread_inputs])
        yield f"not wired, for nothing reads it: {names} (a dash's 'shows' does, or what an input 'operates')"


def without_part(bike: Bike) -> Iterator[str]:
    """Tell the loads on the unit of which the file does not say what they are, and what so can't be judged."""
    names = [load.name for load in bike.loads if load.part is None and load.fed == "unit" and not load.from_]
    if names:
        slugs = listed([rule.slug for rule in RULES if rule.by_part])
        have, them = ("has", "it") if len(names) == 1 else ("have", "them")
        yield f"{listed(names)} {have} no 'part': the rules {slugs} are not judged for {them}"


def _of_each(taken: Sequence[Taken]) -> Iterator[str]:
    return (f"{one.subject} ({one.value})" for one in taken)


def _together(taken: Sequence[Taken], *, at_least: int) -> Iterator[str]:
    """Tell each value with all that have it, where there are enough of them."""
    for value in dict.fromkeys(one.value for one in taken):
        names = [one.subject for one in taken if one.value == value]
        if len(names) >= at_least:
            yield f"{value} ({', '.join(names)})"


def _start_and_stop(bike: Bike) -> Iterator[str]:
    """Tell what follows from the switches that there are, where some are not."""
    if any(load.part == STARTER_SOLENOID.name for load in bike.loads):
        yield from _cranked(bike, tuple(wanted_to_crank(bike)))
    runs = any(load.part in RUNNING_ENGINE for load in bike.loads)
    if runs and bike.stand == "side" and tells(bike, "side stand") and not tells(bike, "neutral"):
        yield "the side stand stops the engine in neutral too: no switch tells the unit of neutral"


def _cranked(bike: Bike, wanted: Sequence[Told]) -> Iterator[str]:
    """Tell when alone the engine cranks, where neutral or the clutch is not told; without a lever a brake may do."""
    if bike.clutch == "lever" and len({"neutral", "clutch"} & set(wanted)) == 1:
        yield f"the engine cranks {may_crank(dict.fromkeys(wanted, ''))}: the unit is told of nothing else"
    by_brake = "neutral" not in wanted and any(tells(bike, brake) for brake in BRAKES)
    if bike.clutch == "automatic" and by_brake:
        stand = " and the side stand up" if "side stand" in wanted else ""
        yield f"the engine cranks only with a brake on{stand}: no switch tells the unit of neutral"
