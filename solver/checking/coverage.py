"""What a post leaves out, what it puts where it does not belong, and what of it can't be judged."""

from collections.abc import Iterable, Iterator

from solver.checking.concerns import KEPT_OFF
from solver.checking.laid_post import circuit_of
from solver.job.job import Job
from solver.posts.matching import Posted
from solver.rules.shapes import Clash
from solver.words.agreement import does, one
from solver.words.figures import listed
from solver.words.looks_like import KEPT_OFF as BECAUSE

NO_INPUTS = "inputs: the post names none, so neither they nor what hangs on them is judged"


def unfit(job: Job, posted: Posted) -> Iterator[Clash]:
    """Return what is on no port and must be, and what is on one that needs none."""
    yield from kept_off(posted)
    yield from _on_no_output(job, posted)
    yield from _past_the_unit(job, posted)
    yield from _guests(job, posted)
    yield from _on_no_input(job, posted)


def kept_off(posted: Posted) -> Iterator[Clash]:
    """Return what is on an output and belongs on none."""
    for port, what in posted.kept_off:
        yield Clash("cover", f"{KEPT_OFF}, {what}", f"{one(what)} is on {port}: {BECAUSE[what]}")


def _on_no_output(job: Job, posted: Posted) -> Iterator[Clash]:
    named = {name for held in posted.outputs.values() for name in held}
    for load in job.loads.on_unit:
        if load.name not in named and load.name not in posted.unplaced:
            yield Clash("cover", load.name, does(load.name, "is on no output"))


def _past_the_unit(job: Job, posted: Posted) -> Iterator[Clash]:
    ports = {name: port for port, held in posted.outputs.items() for name in held}
    for fed in job.loads.fed:
        name = fed.consumer.name
        if name in ports:
            past = does(name, "is fed past the unit in the bike's file")
            yield Clash("cover", name, f"{past}, here on {ports[name]}")


def _guests(job: Job, posted: Posted) -> Iterator[Clash]:
    guests = {guest.name for guest in job.loads.guests}
    for port, held in posted.outputs.items():
        driven = {load.name for load in circuit_of(job, held).loads}
        for name in held:
            if name in guests and name not in driven:
                fed = does(name, "is fed from other loads")
                yield Clash("cover", name, f"{fed}, none of them is on {port}")


def _on_no_input(job: Job, posted: Posted) -> Iterator[Clash]:
    told = {name for held in posted.inputs.values() for name in held}
    for switch in job.bike.inputs if posted.inputs else ():
        if switch.name not in told and switch.name not in posted.unplaced:
            yield Clash("cover", switch.name, does(switch.name, "is on no input"))
    for box in job.bike.multiplexers:
        if posted.inputs.get(box.name) and box.name not in told:
            yield Clash("cover", box.name, f"{box.name} has switches on it and is on no input")


# --- what is not judged


def not_judged(job: Job, posted: Posted) -> Iterator[str]:
    """Say what the post does not tell, or what is no part of the bike yet."""
    if not posted.inputs:
        yield NO_INPUTS
    yield from _own_figures(posted)
    for box in job.bike.multiplexers:
        if posted.inputs.get(box.name) and box.name not in posted.stands and len(box.at) > 1:
            yield f"{box.name}: where it stands is not posted, so it is taken to be where that needs the least wire"
    later = {later.consumer.name for later in job.loads.later}
    for name in (name for held in posted.outputs.values() for name in held if name in later):
        yield f"{name}: only a later load in the bike's file"


def _own_figures(posted: Posted) -> Iterator[str]:
    """Tell whose trips and wires are taken as the rules ask for them."""
    figures: dict[str, Iterable[str]] = {"trips": posted.settings.trips, "wire sizes": posted.settings.sizes}
    none = [what for what, said in figures.items() if not said]
    if none:
        yield f"{' and '.join(none)}: the post names none, so each is the one that the rules ask for"
    used = [port for port, held in posted.outputs.items() if held]
    for what, said in figures.items():
        lacking = [port for port in used if port not in set(said)]
        if said and lacking:
            yield f"{what} of {listed(lacking)}: not posted, so as the rules ask for"
