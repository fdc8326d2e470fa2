"""What of a post can't be judged, and what is taken where it says nothing."""

from collections.abc import Iterable, Iterator

from portloom.base.figures import listed
from portloom.job.job import Job
from portloom.review.matching import Posted

NO_INPUTS = "inputs: the post names none, so neither they nor what depends on them is checked"


def not_judged(job: Job, posted: Posted) -> Iterator[str]:
    """Say what the post does not tell, or what is no part of the bike yet."""
    if not posted.inputs:
        yield NO_INPUTS
    yield from _own_figures(posted)
    for box in job.bike.multiplexers:
        if posted.inputs.get(box.name) and box.name not in posted.stands and len(box.at) > 1:
            yield f"{box.name}: its position is not posted, so it is assumed to be where that needs the least wire"
    later = {later.consumer.name for later in job.loads.later}
    for name in (name for held in posted.outputs.values() for name in held if name in later):
        yield f"{name}: it is only a later load in the bike's file"


def _own_figures(posted: Posted) -> Iterator[str]:
    """Tell whose trips and wires are taken as the rules ask for them."""
    figures: dict[str, Iterable[str]] = {"trips": posted.settings.trips, "wire sizes": posted.settings.sizes}
    none = [what for what, said in figures.items() if not said]
    if none:
        yield f"{' and '.join(none)}: the post names none, so each is taken as the rules require"
    used = [port for port, held in posted.outputs.items() if held]
    for what, said in figures.items():
        lacking = [port for port in used if port not in set(said)]
        if said and lacking:
            yield f"{what} of {listed(lacking)}: not posted, so as the rules require"
