"""What is wrong with a posted plan at one place and way round, with the main fuse and the stands that it names."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import product

from portloom.base.figures import listed
from portloom.base.quantities import MilliAmps
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.site import Site
from portloom.job.sizing import size_wires
from portloom.review.concerns import posted_plan
from portloom.review.laid_post import laid_of_post
from portloom.review.matching import Posted
from portloom.review.told_once import company_clashes, told_of_all
from portloom.rules.as_posted import AsPosted
from portloom.rules.book import pair_clashes, place_clashes, whole_clashes
from portloom.rules.clash import Clash
from portloom.rules.faults import wrong_port
from portloom.rules.posted import PostedOutput
from portloom.rules.shapes import Rule
from portloom.verify.judge import budget_clashes, circuit_clashes, link_clashes


def judged_at(rules: Sequence[Rule], site: Site, posted: Posted) -> tuple[Clash, ...]:
    """Return what is wrong with the posted main fuse and stands; where none is, with those with which least is."""
    least: tuple[Clash, ...] | None = None
    for standing in _standing(site.job, posted):
        for fuses in _fuses(site, posted):
            wrong = tuple(_clashes(rules, site.with_fuses(*fuses), standing))
            least = wrong if least is None else min(least, wrong, key=len)
            if not least:
                return least
    return least or ()


def _fuses(site: Site, posted: Posted) -> Iterator[tuple[MilliAmps, ...]]:
    """Return the posted main fuse; else each that the unit may have there, small ones first, or none."""
    fuse = posted.settings.main_fuse
    if fuse is not None:
        yield (fuse,)
    else:
        yield from [(each,) for each in site.fuses]
        yield from () if site.fuses else ((),)


def serving_fuses(rules: Sequence[Rule], site: Site, posted: Posted) -> Site:
    """Return a site with the main fuses, from the smallest on, with which nothing posted is wrong there."""
    if posted.settings.main_fuse is not None:
        return site.with_fuses(posted.settings.main_fuse)
    for number, fuse in enumerate(site.fuses):
        if any(not any(_clashes(rules, site.with_fuses(fuse), one)) for one in _standing(site.job, posted)):
            return site.with_fuses(*site.fuses[number:])
    return site


def _standing(job: Job, posted: Posted) -> Iterator[Posted]:
    """Return a post as it is, then with each multiplexer whose position it leaves open at each of its points."""
    yield posted
    ports = {name for held in posted.inputs.values() for name in held}
    boxes = [box for box in job.bike.multiplexers if box.name in ports and posted.inputs.get(box.name)]
    left_open = [box for box in boxes if box.name not in posted.stands and len(box.at) > 1]
    for points in product(*(box.at for box in left_open)) if left_open else ():
        stands = {box.name: point for box, point in zip(left_open, points, strict=True)}
        yield replace(posted, stands={**posted.stands, **stands})


def _clashes(rules: Sequence[Rule], site: Site, posted: Posted) -> Iterator[Clash]:
    laid, unlaid = laid_of_post(site, posted)
    yield from unlaid
    crowded = tuple(_crowded_inputs(site.job, posted))
    yield from crowded
    yield from (clash for clash in place_clashes(rules, site) if clash.rule not in _of_posted_fuse(rules, posted))
    yield from _circuits(rules, laid, posted)
    yield from _main_fuse(rules, laid, posted)
    sized = size_wires(laid)
    yield from whole_clashes(rules, sized)
    told = {(clash.rule, clash.subject) for clash in crowded}
    sums = budget_clashes([rule for rule in rules if not rule.posts.plan], sized.laid)
    yield from (clash for clash in sums if (clash.rule, clash.subject) not in told)
    plan = posted_plan(site.job, site, posted)
    if not plan.left_open:
        yield from told_of_all(link_clashes(rules, sized.laid))


def _crowded_inputs(job: Job, posted: Posted) -> Iterator[Clash]:
    """Return each input that a multiplexer shares."""
    boxes = {box.name for box in job.bike.multiplexers}
    for port, held in posted.inputs.items():
        own = [name for name in held if name in boxes]
        if own and len(held) > 1 and port not in boxes:
            yield wrong_port("inputs", port, f"{listed(held)} are on {port}: {own[0]} takes an input of its own")


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
