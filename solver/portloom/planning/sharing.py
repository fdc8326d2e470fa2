"""What sharing would free that a bike's file forbids or does not speak of: planned again, and told where it is true.

Thought of are the groups of the catalogue, and loads without a part that the file puts in no group. A load that is
never left off is never thought of beside one of comfort.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import takewhile

from portloom.base.bike import Bike
from portloom.base.clock import Clock, TimeIsUp
from portloom.base.figures import counted, listed
from portloom.base.parts.loads import load_part, never_together
from portloom.explaining.solved import Solved, solve
from portloom.job.assignment import Assignment
from portloom.job.circuits import OutputCircuit
from portloom.job.consumers import Consumer
from portloom.job.job import Job
from portloom.rules.book import pair_clashes, rules_of
from portloom.rules.shapes import Rule
from portloom.rules.sites import sites_of

Group = tuple[str, tuple[Consumer, ...]]
"""What the group would be called, and the loads that it would hold."""


def could_share(solved: Solved, rules: Sequence[Rule], place: str | None, clock: Clock) -> tuple[str, ...]:
    """Return a sentence for each group of which the best plan, shared, leaves more outputs free than this plan.

    Every one is a plan that was found, checked and proved the best; what a limit leaves unproved is not told.
    """
    job = solved.laid.site.job
    if not solved.assignment.proven:
        return ()
    groups = takewhile(lambda _: clock.left() != 0, _groups(job, solved.assignment, rules))
    told = (_told(solved, group, place, clock) for group in groups)
    return tuple(sentence for sentence in told if sentence is not None)


# --- which loads might


def _groups(job: Job, plan: Assignment, rules: Sequence[Rule]) -> Iterator[Group]:
    """Return each group of loads that are on several outputs now although rules would let them share."""
    on = {name: line.port for line in plan.only.outputs for name in line.loads}
    for name, loads in _by_catalogue(job):
        for together in map(tuple, _compatible(loads, rules)):
            apart = len({on[load.name] for load in together}) > 1
            declared = together[0].share is not None and len({load.share for load in together}) == 1
            if apart and not declared:
                yield name, together


def _by_catalogue(job: Job) -> Iterator[tuple[str, list[Consumer]]]:
    """Return the loads of the file on the unit by the group that the catalogue has them in; last those of no part."""
    named = {load.name for load in job.bike.loads}
    loads = [load for load in job.loads.on_unit if load.name in named]
    groups = [part.group for load in loads if (part := load_part(load.part)) is not None and part.group is not None]
    for group in dict.fromkeys(groups):
        yield group, [load for load in loads if (part := load_part(load.part)) is not None and part.group == group]
    loose = [load for load in loads if load.part is None and load.share is None]
    if loose:
        yield f"{loose[0].name} and others", loose


def _compatible(loads: Sequence[Consumer], rules: Sequence[Rule]) -> list[list[Consumer]]:
    """Part loads into those of which each two may share, in the order of the file."""
    classes: list[list[Consumer]] = []
    for load in loads:
        fitting = (known for known in classes if all(_may(load, other, rules) for other in known))
        found = next(fitting, None)
        if found is None:
            classes.append([load])
        else:
            found.append(load)
    return [known for known in classes if len(known) > 1]


def _may(one: Consumer, other: Consumer, rules: Sequence[Rule]) -> bool:
    both = OutputCircuit((replace(one, share="one"), replace(other, share="one")), ())
    return not never_together(one.part, other.part) and next(pair_clashes(rules, both), None) is None


# --- what it would free


def _told(solved: Solved, group: Group, place: str | None, clock: Clock) -> str | None:
    """Say what a group would free, where it frees anything."""
    job, loads = solved.laid.site.job, group[1]
    name = _free_name(job.bike, group[0], {load.name for load in loads})
    shared = _planned(job, name, loads, place, clock)
    if shared is None:
        return None
    now, then = solved.assignment.only, shared.assignment.only
    freed = len(now.outputs) - len(then.outputs)
    names = {load.name for load in loads}
    together = [[one for one in line.loads if one in names] for line in then.outputs]
    joined = "; ".join(f"{listed(tuple(held))} on one output" for held in together if len(held) > 1)
    if freed < 1 or not joined:
        return None
    room = [line.load for line in then.room_for if line.load not in {one.load for one in now.room_for}]
    more = f", room for {listed(tuple(room))}" if room else ""
    moved = "" if shared.laid.site.label == solved.laid.site.label else f", with the unit {shared.laid.site.label}"
    return f"{joined}: {counted(freed, 'output')} more free{more}{moved} (write 'share: {name}' at each)"


def _planned(job: Job, name: str, loads: Sequence[Consumer], place: str | None, clock: Clock) -> Solved | None:
    """Return the best plan with some loads in one group; None where none is proved."""
    try:
        with clock.held(unless=job.bike.is_small):
            shared = Job(_sharing(job.bike, name, {load.name for load in loads}), job.unit, network=job.network.whole)
            if shared.overfull_group is not None:
                return None
            sites = sites_of(shared, place)
    except TimeIsUp:
        return None
    found = solve(shared, rules_of(shared), sites, clock)
    return found if isinstance(found, Solved) and found.assignment.proven else None


def _sharing(bike: Bike, name: str, members: set[str]) -> Bike:
    """Return a bike with some loads in a group of this name."""
    loads = (load.model_copy(update={"share": name}) if load.name in members else load for load in bike.loads)
    return bike.model_copy(update={"loads": tuple(loads)})


def _free_name(bike: Bike, wanted: str, members: set[str]) -> str:
    """Return the name of a group that no other load is in."""
    taken = any(load.share == wanted and load.name not in members for load in bike.loads)
    return _free_name(bike, f"{wanted}, shared", members) if taken else wanted
