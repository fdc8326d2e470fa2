"""What of a posted plan is not judged, since the post does not tell it, or it is no part of the bike yet."""

from collections.abc import Iterable, Iterator

from portloom.base.figures import listed
from portloom.documents.by_part import without_part
from portloom.review.matching import Posted
from portloom.rules.posted import PostedPlan, Wiring

NOT_ASKED = "so neither they nor what depends on them is checked"
ASK = "whether the switches can be wired so that nothing posted is wrong"
ASKED: dict[Wiring | None, str] = {
    None: NOT_ASKED,
    "exists": f"so it was asked {ASK}: some way exists, proved",
    "none": f"so it was asked {ASK}: no way exists, proved",
    "not known": f"and {ASK} was not known when the time limit was reached",
}
"""What was asked of the switches that a post leaves open, and the answer; None where something else is wrong."""


SOME_UNREAD = "that could be read, but some lines are not clear"


def names_none(posted: Posted) -> str:
    """Say that a post does not tell something; of lines that can't be read nobody knows."""
    return f"none {SOME_UNREAD}" if posted.doubts else "the post names none"


def not_judged(plan: PostedPlan, posted: Posted, wiring: Wiring | None) -> Iterator[str]:
    """Say what the post does not tell, or what is no part of the bike yet; ``wiring`` is what was asked of switches."""
    job = plan.job
    if plan.missing and plan.doubts:
        yield f"{listed(plan.missing)}: on no output {SOME_UNREAD}"
    if posted.settings.main_fuse is None and not posted.no_fuse:
        yield f"main fuse: {names_none(posted)}"
    if plan.left_open and not posted.inputs:
        yield f"inputs: {names_none(posted)}, {ASKED[wiring]}"
    elif plan.left_open:
        unclear = f" {SOME_UNREAD}" if plan.doubts else " in the post"
        yield f"{listed(plan.left_open)}: on no input{unclear}, {ASKED[wiring]}"
    yield from _own_figures(posted)
    for box in job.bike.multiplexers:
        if posted.inputs.get(box.name) and box.name not in posted.stands and len(box.at) > 1:
            best = "where least is wrong, and of such points where that needs the least wire"
            yield f"{box.name}: its position is not posted, so it is assumed to be {best}"
    yield from without_part(job.bike)
    later = {later.consumer.name for later in job.loads.later} - {load.name for load in job.bike.loads}
    for name in (name for held in posted.outputs.values() for name in held if name in later):
        yield f"{name}: it is only a later load in the bike's file"


def _own_figures(posted: Posted) -> Iterator[str]:
    """Tell whose trips and wires are taken as the rules ask for them."""
    figures: dict[str, Iterable[str]] = {"trips": posted.settings.trips, "wire sizes": posted.settings.sizes}
    none = [what for what, said in figures.items() if not said]
    if none:
        yield f"{' and '.join(none)}: {names_none(posted)}, so each is taken as the rules require"
    used = [port for port, held in posted.outputs.items() if held]
    for what, said in figures.items():
        lacking = [port for port in used if port not in set(said)]
        if said and lacking:
            yield f"{what} of {listed(lacking)}: not posted, so as the rules require"
