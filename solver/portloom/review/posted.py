"""Judge a posted plan: who is on which port, at the place that it names or at each; and what can't be judged."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from portloom.base.figures import listed
from portloom.documents.by_part import without_part
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.job.sizing import size_wires
from portloom.review.concerns import first_looks, ordered, posted_plan
from portloom.review.keeping import feeding, kept, past_the_unit
from portloom.review.laid_post import laid_of_post
from portloom.review.matching import Posted
from portloom.review.told_once import company_clashes, told_of_all
from portloom.rules.as_posted import AsPosted
from portloom.rules.book import pair_clashes, place_clashes, rules_of, whole_clashes
from portloom.rules.clash import Clash
from portloom.rules.posted import PostedOutput, PostedPlan, PostFinding
from portloom.rules.shapes import Rule
from portloom.rules.sites import sites_of
from portloom.verify.judge import budget_clashes, circuit_clashes, link_clashes

AtSite = tuple[Site, tuple[Clash, ...]]
"""A place and way round, and what is wrong there."""


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


def judge_post(job: Job, posted: Posted, place: str | None = None) -> PostVerdict:
    """Judge a post at its place, else at ``place``, else at every place and way round."""
    past = past_the_unit(job, posted.outputs)
    job = feeding(job, past)
    rules = rules_of(job)
    sites = sites_of_post(job, posted, place)
    plan = posted_plan(job, sites[0], posted, past)
    anywhere = tuple(_anywhere(rules, plan))
    found = [(site, _judged_at(rules, site, posted)) for site in sites]
    clashes = ordered(job, rules, tuple(dict.fromkeys((*anywhere, *_at_each(found)))))
    return PostVerdict(
        clashes,
        tuple(kept(rules, plan, {clash.rule for clash in clashes} | set(_apart(rules, plan)))),
        tuple(site.label for site in sites),
        tuple(site.label for site, wrong in found if not wrong and not anywhere),
        tuple(not_judged(plan, posted)),
        first_looks(plan, clashes),
    )


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


# --- at one place


def _judged_at(rules: Sequence[Rule], site: Site, posted: Posted) -> tuple[Clash, ...]:
    """Return what is wrong with the posted main fuse; where none is, with the one with which least is."""
    fuse = posted.settings.main_fuse
    if fuse is not None:
        return tuple(_clashes(rules, site.with_fuses(fuse), posted))
    least = tuple(_clashes(rules, site.with_fuses(*site.fuses[:1]), posted))
    for larger in site.fuses[1:]:
        if not least:
            break
        least = min(least, tuple(_clashes(rules, site.with_fuses(larger), posted)), key=len)
    return least


def _clashes(rules: Sequence[Rule], site: Site, posted: Posted) -> Iterator[Clash]:
    laid, unlaid = laid_of_post(site, posted)
    yield from unlaid
    yield from (clash for clash in place_clashes(rules, site) if clash.rule not in _of_posted_fuse(rules, posted))
    yield from _circuits(rules, laid, posted)
    yield from _main_fuse(rules, laid, posted)
    sized = size_wires(laid)
    yield from whole_clashes(rules, sized)
    yield from budget_clashes([rule for rule in rules if not rule.posts.plan], sized.laid)
    plan = posted_plan(site.job, site, posted)
    if posted.inputs and not (plan.doubts and plan.unread_switches):
        yield from told_of_all(link_clashes(rules, sized.laid))


def _main_fuse(rules: Sequence[Rule], laid: Laid, posted: Posted) -> Iterator[Clash]:
    plan, fuse = posted_plan(laid.site.job, laid.site, posted), posted.settings.main_fuse
    for rule in rules:
        for subject, said in rule.posts.fuse(plan, laid, fuse) if rule.posts.fuse and fuse is not None else ():
            yield Clash(rule.slug, subject, said)


def _of_posted_fuse(rules: Sequence[Rule], posted: Posted) -> set[str]:
    """Return the rules that judge the main fuse as it is posted, in place of what they say of every plan."""
    return {rule.slug for rule in rules if rule.posts.fuse and posted.settings.main_fuse is not None}


def _circuits(rules: Sequence[Rule], laid: Laid, posted: Posted) -> Iterator[Clash]:
    """Return what is wrong with each circuit; where its trip or wire is posted, as posted."""
    as_posted = list(_as_posted(rules, laid))
    yield from as_posted
    only = {rule.slug for rule in rules if rule.posts.output_only}
    told = {(clash.rule, clash.subject) for clash in as_posted if clash.rule in only}
    by_fuse = _of_posted_fuse(rules, posted)
    pairs = {clash for wired in laid.outputs for clash in pair_clashes(rules, wired.circuit)}
    for wired in laid.outputs:
        yield from company_clashes(rules, laid.site.job, wired.circuit, wired.output.name)
    for clash in circuit_clashes(rules, laid):
        if clash in pairs:
            continue
        if clash.rule not in by_fuse and (clash.rule, clash.subject) not in told:
            yield clash


def _as_posted(rules: Sequence[Rule], laid: Laid) -> Iterator[Clash]:
    for wired in (wired for wired in laid.outputs if isinstance(wired, AsPosted)):
        one = PostedOutput(wired.circuit, wired.output, wired.posted_trip, wired.posted_size, wired)
        for rule in rules:
            for said in rule.posts.output(one) if rule.posts.output else ():
                yield Clash(rule.slug, wired.circuit.label, said)


# --- what is not judged


NO_INPUTS = "inputs: the post names none, so neither they nor what depends on them is checked"


def not_judged(plan: PostedPlan, posted: Posted) -> Iterator[str]:
    """Say what the post does not tell, or what is no part of the bike yet."""
    job = plan.job
    if plan.missing and plan.doubts:
        yield f"{listed(plan.missing)}: on no output that could be read, but some lines are not clear"
    if posted.settings.main_fuse is None and not posted.no_fuse:
        yield "main fuse: the post names none"
    if not posted.inputs:
        yield NO_INPUTS
    elif plan.unread_switches and plan.doubts:
        yield f"{listed(plan.unread_switches)}: on no input that could be read, but some lines are not clear"
    yield from _own_figures(posted)
    for box in job.bike.multiplexers:
        if posted.inputs.get(box.name) and box.name not in posted.stands and len(box.at) > 1:
            yield f"{box.name}: its position is not posted, so it is assumed to be where that needs the least wire"
    yield from without_part(job.bike)
    later = {later.consumer.name for later in job.loads.later} - {load.name for load in job.bike.loads}
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
