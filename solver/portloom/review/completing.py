"""Whether the switches that a post leaves open can be wired at all, so that what is posted stands just as it is.

This is the question behind verdict, repair and distance alike: they ask it here, and get the same plan.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from portloom.base.clock import Clock
from portloom.base.figures import listed
from portloom.explaining.solved import FailedCheck
from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.review.at_site import serving_fuses
from portloom.review.laid_post import laid_of_post
from portloom.review.matching import Posted
from portloom.review.posted import judge_post
from portloom.review.told_once import told_of_all
from portloom.rules.book import rules_of, whole_clashes
from portloom.rules.clash import Clash
from portloom.rules.faults import not_wired
from portloom.rules.posted import Wiring
from portloom.search.before import Before
from portloom.search.blocking import Blocked, blocked
from portloom.search.finishing import Begun, finished
from portloom.search.places import LimitReached, NoPlan
from portloom.verify.judge import budget_clashes, circuit_clashes, link_clashes


def before(posted: Posted) -> Before:
    """Return who is on which port in a post."""
    return Before(posted.outputs, posted.inputs, posted.stands)


class Completing:
    """Asks it of one post, at one site after the other, within the time that the whole answer has."""

    def __init__(self, job: Job, posted: Posted, clock: Clock) -> None:
        """Take a post whose outputs are right by themselves wherever it is asked."""
        self._job = job
        self._rules = rules_of(job)
        self._posted = posted
        self._clock = clock
        self._found: dict[str, Assignment | NoPlan | LimitReached] = {}

    def at(self, site: Site) -> Wiring:
        """Tell whether there is some way at a site where nothing that is posted is wrong."""
        match self.plan_at(site):
            case NoPlan():
                return "none"
            case LimitReached():
                return "not known"
            case _:
                return "exists"

    def plan_at(self, site: Site) -> Assignment | NoPlan | LimitReached:
        """Return the cheapest way at a site."""
        if site.label not in self._found:
            self._found[site.label] = self._checked(finished(self._rules, [self._begun(site)], self._clock))
        return self._found[site.label]

    def cheapest(self, sites: Sequence[Site]) -> Assignment | NoPlan | LimitReached:
        """Return the cheapest way of all sites where nothing that is posted is wrong; the first of equal ones."""
        found = [self.plan_at(site) for site in sites]
        plans = [plan for plan in found if isinstance(plan, Assignment)]
        if any(isinstance(one, LimitReached) for one in found):
            return next(one for one in found if isinstance(one, LimitReached))
        return min(plans, key=lambda plan: plan.costs.total) if plans else NoPlan()

    def in_the_way(self, site: Site) -> tuple[Clash, ...]:
        """Return what every way breaks at a site where there is none, as the way does that breaks least."""
        found = blocked(self._rules, self._begun(site), self._clock)
        whom = no_way(self._posted, self._job)
        clashes = tuple(_told(found)) if found else ()
        if not clashes:
            return (not_wired("inputs", f"{whom}, proved; what is in the way is not known"),)
        return tuple(
            replace(
                clash, sentence=f"{whom} keeps this rule beside all others, proved; in the nearest, {clash.sentence}"
            )
            for clash in clashes
        )

    def _begun(self, site: Site) -> Begun:
        fused = serving_fuses(self._rules, site, self._posted)
        only = replace(self._posted, inputs={})
        return Begun(laid_of_post(fused, only)[0], before(self._posted))

    def _checked(self, found: Assignment | NoPlan | LimitReached) -> Assignment | NoPlan | LimitReached:
        """Return what was found; raise FailedCheck where a plan is not sound when it is posted as it was found."""
        if isinstance(found, Assignment):
            clashes = judge_post(self._job, filled(self._posted, found)).clashes
            if clashes:
                raise FailedCheck(clashes)
        return found


def filled(posted: Posted, plan: Assignment) -> Posted:
    """Return a post with the inputs and the place of a plan."""
    return replace(
        posted,
        inputs={port: list(held) for port, held in inputs_of(plan)},
        stands={box.name: box.at for box in plan.multiplexers},
        place=plan.only.place,
        turned=plan.only.turned,
    )


def inputs_of(plan: Assignment) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Return what is on each input, a multiplexer by its name, and the switches on each multiplexer."""
    yield from ((line.port, line.switches) for line in plan.inputs)
    for box in plan.multiplexers:
        yield box.port, (box.name,)
        yield box.name, tuple(way.switch for way in box.ways)


def no_way(posted: Posted, job: Job) -> str:
    """Say that there is no way to wire those that are not posted."""
    told = {name for held in posted.inputs.values() for name in held}
    left = [switch.name for switch in job.inputs if switch.name not in told]
    return f"no way to wire {listed(left) if posted.inputs and left else 'the switches'}"


def _told(found: Blocked) -> Iterator[Clash]:
    """Return the rules that can't be kept, as they are broken."""
    laid = found.sized.laid
    clashes = (
        *circuit_clashes(found.parts, laid),
        *whole_clashes(found.parts, found.sized),
        *budget_clashes(found.parts, laid),
        *told_of_all(link_clashes(found.parts, laid)),
    )
    yield from dict.fromkeys(clashes)
