"""What a clash is about, most dangerous first: fire, stopping and being seen, start and run, comfort.

And what somebody who is asked whether a plan is sound looks at first, as the rules say.
Source: common practice, no source.
"""

from collections.abc import Iterator, Sequence
from typing import get_args

from portloom.base.bike import Part, Switch
from portloom.base.parts.loads import load_part
from portloom.base.vocabulary import Concern, Told
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.review.matching import Posted
from portloom.rules.book import RULES
from portloom.rules.clash import Clash, is_among
from portloom.rules.posted import LAST, PostedPlan, PostFinding
from portloom.rules.shapes import Rule

CONCERNS: tuple[Concern, ...] = get_args(Concern)
STOPS: tuple[Told, ...] = ("engine stop", "front brake", "rear brake")


def ordered(job: Job, rules: Sequence[Rule], clashes: Sequence[Clash]) -> tuple[Clash, ...]:
    """Sort clashes by what they are about, then what is looked at first, then in the order of the rule book."""
    book, concerns = {rule.slug: number for number, rule in enumerate(rules)}, Concerns(job)

    def rank(clash: Clash) -> tuple[int, int, int]:
        return CONCERNS.index(concerns.of(clash)), _first(clash), book.get(clash.rule, len(book))

    return tuple(sorted(clashes, key=rank))


class Concerns:
    """What loads and switches of a bike are about, by their names, and so the clashes that speak of them."""

    def __init__(self, job: Job) -> None:
        """Take the bike."""
        self._named: dict[str, list[Concern]] = {}
        for name, about in _named(job):
            self._named.setdefault(name, []).append(about)

    def of(self, clash: Clash) -> Concern:
        """Return what a clash is about."""
        about = clash.about or about_rule(clash.rule)
        if about is not None:
            return about
        return min(self._of_subject(clash.subject), key=CONCERNS.index, default="comfort")

    def _of_subject(self, subject: str) -> Iterator[Concern]:
        alone = [subject] if ", " not in subject else (name for name in self._named if is_among(name, subject))
        for name in alone:
            yield from self._named.get(name, ())


def _first(clash: Clash) -> int:
    of_rule = next((rule.posts.first for rule in RULES if rule.slug == clash.rule), LAST)
    return of_rule if clash.first is None else clash.first


def about_rule(slug: str) -> Concern | None:
    """Return what a rule is about whatever it judges."""
    return next((rule.about for rule in RULES if rule.slug == slug), None)


def _named(job: Job) -> Iterator[tuple[str, Concern]]:
    """Return each load and switch by its name, with what it is about."""
    loads = job.loads
    for load in (*loads.on_unit, *loads.guests, *(fed.consumer for fed in loads.fed)):
        yield load.name, _of_part(load.part)
    parts = {load.name: load.part for load in job.bike.loads}
    for switch in job.bike.inputs:
        yield from ((switch.name, about) for about in _of_switch(switch, parts))


def _of_switch(switch: Switch, parts: dict[str, Part | None]) -> Iterator[Concern]:
    if any(what in STOPS for what in switch.tells):
        yield "stopping and being seen"
    elif switch.tells:
        yield "start and run"
    yield from (_of_part(parts[name]) for name in switch.operates if name in parts)


def _of_part(part: Part | None) -> Concern:
    known = load_part(part)
    return known.concern if known else "comfort"


# --- what is looked at first


def posted_plan(job: Job, site: Site | None, posted: Posted, past: Sequence[str] = ()) -> PostedPlan:
    """Return a post as rules see it; ``site`` is the first place at which the unit may sit, if any is known."""
    settings = posted.settings
    return PostedPlan(
        job,
        site,
        posted.outputs,
        posted.inputs,
        settings.trips,
        settings.sizes,
        settings.main_fuse,
        posted.kept_off,
        posted.unplaced,
        posted.no_fuse,
        posted.doubts,
        past,
    )


def first_looks(plan: PostedPlan, clashes: Sequence[Clash]) -> tuple[PostFinding, ...]:
    """Return what each rule that is looked at first says of a post, in the order in which people look."""
    looks = [rule.posts.look for rule in RULES if rule.posts.look]
    return tuple(first.look(plan, clashes) for first in sorted(looks, key=lambda first: first.number))
