"""What somebody who is asked whether a plan is sound looks at first: one thing after the other, as the rules say.

Source: common practice, no source.
"""

from collections.abc import Sequence

from portloom.job.job import Job
from portloom.job.site import Site
from portloom.review.matching import Posted
from portloom.rules.book import RULES
from portloom.rules.clash import Clash
from portloom.rules.posted import Finding, PostedPlan


def posted_plan(job: Job, site: Site | None, posted: Posted) -> PostedPlan:
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
    )


def first_looks(plan: PostedPlan, clashes: Sequence[Clash]) -> tuple[Finding, ...]:
    """Return what each rule that is looked at first says of a post, in the order in which people look."""
    looks = [rule.posts.look for rule in RULES if rule.posts.look]
    return tuple(first.look(plan, clashes) for first in sorted(looks, key=lambda first: first.number))
