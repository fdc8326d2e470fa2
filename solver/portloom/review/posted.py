"""Judge a posted plan: who is on which port, at the place that it names or at each; and what can't be judged."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Protocol

from portloom.base.clock import NO_LIMIT, Clock
from portloom.base.values import dataclass
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.review.at_site import judged_at
from portloom.review.concerns import first_looks, ordered, posted_plan
from portloom.review.keeping import feeding, kept, past_the_unit
from portloom.review.matching import Posted
from portloom.review.unjudged import not_judged
from portloom.rules.book import pair_clashes, rules_of
from portloom.rules.clash import Clash
from portloom.rules.posted import PostedPlan, PostFinding, Wiring
from portloom.rules.shapes import Rule
from portloom.rules.sites import sites_of

AtSite = tuple[Site, tuple[Clash, ...]]
"""A place and way round, and what is wrong there."""


class Wirings(Protocol):
    """Answers whether the switches that a post leaves open can be wired so that nothing posted is wrong."""

    def at(self, site: Site) -> Wiring:
        """Tell whether there is some way at a site."""

    def in_the_way(self, site: Site) -> tuple[Clash, ...]:
        """Return what every way breaks at a site where there is none."""


@dataclass(frozen=True)
class PostVerdict:
    """What is wrong with a posted plan, most dangerous first, and what was judged."""

    clashes: tuple[Clash, ...]
    kept: tuple[str, ...]
    """The rules that it keeps."""
    places: tuple[str, ...]
    """Where the unit was taken to sit; of several, only what is wrong at each counts."""
    sound_at: tuple[str, ...]
    """Those of the places where nothing at all is wrong."""
    not_judged: tuple[str, ...]
    looks: tuple[PostFinding, ...]
    """What somebody who is asked for help looks at first."""
    wiring: Wiring | None = None
    """Whether what it leaves open can be wired; None where it leaves nothing open, or something else is wrong."""


def judge_post(
    job: Job,
    posted: Posted,
    place: str | None = None,
    wirings: Wirings | None = None,
    clock: Clock = NO_LIMIT,
) -> PostVerdict:
    """Judge a post at its place, else at ``place``, else at every place and way round.

    Where it leaves switches open and nothing else is wrong, ``wirings`` is asked whether they can be wired. Raises
    TimeIsUp where the limit comes first, of a large bike.
    """
    with clock.held(unless=job.bike.is_small):
        past = past_the_unit(job, posted.outputs)
        job = feeding(job, past)
        rules = rules_of(job)
        sites = sites_of_post(job, posted, place)
        plan = posted_plan(job, sites[0], posted, past)
        anywhere = tuple(_anywhere(rules, plan))
        found = [(site, judged_at(rules, site, posted)) for site in sites]
    wiring = None
    if wirings is not None and plan.left_open and not (anywhere or plan.missing):
        found, wiring = _wired(found, wirings)
    clashes = ordered(job, rules, tuple(dict.fromkeys((*anywhere, *_at_each(found)))))
    return PostVerdict(
        clashes,
        tuple(kept(rules, plan, {clash.rule for clash in clashes} | set(_apart(rules, plan)))),
        tuple(site.label for site in sites),
        tuple(site.label for site, wrong in found if not wrong and not anywhere),
        tuple(not_judged(plan, posted, wiring)),
        first_looks(plan, clashes),
        wiring,
    )


def _wired(found: Sequence[AtSite], wirings: Wirings) -> tuple[list[AtSite], Wiring | None]:
    """Return what is wrong at each site, what open switches are in the way of too, and what was found of them."""
    asked = {site.label: wirings.at(site) for site, wrong in found if not wrong}
    answers = set(asked.values())
    if not answers or "exists" in answers or "not known" in answers:
        left = [one for one in found if asked.get(one[0].label) != "none"]
        ways: tuple[Wiring, ...] = ("exists", "not known")
        return left, next((way for way in ways if way in answers), None)
    return [(site, wrong or wirings.in_the_way(site)) for site, wrong in found], "none"


def _apart(rules: Sequence[Rule], plan: PostedPlan) -> Iterator[str]:
    """Return every rule that keeps loads on an output apart, those too that are not told beside another."""
    for one in plan.drives():
        yield from (clash.rule for clash in pair_clashes(rules, one.circuit))


def sites_of_post(job: Job, posted: Posted, place: str | None) -> Sequence[Site]:
    """Return the posted place, else ``place``, else all; the posted way round, where the place has it."""
    sites = sites_of(job, posted.place or place)
    return [site for site in sites if posted.turned in (None, site.turned)] or sites


def _at_each(found: Sequence[AtSite]) -> Iterator[Clash]:
    """Return what is wrong at every site, with the figures of the first.

    Where nothing is, but something else at each, all of it with its place: no place is sound.
    """
    keys = [{_key(site, clash) for clash in wrong} for site, wrong in found]
    site, first = found[0]
    common = [clash for clash in first if all(_key(site, clash) in others for others in keys)]
    yield from common
    if not common and all(wrong for _, wrong in found):
        for at, wrong in found:
            yield from (replace(clash, sentence=f"at {at.label}: {clash.sentence}") for clash in wrong)


def _key(site: Site, clash: Clash) -> tuple[str, str]:
    """Return what makes two clashes the same at two places: rule and subject, if that is not the place itself."""
    return clash.rule, "" if clash.subject == site.label else clash.subject


def _anywhere(rules: Sequence[Rule], plan: PostedPlan) -> Iterator[Clash]:
    """Return what is wrong wherever the unit sits."""
    for rule in rules:
        yield from rule.posts.plan(plan) if rule.posts.plan else ()
        for subject, said in rule.posts.unfused(plan) if rule.posts.unfused and plan.no_fuse else ():
            yield Clash(rule.slug, subject, said)
