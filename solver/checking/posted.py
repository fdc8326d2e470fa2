"""Judge a plan that somebody posted: who is on which port, at the place that it names or at each."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from solver.checking.as_posted import AsPosted, in_company, trip_clashes, wire_said
from solver.checking.concerns import ordered
from solver.checking.coverage import not_judged, unfit
from solver.checking.judge import budget_clashes, circuit_clashes, link_clashes
from solver.checking.laid_post import laid_of_post
from solver.checking.looks import Look, first_looks
from solver.checking.posted_fuse import main_fuse_wrong
from solver.job.job import Job
from solver.job.laid import Laid
from solver.job.site import Site
from solver.job.sizing import Sized, settled
from solver.posts.matching import Posted
from solver.rules import inputs, main_fuse, wire
from solver.rules.book import place_clashes, rules_of, whole_clashes
from solver.rules.shapes import Clash, Rule
from solver.rules.sites import sites_of

Found = tuple[Site, tuple[Clash, ...]]
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
    looks: tuple[Look, ...]
    """What somebody who is asked for help looks at first."""


def judge_post(job: Job, posted: Posted, place: str | None = None) -> PostVerdict:
    """Judge a post at its place, else at ``place``, else at every place and way round."""
    rules = rules_of(job)
    sites = sites_of_post(job, rules, posted, place)
    anywhere = tuple(unfit(job, posted))
    found = [(site, tuple(_clashes(rules, site, posted))) for site in sites]
    clashes = ordered(job, rules, tuple(dict.fromkeys((*anywhere, *_at_each(found)))))
    broken = {clash.rule for clash in clashes}
    judged = [rule for rule in rules if posted.inputs or not (rule.link or rule.input_fit or rule is inputs.RULE)]
    return PostVerdict(
        clashes,
        tuple(rule.slug for rule in judged if rule.slug not in broken),
        tuple(site.label for site in sites),
        tuple(site.label for site, wrong in found if not wrong and not anywhere),
        tuple(not_judged(job, posted)),
        first_looks(sites, posted, clashes),
    )


def sites_of_post(job: Job, rules: Sequence[Rule], posted: Posted, place: str | None) -> Sequence[Site]:
    """Return the posted place, else ``place``, else all; the posted way round, where the place has it."""
    sites = sites_of(job, rules, posted.place or place)
    return [site for site in sites if posted.turned in (None, site.turned)] or sites


def _at_each(found: Sequence[Found]) -> Iterator[Clash]:
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


# --- at one place


def _clashes(rules: Sequence[Rule], site: Site, posted: Posted) -> Iterator[Clash]:
    laid, unlaid = laid_of_post(site, posted)
    yield from unlaid
    yield from place_clashes(rules, site)
    yield from _circuits(rules, laid, posted)
    if posted.settings.main_fuse is not None:
        for said in main_fuse_wrong(laid, posted.settings.main_fuse):
            yield Clash("main-fuse", "main fuse", said)
    sized = settled(laid)
    yield from _whole(rules, sized)
    yield from (clash for clash in budget_clashes(rules, sized.laid) if clash.rule != "cover")
    if posted.inputs:
        yield from link_clashes(rules, sized.laid)


def _circuits(rules: Sequence[Rule], laid: Laid, posted: Posted) -> Iterator[Clash]:
    """Return what is wrong with each circuit; where its trip or wire is posted, as posted."""
    set_as_posted = {wired.circuit.label: wired for wired in laid.outputs if isinstance(wired, AsPosted)}
    told: set[str] = set()
    for wired in set_as_posted.values():
        yield from trip_clashes(wired)
        if said := wire_said(wired):
            told.add(wired.circuit.label)
            yield Clash(wire.RULE.slug, wired.circuit.label, said)
    for clash in circuit_clashes(rules, laid):
        by_wire = clash.rule == wire.RULE.slug and clash.subject in told
        by_fuse = clash.rule == main_fuse.RULE.slug and posted.settings.main_fuse is not None
        if not by_wire and not by_fuse:
            yield clash


def _whole(rules: Sequence[Rule], sized: Sized) -> Iterator[Clash]:
    """Return what is wrong once every wire has its true size; a posted one keeps the size that it has."""
    mine = [(u.wire, u) for u in sized.unprotected if isinstance(u.wire, AsPosted) and u.wire.posted_size is not None]
    others = tuple(u for u in sized.unprotected if all(u is not own for _, own in mine))
    for wired, unprotected in mine:
        said = in_company(sized.laid.site, wired, unprotected)
        yield Clash(wire.RULE.slug, wired.circuit.label, said)
    yield from whole_clashes(rules, replace(sized, unprotected=others))
