"""``portloom.check``: a posted plan goes in, and comes out judged; the story of ``portloom check``."""

from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING

from portloom.base.bike import Bike
from portloom.base.clock import Clock
from portloom.base.unit import Unit
from portloom.documents.legs import POSTED
from portloom.inputs.problems import BadFile, Problem
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.review.concerns import Concerns
from portloom.review.document import Checked
from portloom.review.matching import Posted, WantedNames, match
from portloom.review.names import KnownNames
from portloom.review.posted import judge_post
from portloom.review.reading import read_post
from portloom.rules.clash import Clash
from portloom.rules.posted import Wiring

if TYPE_CHECKING:
    from portloom.review.completing import Completing

NO_LOADS = "no load in this post is on a port that the unit has"


def check(
    post: str | Posted,
    bike: Bike | None,
    unit: Unit,
    *,
    name: str = "post",
    place: str | None = None,
    best: bool = False,
    repair: bool = False,
    time_limit: float | None = None,
) -> Checked:
    """Judge a posted plan, as text in any form that people post or by the names of the files.

    ``name`` is what its text is called in problems. Where the post says no place it is judged at ``place``, else
    at every place and way round. Switches that it leaves open may be wired in
    any way. ``best`` asks how far it is from the best plan, ``repair`` for the fewest moves that make it sound, within
    ``time_limit`` seconds. Without a bike only what the post says by itself is judged.

    Raises BadFile where there is nothing that can be read; ValueError where ``post`` by names, or ``place``, has one
    that the files lack, or where more is asked of a post without a bike; TimeIsUp where the limit comes before a large
    bike is judged.
    """
    if bike is None:
        if not isinstance(post, str) or place is not None or best or repair:
            raise ValueError("a post with names, a place, the best plan and a repair need the bike's file")
        return _alone(post, unit, name)
    clock = Clock(time_limit)
    with clock.held(unless=bike.is_small):
        job = Job(bike, unit)
        wanted = wanted_of(job)
        posted = match(read_post(post, name, wanted.ports), wanted) if isinstance(post, str) else post
        _check_names(posted, place, wanted)
    wirings = _Loaded(job, posted, clock)
    verdict = judge_post(job, posted, place, wirings, clock)
    if bike.weights.leg:
        verdict = replace(verdict, not_judged=(*verdict.not_judged, POSTED))
    concerns = tuple(map(Concerns(job).of, verdict.clashes))
    judged = Checked(unit, bike, posted, verdict, concerns, _problems(name, posted))
    if not (best or repair):
        return judged
    from portloom.review.wishes import answer_wishes  # noqa: PLC0415 - loads the search

    found = answer_wishes(job, posted, place, verdict, wirings.asked, clock, best=best, repair=repair)
    return replace(judged, best=found.best, repair=found.repair)


class _Loaded:
    """Asks whether open switches can be wired, and loads what answers it once it is asked."""

    def __init__(self, job: Job, posted: Posted, clock: Clock) -> None:
        self._job, self._posted, self._clock = job, posted, clock

    @cached_property
    def asked(self) -> "Completing":
        from portloom.review.completing import Completing  # noqa: PLC0415 - loads the search

        return Completing(self._job, self._posted, self._clock)

    def at(self, site: Site) -> Wiring:
        """Tell whether there is some way at a site."""
        return self.asked.at(site)

    def in_the_way(self, site: Site) -> tuple[Clash, ...]:
        """Return what every way breaks at a site where there is none."""
        return self.asked.in_the_way(site)


def _alone(post: str, unit: Unit, name: str) -> Checked:
    """Judge a post by itself."""
    from portloom.review.judge_without_bike import judge_alone, taken_as  # noqa: PLC0415 - most posts come with a bike
    from portloom.review.without_bike import match_alone  # noqa: PLC0415 - as above

    outputs, inputs = (output.name for output in unit.outputs), (source.name for source in unit.inputs)
    alone = match_alone(read_post(post, name, KnownNames((*outputs, *inputs))), unit)
    problems = _problems(name, alone.posted)
    if not alone.loads:
        nothing = Problem(name, 1, 1, NO_LOADS, "write a line a port, such as 'out 1: horn 3.5 A'")
        raise BadFile(problems or (nothing,))
    verdict, job = judge_alone(unit, alone)
    concerns = tuple(map(Concerns(job).of, verdict.clashes))
    return Checked(unit, None, alone.posted, verdict, concerns, problems, tuple(taken_as(alone)))


def _problems(name: str, posted: Posted) -> tuple[Problem, ...]:
    return tuple(Problem(name, *flaw.told) for flaw in sorted(posted.flaws))


# --- names


def wanted_of(job: Job) -> WantedNames:
    """Return the names that a post may use; a load that is fed past the unit may stand in it by mistake.

    A multiplexer has switches on it like a port, and is itself on an input.
    """
    past = (*(fed.consumer for fed in job.loads.fed), *(later.consumer for later in job.loads.later))
    loads = (*job.loads.on_unit, *job.loads.guests, *past)
    boxes = [box.name for box in job.bike.multiplexers]
    return WantedNames(
        outputs=KnownNames(output.name for output in job.unit.outputs),
        inputs=KnownNames((*(source.name for source in job.unit.inputs), *boxes)),
        loads=KnownNames(load.name for load in loads),
        switches=KnownNames((*(switch.name for switch in job.bike.inputs), *boxes)),
        places=KnownNames(known.name for known in job.bike.places),
        guests=frozenset(load.name for load in job.loads.guests),
        load_parts={load.name: load.part for load in (*job.bike.loads, *(job.bike.later or ()))},
        groups=_groups(job),
        switch_parts={switch.name: switch.part for switch in job.bike.inputs},
    )


def _groups(job: Job) -> dict[str, tuple[str, ...]]:
    """Return the loads on the unit of each share group that has several."""
    groups: dict[str, list[str]] = {}
    for load in job.loads.on_unit:
        if load.share:
            groups.setdefault(load.share, []).append(load.name)
    return {group: tuple(names) for group, names in groups.items() if len(names) > 1}


def _check_names(posted: Posted, place: str | None, wanted: WantedNames) -> None:
    """Raise ValueError for a name that the files lack; a text was matched with them already."""
    places = [name for name in (posted.place, place) if name is not None]
    named = (
        (wanted.outputs, (*posted.outputs, *posted.settings.trips, *posted.settings.sizes)),
        (wanted.inputs, posted.inputs),
        (wanted.loads, [name for held in posted.outputs.values() for name in held]),
        (wanted.switches, [name for held in posted.inputs.values() for name in held]),
        (wanted.places, places),
    )
    for known, names in named:
        unknown = [name for name in names if name not in known]
        if unknown:
            raise ValueError(f"neither bike nor unit has a '{unknown[0]}'")
